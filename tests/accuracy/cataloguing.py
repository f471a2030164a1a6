"""`python -m tests.accuracy.cataloguing`: generated volumes made into entries, against their truth.

`--split report` takes the volumes that nothing was tuned on, `--edition N` further ones of the
same houses. `--read` reads the pages for real by both readers, as a library does (`--quick`: by
the first alone); without it the printed words go through a model of reading errors. `--keep DIR`
keeps what was drawn or read there and only catalogues it again the next time. Exits with 1 when a
figure is below its floor.
"""

import argparse
import json
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from indexer import Library, entry_json, page_json
from indexer.model import PageState
from indexer.store.looks import Looks
from indexer.trade.codes import normal
from indexer.units import catalogue_stale
from tests.accuracy.measures import Score, Share
from tests.accuracy.volumes.shelf import Shelf, draw_shelf, file_hash

FLOORS = {
    "sets whose pages are exactly right": 0.95,
    "page kinds, macro-F1": 0.95,
    "makers, F1": 0.96,
    "models, F1": 0.96,
    "chassis, F1": 0.96,
    "line-ups exactly right": 0.93,
    "listings, rows right": 0.97,
    "listings, resolved to the shelf": 0.98,
    "copies, F1": 0.97,
    "relations said, F1": 0.9,
}
CEILINGS = {"false entries": 0.01, "cataloguing as share of reading time": 0.1}
_READING_S = 1.5  # a page by the first reader alone, when the readings are made up

Place = tuple[str, int]


