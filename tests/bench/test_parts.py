"""The parts-list reader and the replacement list.

Replacement values: common practice, no source.
"""

import pytest

from indexer.bench.part_values import repaired, values_in
from indexer.bench.parts import PartLine, read_parts
from indexer.bench.replacements import replacement_list, shopping_list
from indexer.bench.spares import drawer_lines
from indexer.model import Box, PageReading, Word
from indexer.store.bench_records import PartEdit, Spare

LEFT = (
    "C1 A-4289 .05 MFD 200 V PAPER",
    "Cl A-4290 56 MMF 500 V MICA",
    "C3 B-3524 50-30 MFD 150 V",
    "+ELECTROLYTIC",
    "C4 B-3525 -O5 MFD 400 V PAPER",
)
RIGHT = (
    "R1 A-7278 22K 1/2 W CARBON",
    "RZ A-7279 220 1/2 W CARBON",
    "R3 A-4122 1,200 2 W WIRE WOUND",
    "R4 A-4123 3.3 MEG 1/2 W CARBON",
)


def _page(*columns: tuple[str, ...]) -> PageReading:
    words = [Word("PARTS", Box(1000, 10, 1100, 40)), Word("LIST", Box(1110, 10, 1180, 40))]
    for number, column in enumerate(columns):
        for row, text in enumerate(column):
            x = 150 + 1150 * number
            for place, token in enumerate(text.split()):
                left = x + (0, 140, 400)[min(place, 2)] + 110 * max(0, place - 2)
                if token.startswith("+"):  # a wrapped line stands under the words
                    left, token = x + 400, token[1:]
                top = 100 + 50 * row
                width = 22 * len(token)
                words.append(Word(token, Box(left, top, left + width, top + 30), 1.0, row + 1))
    return PageReading(tuple(words), 2550, 3300, "typed")


@pytest.fixture
def parts() -> dict[str, PartLine]:
    return {part.name: part for part in read_parts(_page(LEFT, RIGHT))}


def test_two_columns_cans_wrapped_lines_and_slips(parts: dict[str, PartLine]) -> None:
    values = {name: part.value.number for name, part in parts.items() if part.value}
    assert values == {
        "C1": 0.05e-6,
        "C2": 56e-12,
        "C3A": 50e-6,
        "C3B": 30e-6,
        "C4": 0.05e-6,
        "R1": 22e3,
        "R2": 220.0,
        "R3": 1200.0,
        "R4": 3.3e6,
    }
    assert parts["C3A"].description.endswith("ELECTROLYTIC")
    assert parts["C3B"].value and parts["C3B"].value.working_v == 150
    assert parts["C1"].part_number == "A-4289"


def test_heads_of_columns_read_as_lines_of_their_own_end_no_list() -> None:
    head = [
        Word("PART", Box(290, 60, 378, 90), 1.0, 90),
        Word("NO.", Box(400, 60, 466, 90), 1.0, 90),
        Word("DESCRIPTION", Box(550, 60, 792, 90), 1.0, 91),
    ]
    page = _page(LEFT, RIGHT)
    whole = PageReading((*page.words, *head), page.width_px, page.height_px, "typed")
    assert read_parts(whole) == read_parts(page)


@pytest.mark.parametrize(
    ("read", "prefix", "numbers"),
    [
        ("LOOK 1 W carbon", "R", [100e3]),
        ("47 000 ohms, 1 W carbon", "R", [47e3]),
        ("2200 oh ms, 1/2 W", "R", [2200.0]),
        ("47,000 ,000 ohms, 1/2 W", "R", [47e3]),
        ("22K 22K1/2 W", "R", [22e3]),
        ("2 100 ohms 1/2 W", "R", [100.0]),
        ("1 00 MMF 500 V mica", "C", [100e-12]),
        ("250. MMF 500 V mica", "C", [250e-12]),
        ("50 inmfd., 500 V mica", "C", [50e-12]),
        ("50 mmfa., 500 V ceramic", "C", [50e-12]),
        (".03 mld, 600 V paper", "C", [0.03e-6]),
        ("CAPACITOR—220.MMF—500 V mica", "C", [220e-12]),
    ],
)
def test_values_whose_signs_and_spaces_were_misread(
    read: str, prefix: str, numbers: list[float]
) -> None:
    values = values_in(repaired(read, prefix), prefix)
    assert [value.number for value in values] == pytest.approx(numbers)


def test_a_page_without_a_list_gives_nothing() -> None:
    assert read_parts(_page()) == ()


def test_what_to_replace_and_what_to_leave(parts: dict[str, PartLine]) -> None:
    edits = [PartEdit("C1", state="done"), PartEdit("C20", added=".05 mfd 400 V paper")]
    lines = {line.reference: line for line in replacement_list(list(parts.values()), edits)}
    assert lines["C2"].action == "leave alone"
    assert lines["C3A"].fit == ("47 µF 160 V",)
    assert lines["C3B"].fit == ("33 µF 160 V",)
    assert lines["C4"].fit[0].startswith("0.047 µF")
    assert lines["R1"].action == "measure first"
    totals = {line.references: line.count for line in shopping_list(list(lines.values()))}
    assert totals == {("C3A",): 1, ("C3B",): 1, ("C4", "C20"): 2}


def test_a_drawer_serves_each_place_once() -> None:
    lines = drawer_lines(["12AV6", "12AV6", "12BE6"], [Spare("12AV6", 1), Spare("12AT6", 1)])
    assert [line.state for line in lines] == ["have", "have a substitute", "order"]


def test_a_list_that_numbers_its_items_keeps_their_numbers() -> None:
    rows = ("101 A-11 .1 MFD 200 V", "102 A-12 8 MFD 150 V", "120 B-7 1 MEGOHM 1/4 W")
    found = read_parts(_page(rows))
    assert [(part.name, part.prefix, part.printed) for part in found] == [
        ("101", "C", ".1 mfd 200 V"),
        ("102", "C", "8 mfd 150 V"),
        ("120", "R", "1 meg 1/4 W"),
    ]


def test_printed_references_stay_and_stock_numbers_and_drawings_are_none() -> None:
    rows = (
        "R7 R-205 220M OHM 1/2 W",
        "R9 R-206 470M OHM 1/2 W",
        "R11 R-210 240 OHM 1 W",
        "R12 R-214 1.5M OHM 2 W",
        "R3 R-200 4.7 MEG 1/2 W",
    )
    page = _page(rows)
    drawn = [
        Word(f"C{n}", Box(150, 900 + 700 * n, 200, 930 + 700 * n), 1.0, 50 + n) for n in (1, 2)
    ]
    page = PageReading((*page.words, *drawn), page.width_px, page.height_px, "typed")
    assert [(part.name, part.printed) for part in read_parts(page)] == [
        ("R7", "220K 1/2 W"),
        ("R9", "470K 1/2 W"),
        ("R11", "240 ohms 1 W"),
        ("R12", "1.5K 2 W"),
        ("R3", "4.7 meg 1/2 W"),
    ]


def test_a_mica_capacitor_of_microfarads_was_misread_and_says_so() -> None:
    rows = ("C1 A-4 50 MFD 500 V MICA", "C2 A-5 .05 MFD 400 V PAPER", "C3 A-6 100 MMF 500 V MICA")
    first, paper, other = read_parts(_page(rows))
    assert first.value and first.value.number == pytest.approx(50e-12)
    assert "mica" in first.doubt
    assert not paper.doubt and not other.doubt
