"""Reading tube types as people print and type them; the normal form of each.

Lists of types in running text are in `line_text`, likely misreads in `look_alikes`; both are
offered here too, so that a caller needs one import.
"""

import re

from indexer.trade.late_patterns import late
from indexer.trade.line_text import TubeToken, line_up_types, parse_line_up
from indexer.trade.look_alikes import look_alikes
from indexer.trade.tube_names import DASHES, TubeName, codes_of, squeezed
from indexer.trade.tubes import decode, table_name, taken_apart

__all__ = [
    "TubeName", "TubeToken", "decode", "line_up_types", "look_alikes", "parse_line_up",
    "parse_tube", "registered",
]  # fmt: skip

_COUNT = late(
    rf"^(?:\((\d{{1,2}})\)|(\d)\s*[X×*]\s+|(\d)\s*[×*]|(\d)[X{DASHES}]\s*(?=\d+\s*[A-Z]))\s*"
)
_COUNT_AFTER = late(r"\s*(?:\((?:[X×]\s*)?(\d{1,2})\)|(?:\s[X×]|×)\s*(\d))\s*$")
_SYMBOL = late(rf"^([VT]{{1}}[{DASHES} ]?\d{{1,3}}[A-D]?)[\s:={DASHES}]+(?=\S)")
_HALF = late(r"^(?:½|1/2|\(½\))\s*(?:OF\s+)?")
_OR = late(r"\s+OR\s+|\s*/\s*|\s*,\s*OR\s+")


def parse_tube(text: str) -> TubeName | None:
    """One printed type taken apart: `(2) 6V6`, `V3 12AV6`, `12SK7-GT/G`, `6J5 or 6C5`, `½ 12AX7`.

    Returns None when the text is not one tube type. The base is what is printed (VT91, 6SN7);
    `registered` leads on to the table's own number.
    """
    printed = text.strip()
    rest = printed.upper()
    count, symbol, half = 1, "", False
    found = _COUNT().match(rest)
    if found and not _is_whole(rest):
        count, rest = int(next(g for g in found.groups() if g)), rest[found.end() :]
    found = _SYMBOL().match(rest)
    if found and not taken_apart(rest):
        symbol, rest = squeezed(found[1]), rest[found.end() :]
    found = _HALF().match(rest)
    if found:
        half, rest = True, rest[found.end() :]
    found = _COUNT_AFTER().search(rest)
    if found and taken_apart(rest[: found.start()]):
        count, rest = int(found[1] or found[2]), rest[: found.start()]
    first, others = _alternatives(rest)
    if first is None or not 1 <= count <= 30:
        return None
    base, envelope, revision = first
    return TubeName(base, envelope, revision, others, count, symbol, half, printed)


def _is_whole(text: str) -> bool:
    """Whether a text that may begin with "6 times" is itself a type: 6X5GT, 5X4G, 1X2B."""
    whole = taken_apart(text) if text[1:2] == "X" else None
    return whole is not None and table_name(whole[0]) is not None


def _alternatives(text: str) -> tuple[tuple[str, str, str] | None, tuple[str, ...]]:
    """The first type of `6J5 or 6C5`, `6U5/6G5`, `117L7/M7GT`, and the bases of the others."""
    whole = taken_apart(text)
    if whole:
        return whole, ()
    parts = _OR().split(re.sub(r"GT\s*/\s*GT?\b|\bG\s*/\s*GT\b", "GT", text))
    first = taken_apart(parts[0])
    if first is None or len(parts) == 1:
        return first, ()
    others: list[str] = []
    for part in parts[1:]:
        code = squeezed(part)
        if re.fullmatch(r"[A-Z]{1,2}\d{1,2}[A-Z]{0,3}", code):  # 117L7/M7GT: same first number
            volts = re.match(r"\d+", first[0])
            longer = taken_apart(volts[0] + code) if volts else None
            if longer and longer[0] != first[0]:
                others.append(longer[0])
                continue
        other = taken_apart(part)
        if other is None:
            if code in {"G", "GT", "GTG", "M", ""} or re.fullmatch(r"VT\d+[A-Z]?", code):
                continue
            return None, ()
        if other[0] != first[0] and other[0] not in others:
            others.append(other[0])
    return first, tuple(others)


def registered(text: str) -> str:
    """The canonical base type: 6SN7GTB -> 6SN7, VT-91 -> the table's number, UX-245 -> 45.

    A text that is no tube type comes back squeezed and in upper case, so that keys stay stable.
    """
    name = parse_tube(text)
    if name is None:
        return codes_of(text)[-1]
    return table_name(name.base) or name.base
