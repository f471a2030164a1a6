"""Words that run together, made two again: `may,run`, `to-the`, `ofthe`, `150V`, `Pin2`."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from indexer.model import Box, Word
from indexer.reading.repair import is_known_tube
from indexer.reading.spelling import plain
from indexer.trade.language import counted_pair, is_word

_WITHIN = re.compile(
    r"^([A-Za-z]{1,}|\d{1,4})([.,·•’'-]{1,2})([A-Za-z]{2,}[.,;]?|[VW][.,;]?|\d{3,4})$"
)
_VALUE = re.compile(r"^(\d+(?:[./]\d+)?|\.\d+)(V|W|kc|mc|mfd|mmf|meg|ohms?|volts?)[.,;]?$")
_CODES = re.compile(r"^([A-Z\d-]{3,}),([A-Z\d-]{3,})$")
_NAMED = re.compile(r"^([A-Z]{5,14})(\d{2,4}[A-Z]?[.,;]?)$")  # TILLBROOK720: no code begins so
_NUMBERED = re.compile(r"^([A-Z]?[a-z]{2,}|[A-Z]{3,})(\d{1,2})$")
_NAMING = frozenset(("MODEL", "MODELS", "CHASSIS", "CH", "TYPE", "NO"))
_APART_LEAST, _GLUED_MOST = 2, 1 / 3  # times that a page prints a blank there; share without
# Words that are hardly ever a part of one with a hyphen.
_SMALL = frozenset(
    ("a", "an", "and", "at", "be", "for", "is", "it", "of", "so", "that", "the", "to")
)
_LEAST_GLUED = 5
_WHY = "two words run together"


@dataclass(frozen=True, slots=True)
class Blanks:
    """Units, and words before a number, that the page prints with a blank between."""

    units: frozenset[str]
    heads: frozenset[str]


def blanks(words: Sequence[Word]) -> Blanks:
    """Where a page prints blanks, by most of its words."""
    units: Counter[str] = Counter()
    heads: Counter[str] = Counter()
    for one, other in pairwise(words):
        if one.line == other.line:
            units[other.text.rstrip(".,;")] += one.text[-1:].isdigit()
            heads[one.text] += other.text.isdigit()
    glued_units = Counter(found[2] for word in words if (found := _VALUE.match(word.text)))
    glued_heads = Counter(found[1] for word in words if (found := _NUMBERED.match(word.text)))
    return Blanks(_mostly(units, glued_units), _mostly(heads, glued_heads))


def _mostly(apart: Counter[str], glued: Counter[str]) -> frozenset[str]:
    return frozenset(
        text for text, n in glued.items() if apart[text] >= max(_APART_LEAST, n / _GLUED_MOST)
    )


def taken_apart(word: Word, before: Word | None, page: Blanks) -> Iterator[Word]:
    """The word, or the two that it is; `before` is the word before it on its line."""
    text = word.text
    core = plain(text)
    value = None if before is not None and _names(before) else _VALUE.match(text)
    if is_known_tube(text):
        yield word
    elif value and value[2] in page.units:
        yield from _two(word, value[1], text[value.end(1) :], value.end(1))
    elif (numbered := _NUMBERED.match(text)) and numbered[1] in page.heads:
        yield from _two(word, numbered[1], numbered[2], numbered.end(1))
    elif named := _NAMED.match(text):
        yield from _two(word, named[1], named[2], named.end(1))
    elif (cut := _WITHIN.match(text)) and _stand_apart(cut[1], cut[2], cut[3]):
        keep = "," in cut[2] and not counted_pair(cut[1].lower(), plain(cut[3]))
        yield from _two(word, cut[1] + ("," if keep else ""), cut[3], cut.end(2))
    elif (codes := _CODES.match(text)) and all(map(_is_code, codes.groups())):
        yield from _two(word, f"{codes[1]},", codes[2], codes.end(1) + 1)
    elif at := _glued_at(text, core):
        yield from _two(word, text[:at], text[at:], at)
    else:
        yield word


def _names(word: Word) -> bool:
    """Whether a model may follow: 405W may be one."""
    return word.text.upper().rstrip(".:") in _NAMING or word.text.endswith(",")


def _is_code(text: str) -> bool:
    return bool(re.search(r"\d", text) and re.search(r"[A-Z]", text))


def _stand_apart(before: str, sign: str, after: str) -> bool:
    """Whether a sign between two words is none of print's."""
    if sign == ".-":  # Det.-Audio, Vol.-Page
        return False
    one, other = before.lower(), plain(after)
    if one.isdigit():
        return sign != "-" and (is_word(other) or after in ("V", "W"))
    if other.isdigit():
        return before.islower() and before in _SMALL and len(before) > 1
    if not (is_word(one) and is_word(other)):
        return False
    if sign == "-":  # so-called and stand-by are one
        small = one in _SMALL or other in _SMALL - {"to", "it"}
        return before.islower() and small and counted_pair(one, other)
    if sign in ".,":
        return not after[:1].isupper() and len(one) + len(other) >= 4
    return sign != "'" or other not in ("s", "t")


def _glued_at(text: str, core: str) -> int:
    """After how many letters a word of small letters is two that often follow each other; 0 when
    it is a word itself, or could be cut in more than one way."""
    if not (core.isalpha() and text.islower()) or len(core) < _LEAST_GLUED or is_word(core):
        return 0
    cuts = [n for n in range(2, len(core) - 1) if counted_pair(core[:n], core[n:])]
    return cuts[0] if len(cuts) == 1 and {core[: cuts[0]], core[cuts[0] :]} & _SMALL else 0


def _two(word: Word, one: str, other: str, at: int) -> Iterator[Word]:
    share = word.box.left + word.box.width * at / len(word.text)
    printed = word.printed or word.text
    yield replace(word, text=one, box=replace(word.box, right=share), printed=printed, why=_WHY)
    right = Box(share, word.box.top, word.box.right, word.box.bottom)
    yield replace(word, text=other, box=right, printed=printed, why=_WHY)
