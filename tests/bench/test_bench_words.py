"""What the job's sheets say of car and battery sets, controls, line parts, spares and valve tables.

Common practice, no source, but for values sold (IEC 60063) and the classes of line capacitors
(IEC 60384-14), both from memory. Which tubes had a metal envelope: from memory.
"""

import pytest

from indexer.bench.charts import read_charts
from indexer.bench.named_parts import named_buffer
from indexer.bench.parts import PartLine
from indexer.bench.power_up import live_chassis, power_up_sheet
from indexer.bench.reading_pages import _marks, _note
from indexer.bench.readings import chart_lines, milliamps_read
from indexer.bench.replacements import replacement_list
from indexer.bench.sheet_types import ReplacementLine
from indexer.model import Box, Entry, PageReading, TubePlace, Word
from indexer.store.bench_records import Taken
from indexer.trade.cautions import applying
from indexer.trade.relations import relation, substitutes
from indexer.trade.value_parse import parse_value
from indexer.trade.values import replace_with

CAR = ["6K7", "6A8", "6K7", "6Q7", "6K6", "6X5"]
FARM = ["1A7", "1N5", "1H5", "1A5"]


def page(*rows: tuple[tuple[int, str], ...]) -> PageReading:
    """Words at their left edges, row by row."""
    words = []
    for number, row in enumerate(rows):
        for left, text in row:
            top = 100 + 60 * number
            words.append(Word(text, Box(left, top, left + 20 * len(text), top + 30), 1.0, number))
    return PageReading(tuple(words), 2550, 3300, "typed")


def typed(*lines: str) -> PageReading:
    rows = []
    for line in lines:
        left, row = 150, []
        for text in line.split():
            row.append((left, text))
            left += 20 * len(text) + 14
        rows.append(tuple(row))
    return page(*rows)


def entry(supply: str, tubes: list[str], live: str = "no") -> Entry:
    places = tuple(TubePlace(kind) for kind in tubes)
    return Entry(
        "e", "Quarrydale", ("31",), (), places, (), None, None, supply, None, live_chassis=live
    )


def test_a_car_set_is_never_shown_a_lamp_in_the_mains() -> None:
    for supply, tubes in (("vibrator", CAR), ("battery", FARM), ("battery", CAR)):
        sheet = power_up_sheet(tubes, entry(supply, tubes))
        assert sheet.supply == supply and sheet.lamp == ""
        assert not any("series lamp" in line.lower() for line in sheet.checks)
        assert not any("Bright" in line for line in sheet.lamp_behaviour)
        assert not any("power transformer" in line for line in sheet.live_reasons)
        assert "first power-up" not in {caution.key for caution in sheet.cautions}
    assert power_up_sheet(CAR, entry("transformer", CAR)).lamp
    told = power_up_sheet(CAR, entry("battery", CAR))
    assert "words of the pages" in told.supply_note and "transformer" in told.supply_note
    assert any("ring" in c.text for c in applying("no", "vibrator"))


@pytest.mark.parametrize(
    "words",
    [
        "A.C.-D.C. mains 200-250 volts",
        "fed through an auto-transformer",
        "Netztransformator als Spartransformator",
        "One side of the chassis is connected to one side of the mains",
    ],
)
def test_words_that_join_the_chassis_to_the_line_take_a_no_back(words: str) -> None:
    one = entry("transformer", ["ECH35", "EF39", "EBC33", "EL33", "AZ31"])
    sheet = power_up_sheet([place.type for place in one.tubes], one, words)
    assert sheet.live_chassis != "no"
    assert "isolation transformer" in sheet.isolation
    assert sheet.live_reasons
    assert live_chassis(one, ["AZ31"], "A.C. mains only, power transformer T1") == "no"


def test_filaments_in_series_and_their_shunts_are_told() -> None:
    notes = " ".join(power_up_sheet(FARM, entry("battery", FARM)).string_notes)
    assert "shunt" in notes
    both = entry("battery and line", ["1R5", "1U4", "1U5", "3V4"], "unknown")
    said = " ".join(power_up_sheet(["1R5", "1U4", "1U5", "3V4"], both).string_notes)
    assert "pull or push no tube" in said


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("oil-filled condenser 4 mfd 1000 volts", "oil-filled"),
        ("mains dropper 800 ohms, tapped", "resistance cord"),
        ("a line cord resistance of 135 ohms", "resistance cord"),
        ("metal rectifier", "selenium"),
        ("E.H.T. unit", "high voltage"),
    ],
)
def test_words_call_up_their_caution(words: str, key: str) -> None:
    found = {c.key: c for c in applying("no", "transformer", CAR, words)}
    assert key in found and "Local codes" in found[key].text
    assert key not in {c.key for c in applying("no", "transformer", CAR, "coupling", 1947)}


