"""Where the rows of a parts list stand on a page: columns by geometry, rows by height."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from indexer.bench.part_numbers import (
    NumberPlace,
    is_stock_number,
    number_place,
    part_number,
)
from indexer.bench.part_refs import candidates, clean_token, plain_reference
from indexer.bench.part_values import hint_of, repaired, values_in
from indexer.cataloguing.kinds import section_kind
from indexer.cataloguing.region import make_line, printed_rows
from indexer.model import Box, PageKind, PageReading, Word

_ALIGNED = 0.011  # of the page width: references of one column start within it
_LEAST_ROWS = 3
_ROW_GAP = 2.6  # in row pitches: a list does not go on beyond it
_OTHER_TABLES = (PageKind.ALIGNMENT, PageKind.VOLTAGE_CHART, PageKind.RESISTANCE_CHART)
_LISTED = 0.6  # of the rows
_LONGEST_REFERENCE = 5
_SHORTEST_TITLE = 5  # signs; below it may stand a reference that was not read
_STEP_UP = 1.6  # in row pitches, between rows above the first plain reference
_NEAR = 9  # lettering heights between a stock number and the reference after it, at most


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
    start: float  # where the rows begin: left of the references where stock numbers come first


def part_rows(reading: PageReading) -> list[PartRow]:
    """The rows of the page's parts lists, column by column, wrapped lines joined to their row."""
    top, bottom = _span(reading)
    if bottom <= 0:
        return []
    words = [w for w in reading.words if top <= w.box.middle[1] < bottom and w.text.strip()]
    columns = _columns(words, reading.width_px)
    found = [_rows_of(column, words, reading.width_px) for column in columns]
    rows = [row for part in found for row in part]
    return rows if top or _is_list(rows) else []


def _is_list(rows: Sequence[PartRow]) -> bool:
    """Whether rows without a heading are a list: most show a stock number or a value."""
    shown = sum(bool(row.part_number or _states_value(row.text)) for row in rows)
    return shown >= _LISTED * len(rows)


def _states_value(text: str) -> bool:
    prefix = hint_of(text)
    return bool(prefix and values_in(repaired(text, prefix), prefix))


def _span(reading: PageReading) -> tuple[float, float]:
    """Heights between the list's heading and the next section's; the whole page where it prints
    no heading at all, (0, 0) where it only has those of other tables."""
    lines = [make_line(line) for line in reading.lines if line]
    marks = sorted((line.box.top, section_kind(line)) for line in lines if section_kind(line))
    own = [top for top, kind in marks if kind == PageKind.PARTS_LIST]
    if not own:
        others = any(kind in _OTHER_TABLES for _, kind in marks)
        return 0.0, 0.0 if others else float(reading.height_px)
    below = [top for top, kind in marks if top > own[0] and kind != PageKind.PARTS_LIST]
    return own[0], _first_after_rows(reading, own[0], below)


def _first_after_rows(reading: PageReading, top: float, below: list[float]) -> float:
    """The next section's heading that stands below list rows and spans none: words like
    ALIGNMENT may stand in a row, DESCRIPTION over a column."""
    heights = [w.box.middle[1] for w in reading.words if _main(w.text)]
    references = [
        w.box.middle[1]
        for w in reading.words
        if plain_reference(w.text) and w.box.left < 0.12 * reading.width_px
    ]
    for height in below:
        begun = any(top < y < height for y in heights)
        near = [y for y in references if abs(y - height) < 0.008 * reading.height_px]
        if begun and not near:
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
    starts = [
        _start(group, words, left, tolerance) for group, left in zip(kept, lefts, strict=True)
    ]
    columns = []
    for n, group in enumerate(kept):
        right = starts[n + 1] - tolerance if n + 1 < len(kept) else float(width_px)
        heights = sorted(w.box.middle[1] for w in group)
        steps = [b - a for a, b in pairwise(heights)]
        pitch = median([s for s in steps if s > 0.4 * median(steps)] or [1.0])
        columns.append(
            _Column(lefts[n], right, heights[0], heights[-1], max(pitch, 1.0), starts[n])
        )
    return columns


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
    inside = [w for w in words if column.start - tolerance <= w.box.left < column.right]
    lines = [line.words for line in printed_rows([make_line(inside)] if inside else [])]
    lines = [tuple(w for w in line if clean_token(w.text)) for line in _in_reach(lines, column)]
    lines = [line for line in lines if line]
    numbers_first = column.start < column.left
    place = None if numbers_first else number_place(lines, column.left, tolerance)
    words_x = _words_x(lines, column, place, tolerance)
    rows: list[PartRow] = []
    for line in lines:
        front = [w for w in line if numbers_first and w.box.left < column.left - tolerance]
        token, rest = "", list(line[len(front) :])
        if not rest or (line[0].box.left < words_x - tolerance and _is_title(line)):
            continue
        head = clean_token(rest[0].text)
        at_reference = rest[0].box.left <= column.left + 2 * tolerance
        if (
            at_reference
            and len(head) <= _LONGEST_REFERENCE
            and not (place and place.holds(rest[0]))
        ):
            token, rest = _reference_token(rest)
        number, rest = part_number(rest, place)
        number = number or "".join(clean_token(w.text) for w in front)
        wraps = not token and not number and rows and rest
        if wraps and rest[0].box.left >= (words_x or column.left + tolerance) - tolerance:
            before = rows[-1]
            box = make_line(rest).box.union(before.box)
            rows[-1] = PartRow(before.token, before.part_number, (*before.words, *rest), box)
        elif token or number:
            rows.append(PartRow(token, number, tuple(rest), make_line(line).box))
    return rows


def _is_title(line: Sequence[Word]) -> bool:
    """A heading within the list: "COILS AND TRANSFORMERS"."""
    text = " ".join(word.text for word in line)
    return text.isupper() and not any(c.isdigit() for c in text) and len(text) > _SHORTEST_TITLE


def _in_reach(lines: Sequence[tuple[Word, ...]], column: _Column) -> list[tuple[Word, ...]]:
    """The rows of a list: those between its plain references, and on both sides as far as the
    list goes without a gap. Above, a row must show a stock number or what may be a reference."""
    heights = [median(w.box.middle[1] for w in line) for line in lines]
    first = next((n for n, y in enumerate(heights) if y >= column.top - 0.6 * column.pitch), 0)
    while first and heights[first] - heights[first - 1] <= _STEP_UP * column.pitch:
        line = lines[first - 1]
        if not any(candidates(w.text) for w in line[:1]) and not any(
            is_stock_number(line, n) for n in range(len(line))
        ):
            break
        first -= 1
    kept: list[tuple[Word, ...]] = []
    last = column.top
    for line, middle in zip(lines[first:], heights[first:], strict=True):
        if middle - last > _ROW_GAP * column.pitch and middle > column.bottom:
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


def _words_x(
    lines: Sequence[tuple[Word, ...]], column: _Column, place: NumberPlace | None, tolerance: float
) -> float:
    """Where the words start in most rows; 0 when it can't be told."""
    starts = []
    for line in lines:
        rest = [w for w in line if w.box.left > column.left + 2 * tolerance]
        if place and place.is_left and rest and place.holds(rest[0]):
            rest = rest[1:]
        starts += [w.box.left for w in rest[:1]]
    return median(starts) if starts else 0.0
