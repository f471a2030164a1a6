"""The columns of references on a page: where the rows of its parts lists begin and end."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from indexer.bench.part_numbers import is_stock_number
from indexer.bench.part_refs import clean_token, count_up, item_number, plain_reference
from indexer.model import Word

ALIGNED = 0.011  # of the page width: references of one column start within it
_LEAST_ROWS = 3
_LISTED = 0.6  # of the rows
_APART = 8  # lettering heights between references of one list, wrapped rows between, at most
_ITEM_GAP = 3  # lettering heights before an item's number, at least
_NEAR = 9  # lettering heights between a stock number and the reference after it, at most
_ONE_BLANK = 0.9  # lettering heights between a letter and its number, at most
_MAIN = frozenset({"C", "R", "L", "T", "V", "LS"})


@dataclass(frozen=True, slots=True)
class Column:
    """A column of references, in pixels."""

    left: float
    right: float
    top: float
    bottom: float
    pitch: float
    start: float  # where the rows begin: left of the references where stock numbers come first


def reference_columns(
    words: Sequence[Word], width_px: int, references: Sequence[Word]
) -> list[Column]:
    """The columns that references of a list make, left to right: at least three in line, close
    together, with words beside them; a column of stock numbers that look alike is none."""
    tolerance = ALIGNED * width_px
    refs = sorted(references, key=lambda w: w.box.left)
    groups: list[list[Word]] = []
    for word in refs:
        if groups and word.box.left - median(w.box.left for w in groups[-1]) <= tolerance:
            groups[-1].append(word)
        else:
            groups.append([word])
    groups = [_close_together(group) for group in groups]
    groups = [g for g in groups if len(g) >= _LEAST_ROWS]
    groups = [g for g in groups if is_main(g[0].text) or count_up([item_number(w.text) for w in g])]
    kept = [g for g in groups if _tabular(g, words, width_px) and not _stocks(g, groups, words)]
    lefts = [median(w.box.left for w in group) for group in kept]
    starts = [
        _start(group, words, left, tolerance) for group, left in zip(kept, lefts, strict=True)
    ]
    columns = []
    for n, group in enumerate(kept):
        right = starts[n + 1] - tolerance if n + 1 < len(kept) else float(width_px)
        heights = sorted(w.box.middle[1] for w in group)
        steps = [b - a for a, b in pairwise(heights)]
        pitch = median([s for s in steps if s > 0.4 * median(steps)] or [1.0])
        columns.append(Column(lefts[n], right, heights[0], heights[-1], max(pitch, 1.0), starts[n]))
    return columns


def joined_references(words: Sequence[Word], width_px: int) -> list[Word]:
    """The words with references that are set apart ("C 5", "R 12") made one, where at least three
    of them begin in line, as European lists print them."""
    pairs: dict[int, Word] = {}
    for letter in words:
        if clean_token(letter.text) not in _MAIN:
            continue
        after = [
            w
            for w in words
            if 0 <= w.box.left - letter.box.right < _ONE_BLANK * letter.box.height
            and abs(w.box.middle[1] - letter.box.middle[1]) < 0.5 * letter.box.height
            and item_number(w.text)
        ]
        if len(after) == 1:
            pairs[id(letter)] = after[0]
    first = [w for w in words if id(w) in pairs]
    in_line = [
        one
        for one in first
        if sum(abs(one.box.left - w.box.left) <= ALIGNED * width_px for w in first) >= _LEAST_ROWS
    ]
    numbers = {id(pairs[id(w)]) for w in in_line}
    letters = {id(w) for w in in_line}
    made = []
    for word in words:
        if id(word) in letters:
            number = pairs[id(word)]
            text, box = clean_token(word.text) + number.text, word.box.union(number.box)
            made.append(replace(word, text=text, box=box))
        elif id(word) not in numbers:
            made.append(word)
    return made


def _before(word: Word, words: Sequence[Word]) -> Word | None:
    """The word that stands before another in its printed row."""
    row = [
        w
        for w in words
        if w.box.right <= word.box.left + 0.5 * word.box.height
        and abs(w.box.middle[1] - word.box.middle[1]) < 0.6 * word.box.height
    ]
    return max(row, key=lambda w: w.box.right, default=None)


def item_words(words: Sequence[Word]) -> list[Word]:
    """The bare item numbers that begin a row or stand well apart from what is before them."""
    found = []
    for word in words:
        before = _before(word, words) if item_number(word.text) else word
        if before is None or word.box.left - before.box.right > _ITEM_GAP * word.box.height:
            found.append(word)
    return found


def _stocks(group: Sequence[Word], groups: Sequence[Sequence[Word]], words: Sequence[Word]) -> bool:
    """Whether a column that looks like references is one of stock numbers: each stands right
    after the reference of its row (C6  E-16  16 MFD)."""
    others = {id(word) for other in groups if other is not group for word in other}
    after = sum(id(_before(word, words)) in others for word in group)
    return after >= _LISTED * len(group)


def _close_together(group: Sequence[Word]) -> list[Word]:
    """The references that stand one below the other as rows do: labels of a drawing that happen
    to be in line stand far apart."""
    runs: list[list[Word]] = []
    for word in sorted(group, key=lambda w: w.box.top):
        near = runs and word.box.top - runs[-1][-1].box.top <= _APART * word.box.height
        if near:
            runs[-1].append(word)
        else:
            runs.append([word])
    return [word for run in runs if len(run) >= _LEAST_ROWS for word in run]


def _start(group: Sequence[Word], words: Sequence[Word], left: float, tolerance: float) -> float:
    """Where the rows of a column of references begin: at stock numbers on their left, if any."""
    before = []
    for reference in group:
        row = [
            w
            for w in words
            if abs(w.box.middle[1] - reference.box.middle[1]) < 0.6 * reference.box.height
            and w.box.left < left - tolerance
            and left - w.box.right < _NEAR * reference.box.height
        ]
        row.sort(key=lambda w: w.box.left)
        stocks = (n for n in range(len(row)) if is_stock_number([*row, reference], n))
        before += [row[n].box.left for n in stocks][:1]
    return median(before) if len(before) >= _LISTED * len(group) else left


def is_main(text: str) -> bool:
    found = plain_reference(text)
    return found is not None and found.prefix in _MAIN


def _tabular(group: Sequence[Word], words: Sequence[Word], width_px: int) -> bool:
    """Whether most of these references have at least two words beside them, as a list has."""
    beside = 0
    for word in group:
        room = (word.box.right, word.box.left + 0.45 * width_px)
        same = [
            w
            for w in words
            if room[0] < w.box.left < room[1]
            and abs(w.box.middle[1] - word.box.middle[1]) < 0.7 * word.box.height
        ]
        beside += len(same) >= 2
    return beside >= 0.6 * len(group)
