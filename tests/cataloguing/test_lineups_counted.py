"""How often a set has a tube where its pages tell of it again, and what settles the count. How the
trade prints it is common practice, no source; makers and models are invented, tube types are
registered ones, their heater volts by the type-number rule."""

from collections import Counter

import pytest

from indexer.cataloguing.counted import numbered_whole, overloads, said_in, told_twice
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import TubePlace
from tests.cataloguing.pages import book

HEAD = "TILLBROOK RADIO CORPORATION   MODEL 5D10\n\nSCHEMATIC DIAGRAM\n\n"
LABELLED = "V1 12SA7      R1   V2 12SK7\n\nC4     V3 12SQ7\n\nV4 50L6GT     V5 35Z5GT\n\n"
HALF_LABELLED = "Vi 12SA7     R1   V2 12SK7\n\nC4     V3 12SQ7\n\n50L6GT     35Z5GT\n\n"
BARE = "12SA7      R1   12SK7\n\nC4     12SQ7\n\n50L6GT     35Z5GT\n\n"
FIVE = ["12SA7", "12SK7", "12SQ7", "35Z5", "50L6"]


def tubes_of(*texts: str) -> list[str]:
    (entry,) = catalogue_unit(book(*texts)).entries
    return sorted(tube.type for tube in entry.tubes)


@pytest.mark.parametrize("drawing", [LABELLED, HALF_LABELLED, BARE])
@pytest.mark.parametrize(
    "again",
    [
        "HEATERS: 35Z5GT - 50L6GT - 12SK7 - 12SA7 - 12SQ7\n",
        "HEATERS:35Z5GT-5OL6GT-12SK7-12SA7-12SQ7\n",
        "35Z5GT     50L6GT     12SK7     12SA7     12SQ7\n",
        "FILAMENTS  35Z5GT 50L6GT 12SK7 12SA7 12SQ7 TO B MINUS\n",
        "BOTTOM VIEW OF SOCKETS\n\n12SA7   12SK7   12SQ7   50L6GT   35Z5GT\n",
        "V1 12SA7 CONVERTER\nV2 12SK7 I.F.\nV3 12SQ7 DET.\nV4 50L6GT OUTPUT\nV5 35Z5GT RECT.\n",
    ],
)
def test_a_second_mention_on_a_drawing_adds_nothing(drawing: str, again: str) -> None:
    assert tubes_of(HEAD + drawing + again) == FIVE


def test_a_chart_that_numbers_every_socket_bounds_the_count() -> None:
    """The drawing's stray label is no sixth tube."""
    chart = (
        "TILLBROOK RADIO CORPORATION   MODEL 5D10\nVOLTAGE CHART\nTube  Plate  Screen  Cathode\n"
    )
    rows = "V1 12SA7 90 90 0\nV2 12SK7 90 90 1\nV3 12SQ7 45 0 0\nV4 50L6GT 114 90 6\n"
    drawing = HEAD + BARE + "12SK7    C9\n"
    assert tubes_of(drawing) == sorted([*FIVE, "12SK7"])
    assert tubes_of(drawing, chart + rows + "V5 35Z5GT 117 0 120\n") == FIVE


def test_sockets_numbered_in_part_bound_nothing() -> None:
    chart = "V1 12SA7 90 90 0\nV2 12SK7 90 90 1\nV3 12SQ7 45 0 0\nV4 50L6GT 114 90 6\n"
    drawing = HEAD + BARE + "12SK7    C9\n\nVOLTAGE CHART\nTube  Plate  Screen  Cathode\n"
    assert tubes_of(drawing + chart) == sorted([*FIVE, "12SK7"])


def test_the_number_that_a_page_says_decides() -> None:
    drawing = HEAD + BARE + "12SK7    C9\n\n"
    said = "A five tube superheterodyne receiver for A.C. or D.C.\n"
    assert tubes_of(drawing + said) == FIVE
    assert tubes_of(drawing + said.replace("five", "six")) == sorted([*FIVE, "12SK7"])


