"""Index pages: lines that say which publication, volume and page prints a set."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from statistics import median

from indexer.cataloguing.index_heads import is_column_head, lone_name, maker_heading
from indexer.cataloguing.index_lines import assembled, explained, row_like
from indexer.cataloguing.index_row import DITTO, IndexRow, row_of, runs_on
from indexer.cataloguing.makers import as_known, may_be
from indexer.cataloguing.region import (
    Line,
    Region,
    closed_up,
    make_line,
    word_as_printed,
    words_in_rows,
)
from indexer.model import Listing, PageInput, Word
from indexer.trade.codes import fold
from indexer.trade.numbering import parse_line_up

_HAS_VOLUMES = re.compile(r"\bMODELS?\b.*\bVOL(UME|\b)|\bVOL(UME|\.)? *PAGE\b", re.IGNORECASE)
_YEAR = re.compile(r"^(?:(?P<model>.*\S)\s+)?(?P<year>19[2-6]\d)$")
_LEAST_YEARS = 3
_MOST_ROWS = 0.6
_NUMBERED = re.compile(r"^(?:[RCLTV]\d{1,3}|\d{1,3})\b(?!-)")  # a part, a step
_BOTH_ROWS = 0.6  # of the printed rows are two listings, where an index runs in columns
_SOME_FIGURES = 0.3  # of the rows beside a gutter, that begin or end in figures
_FEW_CROSS = 0.08  # of the rows may have a word across the space between two columns
_FIGURED = 0.4  # of the lines begin or end with a figure
_ORDERED_ROWS = 8
_ORDERED = 0.75  # of the lines, rows or steps keep the order of an index
_MAKERS = 2
_SHARE_WITH_VOLUMES = 0.3  # of the rows, for an index to print them
_NARROW = 0.3  # widths of a letter in heights, below which a tall word was read down the page
_SAME_PLACE = 0.3  # of the smaller of two words' boxes
_TALL = 1.5  # times the usual height


def listings_in(
    region: Region, publication: str, volume: str, known: Sequence[str] = (), maker: str = ""
) -> tuple[Listing, ...]:
    """The rows of an index page, column by column. A row without a maker (or with ditto marks)
    takes the maker above it, at the top `maker`; where the index prints no volumes, `volume` is
    meant, the book's own. `known` are makers as they are written.
    """
    found: list[Listing] = []
    lines = _years_as_volumes(IndexPage(region.page).lines)
    rows = [row for _, row in lines if row]
    printed = any(_HAS_VOLUMES.search(line.text) for line, _ in lines if len(line.words) <= 8)
    printed |= sum(bool(row.volume) for row in rows) >= _SHARE_WITH_VOLUMES * max(1, len(rows))
    last_volume = "" if printed else volume
    for line, row in lines:
        if row is None:
            heading = maker_heading(line) or _known_name(lone_name(line), known)
            maker = as_known(heading, known) if heading else maker
            continue
        second = _known_name(row.aside, known) if not row.maker else ""
        maker = as_known(row.maker or second, known) if row.maker or second else maker
        row_volume = row.volume or last_volume  # of a printed volume that wasn't read, nothing
        places = (*row.also, (row_volume, row.page))
        found += [
            Listing(region.page.ref, maker, row.model, publication, *at, chassis=row.chassis)
            for at in places
        ]
    return tuple(found)


def _years_as_volumes(
    lines: Sequence[tuple[Line, IndexRow | None]],
) -> list[tuple[Line, IndexRow | None]]:
    """The rows with the year that most of them print before the page as their volume: such an
    index covers several years' books. A row of which only the year was read is none."""
    rows = [row for _, row in lines if row]
    with_year = sum(bool(not row.volume and _YEAR.match(row.model)) for row in rows)
    if with_year < max(_LEAST_YEARS, _MOST_ROWS * len(rows)):
        return list(lines)
    put: list[tuple[Line, IndexRow | None]] = []
    for line, row in lines:
        year = _YEAR.match(row.model) if row and not row.volume else None
        if row and year:
            row = replace(row, model=year["model"], volume=year["year"]) if year["model"] else None
        put.append((line, row))
    return put


def _known_name(text: str, known: Sequence[str]) -> str:
    """The known maker that a text names in full, or ""."""
    return next((name for name in known if text and fold(name) == fold(text)), "")


