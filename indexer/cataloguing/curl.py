"""Pages that lay curled on the scanner: a table's columns slide past one another, until a row's
last cell stands beside the next row's first. How far each column slid is told by its own cells:
in their true place nearly all stand level with a cell further left. Common practice, no source.
"""

from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from indexer.model import Word

_LEAST_ROWS = 8
_BRAIDED = 0.12  # of the rows stand nearer to the row above than lines of print do
_NEAR, _LEVEL = 1.05, 0.25  # heights of lettering between two such rows; two cells stand level
_FAR = 1.3  # heights of lettering that a column may have slid
_STEPS = 26  # of a shift, each way
_FITS = 0.85  # of a column's cells stand level, once moved
_LEVEL_NOW, _BY_CHANCE = 0.6, 0.5  # of them do so at most where they are; wherever they are put
_CROSSED = 0.05  # of the words may reach over the space between two columns
_LEAST_CELLS = 5


def slides(rows: Sequence[Sequence[Word]]) -> dict[int, float]:
    """How many pixels too low each word of a table stands, by the word's `id`; only words that
    moved. Empty for rows of print that lie flat, and where the columns don't tell."""
    if len(rows) < _LEAST_ROWS:
        return {}
    words = [word for row in rows for word in row]
    height = median(word.box.height for word in words)
    middles = [sum(word.box.middle[1] for word in row) / len(row) for row in rows]
    near = sum(below - above < _NEAR * height for above, below in pairwise(middles))
    if near < _BRAIDED * len(rows):
        return {}
    columns = _columns(words)
    if len(columns) < 2:
        return {}
    moved: dict[int, float] = {}
    level = sorted(word.box.middle[1] for word in columns[0])
    slid = 0.0
    for column in columns[1:]:
        heights = [word.box.middle[1] for word in column]
        found = _shift(heights, level, slid, height) if len(column) >= _LEAST_CELLS else None
        slid = slid if found is None else found
        moved.update((id(word), slid) for word in column if slid)
        level = sorted([*level, *(at - slid for at in heights)])
    return moved


def _columns(words: Sequence[Word]) -> list[list[Word]]:
    """The words by the columns they stand in, left to right."""
    most = max(1, int(_CROSSED * len(words)))
    ends = sorted([(word.box.left, 1) for word in words] + [(word.box.right, -1) for word in words])
    starts: list[float] = []
    across, parted = 0, True
    for x, step in ends:
        across += step
        if across > most and parted:
            starts.append(x)
            parted = False
        parted |= step < 0 and across <= most
    columns: list[list[Word]] = [[] for _ in starts or [0.0]]
    for word in words:
        at = sum(start <= word.box.middle[0] for start in starts)
        columns[max(0, at - 1)].append(word)
    return [column for column in columns if column]


def _shift(
    heights: Sequence[float], level: Sequence[float], slid: float, height: float
) -> float | None:
    """By how much a column stands too low, the one before it standing `slid` too low: where most
    of its cells are level with others; None where that is nowhere, or little better."""
    step = _FAR * height / _STEPS
    tries = [slid + n * step for n in range(-_STEPS, _STEPS + 1)]
    fits = [_fit(heights, level, by, height) for by in tries]
    best = max(fits)
    if best < _FITS or fits[_STEPS] > _LEVEL_NOW or median(fits) > _BY_CHANCE:
        return None
    level_at = [by for by, fit in zip(tries, fits, strict=True) if fit == best]
    nearest = min(level_at, key=lambda by: abs(by - slid))
    return median(by for by in level_at if abs(by - nearest) <= 2 * _LEVEL * height)


def _fit(heights: Sequence[float], level: Sequence[float], by: float, height: float) -> float:
    """The share of a column's cells that, moved up, stand level with a cell further left (`level`
    in order)."""
    reach = _LEVEL * height
    fit = 0
    for at in heights:
        first = bisect_left(level, at - by - reach)
        fit += first < len(level) and level[first] <= at - by + reach
    return fit / len(heights)
