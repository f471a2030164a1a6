"""Codes put right by the shape that others of their kind have on the same page.

A parts list numbers its parts alike (A1234-5), an index ends its lines alike (7-31): where one
comes out in two pieces, with a stop behind it, with its hyphen lost or a small letter, the page's
others show how it was printed. Common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Word
from indexer.reading.repair import changed

_CODE = re.compile(r"[A-Z0-9]+(?:-[A-Z0-9]+)*")
_LEAST_ALIKE, _MOST_OTHERWISE = 5, 0.2  # codes of a shape; share of them that may stand otherwise
_LEAST_CODE = 3
_NEAR = 1.3  # of a letter's height: pieces of one code stand no farther apart
_SMALL = re.compile(r"[cosvwxzukp]")
_CODE_WITH_SMALL = re.compile(r"[A-Z0-9cosvwxzukp]+(?:-[A-Z0-9]+)*[.,;:]?")
_ROMAN = re.compile(r"X{0,2}(?:IX|IV|V?I{1,3}|V|X)")
_STROKES = str.maketrans("1LT|!", "IIIII")
_PART_NUMBER = re.compile(r"([A-Z])(\d{3,6})-\d+")
_WHY = "the shape of the page's other codes"


def in_shape(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with codes made whole, and without stray stops, where many others are so."""
    shapes = Counter(_shape(word.text) for word in words if _is_code(word.text))
    stopped = Counter(
        _shape(word.text[:-1])
        for word in words
        if word.text[-1:] in (".", ",") and _is_code(word.text[:-1])
    )
    usual = {shape for shape, n in shapes.items() if n >= _LEAST_ALIKE}
    prefix = _prefix(words)
    roman = _ends_in_roman(words)
    unstopped = {s for s in usual if stopped[s] <= _MOST_OTHERWISE * shapes[s]}
    out: list[Word] = []
    for n, word in enumerate(words):
        before = out[-1] if out and out[-1].line == word.line else None
        after = words[n + 1] if n + 1 < len(words) and words[n + 1].line == word.line else None
        if before is not None and (whole := _joined(before, word, usual, prefix)):
            out[-1] = replace(
                before,
                text=whole,
                box=before.box.union(word.box),
                confidence=min(before.confidence, word.confidence),
                printed=f"{before.printed or before.text} {word.printed or word.text}",
                why=_WHY,
            )
            continue
        if roman and after is not None and _is_last(words, n + 1):
            word = _as_roman(word)
        text = _with_prefix(_with_capitals(word.text), prefix)
        core = text[:-1]
        if text[-1:] in (".", ",") and _is_code(core) and _shape(core) in unstopped:
            ends = after is None and before is not None
            if text.endswith(",") and not ends:  # one of several codes
                pass
            elif (ends and before is not None and _is_listed(before.text)) or _heads(before, after):
                text = core
        if text != word.text:
            word = changed(word, text, word.why or _WHY)
        out.append(word)
    return tuple(out)


def _is_code(text: str) -> bool:
    figures = any(c.isdigit() for c in text)
    return (
        figures and (len(text) >= _LEAST_CODE or text[:1].isalpha()) and bool(_CODE.fullmatch(text))
    )


def _shape(code: str) -> str:
    """A code with 9 for each figure before its last hyphen and A for each letter: A9999-9."""
    same = re.sub(r"[A-Z]", "A", re.sub(r"\d", "9", code))
    head, hyphen, tail = same.rpartition("-")
    return f"{head}-{tail[:1]}" if hyphen else f"{tail[:1]}{len(tail) > 3}"


def _joined(before: Word, word: Word, usual: set[str], prefix: tuple[str, int]) -> str:
    """The code that a word and the one before it are the pieces of, "" when they are none."""
    one, other = before.text, word.text.rstrip(".")
    if word.box.left - before.box.right > _NEAR * min(before.box.height, word.box.height):
        return ""
    if not re.fullmatch(r"[A-Z]{0,2}\d+-?\d*", one) or not re.fullmatch(r"\d*-?\d+", other):
        return ""
    for whole in (one + other, f"{one}-{other}"):
        number = _PART_NUMBER.fullmatch(whole)
        if number and prefix[0]:  # C7 and 16-21 are two: the page's numbers are H and four figures
            if (number[1], len(number[2])) == prefix:
                return whole
        elif whole.count("-") == 1 and _shape(whole) in usual:
            if _is_code(one) and _shape(one) in usual:
                continue
            return whole
    return ""


def _is_listed(text: str) -> bool:
    return any(c.isdigit() for c in text) or text.rstrip(".") in ("Ch", "CH")


def _heads(before: Word | None, after: Word | None) -> bool:
    """Whether a code heads a row of a list: nothing or a reference before it, a code or a name
    of a part behind it."""
    if after is None:
        return False
    if before is None:
        return _is_code(after.text) and len(after.text) > _LEAST_CODE
    return bool(re.fullmatch(r"[A-Z]{1,2}\d{1,3}[A-D]?", before.text)) and after.text[:1].isupper()


def _with_capitals(text: str) -> str:
    """A code whose small letters have the shape of capitals, with those."""
    if not _SMALL.search(text) or not _CODE_WITH_SMALL.fullmatch(text):
        return text
    body = text.rstrip(".,;:")
    figures = sum(c.isdigit() for c in body)
    within = re.search(r"\d[a-z]+\d", body)
    behind = re.match(r"^[a-z]+\d{3,}|^[a-z]\d+-\d|^\d+[A-Z]\d*[a-z]$", body)
    return text.upper() if figures >= 2 and (within or behind) else text


def _prefix(words: Sequence[Word]) -> tuple[str, int]:
    """The letter that nearly all numbers of a page's parts begin with, and how many figures stand
    before the hyphen: ("H", 4) for H2353-19; ("", 0) when they differ."""
    heads = Counter(
        (found[1], len(found[2])) for word in words if (found := _PART_NUMBER.fullmatch(word.text))
    )
    if not heads:
        return "", 0
    (head, n) = heads.most_common(1)[0]
    return head if n >= max(_LEAST_ALIKE, (1 - _MOST_OTHERWISE) * heads.total()) else ("", 0)


def _with_prefix(text: str, prefix: tuple[str, int]) -> str:
    """A part's number whose letter was read as strokes, or with a stroke behind it."""
    letter, figures = prefix
    if not letter:
        return text
    found = re.fullmatch(rf"{letter}?[1Il|]{{1,2}}(\d{{{figures}}}-\d+)", text)
    return f"{letter}{found[1]}" if found else text


def _ends_in_roman(words: Sequence[Word]) -> bool:
    """Whether a page's lines end in a volume in Roman figures and a page: VIII 43."""
    pairs = sum(
        bool(_ROMAN.fullmatch(word.text)) and _is_last(words, n + 1)
        for n, word in enumerate(words[:-1])
    )
    return pairs >= _LEAST_ALIKE


def _is_last(words: Sequence[Word], n: int) -> bool:
    """Whether a word is a page number that ends its line."""
    ends = n + 1 == len(words) or words[n + 1].line != words[n].line
    return ends and words[n].line == words[n - 1].line and words[n].text.rstrip(".:").isdigit()


def _as_roman(word: Word) -> Word:
    """The word as the Roman figure it is with strokes read as letters or figures: VITT for VIII."""
    said = word.text.strip(".").upper().translate(_STROKES)
    if said == word.text or not _ROMAN.fullmatch(said):
        return word
    return changed(word, said, word.why or _WHY)
