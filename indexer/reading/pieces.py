"""Pieces of text as the second reader finds them, cut where a row of dots or a wide blank is.

It takes a model and the page opposite for one piece; read so, the dots become signs, and where
each word stands can only be reckoned.
"""

import cv2
import numpy as np
from numpy.typing import NDArray

Pieces = NDArray[np.float32]  # n x 4 corners x (x, y), clockwise from the top left, pixels

_WIDE = 6.0  # times as wide as high: less holds no two cells
_GAP = 1.1  # of a piece's height, without letters: more than any blank between words
_LETTER = 0.3  # of a piece's height: lower blobs are dots
_EDGE = 0.25  # of a piece's height, left at either side of a part
_INK = 0.75  # of the paper's tone


def cut_at_gaps(gray: NDArray[np.uint8], pieces: Pieces) -> Pieces:
    """The pieces in their order, wide ones as the parts that their gaps leave."""
    parts: list[NDArray[np.float32]] = []
    for corners in pieces:
        (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
        if right - left < _WIDE * (bottom - top):
            parts.append(corners)
            continue
        rows = slice(max(0, int(top)), int(bottom) + 1)
        crop = gray[rows, max(0, int(left)) : int(right) + 1]
        parts += [_part(corners, start, end) for start, end in _filled(crop)] or [corners]
    return np.stack(parts) if parts else pieces


def _filled(crop: NDArray[np.uint8]) -> list[tuple[float, float]]:
    """From where to where (0 to 1 of its width) a piece holds letters, without wide gaps."""
    height, width = crop.shape
    paper = float(np.percentile(crop, 80))
    ink = np.asarray(crop < _INK * paper, dtype=np.uint8)
    stats = cv2.connectedComponentsWithStats(ink, connectivity=8)[2][1:]
    tall = stats[:, cv2.CC_STAT_HEIGHT] >= _LETTER * height
    spans = sorted(
        (int(left), int(left + wide))
        for left, wide in stats[tall][:, [cv2.CC_STAT_LEFT, cv2.CC_STAT_WIDTH]]
        if wide < 3 * height
    )
    parts: list[list[int]] = []
    for start, end in spans:
        if parts and start - parts[-1][1] <= _GAP * height:
            parts[-1][1] = max(parts[-1][1], end)
        else:
            parts.append([start, end])
    edge = _EDGE * height
    return [(max(0.0, s - edge) / width, min(width, e + edge) / width) for s, e in parts]


def _part(corners: NDArray[np.float32], start: float, end: float) -> NDArray[np.float32]:
    """The corners of a stretch of a piece along its upper and lower side."""
    above, below = corners[1] - corners[0], corners[2] - corners[3]
    return np.array(
        [
            corners[0] + start * above,
            corners[0] + end * above,
            corners[3] + end * below,
            corners[3] + start * below,
        ],
        dtype=np.float32,
    )
