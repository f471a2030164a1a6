"""Whether the records are sound, and what they point at is still there."""

import hashlib
import json
import sqlite3
from pathlib import Path

from indexer.checking.findings import MOST_SAID, Finding, check_store, looking
from indexer.errors import InputError
from indexer.store.photos import PhotoFolder
from indexer.store.schema import records_migrations

_WHERE = "records.db"
_REMEDY = "Put a copy back: benchfolio restore FILE --force (it holds what only you can give)."


def check_records(home: Path) -> tuple[str, list[Finding]]:
    """(a short account, what is wrong) of `records.db` and the photos in `home`."""
    path = home / _WHERE
    if not path.exists():
        return "not made yet", []
    try:
        with looking(path) as db:
            found = check_store(db, _WHERE, records_migrations, _REMEDY, "")
            if any(finding.damage for finding in found):
                return "damaged", found
            found += _unreadable(db) + _lost_photos(db, PhotoFolder(home / "photos"))
            found += _missing_pages(db, _contents(home / "catalogue.db"))
            return _counted(db), found
    except sqlite3.Error as error:
        return "damaged", [Finding(_WHERE, f"can't be read ({error})", _REMEDY)]


def _unreadable(db: sqlite3.Connection) -> list[Finding]:
    """Jobs whose lists are no lists."""
    found = []
    for job_id, *lists in db.execute("SELECT id, models, chassis, tubes FROM job"):
        try:
            sound = all(isinstance(json.loads(text), list) for text in lists)
        except ValueError:
            sound = False
        if not sound:
            found.append(Finding(_WHERE, f"job {job_id} can't be read", _REMEDY))
    return found[:MOST_SAID]


def _contents(catalogue: Path) -> set[str] | None:
    """Every content on the shelf; None when the catalogue can't tell."""
    try:
        with looking(catalogue) as db:
            return {row[0] for row in db.execute("SELECT sha256 FROM content")}
    except sqlite3.Error:
        return None


def _missing_pages(db: sqlite3.Connection, there: set[str] | None) -> list[Finding]:
    """Marked pages whose bytes are in no file of the shelf: a fact, not a fault."""
    if there is None:
        return []
    lines = [
        f"job {job} marks page {page} of {file or 'a file'}, which is not on the shelf"
        for job, sha256, page, file in db.execute(
            "SELECT job_id, sha256, page, file FROM mark ORDER BY job_id, position"
        )
        if sha256 not in there
    ]
    remedy = "The mark is kept; it applies again when a file with the same content is indexed."
    found = [Finding(_WHERE, line, remedy, damage=False) for line in lines[:MOST_SAID]]
    if len(lines) > MOST_SAID:
        more = f"{len(lines) - MOST_SAID} more marked pages are not on the shelf"
        found.append(Finding(_WHERE, more, remedy, damage=False))
    return found


def _lost_photos(db: sqlite3.Connection, photos: PhotoFolder) -> list[Finding]:
    if not db.execute("SELECT 1 FROM sqlite_master WHERE name = 'photo'").fetchone():
        return []
    found = []
    for job, sha256, suffix, name in db.execute(
        "SELECT job_id, sha256, suffix, name FROM photo ORDER BY job_id"
    ):
        try:
            path = photos.path(sha256 + suffix)
            data = path.read_bytes()
        except (InputError, OSError):
            found.append(Finding(_WHERE, f"job {job}'s photo {name} is gone", _REMEDY))
            continue
        if hashlib.sha256(data).hexdigest() != sha256:
            found.append(Finding(_WHERE, f"job {job}'s photo {name} is damaged", _REMEDY))
    return found[:MOST_SAID]


def _counted(db: sqlite3.Connection) -> str:
    tables = {row[0] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    shown = {
        "job": "jobs",
        "mark": "marked pages",
        "note": "notes",
        "photo": "photos",
        "correction": "corrections",
        "spare": "rows of spares",
    }
    return ", ".join(
        f"{db.execute(f'SELECT count(*) FROM {table}').fetchone()[0]} {plural}"
        for table, plural in shown.items()
        if table in tables
    )
