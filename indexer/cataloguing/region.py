"""A page as lines in reading order, and the stretches of it that belong to one set each."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from indexer.model import Box, PageInput, Word

_PROSE_WORDS = 9  # a heading is shorter than this
_JOINING = frozenset({"and", "or", "to", "thru", "through"})
_WIDE = 4.0  # heights of lettering
_ROW_SHARE = 0.6  # of the lettering's height: how far words of one printed row may stand apart


@dataclass(frozen=True, slots=True)
class Line:
    """One printed line."""

    words: tuple[Word, ...]
    text: str
    box: Box

    @property
    def is_capitals(self) -> bool:
        """Set mostly in capitals, whatever small words join them: "26 and 27"."""
        letters = [c for w in self.words if w.text not in _JOINING for c in w.text if c.isalpha()]
        return bool(letters) and sum(c.isupper() for c in letters) >= 0.7 * len(letters)

    @property
    def is_heading(self) -> bool:
        """Short and set mostly in capitals, as titles and mastheads are."""
        return len(self.words) < _PROSE_WORDS and self.is_capitals


@dataclass(frozen=True)
class Region:
    """The part of a page between two heights (pixels) that one set's matter fills."""

    page: PageInput
    lines: tuple[Line, ...]
    top: float
    bottom: float

    @property
    def text(self) -> str:
        return "\n".join(line.text for line in self.lines)


def page_lines(page: PageInput) -> tuple[Line, ...]:
    """The page's lines in the reader's order."""
    return tuple(make_line(words) for words in page.reading.lines if words)


def whole_page(page: PageInput) -> Region:
    """The page as one region."""
    return Region(page, page_lines(page), 0.0, float(page.reading.height_px))


def split(region: Region, heights: Iterable[float]) -> tuple[Region, ...]:
    """The region cut at the given heights; lines go by their middle."""
    cuts = [region.top, *sorted(heights), region.bottom]
    parts = []
    for top, bottom in pairwise(cuts):
        inside = tuple(line for line in region.lines if top <= line.box.middle[1] < bottom)
        parts.append(Region(region.page, inside, top, bottom))
    return tuple(parts)


def printed_rows(lines: Iterable[Line]) -> list[Line]:
    """Words that stand side by side joined to rows across columns, top to bottom: for tables."""
    words = sorted((w for line in lines for w in line.words), key=lambda w: w.box.middle[1])
    if not words:
        return []
    reach = _ROW_SHARE * median(word.box.height for word in words)
    rows: list[list[Word]] = []
    for word in words:
        if rows and word.box.middle[1] - _middle(rows[-1]) <= reach:
            rows[-1].append(word)
        else:
            rows.append([word])
    return [make_line(sorted(row, key=lambda w: w.box.left)) for row in rows]


def as_printed(line: Line) -> Line:
    """The line with every repaired word as the reader saw it: for codes, which no repair knows."""
    return make_line(replace(word, text=word.printed or word.text) for word in line.words)


def pieces(line: Line) -> list[Line]:
    """The line's parts with a wide space between them, left to right: what stands on two sides of
    a page is not said in one breath."""
    parts = [[line.words[0]]]
    for left, right in pairwise(line.words):
        if right.box.left - left.box.right > _WIDE * max(left.box.height, right.box.height):
            parts.append([])
        parts[-1].append(right)
    return [make_line(part) for part in parts] if len(parts) > 1 else [line]


def squeeze(text: str) -> str:
    """Upper case, runs of blanks as one, for matching phrases."""
    return re.sub(r"\s+", " ", text.upper()).strip()


def _middle(row: list[Word]) -> float:
    return sum(word.box.middle[1] for word in row) / len(row)


def make_line(words: Iterable[Word]) -> Line:
    """The words as one line, in the order given."""
    kept = tuple(words)
    box = kept[0].box
    for word in kept[1:]:
        box = box.union(word.box)
    return Line(kept, " ".join(word.text for word in kept), box)
