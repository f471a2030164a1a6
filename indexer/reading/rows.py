"""The rows of an index page put together: figures at the end of leaders stay in their line.

Readers give the figures far right of a name as lines, or even columns, of their own. Here the
words of each column of names, with the figures right of it, become lines again by their height.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from indexer.model import Word

_FIGURES = re.compile(r"[\"'.,:;\-]*(?:\d{0,4}|\d{1,2}[-.:]\d{1,3})[\"'.,:;\-]*")  # 88, 13-130
_CELL_GAP = 1.5  # of a letter's height: words further apart are two cells
_EDGE = 0.8  # how far beginnings of cells in one column may differ, of a letter's height
_BEFORE = 1.5  # how far a heading may begin before the names below it, of a letter's height
_LEAST_ROWS = 3  # that begin a column
_LEAST_APART = 4  # figures that stand in lines of their own before anything is changed
_BRAIDED = 0.1  # share of rows over two columns from which nothing is changed
_LEAST_ENDS = 6  # lines of figures only, for them to be a column of a list
_HEAD_GAP = 10.0  # of a letter's height: from a number at a row's head to its name
_NAME_WORDS = 6  # of a list's lines, half of them; those of running text have more
_COUNTED = frozenset(("pr.", "ea.", "doz.", "pr", "ea", "doz", "set", "nc", "ac", "dc"))
_LEVEL = 0.6  # how far middles of words in one row may lie apart, of a letter's height


@dataclass(frozen=True, slots=True)
class _Cell:
    words: tuple[Word, ...]

    @property
    def left(self) -> float:
        return self.words[0].box.left

    @property
    def names(self) -> bool:
        return not all(map(_is_figure, self.words))


def in_rows(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words of an index page in lines of a name and its figures, column by column.

    What stands above the first of these rows stays as it is, and so does the whole page when
    hardly any figures stand apart from their names or its columns aren't found. Words keep their
    text and place.
    """
    lines = grouped(words)
    apart = sum(all(map(_is_figure, line)) for line in lines)
    if apart < _LEAST_APART:
        return tuple(words)
    height = median(word.box.height for word in words)
    cells = [cell for line in lines for cell in _cells(line, _CELL_GAP * height)]
    edges = _columns(cells, height)
    if not edges:
        return tuple(words)
    starts = [min(group) - _BEFORE * height for group in edges]
    body = min(
        cell.words[0].box.top
        for cell in cells
        if cell.names
        and any(abs(cell.left - edge) <= _EDGE * height for group in edges for edge in group)
        and not any(cell.left < start < cell.words[-1].box.right for start in starts[1:])
    )
    head = [cell for cell in cells if cell.words[0].box.middle[1] < body]
    rows: list[list[Word]] = [
        list(line) for line in grouped([word for cell in head for word in cell.words])
    ]
    columns: list[list[Word]] = [[] for _ in edges]
    for cell in cells:
        if cell.words[0].box.middle[1] < body:
            continue
        column = max((n for n, start in enumerate(starts) if cell.left >= start), default=0)
        columns[column] += cell.words
    body_rows = [row for column in columns for row in _by_height(column, _LEVEL * height)]
    if sum(_is_braided(row, _CELL_GAP * height) for row in body_rows) > _BRAIDED * len(body_rows):
        return tuple(words)
    rows += body_rows
    return tuple(replace(word, line=n) for n, row in enumerate(rows) for word in row)


def _is_figure(word: Word) -> bool:
    return bool(_FIGURES.fullmatch(word.text))


def _is_braided(row: Sequence[Word], gap_px: float) -> bool:
    """Whether a name stands right of figures: two columns in one row."""
    return "fn" in "".join("n" if cell.names else "f" for cell in _cells(row, gap_px))


