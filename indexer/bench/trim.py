"""The black border that a scanner leaves around a page: found, never cut out of the picture."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.model import PageReading
from indexer.reading.clean import small_copy

LOOK_SIDE_PX = 700
WHOLE = (0.0, 0.0, 1.0, 1.0)
Share = tuple[float, float, float, float]  # left, top, right, bottom, each 0 to 1 of the page

_BLACK = 70  # grey values up to this count as scanner black
_PAPER = 150  # a page whose median is darker is no page of paper, and is left whole
_DARK_SHARE = 0.5  # of a row or column
_WEDGE_SHARE = 0.12  # of the rows just inside: the border of a crooked page is a wedge
_WEDGE_ROWS = 6
_MOST = 0.12  # of a side; anything wider is part of the page


def visible_part(picture: Image.Image, reading: PageReading) -> Share:
    """The page without a black border, as shares of the upright picture.

    A side is left alone where no border is found, where it would be wider than about an eighth
    of the page, and where a word was read in it.
    """
    grey = np.asarray(small_copy(picture, LOOK_SIDE_PX))
    if np.median(grey) < _PAPER:
        return WHOLE
    black = grey <= _BLACK
    height, width = black.shape
    top = _border(black, height)
    bottom = _border(black[::-1], height)
    across = black[top : height - bottom].T
    left = _border(across, width)
    right = _border(across[::-1], width)
    found = (left / width, top / height, 1 - right / width, 1 - bottom / height)
    return _without_words(found, reading)


def _border(rows: NDArray[np.bool_], side: int) -> int:
    """How many rows at the beginning belong to a border."""
    most = int(side * _MOST)
    shares = rows[: most + 2].mean(axis=1)
    dark = shares >= _DARK_SHARE
    if not dark[:3].any():
        return 0
    first_light = len(dark) - int(np.argmax(dark[::-1]))  # just after the last dark row
    inner = dark[:first_light]
    if first_light > most or inner.mean() < 0.8:  # a frame or a rule within the page
        return 0
    wedge = shares[first_light : first_light + _WEDGE_ROWS] >= _WEDGE_SHARE
    return min(first_light + 1 + int(np.cumprod(wedge).sum()), most)


def _without_words(part: Share, reading: PageReading) -> Share:
    left, top, right, bottom = part
    for word in reading.words:
        if word.confidence < 0.5 or sum(c.isalnum() for c in word.text) < 2:
            continue
        x, y = word.box.middle
        x, y = x / reading.width_px, y / reading.height_px
        left = 0.0 if x < left else left
        top = 0.0 if y < top else top
        right = 1.0 if x > right else right
        bottom = 1.0 if y > bottom else bottom
    return left, top, right, bottom
