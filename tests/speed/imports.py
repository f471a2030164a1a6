"""What the trade's knowledge costs to load and to ask, beside starting Python: python -m
tests.speed.imports

Processor time of a fresh interpreter, best of several runs, so that other work on the machine
counts little. The standard library's modules that the package uses are loaded first.
"""

import subprocess
import sys

_LIMIT_MS = 20.0
_RUNS = 7
_STANDARD = "import indexer, collections, csv, dataclasses, enum, functools, re, typing"
_MODULES = ("tubes", "relations", "codes", "values", "cautions")
# What is done once a module is there, and its limit in milliseconds.
_ASKED = {
    "the whole table of tubes": ("tubes.all_tubes()", 200.0),
    "relations of 60 x 60 types": (
        "some = sorted(tubes.all_tubes())[::9][:60];"
        " [relations.relation(a, b) for a in some for b in some]",
        1_500.0,
    ),
}


def cost_ms(module: str) -> float:
    """Milliseconds of processor time to import `indexer.trade.<module>`, best of the runs."""
    return _spent_ms(f"import indexer.trade.{module}")


def _spent_ms(what: str, first: str = "pass") -> float:
    """Milliseconds of processor time that statements take in a fresh interpreter after others."""
    code = (
        f"{_STANDARD}, time\n{first}\nt = time.process_time_ns()\n{what}\n"
        "print(time.process_time_ns() - t)"
    )
    runs = (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
        for _ in range(_RUNS)
    )
    return min(int(run.stdout) for run in runs) / 1e6


def main() -> int:
    """Print one line a module; 1 when one is over the limit."""
    worst = 0.0
    for module in _MODULES:
        spent = cost_ms(module)
        worst = max(worst, spent)
        print(f"indexer.trade.{module:10} {spent:6.1f} ms   (limit {_LIMIT_MS:g})")
    over = worst > _LIMIT_MS
    for name, (what, limit_ms) in _ASKED.items():
        spent = _spent_ms(what, "from indexer.trade import relations, tubes")
        over |= spent > limit_ms
        print(f"{name:26} {spent:6.1f} ms   (limit {limit_ms:g})")
    return int(over)


if __name__ == "__main__":
    sys.exit(main())
