"""Printed values, replacements and readings. Expectations are common practice, no source, except
where a check names IEC 60062 (letter code), IEC 60063 (through the `eseries` package) or
IEC 60384-14 (capacitor classes, from memory)."""

from math import inf
from time import perf_counter

import eseries
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.errors import UsageError
from indexer.trade.values import (
    Value,
    answer,
    parse_tolerance,
    parse_value,
    replace_with,
    today_form,
    trade_form,
    verdict,
)

quick = settings(max_examples=200, deadline=None)


def read(text: str, **how: object) -> list[tuple[str, float]]:
    return [(v.kind, v.number) for v in parse_value(text, **how)]  # type: ignore[arg-type]


# Reading

FARADS = [
    (".05 mfd", 5e-8),
    ("0.05 µF", 5e-8),
    ("0.05 μF", 5e-8),
    ("0,05 µF", 5e-8),
    (".0001", 1e-10),
    ("100 mmf", 1e-10),
    ("250 MMFD", 2.5e-10),
    ("250 µµF", 2.5e-10),
    (".25 mfd. 400 V.", 2.5e-7),
    ("1/2 mfd", 5e-7),
    ("10 uF 450 V", 1e-5),
    (".05/600", 5e-8),
    ("4.7 nF", 4.7e-9),
]
OHMS = [
    ("470K", 470e3),
    ("470 k", 470e3),
    ("2.2 meg", 2.2e6),
    ("10 meg", 10e6),
    ("1/2 meg", 5e5),
    ("1½ meg", 1.5e6),
    (".5 megohm", 5e5),
    ("4,700 ohms", 4700),
    ("10,000 ohms 1 watt", 1e4),
    ("470 Ω", 470),
    ("4.7 KΩ", 4700),
    ("1 MΩ", 1e6),
    ("R12 470K", 470e3),
    ("5 watts 150 ohms", 150),
]
# IEC 60062, from memory: the letter stands for the decimal point
LETTER_CODE = [
    ("4K7", "ohms", 4700),
    ("2M2", "ohms", 2.2e6),
    ("0R47", "ohms", 0.47),
    ("680R", "ohms", 680),
    ("47n", "farads", 4.7e-8),
    ("4n7", "farads", 4.7e-9),
    ("220p", "farads", 2.2e-10),
    ("4u7", "farads", 4.7e-6),
]
OTHERS = [
    ("30 henries", "henries", 30),
    ("2.5 mh", "henries", 2.5e-3),
    ("455 kc", "hertz", 455e3),
    ("10.7 Mc.", "hertz", 10.7e6),
    ("465 kc/s", "hertz", 465e3),
    ("150 ma", "amperes", 0.15),
    ("6.3 V", "volts", 6.3),
    ("1/2 W", "watts", 0.5),
]


@pytest.mark.parametrize(
    ("text", "kind", "number"),
    [(t, "farads", n) for t, n in FARADS]
    + [(t, "ohms", n) for t, n in OHMS]
    + LETTER_CODE
    + OTHERS,
)
def test_one_value_in_print(text: str, kind: str, number: float) -> None:
    assert read(text) == [(kind, pytest.approx(number, rel=1e-9))]


@pytest.mark.parametrize(
    ("text", "micro", "volts"),
    [
        ("50-30 mfd 150 V", [50, 30], [150, 150]),
        ("20-20/150V", [20, 20], [150, 150]),
        ("40-40-20 mfd 450-450-25 V", [40, 40, 20], [450, 450, 25]),
        ("8/16 mfd 450 WVDC", [8, 16], [450, 450]),
        ("16x16 mfd", [16, 16], [None, None]),
        ("2 x 50 µF 350 V", [50, 50], [350, 350]),
        ("20 mfd @ 150V, 20 mfd @ 25 V", [20, 20], [150, 25]),
        (".05 & .1 mfd", [0.05, 0.1], [None, None]),
        ("16/450V", [16], [450]),
        (".05-600V", [0.05], [600]),
        ("0.1 MFD-600W.V.", [0.1], [600]),
        ("400 V .05 mfd", [0.05], [400]),
    ],
)
def test_sections_and_their_volts(text: str, micro: list[float], volts: list[float | None]) -> None:
    found = parse_value(text)
    assert [v.kind for v in found] == ["farads"] * len(micro)
    assert [v.number * 1e6 for v in found] == pytest.approx(micro)
    assert [v.working_v for v in found] == volts


