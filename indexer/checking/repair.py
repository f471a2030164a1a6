"""Making again what can be made again. The records are never touched."""

import sqlite3
import time
from collections.abc import Iterable
from contextlib import closing, suppress
from pathlib import Path

from sqlite_utils import Database

from indexer.checking.catalogue import CATALOGUE_AGAIN, READ_AGAIN, REBUILD, REBUILD_TEXT
from indexer.checking.findings import Finding
from indexer.search.entries import EntryIndex
from indexer.store.catalogue import Catalogue
from indexer.store.connect import plain_errors, writing
from indexer.store.entries import EntryStore
from indexer.store.words import unpack

# What a damaged catalogue is asked for; everything else follows from these.
_SAVED = ("folder", "file", "content", "page", "reading")
_ALL_STALE = "INSERT OR REPLACE INTO unit SELECT DISTINCT unit, 1 FROM content"
_TAILS = ("", "-wal", "-shm")


def repair_catalogue(home: Path, findings: Iterable[Finding]) -> list[str]:
    """Does what the findings call for; a line for each thing done. Raises LibraryError."""
    wanted = {finding.mend for finding in findings}
    path = home / "catalogue.db"
    if REBUILD in wanted:
        return [_rebuilt(path)]
    done = []
    if wanted & {READ_AGAIN, CATALOGUE_AGAIN, REBUILD_TEXT}:
        with closing(Catalogue(path)) as catalogue:
            with plain_errors(path), writing(catalogue.db) as db:
                if REBUILD_TEXT in wanted:
                    db.conn.execute("INSERT INTO page_text(page_text) VALUES ('rebuild')")
                    done.append("catalogue.db: the full text was built again")
                again = _waiting_again(db)
            if again:
                done.append(f"catalogue.db: {again} pages or files wait to be read again")
            if CATALOGUE_AGAIN in wanted:
                with plain_errors(path), writing(catalogue.db) as db:
                    db.conn.execute(_ALL_STALE)
                done.append("catalogue.db: everything waits to be catalogued again")
    return done


def repair_entries(home: Path) -> list[str]:
    """Brings the index of entries up to date, from nothing where it is in doubt."""
    if not (home / "catalogue.db").exists():
        return []
    with closing(Catalogue(home / "catalogue.db")) as catalogue:
        index = EntryIndex(home / "entries.index", EntryStore(catalogue))
        try:
            index.rebuild()
        finally:
            index.close()
    return ["entries.index: built again"]


def sweep(home: Path) -> list[str]:
    """Takes away half-written files that a kill left behind."""
    left = [*home.glob(".benchfolio-*.part*"), *(home / "photos").glob(".part-*")]
    for path in left:
        path.unlink(missing_ok=True)
    return [f"{len(left)} half-written files taken away"] if left else []


def _rebuilt(path: Path) -> str:
    """A new catalogue with what can be read of the old, which is kept beside it."""
    aside = path.with_name(f"catalogue-damaged-{time.strftime('%Y%m%d-%H%M%S')}.db")
    for tail in _TAILS:
        with suppress(FileNotFoundError):
            Path(f"{path}{tail}").rename(f"{aside}{tail}")
    with closing(Catalogue(path)) as catalogue, plain_errors(path), writing(catalogue.db) as db:
        db.conn.execute("PRAGMA defer_foreign_keys = ON")
        counts = _saved(aside, db)
        # Rows whose owner was lost can't be kept.
        db.conn.execute("DELETE FROM file WHERE folder_id NOT IN (SELECT id FROM folder)")
        db.conn.execute("DELETE FROM page WHERE sha256 NOT IN (SELECT sha256 FROM content)")
        db.conn.execute("DELETE FROM reading WHERE page_id NOT IN (SELECT id FROM page)")
        _waiting_again(db)
        db.conn.execute(_ALL_STALE)
    return (
        f"catalogue.db: made anew with {counts['file']} files and {counts['reading']} readings of"
        f" the old one, which is kept as {aside.name}; run `benchfolio index`"
    )


def _saved(damaged: Path, db: Database) -> dict[str, int]:
    counts = dict.fromkeys(_SAVED, 0)
    with suppress(sqlite3.Error), closing(sqlite3.connect(damaged)) as old:
        for table in _SAVED:
            columns = [row[1] for row in db.conn.execute(f"PRAGMA table_info({table})")]
            names, places = ", ".join(columns), ", ".join("?" * len(columns))
            insert = f"INSERT OR IGNORE INTO {table}({names}) VALUES ({places})"
            with suppress(sqlite3.Error):  # as far as it can be read
                for row in old.execute(f"SELECT {names} FROM {table}"):
                    with suppress(sqlite3.IntegrityError):
                        db.conn.execute(insert, tuple(row))
                        counts[table] += 1
    return counts


def _waiting_again(db: Database) -> int:
    """Sends pages without a usable reading, and files without their content, round again."""
    run = db.conn.execute
    for page_id, raw, reader, words in run(
        "SELECT page_id, raw, reader, words FROM reading"
    ).fetchall():
        try:
            unpack(words)
        except Exception:  # damaged bytes: zlib, JSON and the count of fields all may object
            run(
                "DELETE FROM reading WHERE page_id = ? AND raw = ? AND reader = ?",
                [page_id, raw, reader],
            )
    short = (
        "SELECT sha256 FROM content WHERE page_count <>"
        " (SELECT count(*) FROM page WHERE page.sha256 = content.sha256)"
    )
    run(
        "INSERT OR REPLACE INTO unit SELECT DISTINCT unit, 1 FROM content"
        f" WHERE sha256 IN ({short})"
    )
    run(f"UPDATE file SET state = 'failed', sha256 = NULL WHERE sha256 IN ({short})")
    files = run(
        "UPDATE file SET state = 'failed', sha256 = NULL, reason = 'to be read again'"
        " WHERE state <> 'failed' AND (sha256 IS NULL OR sha256 NOT IN"
        " (SELECT sha256 FROM content))"
    ).rowcount
    files += run(f"SELECT count(*) FROM ({short})").fetchone()[0]
    run(f"DELETE FROM page WHERE sha256 IN ({short})")
    run("DELETE FROM content WHERE sha256 NOT IN (SELECT sha256 FROM page)")
    run("DELETE FROM page_text WHERE rowid NOT IN (SELECT id FROM page)")
    pages = run(
        "UPDATE page SET state = 'waiting', reason = '' WHERE state IN ('read', 'done')"
        " AND NOT EXISTS (SELECT 1 FROM reading WHERE page_id = page.id AND raw = 0)"
    ).rowcount
    return int(files + pages)
