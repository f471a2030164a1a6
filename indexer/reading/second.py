"""The second reader: RapidOCR on ONNX, for drawings, photos and pages the first can't settle.

On a drawing or photo it looks for text over the whole page but recognises only what the first
reader hasn't read for sure: recognising is the costly part. On a page of print it looks for
nothing and recognises the first reader's own words again, those that hold figures or are unsure.
"""

import logging
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.errors import PageError
from indexer.model import Box, Word
from indexer.reading.leaders import letter_height_px
from indexer.reading.pieces import Pieces, cut_at_gaps
from indexer.reading.repair import is_known_tube
from indexer.trade.numbering import look_alikes

_FIND_SIDE_PX = 2_000  # text is searched at no larger size; crops are taken at full size
_FIND_LEAST_PX, _FIND_LETTER_PX = 1_100, 10.0  # nor at less, unless the letters are higher still
_LEAST_WIDTH_PX = 112  # of a piece 48 high: a third of the engine's own; labels are no wider
_SURE_ENOUGH = 0.5  # of the engine's own score, for a piece to be kept
_SURE_OF_NEW = 0.8  # for a piece where the first reader saw nothing
_FIRST_IS_SURE = 0.85
_COVERED = 0.6  # share of a piece's length that the first reader's sure words must fill
_EDGE_SHARE = 0.2  # of a word's height, left around it when it is recognised again
# Confidence below which a word is asked about again.
_UNSURE_FIGURES, _UNSURE_CAPITALS, _UNSURE_WORD = 0.8, 0.9, 0.6
_LONGEST_CODE = 8
_CLOSE = 0.36  # of a word's height, a gap narrower than a blank
_TALL = 1.5  # height over width from which a piece is taken as sideways text


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
            "EngineConfig.onnxruntime.enable_cpu_mem_arena": True,  # a tenth of the time
            "Rec.rec_img_shape": [3, 48, _LEAST_WIDTH_PX],
        }
    )


