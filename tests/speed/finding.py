"""`python -m tests.speed.finding`: questions in process and from the shell, as the shelf grows.

By default at 1,000, 10,000 and 100,000 pages; `--million` adds 1,000,000. Beside it, in the same
run: plain FTS5, tantivy and a rapidfuzz scan of every code, where installed. Exits with 1 when a
target at 100,000 pages is missed.
"""

import argparse
import os
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
from tests.speed.finding_shelf import PAGES_AN_ENTRY, MadeSet, make_sets, write_shelf

QUESTIONS = 100
TARGET_AT = 100_000
TARGETS_MS = {"code": 10.0, "words": 60.0, "kin": 30.0, "shell": 400.0}
ROOT = Path(__file__).parents[2]


def times_ms(ask: Callable[[Any], object], questions: Sequence[Any]) -> tuple[float, float]:
    """Median and 95th percentile."""
    taken = []
    for question in questions:
        started = time.perf_counter()
        ask(question)
        taken.append((time.perf_counter() - started) * 1e3)
    return statistics.median(taken), statistics.quantiles(taken, n=20)[-1]


def shell_ms(home: Path, code: str) -> float:
    """The command from its start to its end, best of five."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "BENCHFOLIO_HOME": str(home)}
    command = [sys.executable, "-c", "from cli.app import main; main()", "find", "model", code]
    taken = []
    for _ in range(5):
        started = time.perf_counter()
        subprocess.run(command, env=environment, capture_output=True, check=False, timeout=60)
        taken.append((time.perf_counter() - started) * 1e3)
    return min(taken)


def others(
    library: Library, codes: Sequence[str], words: Sequence[str]
) -> dict[str, tuple[float, float]]:
    """The same questions put to other means; those not installed are left out by name."""
    found: dict[str, tuple[float, float]] = {}
    rows = library.catalogue.rows

    def plain(text: str) -> object:
        match = " ".join(f'"{word}"' for word in text.split())
        return rows(
            "SELECT rowid FROM page_text WHERE page_text MATCH ? ORDER BY rank LIMIT 20", match
        )

    found["FTS5, code"] = times_ms(plain, codes)
    found["FTS5, words"] = times_ms(plain, words)
    try:
        from rapidfuzz import fuzz, process
    except ImportError:
        print("    rapidfuzz is not installed")
    else:
        every = [row[0] for row in rows("SELECT printed FROM code")]
        found["rapidfuzz scan, code"] = times_ms(
            lambda code: process.extract(code, every, scorer=fuzz.ratio, limit=20), codes
        )
    try:
        import tantivy
    except ImportError:
        print("    tantivy is not installed")
        return found
    builder = tantivy.SchemaBuilder()
    builder.add_text_field("body")
    index = tantivy.Index(builder.build())
    writer = index.writer(128_000_000, 1)
    for row in library.catalogue.db.conn.execute("SELECT body FROM page_text"):
        writer.add_document(tantivy.Document(body=row[0]))
    writer.commit()
    index.reload()
    searcher = index.searcher()

    def compiled(text: str) -> object:
        quoted = " ".join(f'+"{word}"' for word in text.split())
        return searcher.search(index.parse_query(quoted, ["body"]), 20)

    found["tantivy, code"] = times_ms(compiled, codes)
    found["tantivy, words"] = times_ms(compiled, words)
    return found


def questions(sets: Sequence[MadeSet]) -> tuple[list[str], list[str], list[tuple[str, ...]]]:
    """Codes (clean, misread, rubbed), words (rare with common, and common alone), line-ups."""
    draw = random.Random(1)
    codes = []
    for n in range(QUESTIONS):
        code = draw.choice(sets).models[0].partition(" through ")[0]
        codes.append((code, code.replace("0", "O").replace("1", "I"), code[:-1] + "7")[n % 3])
    words = [f"w{draw.randrange(5_000):04d} alignment" for _ in range(QUESTIONS * 3 // 4)]
    words += [draw.choice(("socket voltage chart", "dial cord", "alignment", "output coil"))
              for _ in range(QUESTIONS // 4)]  # fmt: skip
    return codes, words, [draw.choice(sets).tubes for _ in range(QUESTIONS)]


def measure(home: Path, pages: int) -> list[str]:
    """Prints one row of the table; the targets missed, if they are to be met at this size."""
    sets = list(make_sets(pages // PAGES_AN_ENTRY))
    codes, words, line_ups = questions(sets)
    with Library(home) as library:
        started = time.perf_counter()
        write_shelf(library.catalogue, iter(sets))
        built = time.perf_counter() - started
        del sets
        started = time.perf_counter()
        library.find(library.understand("alignment"))  # makes the index of entries
        indexed = time.perf_counter() - started
        figures = {
            "code": times_ms(lambda q: library.find(library.understand("model " + q)), codes),
            "words": times_ms(lambda q: library.find(library.understand(q)), words),
            "kin": times_ms(library.kin, line_ups),
        }
        memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        shell = shell_ms(home, codes[0])
        print(f"\n{pages} pages: written in {built:.0f} s, entries indexed in {indexed:.0f} s, ")
        print(
            f"    {len(library.entries.line_ups())} distinct line-ups, {memory_mb:.0f} MB at most"
        )
        for name, (median, high) in figures.items():
            print(f"    {name:24} median {median:7.1f} ms   95th percentile {high:7.1f} ms")
        print(f"    {'shell, find by code':24} {shell:14.0f} ms")
        for name, (median, high) in others(library, codes, words).items():
            ours = figures[name.rpartition(", ")[2]]
            print(
                f"    {name:24} median {median:7.1f} ms   95th percentile {high:7.1f} ms"
                f"   ours / it {ours[0] / median:.2f}, {ours[1] / high:.2f}"
            )
    measured = {**{name: pair[1] for name, pair in figures.items()}, "shell": shell}
    if pages != TARGET_AT:
        return []
    return [name for name, most in TARGETS_MS.items() if measured[name] > most]


def main() -> int:
    """Measures each size in a home of its own."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--million", action="store_true", help="also at 1,000,000 pages")
    parser.add_argument("--pages", type=int, nargs="*", help="other sizes")
    given = parser.parse_args()
    sizes = given.pages or [1_000, 10_000, 100_000, *([1_000_000] if given.million else [])]
    missed: list[str] = []
    for pages in sizes:
        with tempfile.TemporaryDirectory() as home:
            missed += measure(Path(home), pages)
    if missed:
        print("target missed: " + ", ".join(missed), file=sys.stderr)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
