"""The lines of an index page as rows, in the ways that printers set them.

A list of numbers runs on to the next line, a further place stands under its set, a page stands
before the set, a set has a name and no number. What a line is, is told by its neighbours: where
they begin, whether their figures rise, which names come again. How indexes are set is common
practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from indexer.cataloguing.index_heads import is_column_head, lone_name, maker_heading
from indexer.cataloguing.index_row import (
    IndexRow,
    is_further,
    place_of,
    row_of,
    runs_on,
    with_place,
)
from indexer.cataloguing.makers import may_be
from indexer.cataloguing.region import Line, make_line
from indexer.trade.codes import fold

Row = tuple[Line, IndexRow | None]

_PAGE_FIRST = re.compile(r"^(?:\d{1,2}-)?\d{1,3}$")  # with a volume before it, perhaps
_PLACE_LAST = re.compile(r"^\d{1,2}-\d{1,4}[.,]?$")
_LIKE_ROMAN = re.compile(r"^(?P<volume>[IVXL1l|iYv]{1,5})[-–](?P<page>\d{1,4})\W*$")
_AS_ROMAN = str.maketrans("1l|iYv", "IIIIVV")
_PLAIN_ROMAN = 0.4  # of the volumes that may be Roman are read as such
_DECIMAL = re.compile(r"^\$?\d*\.\d+$")
_YEAR = re.compile(r"^19[2-6]\d$")
_FIRST_SHARE = 0.6  # of the lines begin with their page
_RISING = 0.7  # of the steps from page to page go up
_LEAST_ROWS = 5
_CODED = 0.25  # of the rows have a number, for others to have a name alone
_AGAIN = 0.5  # of the rows have a name that others have as well
_HEADED = 0.5  # of the rows name a maker, below which headings do
_MARK = 2  # characters, at most, of a ditto mark as read
_LEAST_HEADS = 2
_LABELS = frozenset({"MODEL", "MODELS", "TYPE", "TO", "PAGE", "VOLUME", "VOL", "SHEET"})
_SET_NAME_WORDS = 3
_AT_ONCE = 2  # lines that a list runs on for
_SHORT_OF = 3.0  # heights: how far left of the others' figures a line ends that gives no place
_ALIGNED = 0.7  # of the rows end at one edge
_EDGE = 1.5  # heights


def assembled(lines: Sequence[Line]) -> list[Row]:
    """The lines of one index page, in the order of its columns, each with the row it makes.

    The first lines of a row that runs on make none; a line with a further place of the set
    above repeats that set.
    """
    lines = _roman_volumes(_pages_last(lines))
    rows = _makers_second(_without_set_names([(line, row_of(line)) for line in lines]))
    rows = _slashes_read(rows)
    coded = sum(row is not None for _, row in rows)
    placed = sum(row is None and place_of(line) is not None for line, row in rows)
    takes_names = coded >= max(_LEAST_ROWS, _CODED * (coded + placed))
    ends_px = _figures_end(rows)
    makers = {fold(row.maker) for _, row in rows if row and row.maker}
    makers |= {fold(name) for line, _ in rows if (name := maker_heading(line) or lone_name(line))}
    found: list[Row] = []
    begun: list[str] = []
    above: IndexRow | None = None
    for line, row in rows:
        if runs_on(line) or (row and not row.maker and _ends_short(line, ends_px)):
            begun = [*begun, line.text][-_AT_ONCE:]
            found.append((line, None))
            continue
        place = place_of(line) if row is None else None
        if place and begun and not place[0]:
            row = _under("", place[1])
        elif place and above and is_further(place[0]):
            row = _under(above.model, place[1])
            found.append((line, row))
            continue
        elif place and takes_names and fold(place[0]) not in makers:
            row = _named_set(place, makers)
        if row is not None and begun:
            first = row_of(with_place(begun[0]))
            model = " ".join([*begun, row.model]).strip(" ,")
            if first and first.maker:
                model = model.split(maxsplit=len(first.maker.split()))[-1]
            row = replace(row, model=model, maker=row.maker or (first.maker if first else ""))
        begun = []
        above = row if row is not None else above
        found.append((line, row))
    return found


def explained(rows: Sequence[Row]) -> int:
    """How many of the lines are what an index consists of: rows, what they go on from, headings,
    letters of the alphabet."""
    return sum(
        row is not None
        or runs_on(line)
        or bool(maker_heading(line) or lone_name(line))
        or is_column_head(line)
        or len(line.text) == 1
        for line, row in rows
    )


def row_like(line: Line, row: IndexRow | None) -> bool:
    """Whether a line by itself may be a row, whatever the page's way; `row` is its `row_of`."""
    if row is not None or _begins_with_page(line):
        return row is None or not _YEAR.match(row.model)  # half of a row with the year's book
    place = place_of(line)
    return place is not None and len(place[0]) > 2 and may_be(place[0])


