"""Which way up a page is read: as filed unless another way is clearly better, tried both ways."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from statistics import fmean

from PIL import Image

from indexer.model import PageReading, Word
from indexer.reading import clean, tesseract

_UNSURE = 0.62  # mean confidence below which a page is doubtful
_FEW_WORDS = 10
_COPY_SIDE_PX = 1_600  # other ways up are tried on a copy of this size
_COPY_DPI = 170
_TURN_GAIN = 1.5  # how much better another way up must read before the page is turned
_TURN_LETTERS = 25  # sure letters needed before a page is turned
_UPRIGHT_LETTERS = 0.6  # sure letters a word; pages the wrong way up have at most 0.35
_SIDEWAYS = 0.7  # share of sure words that stand tall
_TALL = 1.3  # height over width of a word that stands on its end

ReadWay = Callable[[int], PageReading]


def read_way_up(read: ReadWay, picture: Image.Image) -> PageReading:
    """The reading of the page turned upright; `read` reads it turned clockwise by some degrees.

    A page that reads well as filed is left so. Lines that run down the page Tesseract reads as
    they stand: then the page is turned if its words lie level and read well afterwards. Else
    the other ways up are tried on a small copy, and the page is turned when one has half as many
    sure letters again and the turned page, read in full, bears it out.
    """
    filed = read(0)
    letters = sure_letters(filed.words)
    if _stands_on_end(filed.words):
        ways = (270, 90) if not doubtful(filed) or _plain(filed) else (90, 270)
        for clockwise_deg in ways:
            turned = read(clockwise_deg)
            if _plain(turned) and not _stands_on_end(turned.words):
                return turned
        return replace(filed, rotation_sure=False)
    if not doubtful(filed) or _plain(filed):
        return filed
    clockwise_deg = _better_way(picture, letters)
    if clockwise_deg:
        turned = read(clockwise_deg)
        if sure_letters(turned.words) >= max(_TURN_LETTERS, _TURN_GAIN * letters):
            return turned
    return replace(filed, rotation_sure=letters >= _TURN_LETTERS and not clockwise_deg)


def doubtful(reading: PageReading) -> bool:
    """Whether a page was read badly, or hardly anything on it."""
    return reading.confidence < _UNSURE or len(reading.words) < _FEW_WORDS


def _plain(reading: PageReading) -> bool:
    """Whether so much was read surely that the page can't be upside down."""
    letters = sure_letters(reading.words)
    return letters >= max(_TURN_LETTERS, _UPRIGHT_LETTERS * len(reading.words))


def sure_letters(words: Sequence[Word]) -> int:
    """Letters and digits in words of three or more that were read with confidence."""
    return sum(len(word.text) for word in words if _sure(word))


def _better_way(picture: Image.Image, letters: int) -> int:
    """The clockwise turn that reads clearly better than as filed; 0 when none does."""
    copy = clean.small_copy(picture, _COPY_SIDE_PX)
    best, most = 0, max(_TURN_LETTERS, _TURN_GAIN * letters)
    for way in (180, 90, 270):
        turned = clean.turn(copy, way)
        found = sure_letters(tesseract.read(turned, layout=tesseract.SPARSE, dpi=_COPY_DPI))
        if found >= most:
            best, most = way, found
            if found >= 2 * _TURN_GAIN * max(letters, _TURN_LETTERS):
                break
    return best


def _stands_on_end(words: Sequence[Word]) -> bool:
    """Whether nearly all sure words are taller than wide."""
    tall = [word.box.height >= _TALL * word.box.width for word in words if _sure(word)]
    return len(tall) >= 6 and fmean(tall) >= _SIDEWAYS


def _sure(word: Word) -> bool:
    return word.confidence >= 0.7 and sum(c.isalnum() for c in word.text) >= 3
