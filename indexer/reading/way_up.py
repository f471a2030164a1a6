"""Which way up a page is read: as filed unless another way is clearly better, tried both ways."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from statistics import fmean

import numpy as np
from PIL import Image

from indexer.model import PageReading, Word
from indexer.reading import clean, tesseract
from indexer.reading.stance import Stance, stance

_UNSURE = 0.62  # mean confidence below which a page is doubtful
_FEW_WORDS = 10
_COPY_SIDE_PX = 1_600  # other ways up are tried on a copy of this size
_COPY_DPI = 170
_TURN_GAIN = 1.5  # how much better another way up must read before the page is turned
_TURN_LETTERS = 25  # sure letters needed before a page is turned
_UPRIGHT_LETTERS = 0.6  # sure letters a word; pages the wrong way up have at most 0.35
_SURELY_UPRIGHT = 1.0  # typed capitals upside down have been seen with 0.65
_FEW_LETTERS = 20  # enough when the run of the letters speaks for the turn too
_LEAST_RUNS, _MANY_TIMES = 8, 2.0  # runs one way, and how often those the other, to be sure
_BAND_SHARE, _BAND_LETTERS = 0.12, 12  # of a sideways page's height; sure letters wanted of it
_LIKELY_UP, _SURELY_UP = 2.5, 4.0  # standard errors: to read so first; to try no other way
_SIDEWAYS = 0.7  # share of sure words that stand tall
_TALL = 1.3  # height over width of a word that stands on its end

ReadWay = Callable[[int], PageReading]


def read_way_up(read: ReadWay, picture: Image.Image, stood: Stance | None = None) -> PageReading:
    """The reading of the page turned upright; `read` reads it turned clockwise by some degrees.
    `stood` is how its letters stand, when that is known already.

    A page whose letters stand in columns is read turned to the side on which they look upright, or
    a band of it reads better, if its words lie level and read well so. One whose letters look
    upside down is read turned half round first, and left so if it reads well. Any other is read as
    filed, and left so when it reads well. Lines that run down the page Tesseract reads as they
    stand: then the page is turned if its words lie level and read well afterwards. Else the other
    ways up are tried on a small copy, but for those that the letters speak against, and the page
    is turned when one has half as many sure letters again and the turned page, read in full, bears
    it out.
    """
    read = cache(read)
    stood = stood or stance(clean.small_copy(picture))
    level, standing = stood.level, stood.standing
    for likely in _likely_turns(stood, picture):
        turned = read(likely)
        if _plain(turned, _FEW_LETTERS) and not _stands_on_end(turned.words):
            return turned
    filed = read(0)
    letters = sure_letters(filed.words)
    if _stands_on_end(filed.words):
        ways = (270, 90) if not doubtful(filed) or _plain(filed) else (90, 270)
        for clockwise_deg in ways:
            turned = read(clockwise_deg)
            if _plain(turned) and not _stands_on_end(turned.words):
                return turned
        return replace(filed, rotation_sure=False)
    if not doubtful(filed) or letters >= max(_TURN_LETTERS, _SURELY_UPRIGHT * len(filed.words)):
        return filed
    surely_level = level >= max(_LEAST_RUNS, _MANY_TIMES * standing)
    others: Sequence[int] = (180,) if surely_level else (180, 90, 270)
    if surely_level and stood.upright >= _SURELY_UP:
        others = ()
    least = _FEW_LETTERS if surely_level else _TURN_LETTERS
    clockwise_deg = _better_way(picture, letters, others, least)
    if clockwise_deg:
        turned = read(clockwise_deg)
        if sure_letters(turned.words) >= max(least, _TURN_GAIN * letters):
            return turned
    return replace(filed, rotation_sure=letters >= _TURN_LETTERS and not clockwise_deg)


def _likely_turns(stood: Stance, picture: Image.Image) -> Iterator[int]:
    """Turns to read a page by before it is read as filed, the likelier first."""
    if stood.standing >= max(_LEAST_RUNS, _MANY_TIMES * stood.level):
        if abs(stood.upright) >= _LIKELY_UP:
            yield 90 if stood.upright > 0 else 270
        if way := _better_side(picture):
            yield way
    elif stood.upright <= -_LIKELY_UP and stood.level >= _LEAST_RUNS:
        yield 180


def doubtful(reading: PageReading) -> bool:
    """Whether a page was read badly, or hardly anything on it."""
    return reading.confidence < _UNSURE or len(reading.words) < _FEW_WORDS


def _plain(reading: PageReading, least: int = _TURN_LETTERS) -> bool:
    """Whether so much was read surely that the page can't be upside down."""
    letters = sure_letters(reading.words)
    return letters >= max(least, _UPRIGHT_LETTERS * len(reading.words))


def sure_letters(words: Sequence[Word]) -> int:
    """Letters and digits in words of three or more that were read with confidence."""
    return sum(len(word.text) for word in words if _sure(word))


def _better_side(picture: Image.Image) -> int:
    """The quarter turn by which the fullest band of the page reads clearly better; 0 when
    neither does."""
    band = _fullest_band(clean.turn(clean.small_copy(picture, _COPY_SIDE_PX), 90))
    found = {}
    for way in (90, 270):
        words = tesseract.read(clean.turn(band, way - 90), layout=tesseract.SPARSE, dpi=_COPY_DPI)
        found[way] = sure_letters(words)
        if found[way] >= max(_TURN_LETTERS, _UPRIGHT_LETTERS * len(words)):
            return way
    worse, better = sorted(found, key=lambda way: found[way])
    return better if found[better] >= max(_BAND_LETTERS, _TURN_GAIN * found[worse]) else 0


def _fullest_band(picture: Image.Image) -> Image.Image:
    """The part of the page's height that holds most letters."""
    copy = clean.small_copy(picture)
    mask, _ = clean.letters(np.asarray(copy))
    high = max(1, int(_BAND_SHARE * copy.height))
    above = np.cumsum(np.concatenate(([0], mask.sum(axis=1, dtype=np.int64))))
    top = int((above[high:] - above[:-high]).argmax())
    scale = picture.height / copy.height
    return picture.crop((0, int(top * scale), picture.width, int((top + high) * scale)))


def _better_way(picture: Image.Image, letters: int, ways: Sequence[int], least: int) -> int:
    """The clockwise turn of those that reads clearly better than as filed; 0 when none does."""
    copy = clean.small_copy(picture, _COPY_SIDE_PX)
    best, most = 0, max(least, _TURN_GAIN * letters)
    for way in ways:
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
