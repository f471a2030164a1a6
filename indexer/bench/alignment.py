"""The alignment steps of a page as read: a table, and the words that stand before it."""

import re
from itertools import pairwise
from statistics import median

from indexer.bench.sheet_types import AlignmentTable
from indexer.bench.tables import in_columns, section_rows, spans
from indexer.cataloguing.region import Line
from indexer.model import PageKind, PageReading, PageRef

_HEAD = re.compile(r"STEP|CONNECT|GENERATOR|FREQ|DIAL|ADJUST|TRIMMER|DUMMY", re.I)
_STARTS = frozenset({"CONNECT", "DUMMY", "GENERATOR", "DIAL", "ADJUST"})
_GOES_ON = frozenset({"SETTING", "FOR", "MAXIMUM"})
_MOST_HEAD_ROWS = 5
_MOST_STEPS = 40
_REACH = 0.75  # of the steps' pitch: a wrapped row stands nearer to its step than this


def alignment_table(reading: PageReading, page: PageRef, source: str) -> AlignmentTable | None:
    """The first alignment table of a page, None where none is printed or no step was read.

    A step begins with its number; a row without one belongs to the step that it stands nearest
    to, for cells may be centred. Nothing is put right: the page beside it decides.
    """
    rows = section_rows(reading, PageKind.ALIGNMENT)
    head = next((n for n, row in enumerate(rows) if len(set(_HEAD.findall(row.text))) >= 2), None)
    if head is None:
        return None
    below = rows[head:]
    steps = [row for row in below if _step(row.words[0].text)][:_MOST_STEPS]
    if not steps or below.index(steps[0]) > _MOST_HEAD_ROWS:
        return None
    titles = below[: below.index(steps[0])]
    title = next((row for row in titles if "STEP" in row.text.upper()), titles[0])
    anchors = [title, *steps]
    heights = [row.box.middle[1] for row in anchors]
    pitch = max(median(b - a for a, b in pairwise(heights)), 1.0)
    groups: list[list[Line]] = [[] for _ in anchors]
    for row in below:
        apart = [abs(row.box.middle[1] - height) for height in heights]
        nearest = apart.index(min(apart))
        if apart[nearest] <= _REACH * pitch:
            groups[nearest].append(row)
    heads = [word for row in groups[0] for word in row.words]
    columns = spans(heads, _STARTS, _GOES_ON)
    if len(columns) < 2:
        return None
    table = []
    for group in groups:
        cells = [in_columns(row.words, columns) for row in group]
        table.append(tuple(" ".join(filter(None, parts)) for parts in zip(*cells, strict=True)))
    words = " ".join(row.text for row in rows[:head])
    return AlignmentTable(tuple(table), source, page, (words,) if words else ())


def _step(text: str) -> bool:
    return bool(re.fullmatch(r"\d{1,2}[.)]?", text.strip("| ")))
