"""Whether the catalogue is sound and agrees with itself."""

import sqlite3
from pathlib import Path

from indexer.checking.findings import Finding, check_store, looking
from indexer.store.schema import catalogue_migrations
from indexer.store.words import unpack

_WHERE = "catalogue.db"
REBUILD = "saves what can be read of it; `benchfolio index` reads the rest again"
_REMEDY = "It can be made again from your files: benchfolio check --repair"
READ_AGAIN = "has these pages read again by the next `benchfolio index`"
CATALOGUE_AGAIN = "has them catalogued again by the next `benchfolio index`"
REBUILD_TEXT = "builds the full text again"

# What must hold, each with a question that counts what breaks it, and how it is mended.
_RULES = (
    (
        "files name bytes that are not catalogued",
        "SELECT count(*) FROM file WHERE state = 'ok' AND sha256 NOT IN"
        " (SELECT sha256 FROM content)",
        READ_AGAIN,
    ),
    (
        "files have another number of pages than was counted in them",
        "SELECT count(*) FROM content WHERE page_count <>"
        " (SELECT count(*) FROM page WHERE page.sha256 = content.sha256)",
        READ_AGAIN,
    ),
    (
        "pages are said to be read but have no reading",
        "SELECT count(*) FROM page WHERE state IN ('read', 'done') AND NOT EXISTS"
        " (SELECT 1 FROM reading WHERE page_id = page.id AND raw = 0)",
        READ_AGAIN,
    ),
    (
        "pages were read but are neither catalogued nor waiting for it",
        "SELECT count(*) FROM page JOIN content USING (sha256)"
        " LEFT JOIN unit ON unit.name = content.unit"
        " WHERE state IN ('read', 'done') AND coalesce(unit.stale, 0) = 0"
        " AND page.id NOT IN (SELECT page_id FROM page_fact)",
        CATALOGUE_AGAIN,
    ),
    (
        "catalogued pages are missing from the full text",
        "SELECT count(*) FROM page_fact JOIN page ON page.id = page_id"
        " JOIN content USING (sha256) LEFT JOIN unit ON unit.name = content.unit"
        " WHERE coalesce(unit.stale, 0) = 0 AND page_id NOT IN (SELECT rowid FROM page_text)",
        CATALOGUE_AGAIN,
    ),
    (
        "pages of the full text are in no file",
        "SELECT count(*) FROM page_text WHERE rowid NOT IN (SELECT id FROM page)",
        CATALOGUE_AGAIN,
    ),
)


def check_catalogue(home: Path) -> tuple[str, list[Finding]]:
    """(a short account, what is wrong) of `catalogue.db` in `home`."""
    path = home / _WHERE
    if not path.exists():
        lost = Finding(
            _WHERE, "is not there", "Run `benchfolio index` with your folders.", damage=False
        )
        return "not there", [lost]
    try:
        with looking(path) as db:
            found = check_store(db, _WHERE, catalogue_migrations, _REMEDY, REBUILD)
            if found and any(finding.damage for finding in found):
                return "damaged", found
            found += _contradictions(db) + _unreadable(db) + _text(db)
            return _counted(db), found
    except sqlite3.Error as error:
        return "damaged", [Finding(_WHERE, f"can't be read ({error})", _REMEDY, mend=REBUILD)]


def _contradictions(db: sqlite3.Connection) -> list[Finding]:
    found = []
    for said, question, mend in _RULES:
        if n := db.execute(question).fetchone()[0]:
            found.append(Finding(_WHERE, f"{n} {said}", _REMEDY, mend=mend))
    return found


def _unreadable(db: sqlite3.Connection) -> list[Finding]:
    """Readings whose words can't be unpacked."""
    bad = 0
    for (words,) in db.execute("SELECT words FROM reading"):
        try:
            unpack(words)
        except Exception:  # damaged bytes: zlib, JSON and the count of fields all may object
            bad += 1
    if not bad:
        return []
    return [Finding(_WHERE, f"{bad} readings can't be unpacked", _REMEDY, mend=READ_AGAIN)]


def _text(db: sqlite3.Connection) -> list[Finding]:
    """Whether the full text answers: its words are looked up through every segment."""
    try:
        for (rowid,) in db.execute("SELECT rowid FROM page_text ORDER BY rowid LIMIT ?", [10**9]):
            if rowid is None:
                break
        db.execute("SELECT count(*) FROM page_text WHERE page_text MATCH ?", ['"model"'])
    except sqlite3.DatabaseError as error:
        return [Finding(_WHERE, f"the full text is damaged ({error})", _REMEDY, mend=REBUILD_TEXT)]
    return []


def _counted(db: sqlite3.Connection) -> str:
    files, pages, entries = (
        db.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
        for table in ("file", "page", "entry")
    )
    stale = db.execute("SELECT count(*) FROM unit WHERE stale = 1").fetchone()[0]
    waiting = db.execute("SELECT count(*) FROM page WHERE state = 'waiting'").fetchone()[0]
    left = f"; {waiting} pages wait to be read" if waiting else ""
    left += f"; {stale} files or folders wait to be catalogued" if stale else ""
    return f"{files} files, {pages} pages, {entries} entries{left}"