def test_a_tube_that_the_list_lost_is_taken_from_the_drawing() -> None:
    drawing = HEAD + "6A8      R1   6K7\n\nC4     6Q7\n\n6F6     5Y3G\n\n"
    assert tubes_of(drawing + "TUBES: 6A8, 6K7, 6Q7, 6F6\n") == ["5Y3", "6A8", "6F6", "6K7", "6Q7"]
    label = HEAD + "12SA7 12SK7 12SQ7 50L6GT\n\nC1   R2\n\n35Z5GT\n"
    assert tubes_of(label) == FIVE


def test_tubes_in_pairs_stay_pairs() -> None:
    drawing = HEAD + "6SA7     6SK7\n\n6SQ7    6SN7GT\n\n6V6GT (2)    5Y3GT\n"
    assert tubes_of(drawing) == ["5Y3", "6SA7", "6SK7", "6SN7", "6SQ7", "6V6", "6V6"]
    halves = HEAD + "V1A 12AX7    V2 6BQ5\n\nV1B 12AX7   V3 6X4\n"
    assert tubes_of(halves) == ["12AX7", "6BQ5", "6X4"]


def test_a_condenser_with_a_stroke_before_it_is_no_tube() -> None:
    parts = "C5 .005   C6 .1   1C7 .01   C8 .05\n\n"
    assert tubes_of(HEAD + BARE + parts) == FIVE
    assert tubes_of(HEAD + BARE + "C5 .005   C6 .1 C7 .01   C8 .05\n") == FIVE


@pytest.mark.parametrize(
    "spoken",
    [
        "PARTS\nR3  270K  12SQ7 plate load\nR5  150 ohms  50L6GT bias\nT2  Output, for 50L6GT\n",
        "R3 plate load of 12SQ7\n\nTO 50L6GT PLATE      12SA7 GRID\n\nAT 12SK7\n",
        "12SA7 PIN 8       TO PIN 5 OF 50L6GT\n\nFROM 35Z5GT\n",
    ],
)
def test_what_speaks_of_a_tube_is_no_second_one(spoken: str) -> None:
    assert tubes_of(HEAD + BARE + spoken) == FIVE


def test_a_coil_beside_a_label_is_no_figure() -> None:
    drawing = HEAD + "312AT7     R1   6BA6\n\n6AL5     6AV6\n\n6V6GT    5Y3GT\n"
    assert tubes_of(drawing) == ["12AT7", "5Y3", "6AL5", "6AV6", "6BA6", "6V6"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A five tube superheterodyne for 117 volts", 5),
        ("5-tube superheterodyne, two bands", 5),
        ("Six valve A.C. receiver, six valves including rectifier", 6),
        ("THE Dunmere 514 is a 4-valve (plus rectifier) 3-band superhet", 5),
        ("four valves and rectifier", 5),
        ("3-valve, plus rectifier, receiver", 4),
        ("a five valve superhet for A.C. mains", 0),  # with or without its rectifier
        ("the two tubes nearest the gang", 0),
        ("pull all four tubes and test them", 0),
        ("a five tube set; the six tube set has an eye", 0),
    ],
)
def test_the_number_of_tubes_in_words(text: str, said: int) -> None:
    assert said_in(text) == said


def test_a_string_told_twice_overloads_the_line() -> None:
    """12.6 V three times, 50 and 35 make 122.8 V at 0.15 A; twice over, twice as many."""
    assert not overloads(FIVE)
    assert overloads([*FIVE, *FIVE])
    assert told_twice(Counter([*FIVE, *FIVE]))
    assert not told_twice(Counter(["6SK7", "6SK7", "6H6", "6SN7", "6SN7", "6V6", "6V6", "5Y3"]))
    assert overloads(["UCH42", "UF41", "UBC41", "UL41", "UY41"] * 2 + ["UL41", "UY41"])


def test_sockets_numbered_without_a_gap() -> None:
    def placed(*numbers: int) -> list[TubePlace]:
        return [TubePlace("6SK7", "6SK7", symbol=f"V{n}") for n in numbers]

    assert numbered_whole(placed(1, 2, 3, 4))
    assert not numbered_whole(placed(1, 2, 4, 5))
    assert not numbered_whole([*placed(1, 2, 3), TubePlace("6SK7", "6SK7")])
