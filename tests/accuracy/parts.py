"""`python -m tests.accuracy.parts`: parts lists of the sample shelf against what was drawn.

Exits with 1 when a figure is below its floor. `--home DIR` uses a home that was read before.
"""

import argparse
import json
import sys
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from indexer import Library
from indexer.bench.parts import PartLine, read_parts
from indexer.trade.value_parse import parse_value
from sample_library.drawing import sets_annual, sets_loose
from sample_library.drawing.compose import parts_of
from tests.accuracy.measures import Score, table

SAMPLE = Path(__file__).parents[2] / "sample_library"
FLOORS = {"lines (value and reference)": 0.95, "sections of cans": 0.9}

Fact = tuple[str, float | None]


def drawn_lines(rx: Any) -> tuple[list[Fact], list[Fact]]:
    """(every part of a drawn set, sections of its cans), each as name and value in SI units."""
    old = rx.circuit.values["load"] == "250M"
    lines: list[Fact] = []
    cans: list[Fact] = []
    for reference, words in parts_of(rx).lines:
        kind = {"C": "farads", "R": "ohms"}.get(reference.rstrip("0123456789"))
        bare = words if kind == "farads" or words.split()[0][-1] in "KM" else ""
        values = [
            v.number
            for v in parse_value(bare or words, kind or "", old_m=old)
            if v.kind == kind and "GANG" not in words
        ]
        if kind == "ohms" and not values:
            values = [float(words.split()[0].replace(",", ""))]
        if len(values) > 1:
            found = [(reference + "ABC"[n], value) for n, value in enumerate(values)]
            cans += found
            lines += found
        else:
            lines.append((reference, values[0] if values else None))
    return lines, cans


def _fact(line: PartLine) -> Fact:
    value = line.value if line.prefix in ("C", "R") else None
    return line.name, value.number if value else None


def measure(library: Library, truth: dict[str, Any], *, show: bool = False) -> dict[str, Score]:
    """Recall and precision of (reference, value) over every page that prints a parts list."""
    sets = {rx.id: rx for rx in (*sets_annual.ALL, *sets_loose.LOOSE, *sets_loose.BOOKLET)}
    scores = {name: Score() for name in FLOORS}
    rows = {(row.file, row.ref.page): row for row in library.pages()}
    for page in truth["pages"]:
        if "parts list" not in page["kinds"]:
            continue
        row = rows[page["file"], page["page"]]
        read = library.catalogue.reading
        merged = read(row.page_id)
        raw = [r for name in ("tesseract", "second") if (r := read(row.page_id, name))]
        found = read_parts(merged, row.ref, raw) if merged else ()
        given = [_fact(line) for line in found if line.prefix not in ("", "V")]
        wanted, cans = drawn_lines(sets[page["sets"][0]])
        scores["lines (value and reference)"].add(wanted, given)
        letters = [fact for fact in given if fact[0][-1] in "ABC"]
        scores["sections of cans"].add(cans, letters)
        if show:
            missing = Counter(wanted) - Counter(given)
            wrong = Counter(given) - Counter(wanted)
            print(page["file"], page["page"], len(wanted), sorted(missing), "GIVEN", sorted(wrong))
    return scores


def main() -> int:
    """Reads the shelf's parts lists, prints the table, and says whether every floor holds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--home", type=Path, help="a home in which the shelf was read before")
    parser.add_argument("--show", action="store_true", help="print every miss")
    given = parser.parse_args()
    truth = json.loads((SAMPLE / "truth.json").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as scratch, Library(given.home or Path(scratch)) as library:
        if given.home is None:
            library.index([SAMPLE / "shelf"])
        scores = measure(library, truth, show=given.show)
    print(table(scores.items()))
    low = [name for name, floor in FLOORS.items() if scores[name].recall < floor]
    if low:
        print("below the floor: " + ", ".join(low), file=sys.stderr)
    return 1 if low else 0


if __name__ == "__main__":
    sys.exit(main())
