"""Two printed pages on one scan, each about a set of its own."""

from collections.abc import Sequence

from indexer.cataloguing import identity
from indexer.cataloguing.region import Line, Region, make_line
from indexer.trade.codes import fold

_WIDE = 1.2  # widths to a height, from which a scan may show two pages side by side
_GUTTER = 0.02  # of the width, each way of the middle: words may not cross it
_MOST_ACROSS = 0.02  # of the words


def facing(region: Region, known: Sequence[str]) -> tuple[Region, ...]:
    """The left and the right page of a wide scan, where each names another set at its head; empty
    for any other scan."""
    reading = region.page.reading
    if reading.width_px < _WIDE * reading.height_px or not region.lines:
        return ()
    middle, gutter = reading.width_px / 2, _GUTTER * reading.width_px
    words = [word for line in region.lines for word in line.words]
    across = sum(w.box.left < middle - gutter and w.box.right > middle + gutter for w in words)
    if across > _MOST_ACROSS * len(words):
        return ()
    halves = [_half(region, middle, right=right) for right in (False, True)]
    named = []
    for half in halves:
        heads = identity.mastheads(half.lines, float(reading.height_px), known)
        named.append({fold(code) for head in heads for code in (*head.models, *head.chassis)})
    apart = all(named) and not named[0] & named[1]
    return tuple(halves) if apart else ()


def _half(region: Region, middle: float, *, right: bool) -> Region:
    lines: list[Line] = []
    for line in region.lines:
        words = [word for word in line.words if (word.box.middle[0] >= middle) is right]
        if words:
            lines.append(make_line(words))
    return Region(region.page, tuple(lines), region.top, region.bottom)
