"""Tables on pages that lay curled on the scanner, and an index beside another page.

How a bound page curls and how indexes are set is common practice, no source; makers and models are
invented.
"""

from dataclasses import replace

import pytest

from indexer.cataloguing.listings import listings_in
from indexer.cataloguing.region import printed_rows, whole_page
from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Box, PageInput, PageKind, Word
from tests.cataloguing.pages import HEIGHT, WIDTH, page

GROUPS = (("TILLBROOK", 5), ("QUARRYDALE", 3), ("OXBARROW", 6), ("TILLBROOK", 4))


def index(indent: int = 0) -> str:
    lines, n = [], 10
    for maker, count in GROUPS:
        lines.append(" " * indent + maker)
        for _ in range(count):
            n += 1
            lines.append(" " * indent + f"  {n}-A          Ch. CH-{n}          7-{n}3")
    return "\n".join(lines)


def slid(flat: PageInput, pitches: float, left_px: float = 0.0) -> PageInput:
    """The page as a curl leaves it: words stand ever lower from `left_px` on to the right."""

    def lower(word: Word) -> Word:
        by = 60.0 * pitches * max(0.0, word.box.left - left_px) / 1000
        box = word.box
        return replace(word, box=Box(box.left, box.top + by, box.right, box.bottom + by))

    words = tuple(map(lower, flat.reading.words))
    return replace(flat, reading=replace(flat.reading, words=words))


@pytest.mark.parametrize("pitches", [-0.7, -0.5, 0.0, 0.5, 0.7])
def test_rows_of_a_curled_index_hold_together(pitches: float) -> None:
    found = listings_in(whole_page(slid(page(index()), pitches)), "", "")
    assert [(row.model, row.chassis, row.page) for row in found] == [
        (f"{n}-A", f"CH-{n}", f"{n}3") for n in range(11, 29)
    ]


def test_lines_set_close_are_left_as_they_are() -> None:
    text = "\n".join(f"{n}-A  the dial cord   is wound twice    on drum {n}" for n in range(1, 15))
    close = page(text)
    words = tuple(
        replace(w, box=Box(w.box.left, w.box.top * 0.6, w.box.right, w.box.top * 0.6 + 36))
        for w in close.reading.words
    )
    rows = printed_rows(
        whole_page(replace(close, reading=replace(close.reading, words=words))).lines
    )
    assert [row.text for row in rows] == [" ".join(line.split()) for line in text.split("\n")]


def test_an_index_beside_a_sheet_gives_the_set_none_of_its_models() -> None:
    sheet = "OXBARROW RADIO\nMODEL 61-B   CHASSIS CH-99\nTUBES 6A8 6K7 6Q7 6F6 5Y3\nSERVICE NOTES"
    left, right = page(index()), page(sheet)
    moved = tuple(
        replace(
            w,
            line=w.line + 100,
            box=replace(w.box, left=w.box.left + WIDTH, right=w.box.right + WIDTH),
        )
        for w in right.reading.words
    )
    reading = replace(
        left.reading, words=(*left.reading.words, *moved), width_px=2 * WIDTH, height_px=HEIGHT
    )
    spread = replace(left, reading=reading)
    made = catalogue_unit([spread], look=first_look([spread]))
    assert made == catalogue_unit([spread])
    assert len(made.listings) == sum(count for _, count in GROUPS)
    assert [entry.models for entry in made.entries] == [("61-B",)]
    assert PageKind.INDEX_PAGE in made.facts[0].kinds
    assert len(made.facts) == 1
