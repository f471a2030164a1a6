"""Common words of service pages put right: units, ordinals, symbols, ordinary words.

They matter less than types and codes, which `repair` sees to, but a page is also found by its
words. A word so changed keeps in `printed` how it was read and says why.
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Word
from indexer.reading.repair import is_known_tube
from indexer.reading.vocabulary import WORDS

_FIGURE_END = re.compile(r"\d$|^[./]?\d[\d./-]*$")
_UNITS = (  # what stands after a figure, and the unit it is; old serif c reads like e
    (re.compile(r"^(?:ke|kc|k¢|ko)$"), "kc"),
    (re.compile(r"^(?:me|m¢)$"), "mc"),
    (re.compile(r"^(?:mid|mld|mtd|mfa|mfdl|mifd|rnfd|mfcl|nfd)$"), "mfd"),
    (re.compile(r"^(?:mnf|mmi|mmt|munf|rnmf|mrnf|mmfl|imf|mimf)$"), "mmf"),
)
_ORDINAL = re.compile(r"^[Il|!](st\b)")
_STAGE_WORD = re.compile(r"^(?:1\.?|[l|]\.?)F\.?(?=$|[,;])")  # 1.F. for I.F.
_LOW_FOR_MIDDLE = re.compile(r"^L\.? ?F\.$|^LF\.$")
_SYMBOL = re.compile(r"^[Vv]([1-9]|1\d|[il|])$")
_REFERENCE = re.compile(r"^([crltmvCRLTMV])(\d{1,3}|[il])$")
_STROKE_REFERENCE = re.compile(r"^([CLRT])[Il]([A-D]?)$")  # CIA for C1A
_IS = re.compile(r"^[1l|][sS]$")
_THE = re.compile(r"^([Tt])(?:ne|be|hc|lie)$")
_PART_NUMBER = re.compile(r"^[A-Z]{0,2}-?\d{3,}[\d-]*$")
# A stop before a short word may be a decimal point: .OS is .05.
_SPECK = re.compile(r"^(?:[·•‘'`’*~_]+(?=[A-Za-z]{2}|[A-Z]\d)|[.,](?=[A-Za-z]{5,}$|[A-Z]\d{3}))")
_NOT_ENDED = re.compile(r"^[a-z]|^[1Il]st\b|^[2-9](?:nd|rd|th)\b")  # a word that goes on
_OTHER_SIGNS = str.maketrans("¢ø", "co")
_LONG_ENOUGH = 7  # letters; nobody shortens a word to so many
_SHORT_WORD = 5  # letters, below which a slip makes too many words
_LACKS_ONE = 8  # letters of a word that is known without one of them, or with one too many
_UNSURE = 0.94  # of a word with letters only, above which it is left alone
_OFTEN = 2  # times on a page, for a word to be known by it
# Letters that worn type makes alike; common practice, no source.
_ALIKE = {
    "f": "t", "t": "flri", "v": "y", "y": "v", "l": "ti", "i": "lt", "o": "aec", "a": "oeu",
    "e": "cao", "c": "eo", "h": "bn", "b": "h", "n": "hur", "u": "na", "r": "tn", "!": "li",
    "1": "li", "|": "li", "q": "g", "g": "q", "s": "a", "d": "cl",
}  # fmt: skip
_PAIRS = (("rn", "m"), ("in", "m"), ("m", "rn"), ("cl", "d"), ("ii", "u"), ("li", "h"))
_TAIL = ".,;:)"
_ENDINGS = ("", "s", "es", "ed", "d", "ing", "ly", "er", "'s")


def put_right(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with common ones put right by what stands beside them and by the page."""
    counted = Counter(_core(word.text) for word in words)
    often = {text.lower() for text, n in counted.items() if n >= _OFTEN}
    often |= {text for text in counted if re.fullmatch(r"[CLRT]\d", text)}
    out: list[Word] = []
    for n, word in enumerate(words):
        after = words[n + 1] if n + 1 < len(words) and words[n + 1].line == word.line else None
        out.append(_right(word, out[-1] if out else None, after, often))
    return tuple(out)


def _right(word: Word, before: Word | None, after: Word | None, often: set[str]) -> Word:
    if word.printed or is_known_tube(word.text):
        return word
    text = word.text
    why = ""
    if speck := _SPECK.match(text):
        text, why = text[speck.end() :], "a speck before the word"
    said, reason = _unit(text, before)
    if not reason:
        said, reason = _beside(text, before if before and before.line == word.line else None, after)
    stroke = _STROKE_REFERENCE.match(text)
    if stroke and any(f"{stroke[1]}{n}" in often for n in "23456789"):
        said, reason = f"{stroke[1]}1{stroke[2]}", "a reference beside others of its letter"
    if not reason:
        said, reason = _spelt(text, word.confidence, often)
    if comma := _comma(said, after, often):
        said, reason = comma, reason or "no sentence ends before a small letter"
    if said == word.text:
        return word
    return replace(word, text=said, printed=word.text, why=reason or why)


