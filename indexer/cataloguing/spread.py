"""Two sets side by side: two printed pages on one scan, or two columns of one page."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, product
from statistics import median

from indexer.cataloguing import identity
from indexer.cataloguing.kinds import is_index
from indexer.cataloguing.region import Line, Region, make_line, whole_page
from indexer.model import PageInput, PageReading, Word
from indexer.trade.codes import fold

_WIDE = 1.2  # widths to a height, from which a scan may show two pages side by side
_GUTTER = 0.02  # of the width, each way of the middle: words may not cross it
_MOST_ACROSS = 0.02  # of the words
_COLUMN_HEAD = 0.3  # of the height, above which two columns' headings stand
_LEVEL = 0.03  # of the height, that they may differ
_RUNNING = 0.055  # of the height, where a running head over both columns may stand
_CENTRED = 0.1  # of the width: how far from its column's middle a heading may stand
_AT_EDGE = 0.06  # of the width, from the column's left edge
_COLUMN_WORDS = 12
_LINES_ABOVE = 4  # title and running head


def beside_an_index(page: PageInput) -> tuple[PageInput, ...]:
    """The left and the right page of a wide scan, each with its own words, where one of the two
    alone is an index of sets; empty for any other scan."""
    if not _shows_two(page.reading):
        return ()
    halves = in_halves(page)
    return halves if sum(is_index(whole_page(half)) for half in halves) == 1 else ()


def in_halves(page: PageInput) -> tuple[PageInput, PageInput]:
    """A wide scan as two pages, whose words stand where they stood."""
    reading, middle = page.reading, page.reading.width_px / 2
    left = tuple(word for word in reading.words if word.box.middle[0] < middle)
    right = tuple(word for word in reading.words if word.box.middle[0] >= middle)
    return (
        replace(page, reading=replace(reading, words=left)),
        replace(page, reading=replace(reading, words=right)),
    )


def _shows_two(reading: PageReading) -> bool:
    """Whether a scan is wide and hardly a word crosses its middle."""
    if reading.width_px < _WIDE * reading.height_px or not reading.words:
        return False
    middle, gutter = reading.width_px / 2, _GUTTER * reading.width_px
    boxes = [word.box for word in reading.words]
    across = sum(b.left < middle - gutter and b.right > middle + gutter for b in boxes)
    return across <= _MOST_ACROSS * len(boxes)


def facing(region: Region, known: Sequence[str]) -> tuple[Region, ...]:
    """The left and the right page of a wide scan, where each names another set at its head; empty
    for any other scan."""
    reading = region.page.reading
    if not _shows_two(reading):
        return ()
    middle = reading.width_px / 2
    halves = [_half(region, middle, right=right) for right in (False, True)]
    named, sorts = [], []
    for half in halves:
        heads = identity.mastheads(half.lines, float(reading.height_px), known)
        named.append({fold(code) for head in heads for code in (*head.models, *head.chassis)})
        sorts.append({bool(head.models) for head in heads})
    apart = all(named) and not named[0] & named[1]
    # one title across the middle: model at the left, chassis at the right
    apart = apart and bool(sorts[0] & sorts[1])
    return tuple(halves) if apart else ()


def columns(region: Region, known: Sequence[str], models: int) -> tuple[Region, ...]:
    """The left and the right column of a page, where each has another set's heading over it; empty
    for any other page. `models` is how many models the page's headings name."""
    reading = region.page.reading
    if models < _SETS or not region.lines:
        return ()
    height, width = float(reading.height_px), float(reading.width_px)
    middle, gutter = width / 2, _GUTTER / 2 * width
    words = [w for line in region.lines for w in line.words if w.box.top > _COLUMN_HEAD * height]
    across = sum(w.box.left < middle - gutter and w.box.right > middle + gutter for w in words)
    right = sum(w.box.left >= middle - gutter for w in words)
    if across > _MOST_ACROSS * len(words) or min(right, len(words) - right) < _COLUMN_WORDS:
        return ()
    halves = [_half(region, middle, right=right_side) for right_side in (False, True)]
    for above in (0.0, _RUNNING * height):
        lefts = _headed(halves[0], above, known, 0.0)
        rights = _headed(halves[1], above, known, middle) if lefts else []
        for (left_top, left_codes), (right_top, right_codes) in product(lefts, rights):
            if abs(left_top - right_top) > _LEVEL or left_codes & right_codes:
                continue
            top = min(left_top, right_top) * height - 1
            over = [line for line in region.lines if line.box.bottom < top]
            if len(over) <= _LINES_ABOVE and not _crossed(region, top, middle, gutter):
                return tuple(
                    Region(region.page, (*over, *_below(half, top)), region.top, region.bottom)
                    for half in halves
                )
    return ()


