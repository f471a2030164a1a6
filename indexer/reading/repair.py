"""Repair by knowledge: tube types misread by a letter or two, set right only on good grounds."""

import re
from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Word
from indexer.trade.numbering import look_alikes, parse_tube
from indexer.trade.tubes import lookup

_DESIGNATOR = re.compile(r"^[RCLTVSJPMFKXYZ]\s?\d{1,3}[A-Z]?$", re.IGNORECASE)
# A number that begins with a figure, or letters and figures as European types have them.
_TUBE_SHAPE = re.compile(
    r"^(?:[0-9OIlSZBG|]{1,3}[A-Z0-9]{1,2}[0-9OIlSZBG|]{1,2}(?:GT/?G?|G|A|B|C)?"
    r"|[DEHPUV][ABCFHKLMY]{1,3}[0-9OISZB]{1,3})$"
)
_NAMING = frozenset({"MODEL", "MODELS", "CHASSIS", "NO", "PART", "SERIAL"})  # a code follows
# What may be a plain number: 117 read as II7.
_NUMBER = re.compile(r"^[0-9OIlSZBG|]+$")
_NOISE = 0.3  # a word read with less is set right only to what the page shows elsewhere
_CONFIDENT, _SURE_COST = 0.85, 0.45  # a reader that is sure is corrected only by a hair
_MOST_COST = 0.8
_CLEARLY_BETTER = 0.3  # how much nearer the best type must be than the next one


def is_known_tube(text: str) -> bool:
    """Whether a word is, as printed, a registered tube type of the table."""
    core = text.strip(".,;:()[]{}\"'*")
    if not core or _DESIGNATOR.match(core):
        return False
    name = parse_tube(core)
    return name is not None and lookup(name.base) is not None


def repair_word(word: Word, on_page: Sequence[str] = ()) -> Word:
    """The word, with a misread tube type set right; what was printed and why are kept.

    A word is changed only when it has the shape of a type number but isn't one, isn't a
    reference designator, and one type is clearly nearer than any other — or is the only near
    one among `on_page`, the types that the page shows elsewhere.
    """
    core = word.text.strip(".,;:()[]{}\"'*").replace("l", "I").upper()
    if not _worth_trying(core) or is_known_tube(core):
        return word
    most = _MOST_COST if word.confidence < _CONFIDENT else _SURE_COST
    near = [
        (kind, cost)
        for kind, cost in look_alikes(core)
        if cost <= most and kind[0].isdigit() == (core[0] in "0123456789OILSZBG|")
    ]
    if not near:
        return word
    seen = [item for item in near if item[0] in on_page]
    if len(seen) == 1 and seen[0][1] <= near[0][1] + 0.25:
        return _changed(word, seen[0][0], "looks like it, and the page shows it elsewhere")
    if word.confidence < _NOISE:
        return word
    if len(near) == 1 or near[1][1] - near[0][1] >= _CLEARLY_BETTER:
        return _changed(word, near[0][0], "the only type that looks like it")
    return word


def repair(words: Sequence[Word]) -> tuple[Word, ...]:
    """All words, misread tube types set right."""
    on_page = tuple(
        {
            name.base
            for word in words
            if is_known_tube(word.text) and (name := parse_tube(word.text.strip(".,;:()[]{}\"'*")))
        }
    )
    repaired = []
    before = ""
    for word in words:
        named = before.strip(".:,").upper() in _NAMING
        repaired.append(word if named else repair_word(word, on_page))
        before = word.text
    return tuple(repaired)


def _worth_trying(core: str) -> bool:
    return (
        bool(_TUBE_SHAPE.match(core))
        and not _DESIGNATOR.match(core)
        and not _NUMBER.match(core)
        and any(c.isdigit() for c in core)
        and any(not c.isdigit() for c in core)
        and len(core) >= 3
    )


def _changed(word: Word, kind: str, why: str) -> Word:
    return replace(word, text=kind, printed=word.printed or word.text, why=why)
