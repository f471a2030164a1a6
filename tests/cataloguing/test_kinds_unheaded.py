"""Drawings and charts that stand under no heading; numbers that are no page's. How the trade prints
them is common practice, no source; makers and models are invented."""

from dataclasses import replace

import pytest

from indexer.cataloguing.imprint import printed_page
from indexer.cataloguing.kinds import kinds_of
from indexer.cataloguing.region import page_lines, whole_page
from indexer.model import PageKind
from tests.cataloguing.pages import HEIGHT, page

HEAD = "TILLBROOK RADIO CO.   MODEL 5D10\n\n"
LABELS = "R1   470K\n\nC4\n\n6SA7   .05\n\n   220\n\nMMF    R7\n\n"


def kinds(text: str, long_lines: float) -> set[PageKind]:
    made = page(text)
    picture = replace(made.picture, long_lines=long_lines)
    return set(kinds_of(whole_page(replace(made, picture=picture))))


def test_a_drawing_with_few_labels_read_is_a_schematic() -> None:
    assert PageKind.SCHEMATIC in kinds(HEAD + LABELS, 0.2)
    assert PageKind.SCHEMATIC not in kinds(HEAD + LABELS, 0.0)  # nothing is drawn
    assert PageKind.SCHEMATIC not in kinds(HEAD + "CONV\n\nOUTPUT\n\nREAR\n", 0.2)


def test_a_drawing_that_says_what_else_it_is_stays_so() -> None:
    assert PageKind.SCHEMATIC not in kinds(HEAD + "CHASSIS, TOP VIEW\n\n" + LABELS, 0.2)


def test_charts_under_no_heading() -> None:
    volts = (
        "Tube    Plate   Screen   Cathode\n6A8-G  95  50  0\n6K7-G  95  95  2.5\n6Q7-G  38  -  0\n"
    )
    assert PageKind.VOLTAGE_CHART in kinds(HEAD + volts, 0.0)
    ohms = "Tube  Pin 1  Pin 2  Pin 3\n6A8  22K  0  33\n6K7  1M  0  470K\n6Q7  10M  68  3.2K\n"
    assert PageKind.RESISTANCE_CHART in kinds(HEAD + ohms, 0.0)
    assert not kinds(HEAD + "Tubes: 6A8, 6K7, 6Q7, 25L6 and 25Z6 are used.\n", 0.0) & {
        PageKind.VOLTAGE_CHART,
        PageKind.RESISTANCE_CHART,
    }


@pytest.mark.parametrize(
    ("edge", "printed"),
    [
        ("VOL. III 3-42", "42"),
        ("VOL. IV 3-42", "3-42"),
        ("TILLBROOK   Type U 482", ""),
        ("TILLBROOK SERVICE BULLETIN 44", ""),
        ("SERVICE SHEET 131", ""),
        ("TILLBROOK RADIO CO.   204", "204"),
    ],
)
def test_numbers_at_the_edge(edge: str, printed: str) -> None:
    assert printed_page(page_lines(page(edge + "\n\n\n\n\n\ntext")), HEIGHT) == printed
