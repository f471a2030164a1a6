"""One page read: which picture, which way up, by which reader. Runs inside a worker process."""

import re
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from pathlib import Path

from PIL import Image

from indexer.intake.sources import Source, SourcePage, open_source
from indexer.model import Box, PageReading, PictureFacts, Word
from indexer.reading import clean, columns, embedded, second, tesseract
from indexer.reading.cells import empty_cells, filled
from indexer.reading.leaders import without_leaders
from indexer.reading.reconcile import merge
from indexer.reading.repair import is_known_tube, repair
from indexer.reading.rows import in_rows, with_ends
from indexer.reading.stance import Stance, stance
from indexer.reading.tesseract import Scan
from indexer.reading.tidy import tidy
from indexer.reading.unseen import joined_on, unseen
from indexer.reading.way_up import doubtful, read_way_up, sure_letters
from indexer.reading.wording import put_right
from indexer.trade.tubes import all_tubes

_UNREAD = 0.09  # share of the page with unread ink above which it is taken to hold a drawing
_PHOTO_TONE = 0.25
_CUT_RIGHT = 0.75  # mean confidence below which a page cut into parts is read whole too
_DRAWN_LINES, _DRAWN_TEXT, _DRAWN_RUNS = 0.05, (0.17, 0.33), 110
_LEAST_ACROSS, _ACROSS = 3, 0.15  # runs across the others, and their share of them
_HEAD_SHARE = 0.25  # of the page's height, where a maker and model stand


class Reach(Enum):
    """How much of a page the second reader looks at."""

    NOTHING = "nothing"
    WORDS = "words"  # the first reader's words that hold figures or are unsure
    HEAD = "head"  # these, and all of the page's head
    PAGE = "page"
    ALL = "all"  # the page, and what the first reader is sure of too


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
    gray = clean.in_grey(picture)
    copy = clean.small_copy(gray)
    facts = clean.look(copy)
    readings: list[PageReading] = []
    if page.embedded is not None:
        readings.append(page.embedded)
        if embedded.is_good(page.embedded, picture):
            return _outcome(readings, facts, copy)
    if facts.ink == 0:
        blank = PageReading((), *picture.size, "tesseract")
        return PageOutcome((*readings, blank), blank, facts, wants_second=False)
    stood = stance(copy)
    scan = Scan(tesseract.is_bitonal(gray), clean.may_show_plates(copy), _is_drawing(facts, stood))
    raw = read_way_up(lambda way: _read_once(gray, copy, way, scan), gray, stood)
    readings.append(replace(raw, seconds=time.perf_counter() - started))
    return _outcome(readings, facts, copy)


def _outcome(
    readings: Sequence[PageReading], facts: PictureFacts, copy: Image.Image
) -> PageOutcome:
    """What a first turn gave, its last reading being the one to use. Plain words, which cost as
    much as a tenth of the reading, wait for the second reader's turn if there is to be one."""
    raw = readings[-1]
    best = _in_rows(_repaired(replace(raw, words=tidy(raw.words))))
    wants_second = _wants_second(best, facts, copy)
    if not wants_second:
        best = replace(best, words=put_right(best.words))
    return PageOutcome(tuple(readings), best, facts, wants_second)


def read_second(path: Path, number: int, first: PageReading) -> tuple[PageReading, PageReading]:
    """The second reader's turn on a page already read: (its raw reading, both as one)."""
    started = time.perf_counter()
    first = replace(first, words=put_right(first.words))
    filed = _source(path).page(number).draw()
    picture = _laid(filed, first)
    copy = clean.small_copy(filed)
    reach = _reach(first, clean.look(copy), copy)
    if reach in (Reach.PAGE, Reach.ALL):
        words = second.read(picture, first.words if reach is Reach.PAGE else ())
        if _is_list_of_sets(first):  # a short code in a corner of it is soon overlooked
            missed = [w for w in first.words if not any(w.box.overlap(o.box) for o in words)]
            words = _with_new(words, second.reread(picture, missed))
    else:
        new = second.recognise(picture, unseen(picture, first.words))
        words = _with_new(joined_on(new, first.words), second.reread(picture, first.words))
    if reach is Reach.HEAD:  # boxes of the cropped head lie as on the page
        head = picture.crop((0, 0, picture.width, int(picture.height * _HEAD_SHARE)))
        words = _with_new(words, second.read(head, first.words))
    raw = replace(first, words=words, reader="second", seconds=time.perf_counter() - started)
    tidied = replace(raw, words=tidy(words))  # repaired as one, with all that both saw
    merged = merge(first, tidied, everywhere=reach in (Reach.PAGE, Reach.ALL))
    best = _in_rows(replace(merged, words=put_right(_repaired(merged).words)))
    if _is_list_of_sets(best) and (cells := empty_cells(best.words)):
        best = replace(best, words=filled(best.words, second.reread(picture, cells)))
    return raw, best


