"""Dot leaders taken out of a picture: rows of dots between a name and what stands opposite.

Tesseract reads such a row as one long word of rubbish and loses what stands before it.
"""

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.reading.clean import in_grey

Gray = NDArray[np.uint8]

_DARK = 0.82  # ink is darker than this share of its surroundings' mean
_DOT = 0.46  # largest side of a dot, of a letter's height
_GAPS = (0.2, 2.4)  # from dot to dot, of a letter's height
_LEVEL = 0.22  # how far the next dot may lie above or below, of a letter's height
_LEAST_DOTS = 6
_PAPER_CELL_PX = 8  # the paper's tone changes slowly: a value a square of this side will do
_EVEN = 0.3  # spread of the gaps, of their median
_MOST_SPECKS = 25_000  # more is a halftone or noise, not print
_NO_DOT = 0.4  # of a capital's height: what is lower is a dot, not a letter
_LETTER_PX = (7, 200)
_SMALL_LETTER_PX, _SMALL_SIDE_PX = 4, 1_400  # on pictures as small as that
_HALVED_SIDE_PX = 3_000  # from here on half the pixels each way show dots as well


def without_leaders(picture: Image.Image) -> tuple[Image.Image, float]:
    """The grey picture without its rows of six or more even dots, the same one if it has none;
    and the usual height in pixels of its small letters, 0 when there are hardly any."""
    gray = np.asarray(in_grey(picture))
    step = 2 if max(gray.shape) >= _HALVED_SIDE_PX else 1
    size = (gray.shape[1] // step, gray.shape[0] // step)
    seen = gray
    if step > 1:
        seen = np.asarray(cv2.resize(gray, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    ink = _ink(seen)
    dots, letter_px = _specks(ink, step)
    if not letter_px or not _LEAST_DOTS <= len(dots) <= _MOST_SPECKS:
        return picture, step * letter_px
    chained = [n for chain in _chains(dots, letter_px) for n in chain]
    if not chained:
        return picture, step * letter_px
    clean = gray.copy()
    tone = _Paper(seen, ink, 2 * int(letter_px) + 1)
    for left, top, width, height in dots[chained][:, :4].astype(int):
        paper = tone.at(left + width // 2, top + height // 2)
        left, top, right, bottom = (step * side for side in (left, top, left + width, top + height))
        where = np.s_[max(0, top - 2) : bottom + 2, max(0, left - 2) : right + 2]
        clean[where] = np.maximum(clean[where], paper)
    return Image.fromarray(clean), step * letter_px


def letter_height_px(picture: Image.Image) -> float:
    """The usual height of a picture's small letters, 0 when there are hardly any."""
    return _specks(_ink(np.asarray(in_grey(picture))))[1]


def _ink(gray: Gray) -> Gray:
    """255 where a pixel is darker than its surroundings, else 0."""
    window = max(31, min(gray.shape) // 25) | 1
    around = cv2.convertScaleAbs(cv2.blur(gray, (window, window)), alpha=_DARK)
    return np.asarray(cv2.compare(gray, around, cv2.CMP_LT), dtype=np.uint8)


class _Paper:
    """The tone of the paper around a place: the mean of what is not ink, kept on a small grid."""

    def __init__(self, gray: Gray, ink: Gray, window: int) -> None:
        bare = cv2.bitwise_not(cv2.dilate(ink, np.ones((3, 3), np.uint8)))
        height, width = gray.shape
        size = (max(1, width // _PAPER_CELL_PX), max(1, height // _PAPER_CELL_PX))
        around = (max(1, window // _PAPER_CELL_PX),) * 2
        tones, shares = (
            cv2.blur(
                cv2.resize(part, size, interpolation=cv2.INTER_AREA).astype(np.float32), around
            )
            for part in (cv2.bitwise_and(gray, bare), bare)
        )
        paper = np.where(shares > 0.05 * 255, tones * 255 / np.maximum(shares, 0.05 * 255), 255)
        self._paper = paper.clip(0, 255).astype(np.uint8)

    def at(self, x: int, y: int) -> int:
        """The tone (0 to 255) around a place in pixels of the picture."""
        rows, columns = self._paper.shape
        row, column = min(y // _PAPER_CELL_PX, rows - 1), min(x // _PAPER_CELL_PX, columns - 1)
        return int(self._paper[row, column])


def _specks(ink: Gray, step: int = 1) -> tuple[NDArray[np.float64], float]:
    """Small blobs as rows of (left, top, width, height, middle x, middle y), and the height in
    pixels of the page's letters, 0 when there are none. `step` is how many times smaller the
    picture was made."""
    count, _, stats, middles = cv2.connectedComponentsWithStatsWithAlgorithm(
        ink, 8, cv2.CV_32S, cv2.CCL_BBDT
    )
    if count < 2:
        return np.zeros((0, 6)), 0.0
    boxes, middles = stats[1:, :4].astype(np.float64), middles[1:]
    heights = boxes[:, 3]
    small = step > 1 or max(ink.shape) <= _SMALL_SIDE_PX
    least = _SMALL_LETTER_PX if small else _LETTER_PX[0]
    letters = heights[
        (heights >= least) & (heights <= _LETTER_PX[1]) & (boxes[:, 2] <= 2 * heights)
    ]
    if len(letters) < 20:
        return np.zeros((0, 6)), 0.0
    tall = float(np.percentile(letters, 90))  # dots of leaders may outnumber the letters
    letter_px = float(np.median(letters[letters >= _NO_DOT * tall]))
    most = max(3.0, _DOT * letter_px)
    small = (boxes[:, 2] <= most) & (heights <= most) & (stats[1:, 4] >= 2)
    return np.hstack([boxes[small], middles[small]]), letter_px


def _chains(dots: NDArray[np.float64], letter_px: float) -> list[list[int]]:
    """Runs of dots at even distances on one level."""
    order = np.argsort(dots[:, 4])
    rows: dict[int, list[int]] = {}  # open ends of chains by height, so that few are compared
    cell = max(1.0, _LEVEL * letter_px)
    chains: list[list[int]] = []
    ends: dict[int, int] = {}
    for n in order:
        x, y = dots[n, 4], dots[n, 5]
        row = int(y // cell)
        best, best_gap = -1, _GAPS[1] * letter_px
        for end in (e for k in (row - 1, row, row + 1) for e in rows.get(k, ())):
            gap = x - dots[end, 4]
            if _GAPS[0] * letter_px <= gap < best_gap and abs(y - dots[end, 5]) <= cell:
                best, best_gap = end, gap
        if best < 0:
            chains.append([int(n)])
            ends[int(n)] = len(chains) - 1
        else:
            chain = ends.pop(best)
            rows[int(dots[best, 5] // cell)].remove(best)
            chains[chain].append(int(n))
            ends[int(n)] = chain
        rows.setdefault(row, []).append(int(n))
        if len(rows[row]) > 12:  # ends far behind can't be met again
            ends.pop(rows[row].pop(0), None)
    return [chain for chain in chains if _even(dots[chain, 4])]


def _even(places_px: NDArray[np.float64]) -> bool:
    if len(places_px) < _LEAST_DOTS:
        return False
    gaps = np.diff(places_px)
    middle = float(np.median(gaps))
    return float(np.median(np.abs(gaps - middle))) <= _EVEN * middle
