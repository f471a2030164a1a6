"""The second reader: RapidOCR on ONNX, for drawings, photos and pages the first can't settle.

It looks for text over the whole page but recognises only what the first reader hasn't read for
sure: recognising is the costly part.
"""

import logging
from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.errors import PageError
from indexer.model import Box, Word
from indexer.reading.repair import is_known_tube

_FIND_SIDE_PX = 2_000  # text is searched at this size; crops are taken at full size
_SURE_ENOUGH = 0.5  # of the engine's own score, for a piece to be kept
_FIRST_IS_SURE = 0.85
_COVERED = 0.6  # share of a piece's length that the first reader's sure words must fill
_TALL = 1.5  # height over width from which a piece is taken as sideways text

Pieces = NDArray[np.float32]  # n x 4 corners x (x, y), pixels


@cache
def _engine() -> Any:
    """One reader a process; loading takes about a second."""
    from rapidocr import RapidOCR

    logging.getLogger("RapidOCR").setLevel(logging.ERROR)
    return RapidOCR(
        params={
            "Global.log_level": "error",
            "Global.max_side_len": _FIND_SIDE_PX,
            "EngineConfig.onnxruntime.intra_op_num_threads": 1,
            "EngineConfig.onnxruntime.inter_op_num_threads": 1,
        }
    )


def read(picture: Image.Image, already: Sequence[Word] = ()) -> tuple[Word, ...]:
    """The words found on an upright picture that `already` does not hold for sure.

    Boxes are in the picture's pixels; each piece of text is a line of its own, top to bottom.
    Raises PageError when the engine fails.
    """
    pixels = np.ascontiguousarray(np.asarray(picture.convert("RGB"))[:, :, ::-1])
    try:
        found = _engine()(pixels, use_det=True, use_cls=False, use_rec=False).boxes
        if found is None or not len(found):
            return ()
        pieces = np.asarray(found, dtype=np.float32)
        pieces = pieces[[not _covered(_box(corners), already) for corners in pieces]]
        texts = _recognise(pixels, pieces)
    except Exception as error:  # the engine raises whatever its libraries raise
        raise PageError(f"The second reader gave up on the page ({error}).") from error
    kept = [
        (_box(corners), text, score)
        for corners, (text, score) in zip(pieces, texts, strict=True)
        if score >= _SURE_ENOUGH and text.strip()
    ]
    kept.sort(key=lambda piece: (piece[0].top // 20, piece[0].left))
    return tuple(
        word
        for line, (box, text, score) in enumerate(kept)
        for word in _split(text, box, score, line)
    )


def _recognise(pixels: NDArray[np.uint8], pieces: Pieces) -> list[tuple[str, float]]:
    """(text, score) of each piece; sideways pieces are tried both ways and the surer one kept."""
    if not len(pieces):
        return []
    engine = _engine()
    crops = engine.crop_text_regions(pixels, pieces)  # tall ones come turned by a quarter
    tall = [i for i, corners in enumerate(pieces) if _is_tall(_box(corners))]
    turned = [np.ascontiguousarray(np.rot90(crops[i], 2)) for i in tall]
    said = engine.recognize_txt([*crops, *turned])
    texts = list(zip(said.txts, (float(score) for score in said.scores), strict=True))
    for i, other in zip(tall, texts[len(crops) :], strict=True):
        texts[i] = max(texts[i], other, key=lambda item: item[1])
    return texts[: len(crops)]


def _covered(box: Box, words: Sequence[Word]) -> bool:
    """Whether sure words of the first reader fill the piece."""
    if _is_tall(box):
        return False
    filled = 0.0
    for word in words:
        if box.top <= word.box.middle[1] <= box.bottom and _sure(word):
            filled += max(0.0, min(box.right, word.box.right) - max(box.left, word.box.left))
    return filled >= _COVERED * max(1.0, box.width)


def _sure(word: Word) -> bool:
    if any(character.isdigit() for character in word.text):
        return is_known_tube(word.text) and not word.why and word.confidence >= 0.6
    return word.confidence >= _FIRST_IS_SURE


def _is_tall(box: Box) -> bool:
    return box.height >= _TALL * box.width


def _box(corners: NDArray[np.float32]) -> Box:
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    return Box(float(left), float(top), float(right), float(bottom))


def _split(text: str, box: Box, score: float, line: int) -> list[Word]:
    """The words of one piece of text, each given its share of the piece's longer side."""
    upright = not _is_tall(box)
    side = box.width if upright else box.height
    words, position = [], 0
    for part in text.split():
        position = text.index(part, position)
        start, end = (side * n / len(text) for n in (position, position + len(part)))
        if upright:
            share = Box(box.left + start, box.top, box.left + end, box.bottom)
        else:
            share = Box(box.left, box.top + start, box.right, box.top + end)
        words.append(Word(part, share, score, line))
        position += len(part)
    return words