def _repaired(reading: PageReading) -> PageReading:
    """The reading with misread types set right; a list of sets that names hardly a type prints
    models that look like them, and is left."""
    codes = [word.text for word in reading.words if any(map(str.isdigit, word.text))]
    types = sum(is_known_tube(text) for text in codes)
    if _is_list_of_sets(reading) and types < _TYPES_IN_LIST * len(codes):
        return reading
    return replace(reading, words=repair(reading.words))


def upright(page: SourcePage, reading: PageReading) -> Image.Image:
    """The picture that a reading's boxes lie on: turned and straightened as it was read."""
    return _laid(page.draw(), reading)


def _laid(filed: Image.Image, reading: PageReading) -> Image.Image:
    return clean.straighten(clean.turn(filed, reading.rotation_deg), reading.skew_deg)


def _with_new(words: tuple[Word, ...], more: tuple[Word, ...]) -> tuple[Word, ...]:
    """The words, and those of `more` that stand where none of them does, on lines of their own."""
    after = 1 + max((word.line for word in words), default=-1)
    new = [w for w in more if not any(w.box.overlap(word.box) >= 0.3 for word in words)]
    return (*words, *(replace(word, line=after + word.line) for word in new))


def _read_once(gray: Image.Image, copy: Image.Image, clockwise_deg: int, scan: Scan) -> PageReading:
    """One reading of the grey picture turned so, straightened by what its small copy shows."""
    turned = clean.turn(gray, clockwise_deg)
    skew = clean.skew_deg(clean.turn(copy, clockwise_deg))
    level, letter_px = without_leaders(clean.straighten(turned, skew))
    boxes = columns.parts(level)
    words = _read_parts(level, boxes, letter_px, scan)
    reading = PageReading(
        words, *turned.size, "tesseract", rotation_deg=clockwise_deg, skew_deg=skew
    )
    if len(boxes) > 1 and reading.confidence < _CUT_RIGHT:  # cut where it shouldn't be?
        whole = replace(reading, words=_read_parts(level, [(0, 0, *level.size)], letter_px, scan))
        return max(reading, whole, key=lambda one: sure_letters(one.words))
    return reading


def _read_parts(
    level: Image.Image, boxes: Sequence[columns.PartBox], letter_px: float, scan: Scan
) -> tuple[Word, ...]:
    """Parts of a page read one after the other, the words placed on the whole page."""
    parts = [level.crop(box) if len(boxes) > 1 else level for box in boxes]
    found = tesseract.read_sized(parts, letter_px, favour=_tube_words(), scan=scan)
    words: list[Word] = []
    for (left, top, _, _), part in zip(boxes, found, strict=True):
        after = 1 + max((word.line for word in words), default=-1)
        for word in part:
            box = word.box
            moved = Box(box.left + left, box.top + top, box.right + left, box.bottom + top)
            words.append(replace(word, box=moved, line=after + word.line))
    return tuple(words)


def _is_drawing(facts: PictureFacts, stood: Stance) -> bool:
    """Whether a page as filed shows a drawing: long strokes, and little lettering that stands
    both ways. A short table has as few runs of letters, but nearly all of them level."""
    fewer, more = sorted((stood.level, stood.standing))
    return (
        facts.long_lines >= _DRAWN_LINES
        and _DRAWN_TEXT[0] <= facts.text_like < _DRAWN_TEXT[1]
        and more < _DRAWN_RUNS
        and fewer >= max(_LEAST_ACROSS, _ACROSS * more)
    )


