"""`python -m tests.accuracy.bench_sheets`: work pages read from drawn scans, against the truth.

Draws parts lists, voltage and resistance charts and alignment steps in several house styles,
wears them, lets the library read them as files, and compares what the bench readers make of
them. Pages of the report split have other seeds, faces and wear than those one looks at.
`--quick` takes a few of the latter, with floors that much lower. Exits with 1 when a figure is
below its floor.
"""

import argparse
import random
import sys
import tempfile
from math import isinf
from pathlib import Path

from indexer import Library
from indexer.bench.alignment import alignment_table
from indexer.bench.charts import read_charts
from indexer.bench.parts import read_parts
from indexer.model import PageReading, PageRef
from indexer.trade.numbering import registered
from tests.accuracy.bench_sheets import alignments, charts, parts_lists
from tests.accuracy.bench_sheets.sheet import Fact, Sheet, masthead
from tests.accuracy.measures import Score, table
from tests.accuracy.press.faces import families, missing
from tests.accuracy.press.pages import save
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.sets import make_set
from tests.accuracy.press.wear import Wear, worn

_WEARS = {
    "look": (
        Wear("bitonal 300"),
        Wear("grey jpeg 200", dpi=200, bitonal=False, yellow=0.6, jpeg=60, skew_deg=1.0),
        Wear("bitonal 400, holes", dpi=400, holes=2, skew_deg=1.2),
        Wear("grey, blurred", bitonal=False, blur_px=1.5, dpi=220, jpeg=55, skew_deg=1.5),
        Wear("bitonal 200", dpi=200, skew_deg=1.2),
    ),
    "report": (
        Wear("grey 300", bitonal=False, blur_px=1.1, skew_deg=1.4),
        Wear("bitonal 240, borders", dpi=240, borders=True, skew_deg=1.0),
        Wear("yellowed jpeg 240", dpi=240, bitonal=False, yellow=0.9, jpeg=50, blur_px=1.0),
    ),
}
_TURNS = ("parts", "charts", "alignment")
_SEEDS = {"look": 300, "report": 88_000}
_STYLES = {"look": 0, "report": 2}  # where the turn of styles begins
FLOORS = {
    "parts: value and reference": 0.95,
    "parts: sections of cans": 0.90,
    "voltages": 0.90,
    "resistances": 0.90,
    "alignment cells": 0.85,
}
_QUICK_PAGES = 18  # of the report split
_QUICK_BELOW = 0.12  # so few pages say less: their floors lie this much lower