def test_tolerance_and_watts() -> None:
    assert parse_value("470K 1/2 W 10%") == (Value("ohms", 470e3, 10.0, None, 0.5),)
    assert parse_value("50 mfd +50 -10%")[0].minus_percent == 10
    assert parse_value("4n7J")[0].tolerance_percent == 5  # IEC 60062, from memory
    assert parse_tolerance("± 20 %") == (20, None)
    assert parse_tolerance("gold") == (5, None)
    assert parse_tolerance("5%") == (5, None)
    assert parse_tolerance("-10 +50%") == (50, 10)
    assert parse_tolerance("470K") == (None, None)


def test_old_lists_print_m_for_a_thousand() -> None:
    assert read("100M", old_m=True) == [("ohms", 100e3)]
    assert read("100 M ohms", old_m=True) == [("ohms", 100e3)]
    assert read("100M") == [("ohms", 100e6)]
    assert read("2 meg", old_m=True) == [("ohms", 2e6)]


def test_two_voltages_are_no_capacitor() -> None:
    assert read("115/230 V") == [("volts", 115), ("volts", 230)]
    assert read("6.3 V .3 A") == [("volts", 6.3), ("amperes", 0.3)]


def test_a_bare_number_needs_its_kind() -> None:
    assert parse_value("220") == ()
    assert read("220", kind="ohms") == [("ohms", 220)]
    assert read("50", kind="farads") == [("farads", 5e-5)]


@quick
@given(st.text(max_size=60))
def test_no_text_stops_the_reader(text: str) -> None:
    assert all(value.number >= 0 for value in parse_value(text))


def test_odd_text_costs_no_time() -> None:
    started = perf_counter()
    for odd in ("1/1" * 66, "1-" * 100, "1,000" * 40, "1 1/2 " * 33, "+1 -" * 50, "20-" * 60 + "V"):
        parse_value(odd)
    assert perf_counter() - started < 5  # a pattern gone wrong takes minutes


@quick
@given(
    st.sampled_from(["ohms", "farads", "henries", "hertz", "volts", "amperes"]),
    st.integers(1, 999),
    st.integers(0, 5),
    st.sampled_from([None, 5.0, 10.0, 20.0]),
)
def test_forms_read_back(kind: str, figures: int, power: int, percent: float | None) -> None:
    least = {"farads": -12, "henries": -6, "volts": -3, "amperes": -3}.get(kind, 0)
    value = Value(kind, float(f"{figures}e{least + power}"), percent)
    for form in (trade_form(value), today_form(value)):
        (again,) = parse_value(form)
        assert again.kind == kind
        assert again.number == pytest.approx(value.number, rel=1e-5)
        assert again.tolerance_percent == percent


@pytest.mark.parametrize(
    ("text", "trade", "today"),
    [
        (".05 mfd 400 V", ".05 mfd 400 V", "0.05 µF 400 V"),
        ("250 MMFD", "250 mmf", "250 pF"),
        ("0.001 µF", ".001 mfd", "1 nF"),
        ("470,000 ohms 10%", "470K 10%", "470 kΩ 10%"),
        ("2M2", "2.2 meg", "2.2 MΩ"),
        ("150 ohms 1/2 W", "150 ohms 1/2 W", "150 Ω 1/2 W"),
        ("455 kHz", "455 kc", "455 kHz"),
        ("10.7 MHz", "10.7 mc", "10.7 MHz"),
    ],
)
def test_both_forms(text: str, trade: str, today: str) -> None:
    (value,) = parse_value(text)
    assert (trade_form(value), today_form(value)) == (trade, today)


# Replacing


def fitted(text: str, part: str = "") -> list[str]:
    value = parse_value(text)[0]
    return [today_form(v) for v in replace_with(value, part).values]


