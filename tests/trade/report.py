"""Prints what the tube table holds and how it stands against the outside.

python -m tests.trade.report
"""

from collections import Counter

from indexer.trade.tubes import all_tubes, known, packaged_rows
from tests.trade.table_checks import (
    PUBLISHED,
    disagreements,
    family,
    heater_exceptions,
    published_checks,
    reference_types,
)


def main() -> None:
    tubes = all_tubes()
    print(f"{len(tubes)} types")
    for name, rows in packaged_rows("tubes_*.csv").items():
        print(f"  {len(rows) - 1:5} {name}")
    _counts("by source", Counter(t.source for t in tubes.values()))
    _counts("by family", Counter(family(name) for name in tubes))
    _counts("by base", Counter(t.base for t in tubes.values()))
    doubtful = sum(bool(t.doubt) for t in tubes.values())
    coded = sum(bool(t.basing) for t in tubes.values())
    print(f"{doubtful} rows doubt a cell; {coded} have a basing code")
    found, listed = disagreements(), heater_exceptions()
    print(f"heater rule: {len(found)} departures, {len(set(found) - set(listed))} not listed")
    checks = list(published_checks())
    print(f"{sum(good for *_, good in checks)} of {len(checks)} heaters agree with {PUBLISHED}")
    for name, text, good in checks:
        print(f"  {'ok  ' if good else 'DIFF'} {name}: {text}")
    types = reference_types()
    if types:
        _counts("outside stock list", Counter(_way(name) for name in types))


def _way(name: str) -> str:
    tube = known(name)
    return "neither" if tube is None else "rule" if tube.decoded else "table"


def _counts(title: str, counts: Counter[str]) -> None:
    print(f"{title}: " + ", ".join(f"{name or '(none)'} {n}" for name, n in counts.most_common()))


if __name__ == "__main__":
    main()
