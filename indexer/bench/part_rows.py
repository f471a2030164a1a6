"""Where the rows of a parts list stand on a page: columns by geometry, rows by height."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from indexer.bench.part_columns import (
    ALIGNED,
    Column,
    is_main,
    item_words,
    joined_references,
    reference_columns,
)
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

_ROW_GAP = 2.6  # in row pitches: a list does not go on beyond it
# A heading that names the set too ("PARTS LIST — MODELS 5-BX") or what is listed.
_LISTED_THINGS = r"(CONDENSERS|CAPACITORS|RESISTORS)"
_HEADED = re.compile(
    r"^\W*((SPARE|REPLACEMENT|SERVICE|ELECTRICAL) )?PARTS( LISTS?)?\W{0,3}(FOR|MODELS?|CHASSIS)\b"
    rf"|^\W*SPARE PARTS\W*$|^\W*{_LISTED_THINGS}( (AND|&) {_LISTED_THINGS})?\W*$",
    re.I,
)
_LISTED = 0.6  # of the rows
_LONGEST_REFERENCE = 5
_SHORTEST_TITLE = 5  # signs; below it may stand a reference that was not read
_STEP_UP = 1.6  # in row pitches, between rows above the first plain reference


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


def part_rows(reading: PageReading) -> list[PartRow]:
    """The rows of the page's parts lists, column by column, wrapped lines joined to their row."""
    top, bottom = _span(reading)
    if bottom <= 0:
        return []
    words = [w for w in reading.words if top <= w.box.middle[1] < bottom and w.text.strip()]
    words = joined_references(words, reading.width_px)
    plain = [word for word in words if is_main(word.text)]
    columns = reference_columns(words, reading.width_px, plain)
    if not columns and top:
        columns = reference_columns(words, reading.width_px, item_words(words))
    found = [_rows_of(column, words, reading.width_px) for column in columns]
    return [row for part in found if top or _is_list(part) for row in part]


def _is_list(rows: Sequence[PartRow]) -> bool:
    """Whether rows without a heading are a list: most show a stock number or a value."""
    shown = sum(bool(row.part_number or _states_value(row.text)) for row in rows)
    return shown >= _LISTED * len(rows)


def _states_value(text: str) -> bool:
    prefix = hint_of(text)
    return bool(prefix and values_in(repaired(text, prefix), prefix))


def _span(reading: PageReading) -> tuple[float, float]:
    """Heights between the list's heading and the next section's; the whole page where it prints
    no heading of a list."""
    lines = [make_line(line) for line in reading.lines if line]
    marks = sorted((line.box.top, section_kind(line)) for line in lines if section_kind(line))
    own = [top for top, kind in marks if kind == PageKind.PARTS_LIST]
    own = own or sorted(line.box.top for line in lines if _HEADED.match(line.text))
    if not own:
        return 0.0, float(reading.height_px)
    below = [top for top, kind in marks if top > own[0] and kind != PageKind.PARTS_LIST]
    return own[0], _first_after_rows(reading, own[0], below)


def _first_after_rows(reading: PageReading, top: float, below: list[float]) -> float:
    """The next section's heading that stands below list rows and spans none: words like
    ALIGNMENT may stand in a row, DESCRIPTION over a column."""
    heights = [w.box.middle[1] for w in reading.words if is_main(w.text)]
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


def _rows_of(column: Column, words: Sequence[Word], width_px: int) -> list[PartRow]:
    tolerance = ALIGNED * width_px
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


def _in_reach(lines: Sequence[tuple[Word, ...]], column: Column) -> list[tuple[Word, ...]]:
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
    lines: Sequence[tuple[Word, ...]], column: Column, place: NumberPlace | None, tolerance: float
) -> float:
    """Where the words start in most rows; 0 when it can't be told."""
    starts = []
    for line in lines:
        rest = [w for w in line if w.box.left > column.left + 2 * tolerance]
        if place and place.is_left and rest and place.holds(rest[0]):
            rest = rest[1:]
        starts += [w.box.left for w in rest[:1]]
    return median(starts) if starts else 0.0