def _begins_with_page(line: Line) -> bool:
    if len(line.words) < 2 or not _PAGE_FIRST.match(line.words[0].text.strip(".,")):
        return False
    if _DECIMAL.match(line.words[-1].text) or _PLACE_LAST.match(line.words[-1].text):
        return False  # a table of ratings or prices; a place where it usually stands
    return any(c.isalpha() for c in line.words[1].text)


def _pages_last(lines: Sequence[Line]) -> list[Line]:
    """The lines with their page moved to the end, where it stands before the set."""
    starts = [line for line in lines if _begins_with_page(line)]
    pages = [tuple(map(int, re.findall(r"\d+", line.words[0].text))) for line in starts]
    steps = [later >= earlier for earlier, later in pairwise(pages)]
    few = len(starts) < max(_LEAST_ROWS, _FIRST_SHARE * len(lines))
    if few or sum(steps) < _RISING * len(steps):
        return list(lines)
    return [_turned(line) if _begins_with_page(line) else line for line in lines]


def _roman_volumes(lines: Sequence[Line]) -> list[Line]:
    """The lines with "111-20" as "III-20", where the others of the page have Roman volumes."""
    last = [match for line in lines if (match := _LIKE_ROMAN.match(line.words[-1].text))]
    plain = sum(match["volume"].isalpha() for match in last)
    if plain < max(_LEAST_ROWS, _PLAIN_ROMAN * len(last)):
        return list(lines)
    put = []
    for line in lines:
        *words, end = line.words
        if match := _LIKE_ROMAN.match(end.text):
            volume = match["volume"].translate(_AS_ROMAN)
            end = replace(end, text=f"{volume}-{match['page']}")
        put.append(make_line([*words, end]))
    return put


def _turned(line: Line) -> Line:
    first, *rest = line.words
    away_px = rest[-1].box.right + 4 * first.box.height - first.box.left
    box = replace(first.box, left=first.box.left + away_px, right=first.box.right + away_px)
    return make_line([*rest, replace(first, text=first.text.strip(".,"), box=box)])


def _without_set_names(rows: list[Row]) -> list[Row]:
    """The rows with what was taken for a maker put to the model, where headings name the makers
    and that name comes but once, where the numbers stand: "Minuet 52W" under its maker."""
    only = [row for _, row in rows if row]
    names = Counter(row.maker for row in only if row.maker)
    heads = sum(row is None and bool(maker_heading(line)) for line, row in rows)
    if not only or heads < _LEAST_HEADS or sum(names.values()) >= _HEADED * len(only):
        return _further_right(rows)
    plain = _bare(rows)
    at_px = median(plain) if plain else -1.0
    once = {name for name, times in names.items() if times == 1}
    return [
        (line, _set_named(line, row, at_px, line.box.height) if row and row.maker in once else row)
        for line, row in rows
    ]


def _bare(rows: Sequence[Row]) -> list[float]:
    """Where rows without a maker begin, in pixels; those under a ditto mark, whatever it was read
    as, begin with the mark."""
    return [
        line.box.left
        for line, row in rows
        if row and not row.maker and len(line.words[0].text) > _MARK
    ]


def _further_right(rows: list[Row]) -> list[Row]:
    """The same where makers stand in a column of their own: a name that begins where the rows
    without a maker begin is a set's."""
    height = median(line.box.height for line, _ in rows) if rows else 0.0
    bare = _bare(rows)
    if len(bare) < _LEAST_ROWS:
        return rows
    models_px = median(bare)
    named = [line.box.left for line, row in rows if row and row.maker]
    if sum(models_px - left > 2 * height for left in named) < _LEAST_HEADS:
        return rows
    return [
        (line, _set_named(line, row, models_px, height) if row and row.maker else row)
        for line, row in rows
    ]


