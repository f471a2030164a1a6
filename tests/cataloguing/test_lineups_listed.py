"""Lists of tubes in any words and tongues, what only names tubes, and the parts printed beside
them. How the trade prints it is common practice, no source; makers and models are invented, tube
types are registered ones."""

import pytest

from indexer.cataloguing.in_list import in_a_list
from indexer.cataloguing.printed_roles import role_after, role_said
from indexer.cataloguing.region import Line, make_line, page_lines
from indexer.cataloguing.unit import catalogue_unit
from indexer.trade.numbering import line_up_types, parse_line_up
from tests.cataloguing.pages import book, page

HEAD = "TILLBROOK RADIO CORPORATION   MODEL 5D10\n\n"


def tubes_of(*texts: str) -> list[str]:
    (entry,) = catalogue_unit(book(*texts)).entries
    return [tube.type for tube in entry.tubes]


@pytest.mark.parametrize(
    ("row", "types"),
    [
        ("Röhrenbestückung: ECC85, ECH81, EF89, EABC80, EL84, EM80, EZ80", 7),
        ("Röhren  UCH42  UF41  UBC41  UL41  UY41", 5),
        ("Bestückung ECH11 - EBF11 - ECL11 - AZ11", 4),
        ("Lampes utilisées : ECH3, EF9, EBF2, EL3N et AZ1", 5),
        ("Rör: UCH42, UF41, UBC41, UL41 och UY41", 5),
        ("Buizen ECH21, ECH21, EBL21, AZ1", 4),
        ("Valve line-up DK96, DF96, DAF96, DL96", 4),
        ("(V1) ECH42, (V2) EF41, (V3) EBC41, (V4) EL41, (V5) EZ40.", 5),
        ("Uses 1A7GT, 1N5GT, 1H5GT and 3Q5GT with 90 volts of B battery", 4),
        ("12BE6 / 12BA6 / 12AV6 / 50C5 / 35W4", 5),
    ],
)
def test_types_in_list_form_are_a_line_up_whatever_stands_before(row: str, types: int) -> None:
    drawing = "SCHEMATIC DIAGRAM\n\n" + "\n\n".join(t.printed for t in parse_line_up(row))
    assert in_a_list(_line(row))
    assert len(tubes_of(HEAD + row)) == types
    assert len(tubes_of(HEAD + drawing, HEAD + row)) == types


@pytest.mark.parametrize(
    "row",
    [
        "6SK7, 6SJ7, 6SH7 and 6SG7 are alike in their sockets",
        "6A8      6K7      6Q7      6F6      5Y3",
        "6A7 .85   6D6 .70   75 .60   42 .65",
        "ECH81 22n 100p EF89 47k 100p EABC80 10M EL84",
        "If hum persists try a new 6V6 and check its bias, then the 6SQ7 and 6SK7 and 5Y3",
    ],
)
def test_labels_prices_and_prose_are_no_list(row: str) -> None:
    assert not in_a_list(_line(row))


def test_prose_that_names_tubes_gives_no_line_up() -> None:
    prose = (
        "If hum persists try a new 6V6, and check the bias. The 6SK7 and the 6SQ7\n"
        "may be swapped with those of a good set that is known to work well.\n"
    )
    assert tubes_of(HEAD + prose) == []


def test_a_drawing_alone_gives_its_whole_line_up() -> None:
    drawing = (
        "Schaltbild\n\nECC85 2,2n 5n 100p EF89\n\nECH81 22n 100p 220k\n\n"
        "V5 EABC80 22n 100p 47p EM80 100p V8 EZ80 150 50u\n\nEL84\n"
    )
    found = tubes_of(HEAD + drawing)
    assert sorted(found) == ["EABC80", "ECC85", "ECH81", "EF89", "EL84", "EM80", "EZ80"]


