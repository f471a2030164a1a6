"""The alignment steps of a page as read: a table or numbered sentences, and what stands before."""

import re
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from indexer.bench.sheet_types import AlignmentTable
from indexer.bench.tables import cells_of, columns_of, in_columns, section_rows
from indexer.cataloguing.region import Line
from indexer.model import PageKind, PageReading, PageRef

_HEAD = re.compile(
    r"\b(STEP|CONNECT|GENERATOR|OSCILLATOR|FREQ|DIAL|ADJUST|TRIMMER|DUMMY|OPERATION|POINTER|TUNE)",
    re.I,
)
_MOST_HEAD_ROWS = 4
_MOST_STEPS = 40
_REACH = 0.75  # of the steps' pitch: a wrapped row stands nearer to its step than this
_FULL = 0.6  # share of the columns that a step without a number fills
_SENTENCE = 6  # words on the first row of a step that is set as a sentence
_SENTENCE_CELLS = 3
_BREAK = 2.4  # in pitches: a table does not go on beyond such a gap
_STEP_NUMBER = re.compile(r"(\d{1,2})(?:[.),:]([A-Za-z]{2,}\S*)?)?")  # "4.Connect" too
_ADJUSTED = re.compile(r"\b([CTL])[iIl|]([A-F]?)\b")  # "CiA", "Tl": the figure is read a letter
_KILOCYCLES = re.compile(r"(?<=\d)(\s?k)[eo]\b", re.I)


def alignment_table(reading: PageReading, page: PageRef, source: str) -> AlignmentTable | None:
    """The first alignment table of a page, None where none is printed or no step was read.

    A step begins with its number, or fills most columns where no number is printed; other rows
    belong to the step that they stand nearest to, for cells may be centred. Numbered sentences
    make a table of two columns. Nothing is put right but the unit of a frequency, a step's
    number and the 1 of a reference (C1A, T1): the page beside it decides.
    """
    rows = section_rows(reading, PageKind.ALIGNMENT)
    sentences = _sentences(rows, page, source)
    if sentences:
        return sentences
    for n, row in enumerate(rows):
        if len({word.upper() for word in _HEAD.findall(row.text)}) >= 2 and not _number(row):
            found = _table(rows[n:])
            if found:
                return AlignmentTable(found, source, page, _before(rows[:n]))
    return None


def _before(rows: Sequence[Line]) -> tuple[str, ...]:
    words = " ".join(row.text for row in rows)
    return (words,) if words else ()


def _righted(cell: str) -> str:
    """A cell with the unit of its frequency and the figure of a part's reference put right."""
    return _ADJUSTED.sub(r"\g<1>1\2", _KILOCYCLES.sub(r"\1c", cell))


def _number(row: Line) -> int:
    """The step's number at the head of a row, 0 without one."""
    found = _STEP_NUMBER.fullmatch(row.words[0].text.strip("|[]{} "))
    return int(found[1]) if found else 0


def _table(rows: Sequence[Line]) -> tuple[tuple[str, ...], ...]:
    """The head and the steps of a table whose head begins with the first row; () without steps."""
    body = _unbroken(rows)
    columns = columns_of(body)
    if len(columns) < 2:
        return ()
    steps = _steps(body, columns)
    if not steps or not 0 < body.index(steps[0]) <= _MOST_HEAD_ROWS:
        return ()
    titles = body[: body.index(steps[0])]
    named = [row for row in titles if re.search(r"\bSTEP|\bNO\.?\b|OPERATION", row.text, re.I)]
    anchors = [named[0] if named else titles[0], *steps]
    heights = [row.box.middle[1] for row in anchors]
    pitch = max(median(b - a for a, b in pairwise(heights)), 1.0)
    groups: list[list[Line]] = [[] for _ in anchors]
    for row in body:
        apart = [abs(row.box.middle[1] - height) for height in heights]
        nearest = apart.index(min(apart))
        if apart[nearest] <= _REACH * pitch:
            groups[nearest].append(row)
    table = []
    for n, group in enumerate(groups):
        cells = [in_columns(row.words, columns) for row in group]
        joined = (" ".join(filter(None, parts)) for parts in zip(*cells, strict=True))
        row_cells = [_righted(cell) for cell in joined]
        if n and named and not row_cells[0][:1].isdigit():
            row_cells[0] = str(n)
        table.append(tuple(row_cells))
    return tuple(table)


def _steps(body: Sequence[Line], columns: Sequence[tuple[float, float]]) -> list[Line]:
    """The row that each step begins with: by its number, else by filling most columns.

    Where most steps show their number, a row whose number was not read counts when it stands as
    far from its neighbours as steps do.
    """
    numbered = [row for row in body[1:] if _number(row)]
    full = [
        row
        for row in body[1:]
        if row not in numbered
        and _filled(row, columns) >= _FULL * len(columns)
        and not _HEAD.match(row.words[0].text)
    ]
    if len(numbered) < 2:
        return sorted([*numbered, *full], key=lambda row: row.box.top)[:_MOST_STEPS]
    heights = [row.box.middle[1] for row in numbered]
    pitch = min(b - a for a, b in pairwise(heights))
    apart = [
        row
        for row in full
        if all(abs(row.box.middle[1] - height) > _REACH * pitch for height in heights)
        and row.box.top > body[0].box.bottom
    ]
    return sorted([*numbered, *apart], key=lambda row: row.box.top)[:_MOST_STEPS]


def _unbroken(rows: Sequence[Line]) -> list[Line]:
    """The rows down to the first gap that a table does not bridge."""
    kept = [rows[0]]
    steps = [b.box.middle[1] - a.box.middle[1] for a, b in pairwise(rows)]
    pitch = median(steps) if steps else 1.0
    for row, step in zip(rows[1:], steps, strict=True):
        if step > _BREAK * pitch and len(kept) > 2 and not _number(row):
            break
        kept.append(row)
    return kept


def _filled(row: Line, columns: Sequence[tuple[float, float]]) -> int:
    return sum(bool(cell) for cell in in_columns(row.words, columns))


def _sentences(rows: Sequence[Line], page: PageRef, source: str) -> AlignmentTable | None:
    """Steps set as numbered sentences, each with the rows below it; None without two of them."""
    steps: list[list[str]] = []
    before: list[Line] = []
    for row in rows:
        if _number(row) == len(steps) + 1 and len(row.words) >= _SENTENCE:
            if len(cells_of(row)) > _SENTENCE_CELLS:
                return None  # a row of a table
            found = _STEP_NUMBER.fullmatch(row.words[0].text.strip("|[]{} "))
            first = [found[2]] if found and found[2] else []
            steps.append([*first, *(word.text for word in row.words[1:])])
        elif steps:
            steps[-1].append(row.text)
        else:
            before.append(row)
    if len(steps) < 2:
        return None
    table = [("Step", "What to do")]
    table += [(str(n), _righted(" ".join(words))) for n, words in enumerate(steps, 1)]
    return AlignmentTable(tuple(table[: _MOST_STEPS + 1]), source, page, _before(before))
