"""A page as lines in reading order, and the stretches of it that belong to one set each."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from operator import itemgetter
from statistics import median

from indexer.cataloguing import curl
from indexer.model import Box, PageInput, Word
from indexer.trade.language import is_word

_PROSE_WORDS = 9  # a heading is shorter than this
_JOINING = frozenset({"and", "or", "to", "thru", "through"})
_WIDE = 4.0  # heights of lettering
_SET_APART = 4  # letters that stand alone make a word set apart
_APART = 1.8  # times the widest space within such a word is one between words
_INITIAL = 0.6  # heights of lettering, at most, between an initial and the rest of its word
_FEWER = 0.85  # of the rows are left when columns that slid are moved back
_ROW_SHARE = 0.6  # of the lettering's height: how far words of one printed row may stand apart


@dataclass(frozen=True, slots=True)
class Line:
    """One printed line."""

    words: tuple[Word, ...]
    text: str
    box: Box

    @property
    def is_capitals(self) -> bool:
        """Set mostly in capitals, whatever small words join them: "26 and 27"."""
        letters = [c for w in self.words if w.text not in _JOINING for c in w.text if c.isalpha()]
        return bool(letters) and sum(c.isupper() for c in letters) >= 0.7 * len(letters)

    @property
    def is_heading(self) -> bool:
        """Short and set mostly in capitals, as titles and mastheads are."""
        return len(self.words) < _PROSE_WORDS and self.is_capitals


@dataclass(frozen=True)
class Region:
    """The part of a page between two heights (pixels) that one set's matter fills. What is asked
    of it several times is worked out once, when first asked for."""

    page: PageInput
    lines: tuple[Line, ...]
    top: float
    bottom: float

    @cached_property
    def text(self) -> str:
        return "\n".join(line.text for line in self.lines)

    @cached_property
    def rows(self) -> tuple[Line, ...]:
        """The lines joined to rows across columns, top to bottom: for tables."""
        return tuple(printed_rows(self.lines))


def page_lines(page: PageInput) -> tuple[Line, ...]:
    """The page's lines in the reader's order; a word of letters set apart is one word."""
    return tuple(make_line(closed_up(words)) for words in page.reading.lines if words)


def closed_up(words: Sequence[Word]) -> Sequence[Word]:
    """The words of a line with those put together that are set "T I L L B R O O K", or that
    stand a little behind their initial or the head of their code, "T ILLBROOK", "VC- 9"."""
    single = [len(word.text) == 1 and word.text.isupper() for word in words]
    if sum(single) >= _SET_APART:
        return _letters_joined(words, single)
    kept: list[Word] = []
    for word in words:
        if kept and _ends(kept[-1].text, word.text) and _is_near(kept[-1], word):
            kept[-1] = _as_one([kept[-1], word])
        else:
            kept.append(word)
    return kept if len(kept) < len(words) else words


def _ends(head: str, rest: str) -> bool:
    """Whether one word is an initial or the head of a code, and the next the rest of it."""
    if len(head) == 1:
        long = len(rest) >= _SET_APART and rest.isalpha() and rest.isupper()
        return long and head.isupper() and not is_word(rest.lower())
    return head[-1:] == "-" and head[:-1].isupper() and head[:-1].isalpha() and rest.isdecimal()


def _is_near(word: Word, after: Word) -> bool:
    return after.box.left - word.box.right <= _INITIAL * after.box.height


def _letters_joined(words: Sequence[Word], single: Sequence[bool]) -> Sequence[Word]:
    kept: list[Word] = []
    letters: list[Word] = []
    for word, alone in zip([*words, None], [*single, False], strict=True):
        if word is not None and alone and (not letters or _goes_on(letters, word)):
            letters.append(word)
            continue
        kept += [_as_one(letters)] if len(letters) >= _SET_APART else letters
        letters = [word] if word is not None and alone else []
        kept += [word] if word is not None and not alone else []
    return kept


def _goes_on(letters: Sequence[Word], word: Word) -> bool:
    """Whether a letter stands no farther from the last than those before stand apart."""
    gap = word.box.left - letters[-1].box.right
    if len(letters) < 2:
        return gap <= _WIDE * word.box.height
    return gap <= _APART * max(b.box.left - a.box.right for a, b in pairwise(letters))


def _as_one(letters: Sequence[Word]) -> Word:
    text = "".join(word.text for word in letters)
    return replace(letters[0], text=text, box=_around([word.box for word in letters]))


def whole_page(page: PageInput) -> Region:
    """The page as one region."""
    return Region(page, page_lines(page), 0.0, float(page.reading.height_px))


def split(region: Region, heights: Iterable[float]) -> tuple[Region, ...]:
    """The region cut at the given heights; lines go by their middle."""
    cuts = [region.top, *sorted(heights), region.bottom]
    parts = []
    for top, bottom in pairwise(cuts):
        inside = tuple(line for line in region.lines if top <= line.box.middle[1] < bottom)
        parts.append(Region(region.page, inside, top, bottom))
    return tuple(parts)


def printed_rows(lines: Iterable[Line]) -> list[Line]:
    """Words that stand side by side joined to rows across columns, top to bottom: for tables."""
    return list(map(make_line, words_in_rows([word for line in lines for word in line.words])))


def words_in_rows(words: Sequence[Word]) -> list[list[Word]]:
    """The words of each of these rows, left to right; where columns slid past one another on a
    curled page, as they were printed."""
    if not words:
        return []
    rows = _by_height(words, {})
    slid = curl.slides(rows)
    moved = _by_height(words, slid) if slid else rows
    return moved if len(moved) < _FEWER * len(rows) else rows


def _by_height(words: Sequence[Word], slid: Mapping[int, float]) -> list[list[Word]]:
    """The words in rows; `slid` is how many pixels too low some of them stand, by their `id`."""
    reach = _ROW_SHARE * median([word.box.bottom - word.box.top for word in words])
    rows: list[list[Word]] = []
    total = 0.0  # of the middles in the last row, whose mean a further word must be near
    for middle, word in sorted(
        ((_middle(word) - slid.get(id(word), 0.0), word) for word in words), key=itemgetter(0)
    ):
        if rows and middle - total / len(rows[-1]) <= reach:
            rows[-1].append(word)
            total += middle
        else:
            rows.append([word])
            total = middle
    return [sorted(row, key=_left) for row in rows]


def as_printed(line: Line) -> Line:
    """The line with every repaired word as the reader saw it: for codes, which no repair knows."""
    if not any(word.printed for word in line.words):
        return line
    return make_line(map(word_as_printed, line.words))


def word_as_printed(word: Word) -> Word:
    """The word as the reader saw it; a part of what the reader ran together stays that part."""
    whole = not word.printed or word.text in word.printed
    return word if whole else replace(word, text=word.printed)


def pieces(line: Line) -> list[Line]:
    """The line's parts with a wide space between them, left to right: what stands on two sides of
    a page is not said in one breath."""
    parts = [[line.words[0]]]
    for left, right in pairwise(line.words):
        if right.box.left - left.box.right > _WIDE * max(left.box.height, right.box.height):
            parts.append([])
        parts[-1].append(right)
    return [make_line(part) for part in parts] if len(parts) > 1 else [line]


def squeeze(text: str) -> str:
    """Upper case, runs of blanks as one, for matching phrases."""
    return " ".join(text.upper().split())


def _middle(word: Word) -> float:
    return (word.box.top + word.box.bottom) / 2


def _left(word: Word) -> float:
    return word.box.left


def make_line(words: Iterable[Word]) -> Line:
    """The words as one line, in the order given."""
    kept = tuple(words)
    return Line(kept, " ".join([word.text for word in kept]), _around([w.box for w in kept]))


def _around(boxes: Sequence[Box]) -> Box:
    if len(boxes) == 1:
        return boxes[0]
    return Box(
        min([box.left for box in boxes]),
        min([box.top for box in boxes]),
        max([box.right for box in boxes]),
        max([box.bottom for box in boxes]),
    )
