"""A generated library with files to walk: rows as indexing writes them, files that match them."""

import os
import random
from pathlib import Path

from indexer.model import Box, Word
from indexer.store.catalogue import Catalogue
from indexer.store.connect import writing
from indexer.store.words import pack
from tests.speed.finding_shelf import PAGES_AN_ENTRY, make_sets, write_shelf

ADDED_FOLDERS = 10
ADDED_A_FOLDER = 10  # typed notes of one page each
_DISTINCT = 2_000  # readings packed anew; later pages take theirs from these in turn


def grow(catalogue: Catalogue, shelf: Path, pages: int) -> int:
    """Writes about `pages` pages, four to a file, with readings, facts, entries and full text;
    the files they stand for are made under `shelf`. Returns how many files."""
    write_shelf(catalogue, make_sets(pages // PAGES_AN_ENTRY))
    run = catalogue.db.conn.execute
    with writing(catalogue.db):
        run("UPDATE folder SET path = ?", [str(shelf)])
        last = run("SELECT coalesce(max(id), 0) FROM page").fetchone()[0]
        kept: dict[int, bytes] = {0: pack(())}
        for start in range(1, last + 1, 10_000):
            rows = run(
                "SELECT rowid, body FROM page_text WHERE rowid >= ? AND rowid < ?",
                [start, start + 10_000],
            ).fetchall()
            readings = []
            for page_id, body in rows:
                packed = kept[page_id % _DISTINCT] if page_id >= _DISTINCT else pack(_words(body))
                if page_id < _DISTINCT:
                    kept[page_id] = packed
                rest = ("tesseract", 0, 1, 0.0, 2550, 3300, 1.0, packed)
                readings += [(page_id, raw, *rest) for raw in (1, 0)]
            catalogue.db.conn.executemany(
                "INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", readings
            )
    names = [row[0] for row in run("SELECT name FROM file")]
    for name in names:
        path = shelf / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
        os.truncate(path, 1)  # size and time as in the row
        os.utime(path, ns=(1, 1))
    return len(names)


def _words(body: str) -> tuple[Word, ...]:
    place = random.Random(len(body))
    return tuple(
        Word(text, Box(left, n * 40.0, left + 20.0 * len(text), n * 40.0 + 30), 0.9, n // 6)
        for n, text in enumerate(body.split())
        for left in (place.randrange(2_000) / 1.0,)
    )


def add_notes(shelf: Path, seed: int) -> int:
    """Adds 100 typed notes of one page each. Returns how many."""
    draw = random.Random(seed)
    for folder in range(ADDED_FOLDERS):
        place = shelf / f"new {seed} {folder}"
        place.mkdir(parents=True)
        for n in range(ADDED_A_FOLDER):
            model = f"{draw.choice('BCDFG')}{draw.choice('KLMX')}{draw.randrange(100, 999)}"
            (place / f"note {n}.txt").write_text(
                f"Quenumbry model {model}\nTubes 12BE6 12BA6 12AV6 50C5 35W4\n"
                f"Replaced the line condenser, {draw.randrange(10, 99)} mfd; aligned at 455 kc.\n"
            )
    return ADDED_FOLDERS * ADDED_A_FOLDER