_SETS = 2


def notes(region: Region, known: Sequence[str]) -> tuple[Region, ...]:
    """The columns of a page of short notes, left to right, where several sets are named in more
    than one of them; empty for any other page."""
    heads = identity.mastheads(region.lines, float(region.page.reading.height_px), known)
    named = [head for head in heads if head.models]
    if len(named) < _NOTED:
        return ()
    top = min(head.top for head in named) * region.page.reading.height_px - 1
    edges = _gutters([word for line in region.lines for word in line.words if word.box.top >= top])
    if not edges:
        return ()
    bounds = [0.0, *edges, float(region.page.reading.width_px) + 1]
    parts = [_between(region, top, left, right) for left, right in pairwise(bounds)]
    headed = [part for part in parts if _names_sets(part, known)]
    return tuple(parts) if len(headed) >= _SETS else ()


_NOTED = 3  # sets, from which a page is one of notes
_CLEAR = 0.8  # heights of lettering that a space between two columns is wide
_CROSSING = 0.01  # of the words may stand in it


def _names_sets(part: Region, known: Sequence[str]) -> bool:
    height = float(part.page.reading.height_px)
    return any(head.models for head in identity.mastheads(part.lines, height, known))


def _gutters(words: Sequence[Word]) -> list[float]:
    """The middles of the spaces between columns of text: hardly a word stands in them, and many on
    either side."""
    if not words:
        return []
    clear = _CLEAR * median(word.box.height for word in words)
    ends = sorted([(w.box.left, 1) for w in words] + [(w.box.right, -1) for w in words])
    most = _CROSSING * len(words)
    found: list[float] = []
    across, before, counted = 0, 0, 0  # words that cross a place; end left of it; in columns found
    for (x, step), (after, _) in pairwise(ends):
        across += step
        before += step < 0
        if across <= most and after - x >= clear and before - counted >= _COLUMN_WORDS:
            found.append((x + after) / 2)
            counted = before
    if found and sum(word.box.left > found[-1] for word in words) < _COLUMN_WORDS:
        found.pop()
    return found


def _between(region: Region, top: float, left: float, right: float) -> Region:
    """A column of a region; what stands above `top` belongs to the first."""
    lines = []
    for line in region.lines:
        above = line.box.top < top
        words = [w for w in line.words if left <= w.box.middle[0] < right and not above]
        words = list(line.words) if above and left <= 0 else words
        if words:
            lines.append(make_line(words))
    return Region(region.page, tuple(lines), region.top, region.bottom)


def _headed(
    half: Region, above: float, known: Sequence[str], left_px: float
) -> list[tuple[float, set[str]]]:
    """(top, folded codes) of each heading that stands over a column as its own: in its middle, or
    at its left edge; what stands at a page's outer corner is a running head."""
    reading = half.page.reading
    width, height = float(reading.width_px), float(reading.height_px)
    lines = [line for line in half.lines if line.box.top >= above]
    found = []
    for head in identity.mastheads(lines, height, known, large=True):
        row = [line for line in lines if abs(line.box.top - head.top * height) < line.box.height]
        if not head.models or not row or head.top > _COLUMN_HEAD:
            continue
        starts = min(line.box.left for line in row)
        centre = (starts + max(line.box.right for line in row)) / 2
        body = min(line.box.left for line in lines)
        over = abs(centre - left_px - width / 4) <= _CENTRED * width
        if over or starts - body <= _AT_EDGE * width:
            found.append((head.top, {fold(code) for code in (*head.models, *head.chassis)}))
    return found


def _crossed(region: Region, top: float, middle: float, gutter: float) -> bool:
    """Whether words below a height stand across the middle, but for a few."""
    below = [w for line in region.lines for w in line.words if w.box.top >= top]
    across = sum(w.box.left < middle - gutter and w.box.right > middle + gutter for w in below)
    return across > _MOST_ACROSS * len(below)


def _below(half: Region, top: float) -> tuple[Line, ...]:
    return tuple(line for line in half.lines if line.box.bottom >= top)


def _half(region: Region, middle: float, *, right: bool) -> Region:
    lines: list[Line] = []
    for line in region.lines:
        words = [word for word in line.words if (word.box.middle[0] >= middle) is right]
        if words:
            lines.append(make_line(words))
    return Region(region.page, tuple(lines), region.top, region.bottom)
