"""Ruled tables under a page's section headings: where they stand, and words put into columns."""

from collections.abc import Collection, Sequence
from itertools import pairwise

from indexer.bench.part_refs import clean_token
from indexer.cataloguing.kinds import section_kind
from indexer.cataloguing.region import Line, make_line, printed_rows
from indexer.model import PageKind, PageReading, Word

_CELL_GAP = 0.9  # of the lettering's height: words nearer than this share a cell of the head


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


def spans(
    words: Sequence[Word],
    starts: Collection[str] = (),
    goes_on: Collection[str] = (),
) -> list[tuple[float, float]]:
    """The columns (left and right, pixels) that the words of a table's head stand over.

    Words nearer than a space share a column. A word of `starts` opens one where nothing stands
    above it; one of `goes_on` never does.
    """
    found: list[tuple[float, float]] = []
    for word in sorted((w for w in words if clean_token(w.text)), key=lambda w: w.box.left):
        text = clean_token(word.text).upper()
        gap = word.box.left - found[-1][1] if found else 0.0
        near = gap < _CELL_GAP * word.box.height and not (text in starts and gap > 0)
        if found and (near or text in goes_on):
            found[-1] = (found[-1][0], max(found[-1][1], word.box.right))
        else:
            found.append((word.box.left, word.box.right))
    return found


def in_columns(words: Sequence[Word], columns: Sequence[tuple[float, float]]) -> list[str]:
    """The words of a row by column: each goes where its middle stands."""
    edges = [(a[1] + b[0]) / 2 for a, b in pairwise(columns)]
    cells: list[list[str]] = [[] for _ in columns]
    for word in words:
        text = word.text.strip("|{}[]_~")
        if text:
            cells[sum(word.box.middle[0] > edge for edge in edges)].append(text)
    return [" ".join(cell) for cell in cells]
