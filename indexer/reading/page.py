"""One page read: which picture, which way up, by which reader. Runs inside a worker process."""

import re
import time
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from PIL import Image

from indexer.intake.sources import Source, SourcePage, open_source
from indexer.model import PageReading, PictureFacts, Word
from indexer.reading import clean, embedded, second, tesseract
from indexer.reading.reconcile import merge
from indexer.reading.repair import is_known_tube, repair
from indexer.trade.tubes import all_tubes

_UNREAD = 0.09  # share of the page with unread ink above which it is taken to hold a drawing
_PHOTO_TONE = 0.25
_UNSURE = 0.62  # mean confidence below which a page is doubtful
_FEW_WORDS = 10
_TURN_SIDE_PX = 1_900  # the four ways up are compared on a copy of this size
_TURN_GAIN = 1.5  # how much better another way up must read before the page is turned
_TURN_LETTERS = 25  # sure letters needed before a page is turned


@dataclass(frozen=True, slots=True)
class PageOutcome:
    """What reading one page gave: every raw reading, the one to use, and the picture's facts."""

    readings: tuple[PageReading, ...]
    best: PageReading
    picture: PictureFacts
    wants_second: bool


def read_first(path: Path, number: int) -> PageOutcome:
    """The first reader's turn: page `number` (from 1) of a file. Raises InputError."""
    started = time.perf_counter()
    page = _source(path).page(number)
    if not page.has_picture:
        typed = page.embedded or PageReading((), 1, 1, "typed")
        return PageOutcome((typed,), typed, PictureFacts(), wants_second=False)
    picture = page.draw()
    facts = clean.look(picture)
    readings: list[PageReading] = []
    if page.embedded is not None:
        readings.append(page.embedded)
        if embedded.is_good(page.embedded, picture):
            best = replace(page.embedded, words=repair(page.embedded.words))
            return PageOutcome((page.embedded,), best, facts, _wants_second(best, facts, picture))
    if facts.ink == 0:
        blank = PageReading((), *picture.size, "tesseract")
        return PageOutcome((*readings, blank), blank, facts, wants_second=False)
    raw = _read_upright(picture)
    raw = replace(raw, seconds=time.perf_counter() - started)
    best = replace(raw, words=repair(raw.words))
    return PageOutcome((*readings, raw), best, facts, _wants_second(best, facts, picture))


def read_second(path: Path, number: int, first: PageReading) -> tuple[PageReading, PageReading]:
    """The second reader's turn on a page already read: (its raw reading, both as one)."""
    started = time.perf_counter()
    picture = upright(_source(path).page(number), first)
    words = second.read(picture, first.words)
    raw = replace(first, words=words, reader="second", seconds=time.perf_counter() - started)
    merged = merge(first, replace(raw, words=repair(words)))
    return raw, replace(merged, words=repair(merged.words))


def upright(page: SourcePage, reading: PageReading) -> Image.Image:
    """The picture that a reading's boxes lie on: turned and straightened as it was read."""
    picture = clean.turn(page.draw(), reading.rotation_deg)
    return clean.straighten(picture, reading.skew_deg)


def _read_upright(picture: Image.Image) -> PageReading:
    reading = _read_once(picture, 0)
    if not _doubtful(reading):
        return reading
    clockwise, sure = _best_way_up(picture)
    if clockwise:
        turned = _read_once(picture, clockwise)
        if _sure_letters(turned.words) > _sure_letters(reading.words):
            return replace(turned, rotation_sure=sure)
    return replace(reading, rotation_sure=sure)


def _read_once(picture: Image.Image, clockwise_deg: int) -> PageReading:
    turned = clean.turn(picture, clockwise_deg)
    skew = clean.skew_deg(turned)
    words = tesseract.read(clean.straighten(turned, skew), favour=_tube_words())
    return PageReading(words, *turned.size, "tesseract", rotation_deg=clockwise_deg, skew_deg=skew)


def _best_way_up(picture: Image.Image) -> tuple[int, bool]:
    """The clockwise turn that reads best, and whether it is clear; (0, …) unless clearly better."""
    copy = clean.small_copy(picture, _TURN_SIDE_PX)
    scores = {
        way: _sure_letters(tesseract.read(clean.turn(copy, way), layout=tesseract.SPARSE, dpi=200))
        for way in (0, 90, 180, 270)
    }
    best = max(scores, key=lambda turn: scores[turn])
    if best == 0:
        return 0, scores[0] >= _TURN_LETTERS
    if scores[best] >= _TURN_LETTERS and scores[best] >= _TURN_GAIN * scores[0]:
        return best, True
    return 0, False


def _sure_letters(words: tuple[Word, ...]) -> int:
    """Letters and digits in words of three or more that were read with confidence."""
    return sum(
        len(word.text)
        for word in words
        if word.confidence >= 0.7 and sum(c.isalnum() for c in word.text) >= 3
    )


def _doubtful(reading: PageReading) -> bool:
    return reading.confidence < _UNSURE or len(reading.words) < _FEW_WORDS


def _wants_second(reading: PageReading, facts: PictureFacts, picture: Image.Image) -> bool:
    """Whether the second reader pays: a drawing, a photo, or a page read badly."""
    if facts.ink == 0:
        return False
    return (
        facts.photo_like >= _PHOTO_TONE
        or _doubtful(reading)
        or _names_no_set(reading)
        or clean.unread_share(picture, reading) >= _UNREAD
    )


def _names_no_set(reading: PageReading) -> bool:
    """Tubes without a model or chassis beside them: a masthead may have been missed."""
    tubes = sum(is_known_tube(word.text) for word in reading.words)
    return tubes >= 2 and not _SET_WORDS.search(reading.text)


@cache
def _tube_words() -> tuple[str, ...]:
    return tuple(sorted(all_tubes()))


_SET_WORDS = re.compile(r"\b(MODELS?|CHASSIS)\b.*\d", re.IGNORECASE)
_open: dict[Path, Source] = {}  # the file in hand, kept open from page to page


def _source(path: Path) -> Source:
    if path not in _open:
        for source in _open.values():
            source.close()
        _open.clear()
        _open[path] = open_source(path)
    return _open[path]