def _unit(text: str, before: Word | None) -> tuple[str, str]:
    """(the unit that follows a figure, why); the text and "" when it is none."""
    core = text.rstrip(_TAIL)
    if before is not None and _FIGURE_END.search(before.text.rstrip(_TAIL)):
        for pattern, unit in _UNITS:
            if pattern.match(core) and core != unit:
                return unit + text[len(core) :], "the unit after a figure"
    return text, ""


def _beside(text: str, before: Word | None, after: Word | None) -> tuple[str, str]:
    """(an ordinal, stage, symbol or small word, why) by what stands beside it in its line; the
    text and "" if none."""
    if the := _THE.match(text):
        return f"{the[1]}he", "no word is spelt so"
    if _IS.match(text) and before and after and before.text.isalpha() and after.text[:1].isalpha():
        return "is", "it stands between words"
    if _ORDINAL.match(text):
        return _ORDINAL.sub(r"1\1", text), "an ordinal"
    if stage := _STAGE_WORD.match(text):
        return "I.F." + text[stage.end() :], "no figure stands before F"
    tuned = after is not None and re.match(r"^\d{3}\b", after.text)
    if tuned and _LOW_FOR_MIDDLE.match(text):
        return "I.F.", "a frequency in kilocycles follows"
    if before is None and after is not None:
        symbol = _SYMBOL.match(text)
        if symbol and is_known_tube(after.text):
            named = "V" + symbol[1].translate(str.maketrans("il|", "111"))
            return named, "the symbol of the tube that follows" if named != text else ""
        part = _REFERENCE.match(text)
        if part and _PART_NUMBER.match(after.text):
            named = part[1].upper() + part[2].translate(str.maketrans("il", "11"))
            return named, "the reference before a part number" if named != text else ""
    return text, ""


def _comma(text: str, after: Word | None, often: set[str]) -> str:
    """The word with a comma for its full stop when a small letter follows and the word is not
    shortened; else ""."""
    core = text[:-1]
    if not text.endswith(".") or after is None or not _NOT_ENDED.match(after.text):
        return ""
    if not core.isalpha():
        return ""
    whole = len(core) >= _LONG_ENOUGH or core.lower() in WORDS
    whole |= len(core) >= _SHORT_WORD and core.lower() in often
    return f"{core}," if whole else ""


def _spelt(text: str, confidence: float, often: set[str]) -> tuple[str, str]:
    """(the word of the vocabulary or of the page that a misread word is, why); as it is when it
    is a word, or when it could be two."""
    core = _core(text)
    flat = unicodedata.normalize("NFKD", core.lower().translate(_OTHER_SIGNS))
    plain = "".join(c for c in flat if not unicodedata.combining(c))
    if not core[:1].isalpha() or _is_word(core.lower()) or plain in often:
        return text, ""
    found = {plain} & WORDS if plain != core.lower() else set()  # a speck read as an accent
    if not found:
        letters = sum(c.isalpha() for c in plain)
        if len(core) < _SHORT_WORD or confidence > _UNSURE or letters < len(plain) - 1:
            return text, ""
        found = {like for like in _one_slip(plain) if like in WORDS or like in often}
    if not found and len(plain) >= _LACKS_ONE:
        found = _one_letter_off(plain) & WORDS
    if len(found) != 1:
        return text, ""
    (word,) = found
    word = word.upper() if core.isupper() else word.title() if core[:1].isupper() else word
    return text.replace(core, word, 1), "a word of service pages"


def _is_word(text: str) -> bool:
    """Whether a text is a word of the vocabulary, or one with an ending."""
    return any(text.removesuffix(ending) in WORDS for ending in _ENDINGS)


def _one_slip(plain: str) -> set[str]:
    found = set()
    for n, letter in enumerate(plain):
        found |= {plain[:n] + like + plain[n + 1 :] for like in _ALIKE.get(letter, "")}
    for seen, meant in _PAIRS:
        at = plain.find(seen)
        while at >= 0:
            found.add(plain[:at] + meant + plain[at + len(seen) :])
            at = plain.find(seen, at + 1)
    return found


def _one_letter_off(plain: str) -> set[str]:
    """The text with any one letter put in or left out."""
    letters = "abcdefghijklmnopqrstuvwxyz"
    more = {plain[:n] + c + plain[n:] for n in range(len(plain) + 1) for c in letters}
    return more | {plain[:n] + plain[n + 1 :] for n in range(len(plain))}


def _core(text: str) -> str:
    return text.strip(".,;:()[]\"'‘’“”*·•")
