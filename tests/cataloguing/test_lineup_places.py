"""The places of a page that show one set's tubes are never added up. How the trade prints them is
common practice, no source; makers and models are invented, tube types are registered ones."""

import pytest

from indexer.cataloguing.region import make_line, page_lines
from indexer.cataloguing.told_once import told_once
from indexer.cataloguing.unit import catalogue_unit
from indexer.cataloguing.ways import Way, way_of
from indexer.model import TubePlace
from tests.cataloguing.pages import book, page

HEAD = "TILLBROOK RADIO CORPORATION   MODEL 5D10\n\n"
DRAWN = "12BE6      R1   12BA6\n\nC4     12AV6\n\n50C5     35W4\n\n"
SENTENCE = (
    "Tubes: 12BE6 converter, 12BA6 amplifier, 12AV6 detector,\n50C5 output and 35W4 rectifier.\n"
)
LIST = "12BE6 Converter\n12BA6 I.F. Amplifier\n12AV6 Det.-AVC\n50C5 Power Output\n35W4 Rectifier\n"
CHART = """
Tube    Plate   Screen   Cathode
12BE6   95      95       0
12BA6   95      95       1
12AV6   55      -        0
50C5    115     95       6
35W4    -       118      125
"""
RESISTANCES = """
RESISTANCE CHART
Tube    1     2     3    4
12BE6   22K   0     12   33
12BA6   1M    0     33   45
12AV6   10M   0     0    12
50C5    150   470K  45   95
"""
FIVE = ("12AV6", "12BA6", "12BE6", "35W4", "50C5")


def tubes_of(*texts: str) -> tuple[str, ...]:
    (entry,) = catalogue_unit(book(*texts)).entries
    return tuple(sorted(tube.type for tube in entry.tubes))


@pytest.mark.parametrize(
    "body",
    [
        DRAWN + SENTENCE,
        DRAWN + LIST,
        DRAWN + CHART,
        SENTENCE + CHART,
        DRAWN + SENTENCE + CHART + RESISTANCES,
        LIST + DRAWN + CHART,
    ],
)
def test_places_of_one_page_tell_of_the_same_tubes(body: str) -> None:
    assert tubes_of(HEAD + body) == FIVE


def test_places_of_two_pages_tell_of_the_same_tubes() -> None:
    again = "TILLBROOK RADIO CORPORATION   MODEL 5D10   PAGE 2\n" + CHART + RESISTANCES
    assert tubes_of(HEAD + DRAWN + SENTENCE, again) == FIVE


def test_a_type_used_twice_stays_two() -> None:
    body = "6D6        6A7\n\nR2  6D6\n\n75    42     80\n\n"
    said = (
        "Tubes: 6D6 r.f., 6A7 first detector, 6D6 i.f., 75 second detector, 42 output, 80 rect.\n"
    )
    assert tubes_of(HEAD + body + said) == ("42", "6A7", "6D6", "6D6", "75", "80")


OLD_DRAWN = "6A7    C4   6D6\n\nR3   75\n\n42     80\n\n"
OLD_CHART = """
Tube   Plate  Screen  Cathode
6A7    250    100     3
6D6    250    100     3
75     120    -       1.2
42     240    250     16
80     350    -       -
"""


@pytest.mark.parametrize(
    "body",
    [
        "1. 6A7 converter\n2. 6D6 I.F.\n3. 75 detector\n4. 42 output\n5. 80 rectifier\n",
        "V1-6A7 Converter\nV2-6D6 I.F.\nV3-75 Det.\nV4-42 Output\nV5-80 Rect.\n" + OLD_CHART,
        "6A7 . . . Converter\n6D6 . . . I.F. Amplifier\n75 . . . 2nd Det.\n42 . . . Output\n"
        "80 . . . Rectifier\n",
        "TUBES USED\n1 - 6A7\n1 - 6D6\n1 - 75\n1 - 42\n1 - 80\n",
        "Five tubes - 6A7, 6D6, 75, 42, 80. Power 60 watts.\n" + OLD_CHART,
        "Tubes: 6A7 oscillator; 6D6 amplifier; 75 second\ndetector; 42 pentode; 80 full wave\n"
        "rectifier.\n",
        "VOLTAGES\nTube   6A7  6D6  75  42  80\nPlate  250  250  120 240 350\n",
        "6A7 Converter      42 Output\n6D6 I.F.           80 Rectifier\n75 Det.\n",
        "Function   Tube\nConverter  6A7\nI.F.       6D6\nDetector   75\nOutput     42\n"
        "Rectifier  80\n",
        "Function   Tube  Plate  Screen  Cathode\nConverter  6A7   250    100     3\n"
        "I.F.       6D6   250    100     3\nDetector   75    120    0       1.2\n"
        "Output     42    240    250     16\nRectifier  80    350    0       0\n",
        OLD_CHART
        + "ALIGNMENT\nConnect the generator to the grid of the 6A7 tube, then to the 6D6.\n",
    ],
)
def test_line_ups_of_other_hands(body: str) -> None:
    assert tubes_of(HEAD + OLD_DRAWN + body) == ("42", "6A7", "6D6", "75", "80")