def read(picture: Image.Image, already: Sequence[Word] = ()) -> tuple[Word, ...]:
    """The words found on an upright picture that `already` does not hold for sure.

    Boxes are in the picture's pixels; each piece of text is a line of its own, top to bottom.
    Raises PageError when the engine fails.
    """
    pixels = _pixels(picture)
    try:
        pieces = cut_at_gaps(pixels[:, :, 1], _find(picture, pixels))
        pieces = pieces[[not _covered(_box(corners), already) for corners in pieces]]
        texts = _recognise(pixels, pieces)
    except Exception as error:  # the engine raises whatever its libraries raise
        raise PageError(f"The second reader gave up on the page ({error}).") from error
    kept = [
        (_box(corners), *said)
        for corners, said in zip(pieces, texts, strict=True)
        if said[1] >= _SURE_ENOUGH and said[0].strip()
    ]
    kept.sort(key=lambda piece: (piece[0].top // 20, piece[0].left))
    return tuple(
        word
        for line, (box, text, score, upward) in enumerate(kept)
        for word in _split(text, box, score, line, upward)
    )


def _find(picture: Image.Image, pixels: NDArray[np.uint8]) -> Pieces:
    """Where there is text, sought at a size at which letters are just high enough: searching is
    half of the work, and costs by the area."""
    longest = max(picture.size)
    letter_px = letter_height_px(picture)
    wanted_px = longest * _FIND_LETTER_PX / letter_px if letter_px else _FIND_SIDE_PX
    side_px = min(longest, _FIND_SIDE_PX, max(_FIND_LEAST_PX, wanted_px))
    scale = side_px / longest
    if scale < 1:
        size = (round(picture.width * scale), round(picture.height * scale))
        small = cv2.resize(pixels, size, interpolation=cv2.INTER_AREA)
        pixels = np.asarray(small, dtype=np.uint8)
    found = _engine()(pixels, use_det=True, use_cls=False, use_rec=False).boxes
    if found is None or not len(found):
        return np.zeros((0, 4, 2), dtype=np.float32)
    return np.asarray(found, dtype=np.float32) / np.float32(scale)


def reread(picture: Image.Image, words: Sequence[Word]) -> tuple[Word, ...]:
    """Those of the first reader's words that hold figures or are unsure, recognised once more.

    Each keeps its place; one that turns out to be two becomes two. Raises PageError when the
    engine fails.
    """
    asked = [word for word in _together(words) if worth_rereading(word)]
    return tuple(
        part
        for word, text, score in _recognised(picture, asked)
        for part in _split(
            text if " " in word.text else _one_code(text), word.box, score, word.line
        )
    )


def recognise(picture: Image.Image, boxes: Sequence[Box]) -> tuple[Word, ...]:
    """What stands in places where no reader has read a word, each place a line of its own.

    Raises PageError when the engine fails.
    """
    places = [Word("", box, 0.0, line) for line, box in enumerate(boxes)]
    return tuple(
        part
        for word, text, score in _recognised(picture, places)
        if score >= _SURE_OF_NEW and any(character.isalnum() for character in text)
        for part in _split(text, word.box, score, word.line)
    )


def _recognised(picture: Image.Image, asked: Sequence[Word]) -> list[tuple[Word, str, float]]:
    """(word, text, score) of the words whose places hold something legible."""
    if not asked:
        return []
    pixels = _pixels(picture)
    height, width = pixels.shape[:2]
    crops = []
    for word in asked:
        box, edge = word.box, _EDGE_SHARE * word.box.height
        top, bottom = max(0, int(box.top - edge)), min(height, int(box.bottom + edge) + 1)
        left, right = max(0, int(box.left - edge)), min(width, int(box.right + edge) + 1)
        crops.append(pixels[top:bottom, left:right])
    try:
        said = _engine().recognize_txt(crops)
    except Exception as error:  # the engine raises whatever its libraries raise
        raise PageError(f"The second reader gave up on the page ({error}).") from error
    return [
        (word, text, float(score))
        for word, text, score in zip(asked, said.txts, said.scores, strict=True)
        if score >= _SURE_ENOUGH and text.strip()
    ]


def _together(words: Sequence[Word]) -> list[Word]:
    """The words, but unsure short ones that stand closer than words do as one: `4M` and `16`."""
    joined: list[Word] = []
    for word in words:
        before = joined[-1] if joined else None
        if (
            before is not None
            and before.line == word.line
            and len(before.text) <= _LONGEST_CODE >= len(word.text)
            and min(before.confidence, word.confidence) < _UNSURE_FIGURES
            and 0 <= word.box.left - before.box.right <= _CLOSE * word.box.height
        ):
            joined[-1] = replace(
                before,
                text=f"{before.text} {word.text}",
                box=before.box.union(word.box),
                confidence=min(before.confidence, word.confidence),
            )
        else:
            joined.append(word)
    return joined


def _one_code(text: str) -> str:
    """A code that was recognised in two pieces, as one: the first reader saw it as one word.

    Symbols, halves and types stay apart: those do run together.
    """
    parts = text.split()
    if len(parts) != 2 or not re.fullmatch(r"[A-Z0-9./-]+", "".join(parts)):
        return text
    apart = any(is_known_tube(part) for part in parts) or re.fullmatch(r"V\d+|1/2|CH\.", parts[0])
    return text if apart or not re.search(r"\d", text) else "".join(parts)


def worth_rereading(word: Word) -> bool:
    """Whether a word of print may be a type, a code or a value, or was read unsurely."""
    text, box = word.text.strip(".,;:()\"'"), word.box
    if not text or box.height < 6 or box.width < 5 or box.width > 40 * box.height:
        return False
    if _is_tall(box) and len(text) > 1:
        return False
    figures = sum(character.isdigit() for character in text)
    if figures and len(text) >= (3 if figures < len(text) else 4):
        return True
    if text.isupper() and len(text) <= _LONGEST_CODE:
        return word.confidence < _UNSURE_CAPITALS or _like_type(text)
    return word.confidence < (_UNSURE_FIGURES if figures else _UNSURE_WORD)


def _like_type(text: str) -> bool:
    """Whether capitals look like a type with figures: IPS like 1P5."""
    return any(cost <= 0.8 for _, cost in look_alikes(text, 1)) and len(text) >= 3


def _pixels(picture: Image.Image) -> NDArray[np.uint8]:
    return np.ascontiguousarray(np.asarray(picture.convert("RGB"))[:, :, ::-1])


def _recognise(pixels: NDArray[np.uint8], pieces: Pieces) -> list[tuple[str, float, bool]]:
    """(text, score, whether it reads upward) of each piece; sideways pieces are tried both ways
    and the surer one kept."""
    if not len(pieces):
        return []
    engine = _engine()
    crops = engine.crop_text_regions(pixels, pieces)  # tall ones come turned by a quarter
    tall = [i for i, corners in enumerate(pieces) if _is_tall(_box(corners))]
    turned = [np.ascontiguousarray(np.rot90(crops[i], 2)) for i in tall]
    said = engine.recognize_txt([*crops, *turned])
    texts = [
        (text, float(score), False) for text, score in zip(said.txts, said.scores, strict=True)
    ]
    for i, (text, score, _) in zip(tall, texts[len(crops) :], strict=True):
        texts[i] = max(texts[i], (text, score, True), key=lambda item: item[1])
    return texts[: len(crops)]


def _covered(box: Box, words: Sequence[Word]) -> bool:
    """Whether sure words of the first reader fill the piece."""
    if _is_tall(box):
        return False
    filled = 0.0
    for word in words:
        shared = min(box.right, word.box.right) - max(box.left, word.box.left)
        if shared <= 0 or not box.top <= word.box.middle[1] <= box.bottom:
            continue
        if _sure(word):
            filled += shared
        elif any(character.isdigit() for character in word.text):
            return False
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


def _split(text: str, box: Box, score: float, line: int, upward: bool = False) -> list[Word]:
    """The words of one piece of text, each given its share of the piece's longer side."""
    upright = not _is_tall(box)
    side = box.width if upright else box.height
    words, position = [], 0
    for part in text.split():
        position = text.index(part, position)
        start, end = (side * n / len(text) for n in (position, position + len(part)))
        if upright:
            share = Box(box.left + start, box.top, box.left + end, box.bottom)
        elif upward:
            share = Box(box.left, box.bottom - end, box.right, box.bottom - start)
        else:
            share = Box(box.left, box.top + start, box.right, box.top + end)
        words.append(Word(part, share, score, line))
        position += len(part)
    return words
