"""The tube table, loaded once on first use, and types decoded from their number alone."""

import csv
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from indexer.trade.tube_names import codes_of, splits, squeezed
from indexer.trade.type_rules import RULE_SOURCE, decode_parts

if TYPE_CHECKING:
    from collections.abc import Mapping

COLUMNS = (
    "type", "heater_v", "heater_a", "heater_v2", "heater_a2", "heating", "base", "basing",
    "functions", "top_cap", "pilot_tap", "first_filter_uf", "mu", "rating", "equals", "doubt",
    "source",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tube:
    """One registered type. Volts, amperes, microfarads; None where not known.

    `heater_v`/`heater_a` is the usual connection (series for a tapped heater), the second pair the
    parallel one. `rating` is plate dissipation in watts for output types, DC milliamperes for
    rectifiers, volts for regulators. `source` says where the row comes from; `decoded` is True
    when there is no row and only the type-number rule speaks. `doubt` names unsure columns.
    """

    type: str
    heater_v: float | None = None
    heater_a: float | None = None
    heater_v2: float | None = None
    heater_a2: float | None = None
    heating: str = ""
    base: str = ""
    basing: str = ""
    functions: tuple[str, ...] = ()
    top_cap: str = ""
    pilot_tap: bool = False
    first_filter_uf: float | None = None
    mu: float | None = None
    rating: float | None = None
    equals: tuple[str, ...] = ()
    doubt: tuple[str, ...] = ()
    source: str = ""
    decoded: bool = False

    @property
    def heaters(self) -> tuple[tuple[float, float], ...]:
        """Every (volts, amperes) connection that is known; empty for cold types."""
        pairs = ((self.heater_v, self.heater_a), (self.heater_v2, self.heater_a2))
        return tuple((v, a) for v, a in pairs if v and a)


def _number(text: str) -> float | None:
    return float(text) if text else None


def _row(cells: list[str]) -> Tube:
    (
        type_, volts, amps, volts2, amps2, heating, base, basing, functions, cap, tap, filter_uf,
        mu, rating, equals, doubt, source,
    ) = cells  # fmt: skip
    return Tube(
        type_, _number(volts), _number(amps), _number(volts2), _number(amps2), heating, base,
        basing, tuple(functions.split(" + ")) if functions else (), cap, tap == "yes",
        _number(filter_uf), _number(mu), _number(rating), tuple(equals.split()),
        tuple(doubt.split()), source,
    )  # fmt: skip


def packaged_rows(pattern: str) -> dict[str, list[list[str]]]:
    """Rows of the packaged CSV files whose names match, by file name, header row first."""
    from fnmatch import fnmatch
    from importlib import resources  # slow to import, and needed once

    folder = resources.files("indexer.trade") / "data"
    names = sorted(item.name for item in folder.iterdir() if fnmatch(item.name, pattern))
    return {
        name: [row for row in csv.reader((folder / name).read_text("utf-8").splitlines()) if row]
        for name in names
    }


@cache
def _table() -> dict[str, Tube]:
    found: dict[str, Tube] = {}
    for name, rows in packaged_rows("tubes_*.csv").items():
        if tuple(rows[0]) != COLUMNS:
            raise ValueError(f"{name}: the header is not the table's")
        for cells in rows[1:]:
            tube = _row(cells)
            found.setdefault(tube.type, tube)
    return found


@cache
def _names() -> dict[str, str]:
    """Every name that leads to a row: the types themselves, then their other numbers."""
    table = _table()
    names = {name: name for name in table}
    for tube in table.values():
        for other in tube.equals:
            names.setdefault(squeezed(other), tube.type)
    return names


@cache
def _equal_groups() -> dict[str, str]:
    """Each row's type with one type that stands for it and all its equals, near and far."""
    table = _table()
    stands: dict[str, str] = {}
    owners: dict[str, str] = {}

    def top(name: str) -> str:
        while stands.get(name, name) != name:
            name = stands[name]
        return name

    for tube in table.values():
        for other in (tube.type, *tube.equals):
            one, two = top(tube.type), top(owners.setdefault(other, tube.type))
            stands[max(one, two)] = min(one, two)
        for other in tube.equals:
            if other in table:
                one, two = top(tube.type), top(other)
                stands[max(one, two)] = min(one, two)
    return {name: top(name) for name in table}


def equal_group(name: str) -> str:
    """One type that stands for a row and all its equals; the name itself without a row."""
    return _equal_groups().get(name, name)


def are_equals(one: str, other: str) -> bool:
    """Whether two rows are one tube under several numbers, directly or through a third."""
    groups = _equal_groups()
    return one in groups and groups[one] == groups.get(other)


def all_tubes() -> "Mapping[str, Tube]":
    """The whole table by type, as a read-only mapping. Loaded once."""
    return MappingProxyType(_table())


def table_name(code: str) -> str | None:
    """The table's own type for an exact squeezed code or one of its other numbers, else None."""
    return _names().get(code)


@lru_cache(maxsize=8192)
def taken_apart(text: str) -> tuple[str, str, str] | None:
    """One printed type as (base, envelope, revision), or None when it cannot be a type.

    The table decides where the base ends (`24A` is a type, `12AX7A` a revision); a code that it
    does not know counts only if the type-number rule gives it a shape.
    """
    codes = codes_of(text)
    names = _names()
    for code in codes:
        if code in names:
            return code, "", ""
        for base, envelope, revision in splits(code):
            if base in names:
                return base, envelope, revision
        early = _early(code)
        if early:
            return early, "", ""
    for base, envelope, revision in reversed(splits(codes[0])):
        if decode_parts(base):
            return base, envelope, revision
    return None


# Early types to which makers added a hundred or more: 201A is 01A, 245 and 345 are 45, 199 is 99.
_HUNDREDS = {
    "1": ("12A", "20", "71A", "99"),
    "2": ("00A", "01A", "10", "22", "24A", "26", "27", "40", "45", "50", "71A", "80", "81"),
}


def _early(code: str) -> str | None:
    """The two-digit type behind a number such as 201A, 227, 345 or 171, else None."""
    if len(code) not in (3, 4) or not code[:3].isdigit():
        return None
    known_tails = _HUNDREDS.get("1" if code[0] == "1" else "2" if code[0] in "234" else "", ())
    for tail in (code[1:], code[1:] + "A"):
        if tail in known_tails and tail in _names():
            return tail
    return None


def lookup(name: str) -> Tube | None:
    """The table's row for a printed type, by its own, equal or VT number; None when not there."""
    parts = taken_apart(name)
    row = _names().get(parts[0]) if parts else None
    return _table()[row] if row else None


def decode(name: str) -> Tube | None:
    """What the type-number rule alone says of a printed type; None when no rule fits.

    The table is not asked, so the answer may be compared with it. Volts of cold types are None.
    """
    code = squeezed(name)
    shapes = splits(code)
    bases = [base for base, _, _ in shapes[::-1]] or [code]
    for base in bases:
        parts = decode_parts(base)
        if parts:
            return Tube(
                type=base,
                heater_v=(parts.usual_v or (0.0,))[0] or None,
                heater_a=parts.heater_a,
                heating=parts.heating,
                base=parts.base,
                functions=parts.functions,
                doubt=("heating", "base", "functions") if parts.functions else ("heating", "base"),
                source=RULE_SOURCE,
                decoded=True,
            )
    return None


def known(name: str) -> Tube | None:
    """The table's row, else what the type-number rule decodes, else None."""
    return lookup(name) or decode(name)
