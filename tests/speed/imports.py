"""What importing the trade's knowledge costs, beside starting Python: python -m tests.speed.imports

Processor time of a fresh interpreter, best of several runs, so that other work on the machine
counts little. The standard library's modules that the package uses are loaded first.
"""

import subprocess
import sys

_LIMIT_MS = 20.0
_RUNS = 7
_STANDARD = "import indexer, collections, csv, dataclasses, enum, functools, re, typing"
_MODULES = ("tubes", "relations", "codes", "values", "cautions")


def cost_ms(module: str) -> float:
    """Milliseconds of processor time to import `indexer.trade.<module>`, best of the runs."""
    code = (
        f"{_STANDARD}, time; t = time.process_time_ns(); "
        f"import indexer.trade.{module}; print(time.process_time_ns() - t)"
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
    return int(worst > _LIMIT_MS)


if __name__ == "__main__":
    sys.exit(main())