def _makers_second(rows: list[Row]) -> list[Row]:
    """The rows with the name between model and page as their maker, where nothing before the
    models names one and names come again: an index by numbers across makers."""
    only = [row for _, row in rows if row]
    asides = Counter(row.aside for row in only if row.aside and may_be(row.aside))
    heads = sum(row is None and bool(maker_heading(line)) for line, row in rows)
    first = sum(bool(row.maker) for row in only)
    again = sum(count for count in asides.values() if count > 1)
    if len(only) < _LEAST_ROWS or again < _AGAIN * len(only) or max(first, heads) > again / 3:
        return rows
    return [(line, _with_second(row, asides) if row else None) for line, row in rows]


def _with_second(row: IndexRow, asides: Counter[str]) -> IndexRow:
    if row.aside in asides:
        return replace(row, maker=row.aside)
    first, *words = row.model.split()  # no wide space parts the name from the numbers
    name = next((word for word in words if word in asides), "")
    if not name:
        return row
    return replace(row, maker=name, model=" ".join([first, *(w for w in words if w != name)]))


def _slashes_read(rows: list[Row]) -> list[Row]:
    """The rows with "7124" as 7/24 and "/14" in the same volume, on a page whose places are set
    with a stroke and all in one volume."""
    only = [(line.words[-1].text, row) for line, row in rows if row]
    stroked = Counter(row.volume for text, row in only if row.volume and "/" in text)
    volume, times = stroked.most_common(1)[0] if stroked else ("", 0)
    if times < max(_LEAST_ROWS, len(only) / 2) or times < 0.9 * sum(stroked.values()):
        return rows
    read = re.compile(rf"{volume}[1lI|]?(?P<page>\d{{1,3}})\W*|/(?P<alone>\d{{1,3}})\W*")
    put: list[Row] = []
    for line, row in rows:
        match = read.fullmatch(line.words[-1].text) if row and not row.volume else None
        if row and match:
            row = replace(row, volume=volume, page=match["page"] or match["alone"])
        put.append((line, row))
    return put


def _set_named(line: Line, row: IndexRow, at_px: float, reach_px: float) -> IndexRow:
    """The row with its name put to its model, if it begins where numbers do."""
    if abs(line.box.left - at_px) > reach_px:
        return row
    return replace(row, model=f"{row.maker} {row.model}", maker="")


def _named_set(place: tuple[str, tuple[str, str]], makers: set[str]) -> IndexRow | None:
    """The row of a set with a name alone, or None."""
    words, (volume, page) = place
    parts = [part.strip(".,") for part in words.split()]
    maker = ""
    if len(parts) > 1 and fold(parts[0]) in makers:
        maker, parts = parts[0].title(), parts[1:]
    if not 1 <= len(parts) <= _SET_NAME_WORDS or len(parts[0]) < 3:
        return None
    if parts[0].upper() in _LABELS or not all(p[:1].isupper() and p.isalpha() for p in parts):
        return None
    return IndexRow(maker, " ".join(parts), volume, page)


def _under(model: str, place: tuple[str, str]) -> IndexRow:
    """A row with no more than its place: of the set above, or of the numbers begun before it."""
    return IndexRow("", model, *place)


def _figures_end(rows: Sequence[Row]) -> list[tuple[float, float]]:
    """The right edges (pixels) where figures end, one for each column, with a letter's height."""
    at = [(line.box.right, line.words[-1].box.height) for line, row in rows if row]
    if len(at) < _LEAST_ROWS:
        return []
    height = median(size for _, size in at)
    edges: list[tuple[float, float]] = []
    rest = sorted(right for right, _ in at)
    while rest:
        near = [right for right in rest if right - rest[0] <= 2 * _EDGE * height]
        if len(near) >= _LEAST_ROWS:
            edges.append((median(near), height))
        rest = rest[len(near) :]
    inside = sum(any(abs(right - edge) <= 2 * _EDGE * h for edge, h in edges) for right, _ in at)
    return edges if inside >= _ALIGNED * len(at) else []


def _ends_short(line: Line, edges: Sequence[tuple[float, float]]) -> bool:
    """Whether a line ends well before the figures of its column: its last number is no page."""
    right = line.box.right
    *before, last = line.words
    if before and last.box.left - before[-1].box.right > _EDGE * last.box.height:
        return False  # set off from the numbers, as pages are
    beyond = [(edge, height) for edge, height in edges if edge >= right - _EDGE * height]
    if not beyond:
        return False
    edge, height = min(beyond)
    return edge - right > _SHORT_OF * height and line.words[-1].box.left < edge - 2 * height
