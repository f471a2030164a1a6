"""Full stops, commas and capitals put right by where a sentence ends and the next begins."""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from indexer.model import Word
from indexer.reading.repair import changed
from indexer.reading.spelling import plain
from indexer.trade.language import is_word, of_trade
from indexer.trade.vocabulary import PLAIN, SHORT

# Words that begin a sentence more often than they follow a comma with a capital.
_OPENING = """
    A After All Also An Any As At Be Before By Check Connect Do For From If In It Keep Make Measure
    No Note On Remove Replace See Set Some That The Then There These This To Turn Use When Where
    While With
"""
_OPENERS = frozenset(_OPENING.split())
_GOES_ON = re.compile(r"^[a-z]|^[1Il]st\b|^[2-9](?:nd|rd|th)\b")
_DOUBLED = re.compile(r"\.\.$|([,;])[.,]$")
_ENDS_IN_FIGURE, _CODE = (
    re.compile(r"^[A-Z]\d{1,3}[A-D]?$|^\d{1,2}$"),
    re.compile(r"[A-Z]\d{1,2}\b"),
)
_BEFORE_COLON = frozenset(("as", "are", "be", "follows", "following", "is", "thus", "these", "viz"))
_LONG_ENOUGH = 7  # letters; nobody shortens a word to so many
_LONG = 5
_SAME_SHAPE = frozenset("cosvwxzukp")  # letters whose capital is the same but larger
_MORE_OFTEN = 3  # times that a page shows a word otherwise, for one to be put so
_ROW_WORDS = 8
_REFERENCE, _PART_NUMBER = re.compile(r"[A-Z]\d{1,3}[A-D]?"), re.compile(r"[A-Z]{0,3}-?\d{3,}\S*")
_BLANK = 0.9  # of a letter's height: words of a sentence stand no farther apart
_LINE_STEP = 2.2  # of a letter's height: the next line stands no farther below
_WHY = "a sentence ends or goes on here"


def in_sentences(words: Sequence[Word], often: frozenset[str]) -> tuple[Word, ...]:
    """The words of running text with their last sign and first letter as its sentences ask.

    `often` are words in small letters that the page repeats.
    """
    shown = Counter(word.text.strip(".,;:") for word in words)
    rows = _in_rows(words)
    ended = Counter(word.text for word in words if word.text[-1:] in (".", ","))
    out: list[Word] = []
    for n, word in enumerate(words):
        before = out[-1] if out else None
        after = words[n + 1] if n + 1 < len(words) else None
        text = _last_sign(word, after, often, ended, n in rows)
        text = _first_letter(text, before, after, word, shown)
        if text != word.text:
            word = changed(word, text, word.why or _WHY)
        out.append(word)
    return tuple(out)


def _in_rows(words: Sequence[Word]) -> set[int]:
    """Numbers of the words in a list's row: it begins with a part's reference and its number."""
    found: set[int] = set()
    for n, (word, after) in enumerate(pairwise(words)):
        row = _REFERENCE.fullmatch(word.text) and _PART_NUMBER.fullmatch(after.text)
        if row and word.line == after.line:
            found.update(k for k in range(n, n + _ROW_WORDS) if words[k : k + 1])
    return found


def _last_sign(
    word: Word,
    after: Word | None,
    often: frozenset[str],
    ended: Counter[str],
    in_list: bool,
) -> str:
    """The word's text, a comma for its stop when the sentence goes on or the page's others of it
    have one, a stop for its comma when another begins."""
    text, core = word.text, word.text[:-1]
    if after is None:
        return text
    goes_on = after.line == word.line and bool(_GOES_ON.match(after.text))
    if doubled := _DOUBLED.search(text):
        ends = text[: doubled.start()]
        return ends + (doubled[1] or (".," if goes_on else "."))
    if text.endswith(".") and _ENDS_IN_FIGURE.search(core) and after.line == word.line:
        listed = goes_on or _CODE.match(after.text)
        return f"{core}," if listed else text
    if text.endswith(":") and after.text[:1].islower() and core.islower():
        return text if core in _BEFORE_COLON or not is_word(core) else f"{core};"
    if not core.isalpha():
        return text
    low = core.lower()
    if text.endswith(".") and goes_on:
        whole = len(core) >= _LONG_ENOUGH or of_trade(low) or low in PLAIN
        whole |= len(core) >= _LONG and low in often
        return f"{core}," if whole else text
    if text.endswith(".") and after.line == word.line and after.text not in _OPENERS:
        named = in_list and of_trade(low) and low not in SHORT  # a row of parts is no sentence
        named |= ended[f"{core},"] >= _MORE_OFTEN * ended[text] and not after.text[:1].isupper()
        return f"{core}," if named else text
    if text.endswith(",") and after.text in _OPENERS and core.islower() and is_word(low):
        return f"{core}."
    return text


def _goes_on_below(before: Word, word: Word) -> bool:
    """Whether a line's first word follows on the last one of the line above it."""
    height = max(before.box.height, word.box.height)
    step = word.box.middle[1] - before.box.middle[1]
    return 0 < step <= _LINE_STEP * height and before.box.left > word.box.right


def _first_letter(
    text: str,
    before: Word | None,
    after: Word | None,
    word: Word,
    shown: Counter[str],
) -> str:
    """The text with a capital where a sentence begins, or without one within it."""
    core, line = text.strip(".,;:"), word.line
    gap = word.box.left - before.box.right if before is not None else 0.0
    if before is None or not core.isalpha() or not is_word(core.lower()):
        return text
    if before.line == line:
        if gap > _BLANK * before.box.height:  # another cell of a table
            return text
    elif not _goes_on_below(before, word):
        return text
    last = plain(before.text)
    if core.islower() and before.text.endswith(".") and before.text[:-1].islower():
        ended = len(last) >= 4 and is_word(last) and last not in SHORT
        goes_on = after is not None and after.line == line and after.text[:1].islower()
        begins = core.title() in _OPENERS and core[0] in _SAME_SHAPE | {"i"}
        return text[:1].upper() + text[1:] if ended and goes_on and begins else text
    if (
        core[:1].isupper()
        and core[:1].lower() in _SAME_SHAPE
        and (core[1:].islower() or len(core) <= 2)
        and before.text.isalpha()
        and before.text.islower()
        and after is not None
        and after.text[:1].islower()
        and shown[core.lower()] >= max(1, _MORE_OFTEN * shown[core] - 2)
    ):
        return text.replace(core, core.lower(), 1)
    return text