@pytest.mark.parametrize(
    ("text", "types"),
    [
        ("four 201-A, one 112-A", ("01A",) * 4 + ("12A",)),
        ("Uses four 201-A's and one 112-A.", ("01A",) * 4 + ("12A",)),
        ("Tubes: 3-227, 2-245, 1-280", ("27",) * 3 + ("45",) * 2 + ("80",)),
        (
            "three 58's, two 56's, two 45's and one 80",
            ("58",) * 3 + ("56",) * 2 + ("45",) * 2 + ("80",),
        ),
        ("two 45's", ("45", "45")),
        ("Tubes: 2 '24, 1 '27, 2 '45, 1 '80", ("24A", "24A", "27", "45", "45", "80")),
        ("1C7G, 1D5GP, 1H6G, 1F5G", ("1C7", "1D5", "1H6", "1F5")),
        ("6SQ7, PP 2A3, 5U4G", ("6SQ7", "2A3", "2A3", "5U4")),
        ("6SA7 6SK7 6SQ7 2x6V6 5Y3", ("6SA7", "6SK7", "6SQ7", "6V6", "6V6", "5Y3")),
        ("push-pull 6V6, 6V6, 5Y3", ("6V6", "6V6", "5Y3")),
        ("C5 .005 C6 .1 C7 .01", ()),
        ("plate 245, screen 112", ()),
    ],
)
def test_counts_and_early_numbers(text: str, types: tuple[str, ...]) -> None:
    assert line_up_types(text) == types


@pytest.mark.parametrize(
    ("said", "role"),
    [
        ("I.F. amplifier", "IF amplifier"),
        ("IF AMP", "IF amplifier"),
        ("r. f. amplifier", "RF amplifier"),
        ("R.F.", "RF amplifier"),
        ("First audio", "first audio"),
        ("1st A.F. amp.", "first audio"),
        ("oscillator and mixer", "converter"),
        ("OSC.-MOD.", "converter"),
        ("power output", "output"),
        ("Gleichrichter", "rectifier"),
        ("detector, a.v.c.", ""),
        ("Det. and I.F. amplifier", ""),
        ("cathode", ""),
    ],
)
def test_a_role_in_words(said: str, role: str) -> None:
    assert role_said(said) == role


def test_what_is_printed_beats_what_is_reckoned() -> None:
    """A set without a stage ahead of its converter: the one 6K7 amplifies the I.F., and of two the
    words say which comes first."""
    assert role_after(" I.F. amplifier, 6Q7") == "IF amplifier"
    listed = "6K7 I.F. amplifier\n6A8 Oscillator-modulator\n6K7 I.F. amplifier\n6H6 Detector\n"
    rest = "6F5 First audio\n6F6 Power output\n5Y3G Rectifier\n"
    (entry,) = catalogue_unit(book(HEAD + listed + rest)).entries
    roles = {tube.type: tube.role for tube in entry.tubes}
    assert roles["6K7"] == "IF amplifier"
    assert roles["6F5"] == "first audio"
    labels = "6K7        6A8      6K7\nI.F.       CONV     I.F.\n\n6Q7   6F6   5Y3\n"
    drawing = "SCHEMATIC DIAGRAM\n\n" + labels
    (entry,) = catalogue_unit(book(HEAD + drawing)).entries
    assert {t.role for t in entry.tubes if t.type == "6K7"} == {"IF amplifier"}


def _line(row: str) -> Line:
    return make_line(word for line in page_lines(page(row)) for word in line.words)


def test_the_owners_note_names_what_was_worked_on() -> None:
    note = "# Tillbrook 5D10\n\n- 35W4 was weak, new one in\n- 50C5 fine\n"
    (entry,) = catalogue_unit([page(note, file="n.md", reader="typed")], ["Tillbrook"]).entries
    assert {tube.type for tube in entry.tubes} == {"35W4", "50C5"}


def test_numbers_of_the_rows_are_no_counts() -> None:
    text = (
        "TILLBROOK RADIO CORPORATION   MODEL 5D10\n\nTUBES:\n(1) 1A7GT Oscillator, first detector\n"
        "(2) 1N5GT I.F. amplifier\n(3) 1H5GT Second detector, A.V.C., audio\n"
        "(4) 1A5GT Power output\n"
    )
    (entry,) = catalogue_unit([page(text)], ["Tillbrook"]).entries
    assert sorted(tube.type for tube in entry.tubes) == ["1A5", "1A7", "1H5", "1N5"]