def grouped(words: Sequence[Word]) -> list[tuple[Word, ...]]:
    """The words of each line, from left to right."""
    lines: dict[int, list[Word]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    return [tuple(sorted(line, key=lambda word: word.box.left)) for line in lines.values()]


def _cells(line: Sequence[Word], gap_px: float) -> list[_Cell]:
    cells: list[list[Word]] = []
    for word in line:
        if cells and word.box.left - cells[-1][-1].box.right <= gap_px:
            cells[-1].append(word)
        else:
            cells.append([word])
    return [_Cell(tuple(cell)) for cell in cells]


def _columns(cells: Sequence[_Cell], height: float) -> list[list[float]]:
    """Where names begin, in pixels, one list of left edges for each column that has figures of
    its own right of it."""
    edges: list[list[float]] = []
    for left in sorted(cell.left for cell in cells if cell.names):
        if edges and left - edges[-1][-1] <= _EDGE * height:
            edges[-1].append(left)
        else:
            edges.append([left])
    often = [sum(group) / len(group) for group in edges if len(group) >= _LEAST_ROWS]
    figures = [cell.left for cell in cells if not cell.names]
    columns: list[list[float]] = []
    for edge in often:
        between = [x for x in figures if columns and columns[-1][-1] + height < x < edge - height]
        if columns and len(between) < _LEAST_ROWS:
            columns[-1].append(edge)
        else:
            columns.append([edge])
    return columns


def _by_height(words: Sequence[Word], level_px: float) -> list[list[Word]]:
    """One column's words in rows from top to bottom, each from left to right."""
    rows: list[list[Word]] = []
    for word in sorted(words, key=lambda word: word.box.middle[1]):
        if rows and word.box.middle[1] - median(w.box.middle[1] for w in rows[-1]) <= level_px:
            rows[-1].append(word)
        else:
            rows.append([word])
    return [sorted(row, key=lambda word: word.box.left) for row in rows]


def with_ends(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words of any other page, with columns of figures that begin or end the rows of a list in
    the lines they stand level with; as they are when hardly any lines are such columns, or when
    what they stand beside is running text."""
    lines = grouped(words)
    if len(lines) < _LEAST_ENDS:
        return tuple(words)
    height = median(word.box.height for word in words)
    names = [line for line in lines if not all(map(_ends_row, line))]
    into: dict[int, tuple[Word, ...]] = {}
    for line in lines:
        if all(map(_ends_row, line)):
            level = [other for other in names if _middle_apart(other, line) <= _LEVEL * height]
            if row := _row_of(line, level, _HEAD_GAP * height):
                into[line[0].line] = row
    if len(into) < _LEAST_ENDS:
        return tuple(words)
    if not 2 <= median(map(len, into.values())) <= _NAME_WORDS:  # labels of a drawing, or prose
        return tuple(words)
    moved = [replace(w, line=into[w.line][0].line if w.line in into else w.line) for w in words]
    moved.sort(key=lambda word: (word.line, word.box.left))
    return tuple(moved)


def _row_of(
    line: Sequence[Word], level: Sequence[tuple[Word, ...]], gap_px: float
) -> tuple[Word, ...]:
    """The line of names that figures end or begin, of those level with them; () when there are
    names on both sides, or only some far to the right."""
    before = [other for other in level if other[-1].box.right < line[0].box.left]
    if before and len(before) == len(level):
        return max(before, key=lambda other: other[-1].box.right)
    after = [other for other in level if other[0].box.left > line[-1].box.right]
    if after and len(after) == len(level):
        nearest = min(after, key=lambda other: other[0].box.left)
        return nearest if nearest[0].box.left - line[-1].box.right <= gap_px else ()
    return ()


def _ends_row(word: Word) -> bool:
    """Whether a word is a figure, a price, a number or what is counted, as rows end in."""
    text = word.text
    return _is_figure(word) or any(c.isdigit() for c in text) or text.lower() in _COUNTED


def _middle_apart(one: Sequence[Word], other: Sequence[Word]) -> float:
    return abs(one[-1].box.middle[1] - other[0].box.middle[1])