def listed_makers(region: Region) -> list[str]:
    """The makers that an index page names, each as often as it heads or begins rows."""
    named = []
    lines = IndexPage(region.page).lines
    for n, (line, row) in enumerate(lines):
        name = row.maker if row else maker_heading(line)
        below = lines[n + 1][1] if n + 1 < len(lines) else None
        if not name and row is None and below is not None and not below.maker:
            name = lone_name(line)  # over rows of its own
        if name and name.replace(" ", "").isalpha():
            named.append(name)
    return named


@dataclass(frozen=True)
class IndexPage:
    """A page taken as an index of sets, whatever it is. What is asked of it is worked out once,
    when first asked for: all parts of a page share the search for its columns."""

    page: PageInput

    @cached_property
    def lines(self) -> list[tuple[Line, IndexRow | None]]:
        """Its lines in the order of its columns, each with the row it makes."""
        return assembled(_columned(self.page))

    @cached_property
    def share(self) -> tuple[int, float]:
        """(how many of its lines are rows of an index, their share of all lines); 1.0 where the
        page is one by the order of its rows, whatever stands between them."""
        rows = [row for _, row in self.lines if row]
        listed = [
            row
            for row in rows
            if not parse_line_up(row.model, bare_numbers=False) and not _NUMBERED.match(row.model)
        ]
        placed = [row for row in rows if row.volume and not parse_line_up(row.model)]
        if any(_is_ordered(self.lines, some, len(rows)) for some in (listed, placed)):
            return len(listed), 1.0
        return len(listed), len(listed) / max(1, len(self.lines))


def listed_share(region: Region, index: IndexPage) -> tuple[int, float]:
    """The `share` of a region's page, `index`; nothing of it where hardly a line of the region
    begins or ends with a figure."""
    ends = [(line.words[0].text, line.words[-1].text.strip(".,")) for line in region.lines]
    figured = sum(end[-1:].isdigit() or start.strip(".,").isdigit() for start, end in ends)
    if figured < _FIGURED * len(ends):
        return 0, 0.0
    return index.share


def _is_ordered(
    lines: Sequence[tuple[Line, IndexRow | None]], listed: Sequence[IndexRow], rows: int
) -> bool:
    """Whether rows are an index's by themselves: nearly all lines are explained, makers are named
    more than once, sets differ, and places give a volume or rise."""
    if len(listed) < _ORDERED_ROWS or len(listed) < _ORDERED * rows:
        return False
    if explained(lines) < _ORDERED * len(lines):
        return False
    named = [
        name
        for line, row in lines
        if (name := row.maker if row else maker_heading(line) or lone_name(line))
    ]
    with_volume = sum(bool(row.volume) for row in listed)
    pages = [int(row.page) for row in listed]
    rising = sum(later >= earlier for earlier, later in pairwise(pages))
    placed = with_volume >= _ORDERED * len(listed) or rising >= _ORDERED * (len(pages) - 1)
    differ = len({row.model for row in listed}) >= _ORDERED * len(listed)
    return placed and differ and len(set(filter(may_be, named))) >= _MAKERS


def _columned(page: PageInput) -> list[Line]:
    """The page's lines in the order of its columns."""
    lines = ([word_as_printed(word) for word in line] for line in page.reading.lines)
    printed = [word for line in lines for word in closed_up(line)]
    words = [w for w in printed if any(c.isalnum() for c in w.text) or DITTO.match(w.text)]
    usual_px = median(word.box.height for word in words) if words else 0.0
    once: dict[str, list[Word]] = {}
    for word in words:
        alike = once.setdefault(word.text, [])
        if not _read_down(word, usual_px) and not _on_one_of(word, alike):
            alike.append(word)
    return _in_columns([word for alike in once.values() for word in alike])


def _on_one_of(word: Word, others: Sequence[Word]) -> bool:
    """Whether a word stands on one of others that say the same: it was read twice."""
    return any(other.box.overlap(word.box) >= _SAME_PLACE for other in others)


def _read_down(word: Word, usual_px: float) -> bool:
    """Whether what was taken for a word is a column of figures read down the page."""
    box = word.box
    return box.height > _TALL * usual_px and box.width < _NARROW * len(word.text) * box.height