@pytest.mark.parametrize(
    ("printed", "part", "sold"),
    [
        ("500K", "volume control", ["500 kΩ"]),
        ("470K", "volume control with switch", ["500 kΩ"]),
        ("2 meg", "tone control", ["2 MΩ"]),
        ("350K", "volume control", ["500 kΩ", "250 kΩ"]),
        (".0075 mfd 1600 V", "buffer", ["7.5 nF 1600 V"]),
        (".02 mfd 1500 V", "Buffer condenser", ["0.02 µF 1600 V"]),
    ],
)
def test_controls_and_buffers_keep_their_value(printed: str, part: str, sold: list[str]) -> None:
    # Common practice, no source: controls in steps of 1, 2, 2.5 and 5; a buffer as printed.
    value = parse_value(printed)[0]
    assert [today_form(v) for v in replace_with(value, part).values] == sold


@pytest.mark.parametrize(
    ("text", "part", "first"),
    [
        ("50 mfd", "", "47 µF"),
        ("30 mfd", "", "33 µF"),
        ("20 mfd", "", "22 µF"),
        ("25 mfd", "cathode bypass", "22 µF"),
        ("8 mfd", "first filter", "10 µF"),
        ("16 mfd", "", "15 µF"),
        ("50 mfd 150 V", "", "47 µF 160 V"),
        (".05 mfd", "paper", "0.047 µF"),
        (".05 mfd 600 V", "", "0.047 µF 630 V"),
        (".02 mfd", "", "0.022 µF"),
        (".005 mfd", "", "4.7 nF"),
        ("2 mfd", "paper", "2.2 µF"),
        ("50K", "", "51 kΩ"),
        ("150 ohms", "cathode resistor", "150 Ω"),
        ("500K", "", "510 kΩ"),
    ],
)
def test_what_is_sold_today(text: str, part: str, first: str) -> None:
    assert fitted(text, part)[0] == first


@quick
@given(st.integers(10, 2200), st.booleans())
def test_an_electrolytic_is_never_much_smaller_nor_a_first_filter_much_larger(
    tenths: int, first: bool
) -> None:
    value = Value("farads", tenths / 10 * 1e-6)
    part = "electrolytic, first filter" if first else "electrolytic"
    found = replace_with(value, part)
    fit = found.values[0]
    assert all(0.85 <= one.number / value.number <= 1.5 for one in found.values)
    nearest = eseries.find_nearest(eseries.E6, fit.number)  # IEC 60063
    assert fit.number == pytest.approx(nearest)
    assert "rectifier" in found.note


@quick
@given(st.integers(100, 999), st.integers(-1, 5))
def test_resistors_are_preferred_values_within_their_step(figures: int, power: int) -> None:
    ohms = float(f"{figures}e{power}")
    fit = replace_with(Value("ohms", ohms)).values
    nearest = eseries.find_nearest(eseries.E24, ohms)  # IEC 60063
    assert abs(fit[0].number - ohms) <= abs(nearest - ohms) + ohms * 1e-9
    assert len(fit) == len(set(fit)) <= 2


@pytest.mark.parametrize(
    ("text", "part", "words"),
    [
        (".05 mfd", "across the line", "X1 or X2"),
        (".05 mfd", "line filter", "X1 or X2 class across the line"),
        (".01 mfd", "line to chassis", "Y1 or Y2"),
        ("250 mmf", "mica", "silver mica"),
        (".0005 mfd", "oscillator padder", "silver mica"),
        ("135 ohms", "resistance cord", "worked out"),
    ],
)
def test_where_no_rule_of_thumb_may_be_used(text: str, part: str, words: str) -> None:
    found = replace_with(parse_value(text)[0], part)
    assert found.values == ()
    assert words in found.type
    assert "not by rule of thumb" in found.note.lower()


def test_line_capacitors_name_the_standard_and_local_code() -> None:
    found = replace_with(Value("farads", 1e-8), "line to chassis")
    assert "IEC 60384-14" in found.type and "local code" in found.note


def test_working_voltage_is_kept() -> None:
    assert replace_with(parse_value("50 mfd 150 V")[0]).working_v_at_least == 150
    assert replace_with(parse_value("50 mfd")[0]).working_v_at_least is None


