"""What was not read, or was read as something else, and what holds all the same."""

import pytest

from indexer.cataloguing.kinds import headings_in
from indexer.cataloguing.lineups import tubes_in
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageKind
from tests.cataloguing.pages import book, page

WITHOUT_MODEL = """
VANTRICE
CHASSIS CH-24L
VOLTAGE CHART
TUBE   PIN 1 PIN 2 PIN 3
6BA6   -.6   0     6.3
6BE6   -.8   0     6.3
6X4    250   0     6.3
"""
GOES_ON = """
VANTRICE MODEL 8T67
(Continued)
PARTS LIST
C1  A-4289  CAPACITOR PAPER .05 MFD 200 V
R1  B-3524  RESISTOR CARBON 22K
"""


def test_a_continued_page_names_the_model_that_the_masthead_lost() -> None:
    (entry,) = catalogue_unit(book(WITHOUT_MODEL, GOES_ON), ["Vantrice"]).entries
    assert (entry.models, entry.chassis) == (("8T67",), ("CH-24L",))
    assert [ref.page for ref in entry.pages] == [1, 2]


def test_another_makers_continued_page_is_another_set() -> None:
    other = GOES_ON.replace("VANTRICE", "TILLBROOK")
    made = catalogue_unit(book(WITHOUT_MODEL, other), ["Vantrice", "Tillbrook"])
    assert len(made.entries) == 2


def _types(text: str) -> list[str]:
    region = whole_page(page(text))
    return [place.type for s in tubes_in(region, {PageKind.SCHEMATIC}) for place in s.places]


def test_a_number_before_a_type_counts_in_a_list_and_not_in_a_drawing() -> None:
    assert _types("SCHEMATIC DIAGRAM\n\n5-35Z4\n\nR4") == ["35Z4"], "V5, whose V was lost"
    assert _types("TUBE COMPLEMENT 2-6BA6, 1-6BE6") == ["6BA6", "6BA6", "6BE6"]


def test_a_reading_that_looks_like_a_type_is_none() -> None:
    row = "6SA7   62   -.6   92   111   0   9   7A4   -.6"
    assert _types(f"VOLTAGE CHART\nTUBE   1   2   3   4   5   6   7   8\n{row}") == ["6SA7"]


def test_two_charts_side_by_side_give_their_tubes() -> None:
    row = "6SA7   62   -.6   92   0        6SK7   54   0   -.8   90"
    assert _types(f"VOLTAGE CHART\n{row}") == ["6SA7", "6SK7"]


def test_types_set_large_in_a_drawing_are_no_heading() -> None:
    text = "TUBE LAYOUT\n\n12SA7   12SK7\n\n12SQ7\n\n35Z5 50L6 SPEAKER"
    sheet = page(text)
    assert [line.text for line, _ in headings_in(whole_page(sheet))] == ["TUBE LAYOUT"]


@pytest.mark.parametrize(
    ("head", "models", "chassis"),
    [
        ("VANTRICE Modcl 8T67\nCbassis CH-24L", ("8T67",), ("CH-24L",)),
        ("VANTRICE RADIO MF6. CO.\nMODEL 8T67", ("8T67",), ()),
        ("SERVICE DATA FOR VANTRICE RECEIVERS\nTYPES 50-926 and 55-708", ("50-926", "55-708"), ()),
        ("VANTRICE MODEL MF6", ("MF6",), ()),
    ],
)
def test_headings_with_a_letter_misread(
    head: str, models: tuple[str, ...], chassis: tuple[str, ...]
) -> None:
    text = f"{head}\nTubes: 6BE6, 6BA6, 6AV6, 6AQ5, 6X4."
    (entry,) = catalogue_unit(book(text), ["Vantrice"]).entries
    assert (entry.maker, entry.models, entry.chassis) == ("Vantrice", models, chassis)


def test_readings_side_by_side_in_a_chart_are_no_type() -> None:
    row = "V5 6AQ5   0   16   25 AC 5   102   -.6   97"
    assert _types(f"VOLTAGE CHART\nTUBE   1   2   3   4   5   6   7\n{row}") == ["6AQ5"]
    row = "6D8   0   -.6 B4   93 AC   51   16"
    assert _types(f"VOLTAGE CHART\nTUBE   1   2   3   4   5   6   7\n{row}") == ["6D8"]
