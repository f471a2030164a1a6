"""Words as a reader gives them made into words as printed: run-together ones taken apart, signs
that print of this kind never holds among figures put right.

A word so changed says in `why` how it was read; the raw reading keeps it as it was.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from indexer.model import Box, Word
from indexer.trade.numbering import parse_tube
from indexer.trade.tubes import lookup

_EDGE = ".,;:()[]{}\"'*·‘’“”!"
_NAMED = re.compile(r"^(CH\.|CHASSIS[.:]|MODELS?[.:]|NO\.)(?=\S*\d)(\S+)$", re.IGNORECASE)
_HALF = re.compile(r"^([1Il|]/2|½)[-.·]?(\S{3,})$")
_SYMBOL = re.compile(r"^([VvY])([0-9IOl|SZ]{1,2})([ABab]?)([.:·=]?)(?=\S{3})")
_FIGURES = str.maketrans("IlO|SZ", "110152")
_STROKES = "1I]|)J!l"  # a wire or an envelope beside a label reads like these
# Signs of other alphabets that a reader gives for a letter or figure within a code.
_FOREIGN = str.maketrans(
    {
        "¥": "Y",
        "é": "6",
        "ó": "6",
        "ò": "6",
        "€": "6",
        "£": "E",
        "|": "1",
        "]": "1",
        "!": "1",
        "·": "-",
        "–": "-",
    }
)
_ODD = re.compile(r"[¥éóò€£|\]!·–$]")
_DESIGNATOR = re.compile(r"[RCLTVSJP]\d{0,3}$")
# Headings of two words whose space was lost: "VOLTAGEREADINGS".
_HEADING = re.compile(
    r"^(VOLTAGES?|RESISTANCES?|ALIGNMENT|PARTS?|TUBES?|SOCKET|DIAL|SCHEMATIC|CIRCUIT|WIRING"
    r"|SERVICE|REPLACEMENT|TRIMMER|GENERAL|CHASSIS|OPERATING)"
    r"(CHARTS?|READINGS?|TABLES?|LISTS?|PROCEDURE|INSTRUCTIONS?|DIAGRAM|NOTES?|DATA|LAYOUT"
    r"|LOCATIONS?|VOLTAGES?|STRINGING|MEASUREMENTS?|ANALYSIS|PARTS|INFORMATION|VIEW)$",
    re.IGNORECASE,
)
# No code that holds figures has the letter I beside them: drafting lettering draws 1 so.
_STROKE_BY_FIGURE = re.compile(r"[Il|]+(?=\d)|(?<=\d)[Il|]+")
_ALL_FIGURES = re.compile(r"(?=.*\d{2})[\dIl|O]{2,}[-./][\dIl|O]{2,}[,.;:]?")
_ROUND_IN_FIGURES = re.compile(r"(?<=\d)O(?=[\d]|[A-Z]?$|[-/.,;:]|$)|(?<=-)O(?=\d)")


def tidy(words: Iterable[Word]) -> tuple[Word, ...]:
    """The words with run-together labels taken apart and impossible signs put right.

    `V312AV6` becomes `V3` and `12AV6` when the rest is a registered type, `1/212AX7` likewise,
    `Ch.4T9F` becomes `Ch.` and `4T9F`, `VOLTAGECHART` its two words; `AT-7]` becomes `AT-71`,
    `E-I36` becomes `E-136`.
    """
    return tuple(part for word in words for part in _parts(word))


@lru_cache(maxsize=65_536)
def known_type(text: str) -> bool:
    """Whether a text without count or symbol is one registered type of the table."""
    core = text.strip(_EDGE)
    name = parse_tube(core) if core else None
    return name is not None and not name.symbol and not name.half and lookup(name.base) is not None


def _parts(word: Word) -> list[Word]:
    text = word.text
    if len(text) < 3:
        return [word]
    named = _NAMED.match(text) or _HEADING.match(text)
    if named:
        head, tail = _cut(word, len(named[1]))
        return [head, *_parts(tail)]
    half = _HALF.match(text)
    if half and (rest := _without_stroke(_signs(half[2]))):
        head, tail = _cut(word, text.index(half[2]))
        return [replace(head, text="1/2"), replace(tail, text=rest)]
    if (symbol := _SYMBOL.match(text)) and not known_type(text):
        parts = _symbol_apart(word, symbol)
        if parts:
            return parts
    if known_type(text):
        return [word]
    signs = _signs(text)
    return [word if signs == text else replace(word, text=signs, why=_why(word))]


def _symbol_apart(word: Word, symbol: re.Match[str]) -> list[Word]:
    """`V312AV6` as V3 and 12AV6: the first cut that leaves a registered type."""
    text, whole = word.text, symbol.end() - len(symbol[4]) - len(symbol[3])
    cuts = sorted({2, whole, whole + len(symbol[3])})
    for cut in cuts:
        rest = text[cut:].lstrip("-.:·=")
        found = _without_stroke(_signs(rest), strokes=False) if len(rest) >= 3 else ""
        if found:
            label = "V" + text[1:cut].translate(_FIGURES).upper()
            if text[cut] == "-":
                return [replace(word, text=f"{label}-{found}", why=_why(word))]
            head, tail = _cut(word, len(text) - len(rest))
            return [replace(head, text=label), replace(tail, text=found)]
    return []


def _without_stroke(text: str, strokes: bool = True) -> str:
    """The text if it is a registered type with letters within, or is one but for a stroke at its
    end; else "". Bare numbers don't count: V351F is a model, not a V3 and a 51."""
    if not re.match(r"\d*[A-Z]+\d", text.strip(_EDGE)):
        return ""
    figures = re.sub(r"(?<=[A-Z\d])[Il|\])!](?=[\dIl|]*$)", "1", text)
    for said in (figures, text):
        if known_type(said):
            return said
    if strokes and len(text) > 3 and text[-1] in _STROKES and known_type(text[:-1]):
        return text[:-1]
    return ""


def _cut(word: Word, at: int) -> tuple[Word, Word]:
    """The word in two at a letter, each with its share of the box."""
    share = word.box.left + word.box.width * at / len(word.text)
    left = replace(word.box, right=share)
    right = Box(share, word.box.top, word.box.right, word.box.bottom)
    why = _why(word)
    return (
        replace(word, text=word.text[:at], box=left, why=why),
        replace(word, text=word.text[at:], box=right, why=why),
    )


def _signs(text: str) -> str:
    """The text with signs that no code holds, and strokes and rounds amid figures, put right."""
    if not any(c.isdigit() for c in text) or text.isdigit():
        return text
    said = text
    if _ODD.search(said) and "[" not in said:
        body = said.rstrip(".,;:")
        tail = said[len(body) :]
        if re.match(r"^\$(?=[\dA-Z-]*[A-Z-])[^.]*$", body):
            body = "S" + body[1:]
        inner = body[:-1].translate(_FOREIGN) if len(body) > 1 else ""
        last = body[-1]
        if last in "]|" and re.search(r"[A-Z]", inner) and not _DESIGNATOR.match(inner):
            last = "1"
        elif last != "!":
            last = last if last in "]|" else last.translate(_FOREIGN)
        said = inner + last + tail
    if any(c.islower() and c != "l" for c in said) or len(re.findall(r"[\dIl|O]", said)) < 2:
        return said
    said = _STROKE_BY_FIGURE.sub(lambda m: "1" * len(m[0]), said)
    if _ALL_FIGURES.fullmatch(said):
        return said.translate(_FIGURES)
    return _ROUND_IN_FIGURES.sub("0", said)


def _why(word: Word) -> str:
    return word.why or f"read as {word.text}"
