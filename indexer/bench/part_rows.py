"""Where the rows of a parts list stand on a page: columns by geometry, rows by height."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from indexer.bench.part_refs import candidates, clean_token, plain_reference
from indexer.cataloguing.kinds import section_kind
from indexer.cataloguing.region import make_line, printed_rows
from indexer.model import Box, PageKind, PageReading, Word

_ALIGNED = 0.011  # of the page width: references of one column start within it
_LEAST_ROWS = 3
_ROW_GAP = 2.6  # in row pitches: a list does not go on beyond it
_CODE = re.compile(
    r"(?=.*\d)[A-Z0-9£$°~<>(|l]{1,6}(?:[-/.~—_ ]{1,3}[A-Z0-9l]{1,6}){0,3}[.,]?", re.I
)
_HEAD_PART = re.compile(r"PART\W*N[O0]|^PART$|NUMBER|^PART\b", re.I)
_HEAD_WORDS = re.compile(r"DESCRIP|^VALUE", re.I)


@dataclass(frozen=True, slots=True)
class PartRow:
    """One printed row: the token at the reference's place, and the words after it."""

    token: str
    part_number: str
    words: tuple[Word, ...]
    box: Box

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


@dataclass(frozen=True, slots=True)
class _Column:
    left: float
    right: float
    top: float
    bottom: float
    pitch: float


def part_rows(reading: PageReading) -> list[PartRow]:
    """The rows of the page's parts lists, column by column, wrapped lines joined to their row."""
    top, bottom = _span(reading)
    words = [w for w in reading.words if top <= w.box.middle[1] < bottom and w.text.strip()]
    columns = _columns(words, reading.width_px)
    rows: list[PartRow] = []
    for column in columns:
        rows += _rows_of(column, words, reading.width_px)
    return rows


def _span(reading: PageReading) -> tuple[float, float]:
    """Heights between the list's heading and the next section's; the whole page without one."""
    lines = [make_line(line) for line in reading.lines if line]
    marks = sorted((line.box.top, section_kind(line)) for line in lines if section_kind(line))
    own = [top for top, kind in marks if kind == PageKind.PARTS_LIST]
    if not own:
        return 0.0, float(reading.height_px)
    below = [top for top, kind in marks if top > own[0] and kind != PageKind.PARTS_LIST]
    return own[0], _first_after_rows(reading, own[0], below)


def _first_after_rows(reading: PageReading, top: float, below: list[float]) -> float:
    """The next section's heading that spans no list row: words like ALIGNMENT may stand in one."""
    references = [
        w.box.middle[1]
        for w in reading.words
        if plain_reference(w.text) and w.box.left < 0.12 * reading.width_px
    ]
    for height in below:
        near = [y for y in references if abs(y - height) < 0.008 * reading.height_px]
        if not near:
            return height
    return float(reading.height_px)


def _columns(words: Sequence[Word], width_px: int) -> list[_Column]:
    tolerance = _ALIGNED * width_px
    refs = sorted((w for w in words if _main(w.text)), key=lambda w: w.box.left)
    groups: list[list[Word]] = []
    for word in refs:
        if groups and word.box.left - median(w.box.left for w in groups[-1]) <= tolerance:
            groups[-1].append(word)
        else:
            groups.append([word])
    kept = [g for g in groups if len(g) >= _LEAST_ROWS and _tabular(g, words, width_px)]
    lefts = [median(w.box.left for w in group) for group in kept]
    columns = []
    for n, group in enumerate(kept):
        right = lefts[n + 1] - tolerance if n + 1 < len(kept) else float(width_px)
        heights = sorted(w.box.middle[1] for w in group)
        steps = [b - a for a, b in pairwise(heights)]
        pitch = median([s for s in steps if s > 0.4 * median(steps)] or [1.0])
        columns.append(_Column(lefts[n], right, heights[0], heights[-1], max(pitch, 1.0)))
    return columns


def _main(text: str) -> bool:
    found = plain_reference(text)
    return found is not None and found.prefix in {"C", "R", "L", "T", "V", "LS"}


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


def _rows_of(column: _Column, words: Sequence[Word], width_px: int) -> list[PartRow]:
    tolerance = _ALIGNED * width_px
    inside = [w for w in words if column.left - tolerance <= w.box.left < column.right]
    lines = [line.words for line in printed_rows([make_line(inside)] if inside else [])]
    lines = _in_reach(lines, column)
    number_x, words_x = _edges(lines, column, tolerance)
    rows: list[PartRow] = []
    for line in lines:
        kept = [w for w in line if clean_token(w.text)]
        if not kept:
            continue
        token, rest = "", kept
        if kept[0].box.left <= column.left + 2 * tolerance and len(clean_token(kept[0].text)) <= 5:
            token, rest = _reference_token(kept)
        number, rest = _part_number(rest, number_x, words_x, tolerance)
        wraps = not token and not number and rows and rest
        if wraps and rest[0].box.left >= (words_x or column.left + tolerance) - tolerance:
            before = rows[-1]
            box = make_line(rest).box.union(before.box)
            rows[-1] = PartRow(before.token, before.part_number, (*before.words, *rest), box)
        elif token or number:
            rows.append(PartRow(token, number, tuple(rest), make_line(kept).box))
    return rows


def _in_reach(lines: Sequence[tuple[Word, ...]], column: _Column) -> list[tuple[Word, ...]]:
    """Lines from the first row on, until a gap that the list does not bridge."""
    kept: list[tuple[Word, ...]] = []
    last = column.top
    for line in lines:
        middle = median(w.box.middle[1] for w in line)
        if middle < column.top - 0.6 * column.pitch:
            if not any(candidates(w.text) for w in line[:1]):
                continue
            if column.top - middle > 1.6 * column.pitch:
                continue
        elif middle - last > _ROW_GAP * column.pitch and middle > column.bottom:
            break
        last = max(last, middle)
        kept.append(line)
    return kept


def _reference_token(kept: list[Word]) -> tuple[str, list[Word]]:
    """The reference at the row's head ("R 7" in two words too), and the words after it."""
    head = clean_token(kept[0].text)
    if len(kept) > 1 and len(head) == 1 and head.isalpha():
        joined = head + clean_token(kept[1].text)
        close = kept[1].box.left - kept[0].box.right < 0.9 * kept[0].box.height
        if close and plain_reference(joined):
            return joined, kept[2:]
    return head, kept[1:]


def _edges(
    lines: Sequence[tuple[Word, ...]], column: _Column, tolerance: float
) -> tuple[float, float]:
    """Where the part numbers and the words start; 0 for what the column doesn't have."""
    numbers, texts = [], []
    for line in lines:
        rest = [w for w in line if clean_token(w.text) and w.box.left > column.left + 2 * tolerance]
        if rest and _is_code(rest[0].text):
            numbers.append(rest[0].box.left)
            texts += [w.box.left for w in rest[1:2]]
    if len(numbers) < max(2, 0.5 * len(lines)):
        return 0.0, 0.0
    return median(numbers), median(texts) if texts else 0.0


def _is_code(text: str) -> bool:
    return bool(_CODE.fullmatch(clean_token(text))) and sum(c.isdigit() for c in text) >= 2


def _part_number(
    rest: list[Word], number_x: float, words_x: float, tolerance: float
) -> tuple[str, list[Word]]:
    """What stands in the part numbers' column, and the words after it."""
    if not number_x:
        return "", rest
    edge = words_x - 1.5 * tolerance if words_x else number_x + 4 * tolerance
    head = [w for w in rest if w.box.left < edge]
    return "".join(clean_token(w.text) for w in head), rest[len(head) :]
