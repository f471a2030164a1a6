"""Tube types as printed, typed and misread. Spellings are common practice in print, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from indexer.trade.look_alikes import MAX_COST, folded, slip_cost
from indexer.trade.numbering import (
    decode,
    line_up_types,
    look_alikes,
    parse_line_up,
    parse_tube,
    registered,
)
from indexer.trade.tubes import all_tubes

AS_PRINTED = {
    "6X5GT": ("6X5", "GT", ""),
    "5X4G": ("5X4", "G", ""),
    "1X2B": ("1X2", "", "B"),
    "12SK7-GT/G": ("12SK7", "GT/G", ""),
    "12SK7 GT/G": ("12SK7", "GT/G", ""),
    "12 BE 6": ("12BE6", "", ""),
    "12be6": ("12BE6", "", ""),
    "6v6gt": ("6V6", "GT", ""),
    "6SN7GTB": ("6SN7", "GT", "B"),
    "6SN7-GTA": ("6SN7", "GT", "A"),
    "12 AX7A": ("12AX7", "", "A"),
    "6J5M": ("6J5", "M", ""),
    "6A8-G": ("6A8", "G", ""),
    "6AU4GTA": ("6AU4", "GT", "A"),
    "24A": ("24A", "", ""),
    "01A": ("01A", "", ""),
    "O1A": ("01A", "", ""),
    "OZ4": ("0Z4", "", ""),
    "OA2": ("0A2", "", ""),
    "ECC 83": ("ECC83", "", ""),
    "ECH42": ("ECH42", "", ""),
    "KT66": ("KT66", "", ""),
}


@pytest.mark.parametrize("printed", AS_PRINTED)
def test_a_printed_type_is_taken_apart(printed: str) -> None:
    name = parse_tube(printed)
    assert name is not None
    assert (name.base, name.envelope, name.revision) == AS_PRINTED[printed]


def test_counts_symbols_halves_and_alternatives() -> None:
    double = parse_tube("(2) 6V6")
    assert double and (double.base, double.count) == ("6V6", 2)
    labelled = parse_tube("V3 12AV6")
    assert labelled and (labelled.base, labelled.symbol) == ("12AV6", "V3")
    half = parse_tube("½ 12AX7")
    assert half and half.half and half.base == "12AX7"
    choice = parse_tube("6J5 or 6C5")
    assert choice and (choice.base, choice.alternatives) == ("6J5", ("6C5",))
    eye = parse_tube("6U5/6G5")
    assert eye and eye.base == "6U5" and registered("6U5/6G5") == "6U5"
    dual = parse_tube("117L7/M7GT")
    assert dual and dual.base == "117L7"
    for text in ("2x 6V6", "2-6V6", "6V6 (2)", "6V6 x 2"):
        found = parse_tube(text)
        assert found and (found.base, found.count) == ("6V6", 2), text


@pytest.mark.parametrize(
    ("printed", "base"),
    [
        ("6SN7GTB", "6SN7"),
        ("VT-91", "6J7"),
        ("VT-231", "6SN7"),
        ("UX-245", "45"),
        ("UX-201A", "01A"),
        ("UY-227", "27"),
        ("UX-280", "80"),
        ("UX171A", "71A"),
        ("VR-150", "0D3"),
        ("VR150/30", "0D3"),
        ("5Y3GT/G", "5Y3"),
        ("12AX7WA", "12AX7"),
        ("6AK5W", "6AK5"),
        ("6L6GC", "6L6"),
        ("5U4GB", "5U4"),
        ("35Z5GT", "35Z5"),
    ],
)
def test_registered_leads_to_the_tables_own_number(printed: str, base: str) -> None:
    """VT, VR and UX numbers from memory."""
    assert registered(printed) == base


@pytest.mark.parametrize(
    "text", ["R12", "C16", "L3", "T1", "455 kc", "6.8K", "100 V", "SW1", "B+", "", "model", "1938"]
)
def test_what_is_no_tube_is_refused(text: str) -> None:
    assert parse_tube(text) is None


@given(st.sampled_from(sorted(all_tubes())), st.sampled_from(["", "G", "GT", "-GT", " GT/G"]))
def test_every_type_of_the_table_is_its_own_registered_number(name: str, suffix: str) -> None:
    assert registered(name) == name
    assert registered(name.lower()) == name
    if name[0].isdigit() and any(c.isalpha() for c in name) and not name[-1].isalpha():
        assert registered(name + suffix) == name


@given(st.text(max_size=40))
def test_any_text_is_read_without_error(text: str) -> None:
    parse_tube(text)
    look_alikes(text)
    for token in parse_line_up(text):
        assert text[token.start : token.end] == token.printed
        assert 1 <= token.count <= 12


def _counted(text: str) -> list[tuple[str, int]]:
    return [(token.type, token.count) for token in parse_line_up(text)]


def test_a_line_up_in_free_text() -> None:
    text = "6BE6, 6BA6; 2x 6V6GT (4) 6SN7 35W4 rect."
    assert _counted(text) == [("6BE6", 1), ("6BA6", 1), ("6V6", 2), ("6SN7", 4), ("35W4", 1)]
    places = [text[token.start : token.end] for token in parse_line_up(text)]
    assert places == ["6BE6", "6BA6", "6V6GT", "6SN7", "35W4"]
    joined = "12BE6-12BA6-12AV6-50C5-35W4"
    assert line_up_types(joined) == ("12BE6", "12BA6", "12AV6", "50C5", "35W4")
    assert _counted("6SK7, 6SK7, 6SQ7") == [("6SK7", 1), ("6SK7", 1), ("6SQ7", 1)]
    assert _counted("6V6GT (2), 5Y3G (1)") == [("6V6", 2), ("5Y3", 1)]
    assert _counted("two 6V6 and 80") == [("6V6", 2), ("80", 1)]
    assert _counted("1 6SA7 2 6SK7 3 6SQ7") == [("6SA7", 1), ("6SK7", 1), ("6SQ7", 1)]


def test_early_bare_numbers_need_company() -> None:
    assert line_up_types("24A, 24A, 27, 45, 45, 80") == ("24A", "24A", "27", "45", "45", "80")
    assert line_up_types("57 58 2A5 80") == ("57", "58", "2A5", "80")
    assert line_up_types("80") == ("80",)
    assert line_up_types("Tubes - Type 24A, '27, '45, '80") == ("24A", "27", "45", "80")
    assert parse_line_up("see page 80 and add 45 volts at 27 ma") == []
    assert parse_line_up("24 27 45 80", bare_numbers=False) == []
    assert line_up_types("UX-245, UX-245, UX-280") == ("45", "45", "80")
    assert line_up_types("6V6 250 250 0 -12") == ("6V6",)
    assert line_up_types("6SQ7 80 45 0 6.3") == ("6SQ7",)
    assert line_up_types("6550A, 6550A, 80") == ("6550", "6550", "80")


def test_a_line_up_leaves_other_codes_alone() -> None:
    text = "R12 6.8K C16 .05 mfd 455 kc 12BE6 T2 model 5D10 part 6A8-23 9-1/2 V"
    assert [token.type for token in parse_line_up(text)] == ["12BE6"]
    assert parse_line_up("chassis 6K8") == []
    assert parse_line_up("6 V 6 A at 35 W") == []


@pytest.mark.parametrize("typed", ["24A 24A 27 45 80", "01A 01A 12A 71A 80", "6C6 24A 27 47 80"])
def test_a_letter_before_a_bare_number_stays_with_its_type(typed: str) -> None:
    assert " ".join(token.printed for token in parse_line_up(typed)) == typed


def test_the_figure_of_a_code_before_a_tube_counts_nothing() -> None:
    assert line_up_types("502 CP-5 12SA7 12SK7") == ("12SA7", "12SK7")
    assert line_up_types("chassis RC-41A 6SN7") == ("6SN7",)
    assert line_up_types("24A-27-45-80") == ("24A", "27", "45", "80")
    assert line_up_types("2 6V6GT, 6SC7") == ("6V6", "6V6", "6SC7")


def test_symbols_halves_and_choices_in_a_line_up() -> None:
    found = parse_line_up("V1 6SA7 conv. V2 12SK7 IF V3 ½ 6SN7 V4 6J5 or 6C5")
    assert [token.symbol for token in found] == ["V1", "V2", "V3", "V4"]
    assert [token.half for token in found] == [False, False, True, False]
    assert found[3].alternatives == ("6C5",)
    assert line_up_types("½ 12AX7, 6BE6, ½ 12AX7") == ("12AX7", "6BE6")
    assert [t.type for t in parse_line_up("12 BE 6 conv, 12 BA 6 IF")] == ["12BE6", "12BA6"]
    assert parse_line_up("12 BE 6", joined=False) == []


def test_types_known_by_rule_alone_need_a_known_neighbour() -> None:
    assert "6ZZ9" not in all_tubes()
    assert parse_line_up("6ZZ9 only") == []
    tokens = parse_line_up("6SN7 6ZZ9")
    assert [(t.type, t.decoded) for t in tokens] == [("6SN7", False), ("6ZZ9", True)]


@pytest.mark.parametrize(
    ("printed", "volts", "amps"),
    [
        ("6ZZ9", 6.3, None),
        ("12ZZ9", 12.6, None),
        ("7Z9", 6.3, None),
        ("14Z9", 12.6, None),
        ("1Z9", 1.4, None),
        ("50Z9", 50.0, None),
        ("EF999", 6.3, None),
        ("UF999", None, 0.1),
        ("PF999", None, 0.3),
        ("DF999", 1.4, None),
    ],
)
def test_the_type_number_rules(printed: str, volts: float | None, amps: float | None) -> None:
    """RMA and Mullard-Philips rules, from memory."""
    tube = decode(printed)
    assert tube is not None and tube.decoded and tube.source == "type-number rule"
    assert (tube.heater_v, tube.heater_a) == (volts, amps)


@pytest.mark.parametrize(
    ("misread", "meant"),
    [
        ("l2BE6", "12BE6"),
        ("I2AV6", "12AV6"),
        ("12BEG", "12BE6"),
        ("65N7GT", "6SN7"),
        ("6SN76T", "6SN7"),
        ("GV6", "6V6"),
        ("5OC5", "50C5"),
        ("35VV4", "35W4"),
        ("12SK7CT", "12SK7"),
        ("3SL6", "35L6"),
        ("6BEG", "6BE6"),
        ("12S07", "12SQ7"),
        ("OZ4", "0Z4"),
    ],
)
def test_a_misread_print_leads_to_its_type(misread: str, meant: str) -> None:
    """Confusions of readers on scans, measured on drawn pages; no published source."""
    found = look_alikes(misread)
    assert found and found[0][0] == meant, found


@given(st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", max_size=8))
def test_folding_is_idempotent(code: str) -> None:
    assert folded(folded(code)) == folded(code)


_CODES = st.text("0156ILOSBGVYZ8", max_size=6)


@given(_CODES, _CODES)
def test_slip_cost_is_symmetric_and_zero_only_for_equals(one: str, other: str) -> None:
    cost = slip_cost(one, other)
    assert cost == pytest.approx(slip_cost(other, one))
    assert (cost == 0) == (one == other)


@given(st.sampled_from(sorted(all_tubes())))
def test_a_type_is_its_own_cheapest_look_alike(name: str) -> None:
    found = look_alikes(name)
    assert found[0] == (name, 0.0)
    assert all(0 <= cost <= MAX_COST for _, cost in found)


def test_many_types_with_strokes_between_are_a_line_up() -> None:
    assert line_up_types("6A7/6D6/75/42/80") == ("6A7", "6D6", "75", "42", "80")
    assert [t.alternatives for t in parse_line_up("6U5/6G5")] == [("6G5",)]
    assert [t.type for t in parse_line_up("6J5 or 6C5 or 6L5 or 7A4")] == ["6J5"]
