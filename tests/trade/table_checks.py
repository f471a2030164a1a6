"""The comparisons behind the table tests and the printed report: table against rule and print."""

import csv
import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from indexer.trade.tubes import Tube, all_tubes, lookup
from indexer.trade.type_rules import decode_parts

HERE = Path(__file__).parent
RULE_MARGIN = 0.05
PRINT_MARGIN = 0.03

# RADIO.TXT on disk 1432 of the PC-SIG Library (1989), read in the PCjs project's index page of that
# disk: a list of tubes found in old radios with filament figures and pins. Facts only, typed over.
PUBLISHED = "RADIO.TXT, PC-SIG Library disk 1432, 1989"


def rows_of(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def rule_disagreement(tube: Tube) -> str:
    """What the type-number rule says otherwise than the row, "" when they agree or it is silent."""
    rule = decode_parts(tube.type)
    if rule is None:
        return ""
    if rule.heating == "cold" or tube.heating == "cold":
        return "" if rule.heating == tube.heating else f"rule {rule.heating}, row {tube.heating}"
    if not tube.heaters:
        return ""
    amps = (rule.heater_a,) if rule.heater_a else ()
    for at, said in ((0, rule.usual_v), (1, amps)):
        if said and not any(_near(p[at], figure) for p in tube.heaters for figure in said):
            unit = "VA"[at]
            return f"rule {said[0]:g} {unit}, row {tube.heaters[0][at]:g} {unit}"
    return ""


def _near(figure: float, said: float) -> bool:
    return abs(figure - said) <= RULE_MARGIN * said + 1e-9


@cache
def heater_exceptions() -> dict[str, tuple[str, str]]:
    """Types whose heater departs from the rule: both figures as text, and why (from memory)."""
    return {r["type"]: (r["rule_and_row"], r["why"]) for r in rows_of("heater_exceptions.csv")}


def disagreements() -> dict[str, str]:
    found = {name: rule_disagreement(tube) for name, tube in all_tubes().items()}
    return {name: text for name, text in found.items() if text}


def published_checks() -> Iterator[tuple[str, str, bool]]:
    """Each published heater figure with the row's figure and whether they agree."""
    for row in rows_of("published_types.csv"):
        volts, amps = float(row["heater_v"]), float(row["heater_a"])
        tube = lookup(row["type"])
        pairs = tube.heaters if tube else ()
        good = any(
            abs(v - volts) <= PRINT_MARGIN * volts and abs(a - amps) <= PRINT_MARGIN * amps
            for v, a in pairs
        )
        shown = ", ".join(f"{v:g} V {a:g} A" for v, a in pairs)
        yield row["type"], f"printed {volts:g} V {amps:g} A, row {shown}", good


def reference_types() -> list[str]:
    """Types of the outside stock list; empty when BENCHFOLIO_REFERENCE does not name its folder."""
    folder = os.environ.get("BENCHFOLIO_REFERENCE", "")
    path = Path(folder) / "pcjs_tubelist.csv"
    if not folder or not path.is_file():
        return []
    with path.open(encoding="utf-8", newline="") as stream:
        names: set[str] = set()
        for row in csv.DictReader(stream):
            two = row["suffix"][:1].isdigit()  # one line names two types
            names.update((row["type"], row["suffix"]) if two else (row["type"] + row["suffix"],))
        return sorted(names)


def family(name: str) -> str:
    """The number before the first letter, or the first letter: the family by numbering."""
    digits = name[: len(name) - len(name.lstrip("0123456789"))]
    if digits == name or (len(name) == 3 and name[:2].isdigit() and name[2] in "AV"):
        return "bare number"
    return digits or f"{name[0]}…"
