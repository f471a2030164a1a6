"""Columns of print and two pages on one scan: where a page is cut before it is read.

Tesseract finds columns by itself when their rows are far apart; when two columns stand close and
their rows don't line up it reads across both and garbles them. Tables, whose rows do line up, are
left whole.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.reading.clean import ink_mask, small_copy

_LEAST_GUTTER = 0.012  # of the page's width
_SPREAD_GUTTER = 0.03  # between two pages on one scan
_MIDDLE = (0.25, 0.75)  # where a gutter may lie, of the print's width
_COLUMN = (0.36, 0.64)  # and one between two columns
_BODY = 0.6  # share of the print's height that a gutter must run through
_SPECKS = 0.004  # share of a gutter's rows that may hold ink all the same
_LEAST_ROWS = 12  # on each side
_ALIGNED = 0.6  # how steadily rows stand to those across, from which it is a table
_SPECK_PX, _LEAST_INK = 2, 30  # of a copy 1000 pixels high
_ROW_PX = 40  # the tallest row of print on such a copy
_OFF_MIDDLE = 0.05  # of the width, how far from the middle the gutter of a spread may lie
_SPREAD = 1.15  # width over height from which a page may be two

Mask = NDArray[np.bool_]
PartBox = tuple[int, int, int, int]  # left, top, right, bottom


@dataclass(frozen=True, slots=True)
class _Gutter:
    left: int
    right: int
    top: int
    bottom: int

    @property
    def middle(self) -> int:
        return (self.left + self.right) // 2


def parts(picture: Image.Image) -> list[PartBox]:
    """Where to cut a level page: boxes (left, top, right, bottom) in pixels, in reading order.

    One box, the whole page, unless a clean gutter parts two columns whose rows don't line up or
    two pages on one scan. What stands above and below the gutter is a part of its own.
    """
    width, height = picture.size
    copy = small_copy(picture)
    scale = width / copy.width
    cut = _cut(ink_mask(np.asarray(copy)), depth=2)
    if len(cut) == 1:
        return [(0, 0, width, height)]
    boxes = [
        [
            min(limit, round(side * scale))
            for side, limit in zip(box, (width, height) * 2, strict=True)
        ]
        for box in cut
    ]
    return [(left, top, right, bottom) for left, top, right, bottom in boxes]


def _cut(ink: Mask, depth: int) -> list[PartBox]:
    """Boxes in reading order, in pixels of the mask; a page of a spread may have columns too."""
    height, width = ink.shape
    gutter = _gutter(ink) if depth else None
    if gutter is None:
        return [(0, 0, width, height)]
    x, top, bottom = gutter.middle, gutter.top, gutter.bottom
    boxes = []
    for left, right in ((0, x), (x, width)):
        inner = _cut(ink[top:bottom, left:right], depth - 1)
        boxes += [(a + left, b + top, c + left, d + top) for a, b, c, d in inner]
    head, foot = (0, 0, width, top), (0, bottom, width, height)
    return [
        *([head] if ink[:top].sum() > _LEAST_INK else []),
        *boxes,
        *([foot] if ink[bottom:].sum() > _LEAST_INK else []),
    ]


def _gutter(ink: Mask) -> _Gutter | None:
    """The gutter of two pages on one scan, else the widest between columns of their own."""
    height, width = ink.shape
    rows, columns = np.flatnonzero(ink.sum(axis=1) > 1), np.flatnonzero(ink.sum(axis=0) > 1)
    if len(rows) < 20 or len(columns) < 20:
        return None
    left, right = (int(np.percentile(columns, share)) for share in (1, 99))
    found, spreads = [], []
    gaps = _gaps(ink, left, right)
    sides = [left, *(side for gap in gaps for side in gap), right]
    for n, (start, end) in enumerate(gaps):
        spread = (
            width >= _SPREAD * height
            and end - start >= _SPREAD_GUTTER * width
            and start < (0.5 + _OFF_MIDDLE) * width
            and end > (0.5 - _OFF_MIDDLE) * width
        )
        if end - start < _LEAST_GUTTER * width:
            continue
        central = _COLUMN[0] <= ((start + end) / 2 - left) / (right - left) <= _COLUMN[1]
        gutter = _full_height(ink, start, end, int(rows[0]), int(rows[-1]))
        if gutter is None:
            continue
        body = ink[gutter.top : gutter.bottom]
        # Only the strips on both sides: further on stands the print of another column.
        ours = _rows(body[:, sides[2 * n] : start])
        theirs = _rows(body[:, end : sides[2 * n + 3]])
        few = min(len(ours), len(theirs)) < _LEAST_ROWS
        if not few and max(_meeting(ours, theirs), _meeting(theirs, ours)) >= _ALIGNED:
            continue
        if spread and gutter.top <= rows[0]:
            spreads.append(gutter)
        elif not few and central and _even(ours) and _even(theirs):
            found.append(gutter)
    return max(spreads or found, key=lambda gutter: gutter.right - gutter.left, default=None)


def _gaps(ink: Mask, left: int, right: int) -> list[tuple[int, int]]:
    """Runs of columns that are empty over most of the page's height; a speck breaks none."""
    span = right - left
    first, last = (left + int(share * span) for share in _MIDDLE)
    height = ink.shape[0]
    body = ink[int(0.2 * height) : int(0.85 * height), first:last]
    empty = body.mean(axis=0) <= _SPECKS
    edges = np.flatnonzero(np.diff(np.concatenate(([0], empty.astype(np.int8), [0]))))
    gaps: list[tuple[int, int]] = []
    for start, end in (first + edges).reshape(-1, 2).tolist():
        if gaps and start - gaps[-1][1] <= _SPECK_PX:
            gaps[-1] = (gaps[-1][0], end)
        else:
            gaps.append((start, end))
    return gaps


