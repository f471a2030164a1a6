"""Tables under a page's section headings: where they stand, and words put into columns."""

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from indexer.cataloguing.kinds import section_kind
from indexer.cataloguing.region import Line, make_line, printed_rows
from indexer.model import PageKind, PageReading, Word

_CELL_GAP = 1.6  # of a letter's width: words nearer than this share a cell
_VALLEY = 0.5  # of the lettering's height: a gap between columns is at least as wide
_CROSSED = 0.12  # share of the rows that may run across a gap between columns
_LEAST_ROWS = 2  # that a column needs, so that a speck makes none
_RULES = "|{}[]_"
_BLANKS = frozenset({"-", "–", "—", "∞", "½", "..."})  # cells without a letter or figure


def section_rows(reading: PageReading, kind: PageKind) -> list[Line]:
    """The printed rows below the first heading of a kind, down to the next other heading."""
    lines = [make_line(line) for line in reading.lines if line]
    heads = sorted((line.box.top, found) for line in lines if (found := section_kind(line)))
    own = [top for top, found in heads if found == kind]
    if not own:
        return []
    bottom = min((top for top, found in heads if top > own[0] and found != kind), default=1e9)
    inside = [line for line in lines if own[0] < line.box.middle[1] and line.box.top < bottom]
    rows = printed_rows(inside)
    return [row for row in rows if not (row.box.top <= own[0] and section_kind(row))]


def cells_of(row: Line) -> list[tuple[Word, ...]]:
    """The words of a row by cell: those nearer than a cell's gap belong together."""
    words = [word for word in row.words if _matter(word.text)]
    if not words:
        return []
    gap = _CELL_GAP * median(word.box.width / len(word.text) for word in words)
    cells = [[words[0]]]
    for before, word in pairwise(words):
        if word.box.left - before.box.right < gap:
            cells[-1].append(word)
        else:
            cells.append([word])
    return [tuple(cell) for cell in cells]


def _matter(text: str) -> str:
    """The text without rules; "" for a speck."""
    bare = text.strip(_RULES + " ")
    return bare if bare in _BLANKS or any(c.isalnum() for c in bare) else ""


def columns_of(rows: Sequence[Line]) -> list[tuple[float, float]]:
    """Left and right (pixels) of each column: what lies between gaps that hardly a row crosses."""
    stretches = [
        (cell[0].box.left, cell[-1].box.right) for row in rows for cell in cells_of(row)
    ]  # fmt: skip
    if not stretches:
        return []
    height = median(word.box.height for row in rows for word in row.words)
    marks = sorted([(left, 1) for left, _ in stretches] + [(right, -1) for _, right in stretches])
    allowed = max(int(_CROSSED * len(rows)), min(_LEAST_ROWS, len(rows)) - 1)
    columns: list[tuple[float, float]] = []
    depth, start = 0, None
    for x, step in marks:
        depth += step
        if start is None and depth > allowed:
            start = x
        elif start is not None and depth <= allowed:
            if columns and start - columns[-1][1] < _VALLEY * height:
                columns[-1] = (columns[-1][0], x)
            else:
                columns.append((start, x))
            start = None
    return columns


def in_columns(words: Sequence[Word], columns: Sequence[tuple[float, float]]) -> list[str]:
    """The words of a row by column: each goes where its middle stands."""
    edges = [(a[1] + b[0]) / 2 for a, b in pairwise(columns)]
    cells: list[list[str]] = [[] for _ in columns]
    for word in words:
        text = _matter(word.text)
        if text:
            cells[sum(word.box.middle[0] > edge for edge in edges)].append(text)
    return [" ".join(cell) for cell in cells]
