"""Cells of an index page in which nothing was read: a lone figure is soon overlooked."""

import re
from collections.abc import Sequence
from statistics import median

from indexer.model import Box, Word
from indexer.reading.rows import grouped

_PAGE = re.compile(r"\d{1,4}[.,]?")
_LONE = re.compile(r"\d{1,2}|[IVX]{1,4}")
_ALIGNED = 1.0  # of a figure's height: how far middles of one column may stand apart
_LEAST, _MOSTLY = 5, 0.6  # rows with a figure in a column, and their share, to miss it in others
_EDGE = 0.3  # of a figure's height, left around a cell


_Row = tuple[Word, ...]  # from left to right; the last is the page


def empty_cells(words: Sequence[Word]) -> tuple[Word, ...]:
    """Places where a row of an index prints no figure before its page though most rows of its
    column do, as words of confidence 0 in the rows' lines, to be read again."""
    rows = [row for row in grouped(words) if len(row) > 1 and _PAGE.fullmatch(row[-1].text)]
    cells: list[Word] = []
    for group in _by_page_column(rows):
        lone = [row[-2] for row in group if _LONE.fullmatch(row[-2].text)]
        if len(lone) < max(_LEAST, _MOSTLY * len(group)):
            continue
        middle = median(word.box.middle[0] for word in lone)
        height = median(word.box.height for word in lone)
        lone = [w for w in lone if abs(w.box.middle[0] - middle) <= _ALIGNED * height]
        left = min(word.box.left for word in lone) - _EDGE * height
        right = max(word.box.right for word in lone) + _EDGE * height
        for row in group:
            taken = any(word.box.left < right and word.box.right > left for word in row)
            if not taken and row[0].box.right < left and row[-1].box.left > right:
                box = row[-1].box
                cells.append(Word("0", Box(left, box.top, right, box.bottom), 0.0, row[-1].line))
    return tuple(cells)


def filled(words: Sequence[Word], found: Sequence[Word]) -> tuple[Word, ...]:
    """The words with the figures that were found in their cells."""
    figures = [word for word in found if _LONE.fullmatch(word.text)]
    if not figures:
        return tuple(words)
    return tuple(sorted((*words, *figures), key=lambda word: (word.line, word.box.left)))


def _by_page_column(rows: Sequence[_Row]) -> list[list[_Row]]:
    """The rows by the column in which their page figures end."""
    groups: list[list[_Row]] = []
    for row in sorted(rows, key=lambda row: row[-1].box.right):
        height = row[-1].box.height
        if groups and row[-1].box.right - groups[-1][-1][-1].box.right <= _ALIGNED * height:
            groups[-1].append(row)
        else:
            groups.append([row])
    return groups