def _full_height(ink: Mask, start: int, end: int, first: int, last: int) -> _Gutter | None:
    """The gutter from the heading that crosses it down to the foot; None when it is too short."""
    inner = slice(start + (end - start) // 4, end - (end - start) // 4)
    crossed = np.flatnonzero(ink[:, inner].mean(axis=1) > 0.3)
    middle = (first + last) // 2
    above, below = crossed[crossed < middle], crossed[crossed >= middle]
    top = int(above[-1]) + 3 if len(above) else 0
    bottom = int(below[0]) - 3 if len(below) else ink.shape[0]
    if min(bottom, last) - max(top, first) < _BODY * (last - first):
        return None
    return _Gutter(start, end, top, bottom)


def _rows(side: Mask) -> NDArray[np.float64]:
    """Middles of the printed rows of one side."""
    bands = _bands(side)
    high = bands[:, 1] - bands[:, 0]
    middles: NDArray[np.float64] = bands[(high >= 3) & (high <= _ROW_PX)].mean(axis=1)
    return middles


def _even(rows: NDArray[np.float64]) -> bool:
    """Whether rows follow each other as print does; a drawing's labels come anyhow."""
    steps = np.diff(rows)
    return float(steps.std()) <= 1.5 * float(np.median(steps))


def _bands(side: Mask) -> NDArray[np.int64]:
    """Top and bottom of each band of ink between white."""
    ink = side[:, side.mean(axis=0) < 0.5].sum(axis=1) > 1  # without a scan's black edge
    edges = np.flatnonzero(np.diff(np.concatenate(([0], ink.astype(np.int8), [0]))))
    return edges.reshape(-1, 2)


def _meeting(ours: NDArray[np.float64], theirs: NDArray[np.float64]) -> float:
    """How steadily (0 to 1) our rows stand to those across: 1 when always by the same amount.

    Ditto marks stand higher than the words they repeat, and are in one row with them all the same.
    """
    nearest = theirs[np.abs(ours[:, None] - theirs[None, :]).argmin(axis=1)]
    pitch = float(np.median(np.diff(theirs))) or 1.0
    return float(abs(np.exp(2j * np.pi * (nearest - ours) / pitch).mean()))
