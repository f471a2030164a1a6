"""How a page's letters stand, told from its picture: level or on end, upright or on their head.

Only a hint which way to read a page first; the reading decides.
"""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.reading import clean

Gray = NDArray[np.uint8]
Glyphs = NDArray[np.float32]  # a row a letter: its ink (0 to 1) on a grid, row by row

GRID = 8  # a letter is looked at on so many squares each way
_MOST_LETTERS = 300  # looked at; more say no more
_LEAST_HIGH, _WIDTHS = 0.7, (0.3, 1.2)  # of a letter's size; of its height: no dots, no dashes
_MOST_WEIGHT = 2.0  # what a single letter may say
# How much ink in a square of the upper half speaks for a letter that stands upright (times 100);
# the square opposite, turned half round, speaks against it as much. Fitted to letters of drawn
# pages by `python -m tests.accuracy.stance`.
WEIGHTS = (
    -35, 100, -41, 57, -60, 42, -38, -41,
    -1, -60, -48, 42, 61, 16, 20, 26,
    16, 139, 113, 2, -133, -81, -18, 7,
    -42, -51, 64, -60, 150, 142, 5, -133,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stance:
    """How letters stand on a page as filed.

    `level` and `standing` are runs of letters that lie level and that stand on end. `upright` is
    how surely they are the right way up, in standard errors: negative when on their head, near 0
    when nothing tells. On a page whose runs mostly stand it is that of the page turned clockwise
    by a quarter.
    """

    level: int
    standing: int
    upright: float


def stance(copy: Image.Image) -> Stance:
    """How the letters stand on a small grey copy."""
    gray = np.asarray(copy)
    mask, letter_px = clean.letters(gray)
    level, standing = clean.runs_along(mask, letter_px)
    if standing > level:
        gray, mask = (np.ascontiguousarray(np.rot90(one, -1)) for one in (gray, mask))
    halves = halves_apart(glyphs(gray, mask, letter_px))
    return Stance(level, standing, said_by(halves, np.array(WEIGHTS) / 100))


def glyphs(gray: Gray, mask: Gray, letter_px: float) -> Glyphs:
    """The letters of a level picture on their grids, at most a few hundred; `mask` and
    `letter_px` are as `clean.letters` gives them."""
    boxes = cv2.connectedComponentsWithStats(mask, connectivity=8)[2][1:]
    wide, high = boxes[:, cv2.CC_STAT_WIDTH], boxes[:, cv2.CC_STAT_HEIGHT]
    fit = (high >= max(4.0, _LEAST_HIGH * letter_px)) & (wide >= _WIDTHS[0] * high)
    boxes = boxes[fit & (wide <= _WIDTHS[1] * high)]
    if len(boxes) > _MOST_LETTERS:
        boxes = boxes[np.linspace(0, len(boxes) - 1, _MOST_LETTERS).astype(int)]
    found = np.zeros((len(boxes), GRID * GRID), dtype=np.float32)
    for row, (left, top, width, height, _) in zip(found, boxes.tolist(), strict=True):
        letter = gray[top : top + height, left : left + width]
        how = cv2.INTER_AREA if min(width, height) >= GRID else cv2.INTER_LINEAR
        row[:] = cv2.resize(letter, (GRID, GRID), interpolation=how).ravel()
    most, least = found.max(axis=1, keepdims=True), found.min(axis=1, keepdims=True)
    return np.asarray((most - found) / np.maximum(most - least, 1.0), dtype=np.float32)


def halves_apart(letters: Glyphs) -> Glyphs:
    """The upper half of each grid less what the letter turned half round has there."""
    return (letters - letters[:, ::-1])[:, : GRID * GRID // 2]


def said_by(halves: Glyphs, weights: NDArray[np.float64]) -> float:
    """What letters say of being upright, by their `halves_apart`: the mean in standard errors."""
    if len(halves) < 2:
        return 0.0
    said = (halves @ weights).clip(-_MOST_WEIGHT, _MOST_WEIGHT)
    return float(said.mean() / max(1e-6, float(said.std())) * np.sqrt(len(said)))
