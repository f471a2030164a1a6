"""Specks and scratches that were read as signs: taken off words, or out from between them.

What print has too is left: points and commas at the end of a word, hyphens within one.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Word
from indexer.reading.apart import blanks, taken_apart
from indexer.reading.repair import changed
from indexer.reading.spelling import plain
from indexer.trade.language import is_word
from indexer.trade.vocabulary import SHORT

_MARKS = frozenset(".·•~_")  # alone within a line; a comma or a quote there is a ditto mark
# Before a word. A stop before a short one may be a decimal point: .OS is .05.
_BEFORE = re.compile(
    r"^-(?=[A-Z]{1,2}\d{2})|^-(?=\d{3,}[B-UX-Z]$)"  # a code
    r"|^[.·•]{2,}(?=\w)|^\.(?=[IVX]{1,5}$)|^\.(?=\d{1,2}-\d{1,3}$)"  # dots of a leader
    r"|^[·•‘'`’*~_]+(?=[A-Za-z]{2}|[A-Z]\d|\d[A-Z])"
    r"|^[.,](?=[A-Za-z]{5,}$|[A-Z]\d{3})|^[|](?=[A-Z][a-z]{3})"
)
_BEFORE_WORD = re.compile(r"^[-.,](?=[A-Za-z]{3,}[.,;:]?$)")
_BEHIND = re.compile(r"(?<=[a-z])[*•~_]+$|(?<=[a-z\d][.,;])[•·*~_:]+$")
_OPENING, _CLOSING = '“"„', '”"’'
_QUOTED = 15  # words from an opening quote to its closing one, at most
_STROKE_END = re.compile(r"^(\d{1,2}-\d*)[)\]!|]$")  # 16-12) for 16-121
_COLON = re.compile(r"^([A-Za-z]{2,4}):$|^(Ch|No|Vol|Fig),$")
# Signs of an alphabet that the second reader knows too, and brackets that this print never has.
_OTHERS = str.maketrans("一、。，：；（）{}", "-,.,:;()()")
_INTRODUCES = re.compile(r"^(to|at|is|are|follows|Tubes|Note|Caution);$")  # no clause ends so
_INITIALS = re.compile(r"^([A-Z])[.:,]([A-Z])[.:,](?:([A-Z])[.:,])?$")
_THOUSANDS = re.compile(r"^(\d{1,3})\.(\d{3})(?=[.,;:]?$)")
_DECIMAL = re.compile(r"^0\d{1,3}$")  # .005 but for its point
_OHMS = re.compile(r"^([SOIlZB\d]{3})K(?=[.,;]?$)")  # SOOK for 500K
_LIKE_FIGURES = str.maketrans("SOIlZB", "501128")
_CAPACITY = re.compile(r"^m?m?fd?[.,;]?$|^[µu]f[.,;]?$", re.IGNORECASE)
_NEAR = 0.7  # of a letter's height
_JOINS = frozenset(("the", "a", "an", "its"))  # no sign ever stands behind these
_WHY = "a speck beside it"


def without_specks(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words without stray signs; those that a speck or nothing joins are made two again."""
    page, shown = blanks(words), Counter(word.text for word in words)
    out: list[Word] = []
    for n, word in enumerate(words):
        before = out[-1] if out and out[-1].line == word.line else None
        after = words[n + 1] if n + 1 < len(words) and words[n + 1].line == word.line else None
        if word.text in _MARKS and (before is not None or _touches(word, after)):
            continue
        if before is not None and word.text in ("F", "F.") and _is_stroke(before, word):
            box, read = before.box.union(word.box), f"{before.text} {word.text}"
            out[-1] = replace(before, text="I.F.", box=box, printed=read, why="no figure is a F")
            continue
        text = _figures(_bare(_without_quotes(words, n)), words[n + 1 : n + 2], shown)
        if text and text != word.text:
            word = changed(word, text, word.why or _WHY)
        out += taken_apart(word, before, page)
    return tuple(out)


def _touches(mark: Word, after: Word | None) -> bool:
    """Whether a mark at a line's head belongs to the word behind it; a ditto mark stands by
    itself."""
    return after is not None and after.box.left - mark.box.right <= _NEAR * after.box.height


def _is_stroke(before: Word, word: Word) -> bool:
    near = word.box.left - before.box.right <= word.box.height
    return near and before.text.rstrip(".,") in ("1", "|", "I", "l", "L")


def _without_quotes(words: Sequence[Word], n: int) -> str:
    """The word's text without a quotation mark that has no other to open or close it."""
    text = words[n].text
    if len(text) < 3 or not any(sign in text for sign in _OPENING + _CLOSING):
        return text
    behind = "".join(word.text for word in words[max(0, n - _QUOTED) : n])
    ahead = "".join(word.text for word in words[n + 1 : n + 1 + _QUOTED])
    if (
        text[0] in _OPENING
        and text[1].isalpha()
        and not any(c in text[1:] + ahead for c in _CLOSING)
    ):
        text = text[1:]
    if text[-1] in _CLOSING and text[-2:-1].islower() and not any(c in behind for c in _OPENING):
        text = text[:-1]
    return text


def _bare(text: str) -> str:
    """The text without signs that no print has there."""
    text = _BEFORE.sub("", text.translate(_OTHERS))
    if (found := _BEFORE_WORD.match(text)) and is_word(plain(text[found.end() :])):
        text = text[found.end() :]
    text = _INTRODUCES.sub(r"\1:", text)
    text = _STROKE_END.sub(r"\g<1>1", _BEHIND.sub("", text))
    if _COLON.match(text) and text[:-1].lower() in SHORT:
        return f"{text[:-1]}."
    if initials := _INITIALS.match(text):
        return "".join(f"{letter}." for letter in initials.groups() if letter)
    return text[:-1] if text[:-1] in _JOINS and text[-1:] in ".,:;-" else text


def _figures(text: str, after: Sequence[Word], shown: Counter[str]) -> str:
    """Figures with the point or comma that the page has in them elsewhere, or that they lost."""
    thousands = _THOUSANDS.match(text)
    if thousands and shown[f"{thousands[1]},{thousands[2]}"]:
        return f"{thousands[1]},{thousands[2]}{text[thousands.end() :]}"
    if (ohms := _OHMS.match(text)) and not ohms[1].isdigit():
        figures = ohms[1].translate(_LIKE_FIGURES)
        return figures + text[ohms.end(1) :] if figures.endswith("0") else text
    if _DECIMAL.match(text) and after and _CAPACITY.match(after[0].text):
        return f".{text}"
    return text