def drawn(split: str, n: int) -> Sheet:
    """Work page `n` of a split, worn, with its truth: parts, charts and alignment in turn."""
    seed = f"bench-{split}-{n + _SEEDS[split]}"
    paper = Paper(seed)
    kinds = families(split)
    turn = n // 3 + _STYLES[split]
    sheet = Sheet(paper, make_set(paper.rng, split), kinds[n % len(kinds)], turn)
    y = masthead(sheet)
    if n % 3 == 0:
        parts_lists.draw(sheet, y)
    elif n % 3 == 1:
        y = charts.draw(sheet, y, charts.VOLTS) + 80
        charts.draw(sheet, y, charts.OHMS)
    else:
        y = alignments.draw(sheet, y) + 80
        if turn % 2:
            charts.draw(sheet, y, charts.VOLTS)
    page: Page = paper.page("text", "work")
    wears = _WEARS[split]
    how = wears[(n // 3 + n) % len(wears)]
    sheet.page = worn(page, how, random.Random(seed).randrange(1 << 30), lambda: page)
    return sheet


def compare(sheet: Sheet, reading: PageReading, raw: list[PageReading], ref: PageRef) -> None:
    """Adds one page to the scores."""
    parts = read_parts(reading, ref, raw)
    given: list[Fact] = []
    for line in parts:
        value = line.value if line.prefix in ("C", "R") else None
        if line.prefix not in ("", "V"):
            given.append((line.name, float(f"{value.number:.4g}") if value else None))
    wanted = [(name, float(f"{v:.4g}") if v is not None else None) for name, v in sheet.parts]
    _add("parts: value and reference", wanted, given)
    cans = [fact for fact in wanted if str(fact[0])[-1].isalpha()]
    _add("parts: sections of cans", cans, [f for f in given if str(f[0])[-1:] in "ABC"])
    types = [registered(tube) or tube for tube in sheet.one.tubes]
    points = read_charts(reading, ref, types)
    for name, unit in (("voltages", charts.VOLTS), ("resistances", charts.OHMS)):
        got = [
            (*_place(p.symbol, p.tube, sheet), p.pin, _rounded(p.nominal))
            for p in points
            if p.unit == unit
        ]
        want = [(tube, nth, pin, _rounded(v)) for tube, nth, pin, u, v in sheet.points if u == unit]
        _add(name, want, got)
    steps = alignment_table(reading, ref, "page")
    cells: list[Fact] = []
    for row in steps.rows[1:] if steps else ():
        number = alignments.plain(row[0])
        cells += [(number, k, alignments.plain(cell)) for k, cell in enumerate(row)]
    prose = not any(k == 0 for _, k, _ in sheet.steps)
    cells = [c for c in cells if not (prose and c[1] == 0)]
    _add("alignment cells", sheet.steps, cells)


def _place(symbol: str, tube: str, sheet: Sheet) -> tuple[str, int]:
    """The tube as printed and which of its kind, from "V3", "12SK7" or "12SK7/2"."""
    if symbol[:1] == "V" and symbol[1:].isdigit():
        at = int(symbol[1:]) - 1
        if at < len(sheet.one.tubes):
            printed = sheet.one.tubes[at]
            return printed, sheet.one.tubes[: at + 1].count(printed)
    name, _, nth = symbol.rpartition("/")
    found = next((t for t in sheet.one.tubes if t.startswith(tube)), tube)
    return found, int(nth) if name and nth.isdigit() else 1


def _rounded(value: object) -> object:
    number = float(str(value))
    return "open" if isinf(number) else float(f"{number:.4g}")


_SCORES = {name: Score() for name in FLOORS}
_SHOWN: list[str] = []


def _add(name: str, wanted: list[Fact], given: list[Fact]) -> None:
    if wanted or given:
        _SCORES[name].add(wanted, given)
        missing = [f for f in wanted if f not in given]
        wrong = [f for f in given if f not in wanted]
        if missing or wrong:
            _SHOWN.append(f"   {name}: missing {missing} GIVEN {wrong}")


def main() -> int:
    """Draws, reads, prints the table, and says whether every floor holds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=sorted(_WEARS), default="look")
    parser.add_argument("--pages", type=int, default=30)
    parser.add_argument("--keep", type=Path, help="folder for the pages and their home")
    parser.add_argument("--only", choices=_TURNS, help="only pages of one kind")
    parser.add_argument("--show", action="store_true", help="print every miss")
    parser.add_argument("--quick", action="store_true", help="a few pages of the report split")
    given = parser.parse_args()
    if given.quick:
        given.split, given.pages = "report", _QUICK_PAGES
        if lacking := missing(given.split):
            print("not measured: these typefaces are not installed:", *lacking)
            return 0
    numbers = [n for n in range(given.pages) if given.only in (None, _TURNS[n % 3])]
    sheets = {f"{n:03d}": drawn(given.split, n) for n in numbers}
    with tempfile.TemporaryDirectory() as scratch:
        base = given.keep or Path(scratch)
        shelf = base / "shelf"
        shelf.mkdir(parents=True, exist_ok=True)
        for n, sheet in zip(numbers, sheets.values(), strict=True):
            assert sheet.page is not None
            if not list(shelf.glob(f"{n:03d}.*")):
                save(sheet.page, shelf, n)
        with Library(base / "home") as library:
            library.index([shelf])
            read = library.catalogue.reading
            for row in library.pages():
                name = Path(row.file).stem
                merged = read(row.page_id)
                if name not in sheets or merged is None:
                    continue
                raw = [r for reader in ("tesseract", "second") if (r := read(row.page_id, reader))]
                _SHOWN.append(f"{row.file} style {sheets[name].style}")
                compare(sheets[name], merged, raw, row.ref)
    if given.show:
        print("\n".join(_SHOWN))
    print(table(_SCORES.items()))
    below = _QUICK_BELOW if given.quick else 0.0
    low = [name for name, floor in FLOORS.items() if _SCORES[name].recall < floor - below]
    if low:
        print("below the floor: " + ", ".join(low), file=sys.stderr)
    return 1 if low else 0


if __name__ == "__main__":
    sys.exit(main())