def main() -> int:
    """Draws or reads, catalogues, prints the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=("look", "report"), default="look")
    parser.add_argument("--edition", type=int, default=0, help="other volumes of the split")
    parser.add_argument("--read", action="store_true", help="read the pages for real")
    parser.add_argument("--quick", action="store_true", help="with --read: the first reader alone")
    parser.add_argument("--keep", type=Path, help="keep drawings and readings in this folder")
    parser.add_argument("--wrong", action="store_true", help="print what is wrong")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        kept = given.keep or Path(scratch)
        kept.mkdir(parents=True, exist_ok=True)
        home = ("home-quick" if given.quick else "home-read") if given.read else "home-noise"
        with Library(kept / home) as library:
            truth = _prepared(library, kept, given)
            library.catalogue.make_stale(Looks(library.catalogue).units())
            started = time.process_time()
            catalogue_stale(library.catalogue, lambda done, of, seconds: None)
            spent = time.process_time() - started
            figures = measure(library, truth, given.wrong)
            pages = len(truth["pages"])
            reading = Looks(library.catalogue).seconds_reading() if given.read else 0.0
            figures["cataloguing as share of reading time"] = spent / (
                reading or pages * _READING_S
            )
    sets = len(truth["sets"])
    how = "really read" + (" by the first reader" if given.quick else " by both readers")
    how = how if given.read else "words with made-up reading errors"
    print(f"{given.split} split, edition {given.edition}, {how}: {sets} sets, {pages} pages")
    low = False
    for name, value in figures.items():
        bad = value < FLOORS.get(name, 0.0) or value > CEILINGS.get(name, 9e9)
        low |= bad
        bound = f"floor {FLOORS[name]}" if name in FLOORS else f"at most {CEILINGS[name]}"
        print(f"{name:40}{value:8.3f}  {bound}{'  MISSED' if bad else ''}")
    return int(low)


def _prepared(library: Library, kept: Path, given: argparse.Namespace) -> dict[str, Any]:
    """The truth; the library holds a reading of every page."""
    folder = kept / "shelf"
    if given.read:
        if not folder.exists():
            draw_shelf(given.split, given.edition).write(folder)
        library.index([folder], quick=given.quick, workers=1)
    elif not (kept / "truth.json").exists() or not library.catalogue.files(
        library.catalogue.folder_id(folder)
    ):
        shelf = draw_shelf(given.split, given.edition)
        shelf.write(folder)
        _put(library, folder, given.split, shelf)
    truth: dict[str, Any] = json.loads((kept / "truth.json").read_text(encoding="utf-8"))
    return truth


def _put(library: Library, folder: Path, split: str, shelf: Shelf) -> None:
    """Readings with made-up errors, as if the first reader had been there."""
    catalogue = library.catalogue
    folder_id = catalogue.folder_id(folder)
    for file, scans in shelf.scans.items():
        digest = file_hash(split, file)
        catalogue.put_content(digest, "pdf", "", digest, [""] * len(scans))
        catalogue.put_file(folder_id, file, 1, 1, sha256=digest)
        ids = {
            row["number"]: row["id"]
            for row in catalogue.rows("SELECT id, number FROM page WHERE sha256 = ?", digest)
        }
        for n, scan in enumerate(scans, 1):
            reading = scan.read(f"{split} {file} {n}")
            catalogue.put_reading(
                ids[n], [reading], reading, scan.look(), state=PageState.DONE, wants_second=False
            )


def measure(library: Library, truth: dict[str, Any], wrong: bool = False) -> dict[str, float]:
    """Every figure of the table, 0 to 1."""

    def say(*words: object) -> None:
        if wrong:
            print("  ", *words)

    first = {(f, n): (g, m) for g, m, f, n in truth["copies"]}
    entries = [entry_json(library, entry) for entry in library.all_entries()]
    left = list(entries)
    exact, line_up, scores = Share(), Share(), {k: Score() for k in ("maker", "models", "chassis")}
    relations = Score()
    for drawn in truth["sets"]:
        pages = {tuple(place) for place in drawn["pages"]}
        best = max(left, key=lambda e: _closeness(e, drawn, pages, first), default=None)
        if best is None or not _closeness(best, drawn, pages, first):
            say("no entry for", drawn["maker"], drawn["models"], sorted(pages))
            best = {"pages": [], "models": [], "chassis": [], "tubes": [], "maker": ""}
        else:
            left.remove(best)
        shown = [first.get(p, p) for p in _pages(best)]
        right = sorted(shown) == sorted(pages)
        exact.add(right, 1)
        if not right:
            say("pages", drawn["models"], drawn["addendum"], "drawn", sorted(pages),
                "shown", sorted(_pages(best)))  # fmt: skip
        for name in ("models", "chassis"):
            scores[name].add(map(normal, drawn[name]), map(normal, best[name]))
            if set(map(normal, drawn[name])) != set(map(normal, best[name])):
                say(name, drawn[name], best[name], sorted(pages)[0])
        makers = [normal(best["maker"])] if best["maker"] else []
        scores["maker"].add([normal(drawn["maker"])], makers)
        if makers != [normal(drawn["maker"])]:
            say("maker", drawn["maker"], best["maker"], sorted(pages)[0])
        if drawn["tubes"]:
            line_up.add(sorted(best["tubes"]) == drawn["tubes"], 1)
            if sorted(best["tubes"]) != drawn["tubes"]:
                say("tubes", drawn["models"], "drawn", drawn["tubes"], "found",
                    sorted(best["tubes"]), sorted(pages)[0])  # fmt: skip
        said = [(r["relation"], normal(r["model"])) for r in best.get("relations", [])]
        wanted = [(drawn["relation"][0], normal(drawn["relation"][1]))] if drawn["relation"] else []
        if drawn["addendum"]:
            wanted = [("addendum to", normal(drawn["models"][0]))]
        relations.add(wanted, said)
        if sorted(wanted) != sorted(said):
            say("relations", drawn["models"], wanted, said)
    for entry in left:
        say("extra entry", entry["maker"], entry["models"], entry["tubes"], _pages(entry))
    return {
        "sets whose pages are exactly right": exact.value,
        "page kinds, macro-F1": _kinds(library, truth, say),
        "makers, F1": _f1(scores["maker"]),
        "models, F1": _f1(scores["models"]),
        "chassis, F1": _f1(scores["chassis"]),
        "line-ups exactly right": line_up.value,
        **_listings(library, truth, say),
        "copies, F1": _copies(library, truth, say),
        "relations said, F1": _f1(relations),
        "false entries": len(left) / max(1, len(entries)),
    }


def _closeness(
    entry: dict[str, Any], drawn: dict[str, Any], pages: set[Place], first: dict[Place, Place]
) -> float:
    """How much an entry looks like a set; 0 without a page in common."""
    shared = {first.get(p, p) for p in _pages(entry)} & pages
    codes = set(map(normal, drawn["models"])) & set(map(normal, entry["models"]))
    return len(shared) + 3 * len(codes) if shared else 0.0


def _pages(entry: dict[str, Any]) -> list[Place]:
    return [(page["file"], page["page"]) for page in entry["pages"]]


def _f1(score: Score) -> float:
    both = score.recall + score.precision
    return 2 * score.recall * score.precision / both if both else 0.0


def _kinds(library: Library, truth: dict[str, Any], say: Any) -> float:
    rows = {
        (row["file"], row["page"]): row for row in (page_json(library, p) for p in library.pages())
    }
    scores: dict[str, Score] = {}
    for page in truth["pages"]:
        found = set(rows[page["file"], page["page"]]["kinds"])
        wanted = set(page["kinds"])
        if page["tubes_only"]:  # only a set's head and line-up: notes or nothing, both are right
            wanted = found if found == {"service notes"} else wanted
        if found != wanted:
            say("kinds", page["file"], page["page"], "missed", wanted - found, "too many",
                found - wanted)  # fmt: skip
        for kind in found | wanted:
            scores.setdefault(kind, Score()).add({kind} & wanted, {kind} & found)
    for kind, score in sorted(scores.items()):
        say(f"kind {kind}: recall {score.recall:.3f} precision {score.precision:.3f}")
    return sum(map(_f1, scores.values())) / len(scores)


def _listings(library: Library, truth: dict[str, Any], say: Any) -> dict[str, float]:
    right, here, given = Share(), Share(), 0
    first = {(f, n): (g, m) for g, m, f, n in truth["copies"]}
    found: dict[tuple[str, ...], Any] = {}
    for row in library.entries.all_listings():
        card = library.entries.card_of(row.here) if row.here else None
        source = library.entries.card_of(row.ref)
        place = (card.file, card.ref.page) if card else None
        key = (source.file if source else "", normal(row.maker), normal(row.model), row.volume,
               row.page)  # fmt: skip
        found[key] = first.get(place, place) if place else None
        given += 1
    for row in truth["listings"]:
        key = (row["file"], normal(row["maker"]), normal(row["model"]), row["volume"], row["page"])
        right.add(key in found, 1)
        wanted = tuple(row["here"]) if row["here"] else None
        if key not in found:
            say("listing missed", key)
        else:
            here.add(found.pop(key) == wanted, 1)
    for key in found:
        say("listing too many", key)
    rows = right.part / max(right.whole, given)
    return {"listings, rows right": rows, "listings, resolved to the shelf": here.value}


def _copies(library: Library, truth: dict[str, Any], say: Any) -> float:
    group: dict[Place, Place] = {}
    for g, m, f, n in truth["copies"]:
        group[f, n] = (g, m)
    places = {(p["file"], p["page"]) for p in truth["pages"]}
    wanted = {(group.get(p, p), p) for p in places if p in group}
    score = Score()
    given = set()
    for row in library.pages():
        best = library.entries.best_copy(row.page_id)
        if best is not None:
            a, b = (best.file, best.ref.page), (row.file, row.ref.page)
            given.add((group.get(a, a), b) if b in group else (b, a))
    empty = {(p["file"], p["page"]) for p in truth["pages"] if p["no_set"]}
    given = {pair for pair in given if not set(pair) <= empty}  # a leaf printed twice is one
    score.add(wanted, given)
    for pair in sorted(wanted ^ given):
        say("copies", pair, "missed" if pair in wanted else "wrong")
    return _f1(score)


if __name__ == "__main__":
    sys.exit(main())
