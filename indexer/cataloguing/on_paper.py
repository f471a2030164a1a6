"""Sets of a typed list, which lie on paper: entries without pages. Pure."""

import hashlib
import re
from collections import Counter
from collections.abc import Sequence

from indexer.model import Entry, ListedSet, TubePlace
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_line_up

_YEARS = range(1920, 1970)
_BETWEEN = re.compile(r"\s*[;,]\s*")


def entries_on_paper(sets: Sequence[ListedSet], file: str) -> tuple[Entry, ...]:
    """An entry for each row, named alike as long as the row stays as it is.

    `file` is shown as where each fact was read.
    """
    seen: Counter[str] = Counter()
    entries = []
    for one in sets:
        key = "\n".join((one.maker, one.model, one.chassis, one.where))
        entries.append(_entry(one, file, f"{key}\n{seen[key]}" if seen[key] else key))
        seen[key] += 1
    return tuple(entries)


def _entry(one: ListedSet, file: str, key: str) -> Entry:
    tubes, doubts = _tubes(one.tubes)
    facts = analyse([tube.type for tube in tubes])
    live = facts.live_chassis
    if doubts and live == "no":  # what was not understood may be what makes it live
        live = "unknown"
    year = int(one.year) if one.year.isdecimal() and int(one.year) in _YEARS else None
    further = one.further if year or not one.year else (("year", one.year), *one.further)
    place = f"{file} row {one.line}"
    given = {"maker": one.maker, "models": one.model, "chassis": one.chassis, "tubes": one.tubes}
    return Entry(
        id=_id(one, key),
        maker=one.maker,
        models=_codes(one.model),
        chassis=_codes(one.chassis),
        tubes=tuple(
            TubePlace(t.type, t.printed, role, alternatives=t.alternatives)
            for t, role in zip(tubes, facts.roles, strict=True)
        ),
        pages=(),
        year=year,
        supply=facts.supply,
        string_volts=facts.string_volts,
        live_chassis=live,
        doubts=(*doubts, *facts.doubts),
        evidence={fact: place for fact, cell in given.items() if cell},
        on_paper=one.where or f"listed in {file}",
        note="; ".join(f"{name}: {cell}" if name else cell for name, cell in further),
    )


def _codes(cell: str) -> tuple[str, ...]:
    """The codes of a cell: a list of whole numbers taken apart, anything else as it is typed."""
    parts = [part for part in _BETWEEN.split(cell) if part]
    if all(any(c.isdigit() for c in part) and part[0].isalnum() for part in parts):
        return tuple(dict.fromkeys(parts))
    return (cell,)


def _tubes(cell: str) -> tuple[list[TubePlace], list[str]]:
    """The line-up that a cell names, and a doubt for words that are no tube type."""
    lead = "TUBES: "  # so that bare numbers of early types count
    text = lead + cell
    rest = list(text)
    tubes: list[TubePlace] = []
    for token in parse_line_up(text):
        place = TubePlace(token.type, token.printed, alternatives=token.alternatives)
        tubes += [place] * token.count
        rest[token.start : token.end] = " " * (token.end - token.start)
    words = "".join(rest[len(lead) :]).split()
    unknown = [w for w in (word.strip(".,;:/()") for word in words) if _may_be_type(w)]
    return tubes, [f"{word} is no tube type known here" for word in unknown]


def _may_be_type(word: str) -> bool:
    return len(word) > 2 and any(c.isdigit() for c in word) and any(c.isalpha() for c in word)


def _id(one: ListedSet, key: str) -> str:
    code = one.model or one.chassis or "paper"
    stem = "-".join(part for part in (_slug(one.maker)[:16], _slug(code)[:14]) if part) or "paper"
    return f"{stem}-p{hashlib.sha256(key.encode()).hexdigest()[:6]}"


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "", text.lower())