# Readings


@pytest.mark.parametrize(
    ("nominal", "reading", "tolerance", "state"),
    [
        (100, 150, None, "out"),
        (100, 150, 20, "out"),
        (150, 165, 10, "at the edge"),
        (150, 165, 20, "in"),
        (150, 166, 10, "out"),
        (150, 150, 5, "in"),
        (150, 135, 10, "at the edge"),
        (6.8e6, 9e6, None, "out"),
        (470e3, 800e3, None, "out"),
        (470e3, 800e3, 20, "out"),
        (470e3, inf, None, "out"),
        (470e3, 0, None, "out"),
    ],
)
def test_readings(nominal: float, reading: float, tolerance: float | None, state: str) -> None:
    assert verdict(nominal, reading, tolerance).state == state


def test_a_verdict_says_by_how_much() -> None:
    found = verdict(150, 165)
    assert (found.low, found.high, found.off_percent) == (120, 180, 10)
    assert "at the edge of 10 %, inside 20 %" in found.note
    assert "out of any usual tolerance" in verdict(100, 150).note
    assert verdict(100, inf).off_percent == inf


def test_limits_may_differ_below_and_above() -> None:
    found = verdict(parse_value("50 mfd +50 -10%")[0], 70e-6)
    assert found.state == "in" and found.low == pytest.approx(45e-6)
    assert verdict(parse_value("50 mfd +50 -10%")[0], 44e-6).state == "out"


@pytest.mark.parametrize(("reads", "state"), [("90", "in"), ("90 mmf", "in"), ("9", "out")])
def test_a_bare_capacitance_takes_the_nearest_unit(reads: str, state: str) -> None:
    (found,) = answer("100 mmfd", reads)
    assert found.verdict is not None and found.verdict.state == state
    assert ("Taken as 90 pF" in found.verdict.note) == (reads == "90")


def test_an_electrolytic_may_well_be_larger() -> None:
    # Common practice, no source: -20 +50 % where nothing is printed.
    value = parse_value("50 mfd 150 V")[0]
    assert verdict(value, 70e-6).state == "in"
    assert verdict(value, 38e-6).state == "out"
    assert verdict(value, 80e-6).state == "out"
    assert verdict(parse_value(".05 mfd")[0], 0.065e-6).state == "out"


def test_a_low_reading_may_be_a_parallel_path() -> None:
    assert "lift one end" in verdict(Value("ohms", 470e3), 200e3).note


@quick
@given(st.floats(1e-12, 1e9), st.floats(0, 3), st.floats(0.5, 90))
def test_the_state_agrees_with_the_limits(nominal: float, share: float, percent: float) -> None:
    found = verdict(nominal, nominal * share, percent)
    if found.state == "out":
        assert not found.low < nominal * share < found.high
    else:
        slack = nominal * 1e-6
        assert found.low - slack <= nominal * share <= found.high + slack


@pytest.mark.parametrize(("nominal", "reading"), [(0, 1), (-5, 1), (100, -1), (float("nan"), 1)])
def test_impossible_numbers_are_refused(nominal: float, reading: float) -> None:
    with pytest.raises(ValueError):
        verdict(nominal, reading)


def test_a_value_answered_in_full() -> None:
    (found,) = answer("470K 10%", reads="800K")
    facts = found.facts()
    assert facts["nominal"] == 470e3 and facts["unit"] == "ohms"
    assert facts["replace_with"] == [470e3]
    assert (facts["low"], facts["high"], facts["verdict"]) == (423e3, 517e3, "out")
    one, two = answer("50-30 mfd 150 V")
    assert one.facts()["replace_with"] == [47e-6] and two.facts()["replace_with"] == [33e-6]
    assert one.facts()["verdict"] is None
    assert answer("100 ohms", reads="open")[0].facts()["off_percent"] is None


@pytest.mark.parametrize(
    ("text", "reads"), [("hello", ""), ("470K", "red"), ("50-30 mfd", "47 mfd"), ("470K", "5 V")]
)
def test_what_is_not_understood_says_so(text: str, reads: str) -> None:
    with pytest.raises(UsageError):
        answer(text, reads)
