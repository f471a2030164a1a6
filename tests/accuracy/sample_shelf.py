"""`python -m tests.accuracy.sample_shelf`: the sample shelf read for real, against its truth.

Exits with 1 when a figure is below its floor. `--home DIR` uses a home that was read before.
"""

import argparse
import json
import sys
import tempfile
from pathlib import Path
from typing import Any

from indexer import Library, entry_json, page_json
from indexer.trade.codes import normal
from tests.accuracy.measures import Score, table

SAMPLE = Path(__file__).parents[2] / "sample_library"
FLOORS = {  # (recall, precision), a little under what the shelf gives
    "pages of a set in one entry": (0.98, 0.98),
    "models": (0.95, 0.97),
    "chassis": (0.97, 0.97),
    "tubes": (0.96, 0.98),
    "makers": (0.95, 0.97),
    "listings": (0.94, 0.94),
    "page kinds": (0.96, 0.95),
    "turns": (1.0, 1.0),
}

Pages = frozenset[tuple[str, int]]


def measure(library: Library, truth: dict[str, Any]) -> dict[str, Score]:
    """Every figure of the table: what cataloguing says against what was drawn."""
    scores = {name: Score() for name in FLOORS}
    entries = [entry_json(library, entry) for entry in library.all_entries()]
    left = list(entries)
    for drawn in truth["sets"]:
        pages = _pages(drawn)
        best = max(left, key=lambda e: len(_pages(e) & pages), default=None)
        if best is None or not _pages(best) & pages:
            best = {"pages": [], "models": [], "chassis": [], "tubes": [], "maker": ""}
        else:
            left.remove(best)
        scores["pages of a set in one entry"].add(pages, _pages(best))
        scores["models"].add(map(normal, drawn["models"]), map(normal, best["models"]))
        scores["chassis"].add(map(normal, drawn["chassis"]), map(normal, best["chassis"]))
        scores["tubes"].add(drawn["tubes"], best["tubes"])
        scores["makers"].add(
            [normal(drawn["maker"])], [normal(best["maker"])] if best["maker"] else []
        )
    for extra in left:  # entries that are no set cost precision
        for name in ("models", "chassis", "tubes"):
            scores[name].add([], extra[name])
        scores["pages of a set in one entry"].add([], _pages(extra))
    rows = {
        (row["file"], row["page"]): row for row in (page_json(library, p) for p in library.pages())
    }
    for page in truth["pages"]:
        row = rows[page["file"], page["page"]]
        scores["page kinds"].add(page["kinds"], row["kinds"])
        scores["turns"].add([page["rotation_deg"]], [row["rotation_deg"]])
    scores["listings"].add(map(_listing, truth["listings"]), map(_listing, _listings(library)))
    return scores


def exact_sets(library: Library, truth: dict[str, Any]) -> tuple[int, int]:
    """(sets whose pages are exactly those of one entry, sets drawn)."""
    found = {_pages(entry_json(library, entry)) for entry in library.all_entries()}
    return sum(_pages(drawn) in found for drawn in truth["sets"]), len(truth["sets"])


def _pages(thing: dict[str, Any]) -> Pages:
    return frozenset((page["file"], page["page"]) for page in thing["pages"])


def _listing(row: dict[str, Any]) -> tuple[object, ...]:
    here = row["here"]
    place = (here["file"], here["page"]) if here else None
    return normal(row["maker"]), normal(row["model"]), str(row["volume"]), str(row["page"]), place


def _listings(library: Library) -> list[dict[str, Any]]:
    rows = []
    for row in library.entries.all_listings():
        card = library.entries.card_of(row.here) if row.here else None
        here = {"file": card.file, "page": card.ref.page} if card else None
        rows.append(
            {
                "maker": row.maker,
                "model": row.model,
                "volume": row.volume,
                "page": row.page,
                "here": here,
            }
        )
    return rows


def main() -> int:
    """Reads the shelf, prints the table, and says whether every floor holds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--home", type=Path, help="a home in which the shelf was read before")
    given = parser.parse_args()
    truth = json.loads((SAMPLE / "truth.json").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as scratch, Library(given.home or Path(scratch)) as library:
        if given.home is None:
            library.index([SAMPLE / "shelf"])
        scores = measure(library, truth)
        right, drawn = exact_sets(library, truth)
    print(table(scores.items()))
    print(f"sets whose pages are exactly one entry: {right} of {drawn}")
    low = [
        name
        for name, (recall, precision) in FLOORS.items()
        if scores[name].recall < recall or scores[name].precision < precision
    ]
    if low:
        print("below the floor: " + ", ".join(low), file=sys.stderr)
    return 1 if low else 0


if __name__ == "__main__":
    sys.exit(main())