def test_types_alone_in_a_row() -> None:
    assert tubes_of(HEAD + "6A7 6D6 75 42 80\n") == ("42", "6A7", "6D6", "75", "80")


def test_a_sentence_counts_in_words() -> None:
    said = "The following tubes are used: one 6A7, two 6D6, one 75, one 42 and one 80.\n"
    assert tubes_of(HEAD + OLD_DRAWN + said) == ("42", "6A7", "6D6", "6D6", "75", "80")


def test_early_types_in_lists_and_charts() -> None:
    roles = (
        "1C6 FIRST DETECTOR\n34 I. F. AMPLIFIER\n30 SECOND DETECTOR\n30 DRIVER\n19 CLASS B OUTPUT"
    )
    assert tubes_of(HEAD + roles) == ("19", "1C6", "30", "30", "34")
    chart = """
Tube   Position    Fil.   Plate   Screen   Bias
24-A   1st R.F.    2.3    170     80       3.0
24-A   2nd R.F.    2.3    170     80       3.0
27     Detector    2.3    95      -        8.5
45     Output      2.4    245     -        48
80     Rectifier   4.8    330     -        -
"""
    assert tubes_of(HEAD + chart) == ("24A", "24A", "27", "45", "80")


def test_types_that_a_sentence_calls_so() -> None:
    said = (
        "Tubes: one type 57 first detector, one type\n"
        "58 intermediate frequency amplifier, one type 57 second\n"
        "detector, one type 47 pentode and one type 80 rectifier.\n"
    )
    assert tubes_of(HEAD + said) == ("47", "57", "57", "58", "80")


def test_readings_are_no_tubes() -> None:
    """55 and 75 are early types as well as volts."""
    chart = CHART.replace("55      -", "55      75")
    assert tubes_of(HEAD + LIST + chart) == FIVE


def test_a_tube_named_in_passing_adds_nothing() -> None:
    note = "From a later serial number on the output tube is\nchanged from 50C5 to 50B5 in all.\n"
    assert tubes_of(HEAD + LIST, "TILLBROOK RADIO CORPORATION   MODEL 5D10\n" + note) == FIVE


def test_drawings_alone_are_believed() -> None:
    first = HEAD + "SCHEMATIC DIAGRAM\n" + DRAWN
    second = "TILLBROOK RADIO CORPORATION   MODEL 5D10\nSCHEMATIC DIAGRAM, EARLY SETS\n" + DRAWN
    assert tubes_of(first, second) == FIVE


@pytest.mark.parametrize(
    ("row", "way"),
    [
        ("Tubes: 12BE6, 12BA6, 12AV6", Way.SENTENCE),
        ("V2 6SK7 0 6.3 0 -1 0 95", Way.CHART),
        ("24-A 1st R.F. 2.3 170 80 3.0", Way.CHART),
        ("12BE6 - Converter", Way.LIST),
        ("30 DRIVER", Way.LIST),
        ("6A7 6D6 C6 .05", Way.DRAWN),
        ("Connect the generator to the grid of the 6A8 and set it to 456", Way.PASSING),
    ],
)
def test_the_way_of_a_row(row: str, way: Way) -> None:
    assert way_of(make_line(w for line in page_lines(page(row)) for w in line.words)) is way


def _types(text: str) -> tuple[str, ...]:
    return tuple(sorted(place.type for place in told_once(_placed(text))))


def _placed(text: str) -> list[TubePlace]:
    pairs = [word.rpartition(":") for word in text.split()]
    return [TubePlace(name, name, symbol=symbol) for symbol, _, name in pairs]


NUMBERED = "V1:12BE6 V2:12BA6 V3:12AV6 V4:50C5 V5:35W4"


@pytest.mark.parametrize(
    ("shown", "told"),
    [
        ("12BE6 12BA6 12AV6 50C5 35W4 12BE6 12BA6 12AV6 50C5 35W4", FIVE),
        ("12BE6 12BA6 12AV6 50C5 12BE6 12BA6 12AV6 50C5 35W4", FIVE),
        (NUMBERED + " 12BA6 35W4 12BE6 50C5 12AV6", FIVE),
        ("V1:12BE6 V2:12BA6 V3:12AV6 V5:35W4 12BE6 12BA6 50C5 12AV6 35W4", FIVE),
        ("V3:12AX7 V3:12AX7 V4:6V6", ("12AX7", "6V6")),
        # what a set may well have is left as it is
        ("6SK7 6SK7 6H6 6SN7 6SN7 6V6 6V6 5Y3", ("5Y3", "6H6", *("6SK7", "6SN7", "6V6") * 2)),
        ("12AX7 6BQ5 6BQ5 12AX7 6BQ5 6BQ5 5AR4", ("12AX7", "12AX7", "5AR4", *["6BQ5"] * 4)),
        ("V1:6SK7 V2:6SA7 6SK7 6H6 6V6 6V6", ("6H6", "6SA7", "6SK7", "6SK7", "6V6", "6V6")),
    ],
)
def test_a_line_up_told_again_below_a_heading_that_was_not_read(
    shown: str, told: tuple[str, ...]
) -> None:
    assert _types(shown) == tuple(sorted(told))