def _in_columns(words: Sequence[Word]) -> list[Line]:
    rows = list(map(make_line, words_in_rows(words)))
    at = _gutter(rows)
    if at is None:
        return rows
    left = [word for word in words if word.box.middle[0] < at]
    return [*_in_columns(left), *_in_columns([w for w in words if w.box.middle[0] >= at])]


def _gutter(rows: Sequence[Line]) -> float | None:
    """Where two columns of listings stand apart, or None: nearly no word crosses, and most rows
    are a listing on either side."""
    if len(rows) < 3:
        return None
    first = min(row.box.left for row in rows)
    last = max(row.box.right for row in rows)
    best: tuple[int, float] | None = None
    told: dict[tuple[int, ...], _Told] = {}  # by the line's words: most stand wherever it is parted
    for x in _clear_places(rows, first, last):
        if not _figures_on_both_sides(rows, x):
            continue
        beside = [r for r in rows if not any(w.box.left < x < w.box.right for w in r.words)]
        words = [word for row in beside for word in row.words]  # without a title over both
        left = _column_of([word for word in words if word.box.middle[0] < x], told)
        right = left and _column_of([word for word in words if word.box.middle[0] >= x], told)
        if left and right and (best is None or left + right > best[0]):
            best = (left + right, x)
    return best[1] if best else None


def _figures_on_both_sides(rows: Sequence[Line], x: float) -> bool:
    """Whether figures begin or end some of the rows on either side of a place: a first look,
    since most pages are no index."""
    for side in (0, 1):
        parts = [[w.text for w in row.words if (w.box.middle[0] >= x) == side] for row in rows]
        parts = [part for part in parts if part]
        ends = sum(part[-1].strip(".,)")[-1:].isdigit() or part[0].isdigit() for part in parts)
        if ends < _SOME_FIGURES * len(parts):
            return False
    return True


@dataclass(frozen=True, slots=True)
class _Told:
    """What a line by itself may be on an index page."""

    is_row: bool
    heads: bool  # stands over rows, or goes on in the next
    has_volume: bool


def _told_of(line: Line) -> _Told:
    row = row_of(line)
    heads = is_column_head(line) or len(line.text) == 1 or runs_on(line)
    return _Told(row_like(line, row), heads or bool(maker_heading(line)), bool(row and row.volume))


def _column_of(words: Sequence[Word], told: dict[tuple[int, ...], _Told]) -> int:
    """How many rows of an index words make, those with a volume counted twice; 0 when they are no
    column of one: most of its lines are rows or the headings over them. What each line is goes
    into `told`, from which it is taken when the same words were one before."""
    lines = []
    for row in words_in_rows(words):
        key = tuple(map(id, row))
        if key not in told:
            told[key] = _told_of(make_line(row))
        lines.append(told[key])
    rows, heads = sum(line.is_row for line in lines), sum(line.heads for line in lines)
    if not rows or rows + heads < max(2, _BOTH_ROWS * len(lines)):
        return 0
    return rows + sum(line.has_volume for line in lines)


def _clear_places(rows: Sequence[Line], first: float, last: float) -> list[float]:
    """The middles of the upright strips that nearly no word crosses, between two sides. Where
    few rows reach over, a strip ends where more or fewer words cross it."""
    boxes = [word.box for row in rows for word in row.words if word.box.left < word.box.right]
    lefts, rights = sorted(box.left for box in boxes), sorted(box.right for box in boxes)
    most = max(3, _FEW_CROSS * len(rows))
    strips: list[list[float]] = []
    before = -1
    for step in range(20, 81):
        x = first + (last - first) * step / 100
        crossing = bisect_left(lefts, x) - bisect_right(rights, x)  # begun and not yet ended
        if crossing == before and crossing <= most:
            strips[-1].append(x)
        elif crossing <= most:
            strips.append([x])
        before = crossing
    return [strip[len(strip) // 2] for strip in strips]


def merge_listings(rows: Sequence[Listing]) -> tuple[Listing, ...]:
    """Rows printed twice (an index continued, or scanned twice) once."""
    return tuple({(r.maker, r.model, r.volume, r.page): r for r in reversed(rows)}.values())[::-1]