def test_a_bleeder_is_not_trusted() -> None:
    text = next(c.text for c in applying("no", "transformer", CAR) if c.key == "charged filters")
    assert "bleeder" in text.lower() and "measure" in text


@pytest.mark.parametrize(
    ("lines", "farads"),
    [
        (("Renew the buffer condenser, .0075 mfd 1600 volts,", "with the vibrator."), 0.0075e-6),
        (("A 0.01 uF 2000 V buffer is across the secondary.",), 0.01e-6),
        (("Replace the utter, .008 mfd, 1600 volts,", "whenever it is changed."), 0.008e-6),
        (("Test the buffer whenever the vibrator is renewed.",), None),
    ],
)
def test_a_buffer_that_only_the_text_names(lines: tuple[str, ...], farads: float | None) -> None:
    part = named_buffer(typed(*lines), None)
    assert part is not None
    (line,) = replacement_list([part], [])
    assert line.to_buy
    if farads is None:
        assert line.action == "look at the page"
    else:
        assert part.value and part.value.number == pytest.approx(farads)
        assert line.action == "replace" and line.working_v_at_least == part.value.working_v
    assert named_buffer(typed("The vibrator is a 4 pin one, .05 mfd 200 volts."), None) is None


def fitted(words: str, value: str = "", name: str = "R3") -> ReplacementLine:
    part = PartLine(name, "", "", parse_value(value or words)[0], words, Box(0, 0, 1, 1))
    return replacement_list([part], [])[0]


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("500,000 Volume", "500,000 ohms"),
        ("Tone, 100K", "100K"),
        ("Vol. and switch 0.5 meg", "0.5 meg"),
        ("Potentiometer 1 meg", "1 meg"),
        ("Lautstärkeregler 1 M", "1 meg"),
    ],
)
def test_controls_by_whatever_name(words: str, value: str) -> None:
    assert fitted(words, value).type == "control of the same taper"
    assert fitted("500K", "500K", "RV1").type == "control of the same taper"


@pytest.mark.parametrize(
    "words", ["Tone corrector 47K", "Control grid leak 1 meg", "Volume control series 47K"]
)
def test_fixed_resistors_beside_controls_are_none(words: str) -> None:
    assert "control" not in fitted(words).type


@pytest.mark.parametrize(
    ("printed", "part", "kind"),
    [
        ("250 ohms 10 W", "", "wirewound"),
        ("1500 ohms 5 W", "dropping", "wirewound"),
        ("2000 ohms", "vitreous", "wirewound"),
        ("470K 1/2 W", "", "film"),
    ],
)
def test_the_kind_of_resistor_follows_its_watts(printed: str, part: str, kind: str) -> None:
    assert kind in replace_with(parse_value(printed)[0], part).type


@pytest.mark.parametrize(
    ("printed", "fit"),
    [
        ("16 mfd 450 V", ["22 µF 450 V"]),
        ("8 mfd 450 V", ["10 µF 450 V"]),
        ("12 mfd 350 V", ["15 µF 350 V"]),
        ("40 mfd 150 V", ["47 µF 160 V"]),
        ("25 mfd 150 V", ["33 µF 160 V"]),
        ("50 mfd 150 V", ["47 µF 160 V"]),  # what 50 is sold as today
        ("25 mfd 25 V", ["22 µF 25 V", "33 µF 25 V"]),  # a cathode's may be a step below
    ],
)
def test_filters_go_up_to_the_next_value_sold(printed: str, fit: list[str]) -> None:
    assert list(fitted(printed, name="C1").fit) == fit


def test_a_line_capacitor_is_offered_a_value_of_its_class() -> None:
    line = fitted(".05 mfd 400 V paper, across the line", name="C9")
    assert line.fit == ("0.047 µF",) and "X1 or X2" in line.type
    small = fitted(".01 mfd 400 V line to chassis", name="C9")
    assert small.fit == ("0.01 µF",) and "Y1 or Y2" in small.type


def test_no_working_voltage_read_is_not_told_as_none_printed() -> None:
    note = replace_with(parse_value("10 mfd")[0]).note
    assert "printed: take" not in note and "see the page" in note


def test_glass_wants_a_shield_only_where_a_metal_tube_stood() -> None:
    assert "shield" in relation("6SK7", "6SK7GT").note
    for asked, has in (("50L6", "50L6GT"), ("35Z5", "35Z5GT"), ("6K7G", "6K7GT"), ("6V6GT", "6V6")):
        found = relation(asked, has)
        assert found.kind == "same, other envelope" and "shield" not in found.note


