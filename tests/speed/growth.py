"""`python -m tests.speed.growth`: what a library costs as it grows, and with which slope.

Generated libraries without pictures, at 1,000, 10,000 and 100,000 pages, with `--million` also at
1,000,000, each in a process of its own. The figures go to `growth.csv` beside this file, each size
in place of its earlier row; `--plot` draws what is kept to `growth.png`. Exits with 1 when `index`
with nothing changed takes more than 5 s for 100,000 files.

Questions are taken in processor time, which a busy machine changes less; the rest in elapsed time,
the best of a few. The slope is the exponent between the last two sizes: 0 is a cost that does not
grow, 1 one that grows as the pages do.
"""

import argparse
import csv
import json
import math
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from indexer import Library
from tests.speed.finding_shelf import PAGES_AN_ENTRY, MadeSet, make_sets
from tests.speed.growth_shelf import add_notes, grow

HERE = Path(__file__).parent
FIGURES = HERE / "growth.csv"
MOST_UNCHANGED_S = 5.0  # for 100,000 files
QUESTIONS = 60
SHARED_MEMORY = Path("/dev/shm")
# What is measured, its unit, and what it is called on the drawing.
MEASURES = {
    "build_s": "build: rows, readings, full text, entries' index (s)",
    "size_mb": "size on disk (MB)",
    "memory_mb": "most memory of one process (MB)",
    "unchanged_s": "index, nothing changed (s)",
    "add_100_s": "index, 100 pages added (s)",
    "find_code_ms": "find by model, 95th percentile (processor ms)",
    "find_words_ms": "find by words, 95th percentile (processor ms)",
    "kin_ms": "kin, 95th percentile (processor ms)",
}


def measure(pages: int, home: Path, shelf: Path) -> dict[str, float]:
    """The figures of one library of about `pages` pages."""
    figures: dict[str, float] = {"pages": pages}
    shelf.mkdir()
    with Library(home) as library:
        started = time.perf_counter()
        figures["files"] = grow(library.catalogue, shelf, pages)
        library.find(library.understand("alignment"))  # makes the index of entries
        figures["build_s"] = time.perf_counter() - started
    figures["size_mb"] = sum(p.stat().st_size for p in home.rglob("*") if p.is_file()) / 1e6
    with Library(home) as library:
        unchanged = []
        for _ in range(3):
            started = time.perf_counter()
            summary = library.index([shelf])
            unchanged.append(time.perf_counter() - started)
            assert summary.files_unchanged == figures["files"], summary
        figures["unchanged_s"] = min(unchanged)
        added = []
        for seed in range(2):
            wanted = add_notes(shelf, seed)
            started = time.perf_counter()
            summary = library.index([shelf], quick=True)
            added.append(time.perf_counter() - started)
            assert summary.pages_read == wanted, summary
        figures["add_100_s"] = min(added)
        codes, words, line_ups = _questions(pages)
        figures["find_code_ms"] = _slow_ms(lambda q: library.find(library.understand(q)), codes)
        figures["find_words_ms"] = _slow_ms(lambda q: library.find(library.understand(q)), words)
        figures["kin_ms"] = _slow_ms(library.kin, line_ups)
    figures["memory_mb"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return figures


def _slow_ms(ask: Callable[[Any], object], questions: Sequence[Any]) -> float:
    """The 95th percentile of what a question takes of the processor."""
    taken = []
    for question in questions:
        started = time.process_time()
        ask(question)
        taken.append((time.process_time() - started) * 1e3)
    return statistics.quantiles(taken, n=20)[-1]


def _questions(pages: int) -> tuple[list[str], list[str], list[tuple[str, ...]]]:
    draw = random.Random(3)
    sets: Sequence[MadeSet] = list(make_sets(min(pages // PAGES_AN_ENTRY, 2_000)))
    asked = [draw.choice(sets) for _ in range(QUESTIONS)]
    codes = [f"model {made.models[0].partition(' through ')[0]}" for made in asked]
    words = [f"w{draw.randrange(5_000):04d} alignment" for _ in range(QUESTIONS - 10)]
    words += ["socket voltage chart", "dial cord"] * 5
    return codes, words, [made.tubes for made in asked]


def slope(rows: Sequence[dict[str, float]], name: str) -> float:
    """The exponent of growth between the last two sizes; NaN where there is but one."""
    if len(rows) < 2:
        return math.nan
    before, last = rows[-2:]
    return math.log(last[name] / before[name]) / math.log(last["pages"] / before["pages"])


def _measured(pages: int) -> dict[str, float]:
    """One size in a process of its own, so that memory is its own."""
    room = SHARED_MEMORY if SHARED_MEMORY.is_dir() else None  # files only to be walked over
    with tempfile.TemporaryDirectory() as home, tempfile.TemporaryDirectory(dir=room) as shelf:
        command = [sys.executable, "-m", "tests.speed.growth", "--one", str(pages)]
        command += [str(Path(home) / "home"), str(Path(shelf) / "shelf")]
        done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
        found: dict[str, float] = json.loads(done.stdout)
        return found


def read_figures() -> list[dict[str, float]]:
    """The rows of `growth.csv`."""
    with FIGURES.open(newline="") as stream:
        return [
            {name: float(value) for name, value in row.items()} for row in csv.DictReader(stream)
        ]


def _keep(fresh: dict[str, float]) -> None:
    """Puts a size's row in place of its earlier one; the other sizes stay."""
    kept = {row["pages"]: row for row in read_figures()} if FIGURES.exists() else {}
    kept[fresh["pages"]] = fresh
    rows = [kept[pages] for pages in sorted(kept)]
    with FIGURES.open("w", newline="") as stream:
        writer = csv.DictWriter(stream, ["pages", "files", *MEASURES], lineterminator="\n")
        writer.writeheader()
        for row in rows:
            writer.writerow({name: f"{row[name]:.4g}" if name in MEASURES else int(row[name])
                             for name in writer.fieldnames})  # fmt: skip


def _table(rows: Sequence[dict[str, float]]) -> None:
    print(f"{'':54}" + "".join(f"{int(row['pages']):>12,}" for row in rows) + "   slope")
    for name, called in MEASURES.items():
        figures = "".join(f"{row[name]:12.4g}" for row in rows)
        print(f"{called:54}{figures}{slope(rows, name):8.2f}")


def main() -> int:
    """Measures, prints, keeps and draws."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--million", action="store_true", help="also at 1,000,000 pages")
    parser.add_argument("--pages", type=int, nargs="*", help="other sizes; not kept")
    parser.add_argument("--keep", action="store_true", help="keep those sizes too")
    parser.add_argument("--plot", action="store_true", help="draw what is kept, measure nothing")
    parser.add_argument(
        "--one", nargs=3, metavar=("PAGES", "HOME", "SHELF"), help=argparse.SUPPRESS
    )
    given = parser.parse_args()
    if given.one:
        print(json.dumps(measure(int(given.one[0]), Path(given.one[1]), Path(given.one[2]))))
        return 0
    if given.plot:
        from tests.speed.growth_plot import draw

        rows = read_figures()
        draw(rows, MEASURES, slope, HERE / "growth.png")
    else:
        sizes = given.pages or [1_000, 10_000, 100_000, *([1_000_000] if given.million else [])]
        rows = []
        for pages in sizes:
            rows.append(_measured(pages))
            if given.keep or not given.pages:
                _keep(rows[-1])
    _table(rows)
    slow = [r for r in rows if r["unchanged_s"] > MOST_UNCHANGED_S * max(1, r["files"] / 100_000)]
    return 1 if slow else 0


if __name__ == "__main__":
    sys.exit(main())
