"""Print that the first reader passed over: a narrow column of figures, a number out in the margin.

Lettering that no word covers and that stands in the row of words already read is shown to the
second reader; specks and strokes of other sizes are not.
"""

from collections.abc import Sequence
from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.model import Box, Word
from indexer.reading import clean

_LETTER_PX = 14.0  # height to which letters are brought: less says too little, more costs time
_HEIGHTS, _WIDEST = (0.75, 1.7), 2.6  # of a letter's usual height: a letter or figure
_GAP = 0.7  # of it, between letters of one word
_LONGEST = 25  # letters wide: more is no word
_EDGE = 0.25  # of a word's height, around it, that belongs to it
_IN_ROW = 0.35  # of a word's height: how far off its middle another one of its row stands
_MOST = 60  # on a page; more is a picture or dirt
_LOST_END, _CLOSE = 2, 0.3  # letters; of a letter's height: closer than a blank
_LEAST_WORDS, _SURE = 20, 0.7  # words a page is known by; confidence of those


def unseen(picture: Image.Image, words: Sequence[Word]) -> list[Box]:
    """Where an upright page holds lettering that none of its words covers, in pixels of it; empty
    when it holds so much that it must be something else."""
    sure = [word.box for word in words if word.confidence >= _SURE and len(word.text) > 1]
    if len(sure) < _LEAST_WORDS:
        return []
    usual_px = float(np.median([box.height for box in sure]))
    scale = min(1.0, _LETTER_PX / usual_px)
    size = (round(picture.width * scale), round(picture.height * scale))
    gray = np.asarray(clean.in_grey(picture).resize(size, Image.Resampling.BOX), dtype=np.uint8)
    height = usual_px * scale
    mask = _letters(clean.ink_mask(gray).astype(np.uint8), height)
    for word in words:
        edge = _EDGE * min(word.box.height, 2 * usual_px)
        box = Box(*(side * scale for side in (
            word.box.left - edge, word.box.top - edge, word.box.right + edge, word.box.bottom + edge
        )))  # fmt: skip
        top, left = max(0, int(box.top)), max(0, int(box.left))
        mask[top : int(box.bottom) + 1, left : int(box.right) + 1] = 0
    middles = np.sort([box.middle[1] for box in sure])
    found = [
        Box(*(side / scale for side in (left, top, left + width, top + tall)))
        for left, top, width, tall in _runs(mask, height)
    ]
    found = [box for box in found if _in_a_row(box, middles, usual_px)]
    return found if len(found) <= _MOST else []


def _letters(ink: NDArray[np.uint8], height: float) -> NDArray[np.uint8]:
    """The blobs of a letter's size, as a mask."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    tall, wide = stats[:, cv2.CC_STAT_HEIGHT], stats[:, cv2.CC_STAT_WIDTH]
    fit = (tall >= 0.55 * height) & (tall <= _HEIGHTS[1] * height) & (wide <= _WIDEST * height)
    fit[0] = False  # the paper
    return np.asarray(fit[labels], dtype=np.uint8)


def _runs(mask: NDArray[np.uint8], height: float) -> list[tuple[int, int, int, int]]:
    """(left, top, width, height) of the words that the letters of a mask make."""
    gap = max(2, round(_GAP * height))
    joined = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, np.ones((1, gap), np.uint8))
    stats = cv2.connectedComponentsWithStats(joined, connectivity=8)[2][1:, :4]
    low, high = (share * height for share in _HEIGHTS)
    return [
        (left, top, width, tall)
        for left, top, width, tall in stats.tolist()
        if low <= tall <= high and width <= _LONGEST * height
    ]


def _in_a_row(box: Box, middles: NDArray[np.float64], height: float) -> bool:
    """Whether words already read stand on a level with a place."""
    at = int(np.searchsorted(middles, box.middle[1]))
    near = middles[max(0, at - 1) : at + 1]
    return bool(len(near)) and float(np.abs(near - box.middle[1]).min()) <= _IN_ROW * height


def joined_on(new: Sequence[Word], words: Sequence[Word]) -> tuple[Word, ...]:
    """The new words, each as one with the word already read that it is the lost end of: C before
    12 is C12."""
    return tuple(_joined(word, words) for word in new)


def _joined(word: Word, words: Sequence[Word]) -> Word:
    for other in words:
        height = min(word.box.height, other.box.height)
        level = abs(word.box.middle[1] - other.box.middle[1]) <= _IN_ROW * other.box.height
        if len(word.text) > _LOST_END or not level:
            continue
        if abs(other.box.left - word.box.right) <= _CLOSE * height:
            return replace(word, text=word.text + other.text, box=word.box.union(other.box))
        if abs(word.box.left - other.box.right) <= _CLOSE * height:
            return replace(word, text=other.text + word.text, box=word.box.union(other.box))
    return word