def test_notes_on_heaters_agree_with_their_figures() -> None:
    for asked in ("DL92", "35Z5", "12SA7"):
        for has, link in substitutes(asked):
            wanted = [word for word in link.note.split() if word.replace(".", "").isdigit()]
            if "not in a series string" in link.note:
                volts, other, own = wanted[-3:]
                assert other != own, (asked, has, link.note)
                assert volts
            if link.kind == "other heater":
                assert "same heater volts" not in link.note


VALVES = (
    ((150, "Valve"), (420, "Anode"), (530, "V"), (600, "mA"), (720, "Screen"), (860, "V"),
     (930, "mA"), (1040, "Cath."), (1160, "V")),
    ((150, "V1"), (230, "ECH35"), (500, "215"), (600, "2.4"), (850, "80"), (930, "3.1"),
     (1150, "2.1")),
    ((500, "95"), (600, "4.4")),
    ((150, "V2"), (230, "EF39"), (500, "215"), (600, "5.1"), (850, "80"), (930, "1.6"),
     (1150, "2.5")),
    ((150, "V5"), (230, "AZ31"), (500, "265*")),
)  # fmt: skip
UNDER = (
    ((150, "Valve"), (500, "Anode"), (820, "Screen"), (1120, "Cath.")),
    ((470, "V"), (600, "mA"), (800, "V"), (930, "mA"), (1130, "V")),
)
WANTED = {
    "V1 plate": 215.0, "V1 plate mA": 2.4, "V1 screen": 80.0, "V1 screen mA": 3.1,
    "V1 cathode": 2.1, "V2 plate": 215.0, "V2 plate mA": 5.1, "V2 screen": 80.0,
    "V2 screen mA": 1.6, "V2 cathode": 2.5,
}  # fmt: skip


def test_valve_tables_with_volts_and_milliamperes() -> None:
    line_up = ["ECH35", "EF39", "EBC33", "EL33", "AZ31"]
    found = {p.name: p.nominal for p in read_charts(page(*VALVES), None, line_up)}
    assert found == WANTED | {"V5 plate": 265.0}
    below = page(((150, "Valve"), (300, "readings")), *UNDER, VALVES[1], VALVES[3])
    assert {p.name: p.nominal for p in read_charts(below, None, line_up)} == WANTED


def test_a_valve_table_between_a_column_of_text_and_a_drawing() -> None:
    rows = (
        ((60, "circuits."), (900, "Valve"), (1160, "Anode"), (1460, "Fil.")),
        ((60, "second"), (900, "DK91"), (1160, "62"), (1460, "1.4"), (2100, "ANT.")),
        ((60, "valve"), (900, "DF91"), (1160, "62"), (1460, "1.4"), (2100, "B+")),
        ((60, "is"), (900, "DL92"), (1160, "60"), (1460, "1.4"), (2300, "B+")),
    )
    head = ((60, "which"), (900, "Valve"), (1160, "Anode"), (1300, "Screen"), (1460, "Fil."))
    screens = [(*row[:3], (1300, "62"), *row[3:]) for row in rows[1:]]
    found = {p.name: p.nominal for p in read_charts(page(head, *screens))}
    assert found == {
        f"{tube} {pin}": volts
        for tube, plate in (("DK91", 62.0), ("DF91", 62.0), ("DL92", 60.0))
        for pin, volts in (("plate", plate), ("screen", 62.0), ("filament", 1.4))
    }


def test_a_current_read_against_a_valve_table() -> None:
    points = [p for p in read_charts(page(*VALVES)) if p.name == "V1 plate mA"]
    (line,) = chart_lines(points, [Taken("V1 PLATE MA", "2.3 mA")])
    assert (line.what, line.verdict, line.nominal) == ("current", "in", "2.4 mA")
    assert milliamps_read(".04 A") == 40 and milliamps_read("400 µA") == pytest.approx(0.4)


def test_notes_of_a_chart_are_numbered_and_leave_the_type_to_the_rows_head() -> None:
    lines = chart_lines(read_charts(page(*VALVES)), [])
    numbers = _marks(lines)
    assert sorted(numbers.values()) == list(range(len(numbers)))
    assert not any(tube in note for note in numbers for tube in ("ECH35", "EF39", "AZ31"))
    assert {line.tube for line in lines} == {"ECH35", "EF39", "AZ31"}
    assert all(_note(line) in numbers for line in lines)
