"""Composite networks of a parts list: which value lies between which of their pins."""

import re
from dataclasses import dataclass

from indexer.trade.value_parse import parse_value
from indexer.trade.value_units import Value

PREFIXES = frozenset({"N", "Z", "K", "PC", "RC", "CP", "X"})  # as lists letter them
_PAIR = re.compile(
    r"(?<![\d.])([1-9])\s?(?:[-–—]|TO|AND|&)\s?([1-9])\s?[:=,(]?\s*"
    r"(\.?\d[\d.,]*\s?(?:K|M|MEG(?:OHMS?)?|OHMS?|M?MFD?|UF|UUF|PF)\b)",
    re.I,
)


@dataclass(frozen=True, slots=True)
class PinPair:
    """A value between two pins of a network."""

    pins: str  # "1-2", the lower first
    value: Value


def pin_pairs(text: str) -> tuple[PinPair, ...]:
    """The pairs that a line's words name ("1-2 470K, 2-3 .005 mfd"), each once, in order.

    A parallel path can lower a resistance read in circuit; the line says what is printed.
    """
    found: dict[str, PinPair] = {}
    for match in _PAIR.finditer(text):
        first, second = sorted((match[1], match[2]))
        values = parse_value(match[3])
        if first != second and len(values) == 1 and values[0].number > 0:
            found.setdefault(f"{first}-{second}", PinPair(f"{first}-{second}", values[0]))
    return tuple(found.values())