def _wants_second(reading: PageReading, facts: PictureFacts, picture: Image.Image) -> bool:
    return facts.ink > 0 and _reach(reading, facts, picture) is not Reach.NOTHING


def _reach(reading: PageReading, facts: PictureFacts, picture: Image.Image) -> Reach:
    """How much the second reader should look at: all of a drawing, a photo or a page read badly;
    every word of a list of sets; of other print the words that matter, and the head of a page
    that names tubes but no set."""
    if facts.photo_like >= _PHOTO_TONE:  # few words, and glare takes the ends off sure ones
        return Reach.ALL
    if reading.reader != "embedded" and _is_list_of_sets(reading):
        return Reach.ALL
    if doubtful(reading) or clean.unread_share(picture, reading) >= _UNREAD:
        return Reach.PAGE
    if _names_no_set(reading):
        return Reach.HEAD
    if reading.reader != "embedded" and any(map(second.worth_rereading, reading.words)):
        return Reach.WORDS
    return Reach.NOTHING


def _is_list_of_sets(reading: PageReading) -> bool:
    """An index page: hardly a word on it that is no code, and each one sends to a page. Its title
    says so, or most lines name a set and end in a volume and page."""
    lines = sorted(reading.lines, key=lambda words: min(word.box.top for word in words))
    head = "\n".join(" ".join(w.text for w in line) for line in lines[:_HEAD_LINES]).upper()
    if _LIST_HEADING.search(head):
        return True
    if _CONTENTS.search(head):
        coded = sum(any(c.isdigit() for c in "".join(w.text for w in line)) for line in lines)
        return coded >= max(_LISTED_LINES, _LISTED * len(lines))
    words = [word for line in lines for word in line]
    places = sum(bool(_LISTED_PLACE.fullmatch(word.text)) for word in words)
    return places >= max(_LISTED_LINES, _PLACES * len(words))


def _in_rows(reading: PageReading) -> PageReading:
    """The reading with the figures of a list, of sets or of parts, in the lines they end."""
    rows = in_rows if _is_list_of_sets(reading) else with_ends
    return replace(reading, words=rows(reading.words))


def _names_no_set(reading: PageReading) -> bool:
    """Tubes without a model or chassis beside them: a masthead may have been missed."""
    tubes = sum(is_known_tube(word.text) for word in reading.words)
    return tubes >= 2 and not _SET_WORDS.search(reading.text)


@cache
def _tube_words() -> tuple[str, ...]:
    return tuple(sorted(all_tubes()))


_LIST_HEADING = re.compile(r"\bINDEX\b|\bMODELS?\b.*\bVOL\b.*\bPAGE\b")
_HEAD_LINES = 8
# The usual titles of a book's contents, in three tongues; common practice, no source
_CONTENTS = re.compile(
    r"\bCONTENTS\b|\bLIST OF (?:SETS|MODELS|RECEIVERS|SHEETS|CHASSIS)\b|\bWHERE TO FIND\b"
    r"|\bCROSS[- ]REFERENCE\b|\bINHALT|\bREGIST(?:ER|RE)\b|\bTABLE DES\b|\bMODELS?\b.*\bPAGE\b"
)
_LISTED_LINES = 8
_LISTED = 0.6  # of the lines hold figures
_TYPES_IN_LIST = 0.15  # of its codes, for a list of sets to name their tubes
_PLACES = 0.15  # of the words are a volume and page
_LISTED_PLACE = re.compile(r"(?:[IVX]{1,5}|[1-9]|[12]\d)[-–/](?!0)\d{1,3}")
_SET_WORDS = re.compile(r"\b(MODELS?|CHASSIS)\b.*\d", re.IGNORECASE)
_open: dict[Path, Source] = {}  # the file in hand, kept open from page to page


def _source(path: Path) -> Source:
    if path not in _open:
        for source in _open.values():
            source.close()
        _open.clear()
        _open[path] = open_source(path)
    return _open[path]
