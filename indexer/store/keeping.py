"""Keeping the records: a consistent copy while in use, putting it back, plain CSV out and in."""

import csv
import os
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from sqlite_utils import Database

from indexer.errors import InputError, UsageError
from indexer.store.connect import plain_errors, writing
from indexer.store.records import Records


def back_up(records: Records, target: Path) -> None:
    """Writes a consistent copy of the records to `target`, also while they are in use.

    Raises UsageError when `target` is there already, InputError when it can't be written.
    """
    if target.exists():
        raise UsageError(f"{target} is there already.", "Name another file.")
    part = target.with_name(f".{target.name}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        part.unlink(missing_ok=True)
        with closing(sqlite3.connect(part)) as copy:
            records.db.conn.backup(copy)
        with part.open("rb+") as stream:  # on the disk before it gets its name
            os.fsync(stream.fileno())
        part.replace(target)
    except (OSError, sqlite3.Error) as error:
        raise InputError(f"The copy can't be written to {target} ({error}).") from error


def restore(records: Records, source: Path, *, force: bool = False) -> Path | None:
    """Puts a copy made by `back_up` in place of the records.

    Records that hold something are only overwritten with `force`, and a copy of them is kept
    beside: its path comes back, None when there was nothing to keep. Raises InputError when
    `source` is no sound copy, UsageError without `force`.
    """
    if not source.is_file():
        raise InputError(f"{source} is not there.", "Give the file that `backup` wrote.")
    scratch = _checked(source, records.path)
    try:
        Records(scratch).close()  # refuses what a newer program wrote
        kept = _kept(records, force)
        with (
            plain_errors(records.path),
            closing(sqlite3.connect(scratch)) as copy,
            closing(sqlite3.connect(records.path)) as into,
        ):
            copy.backup(into)
    finally:
        for left in scratch.parent.glob(scratch.name + "*"):
            left.unlink(missing_ok=True)
    return kept


def _checked(source: Path, beside: Path) -> Path:
    """A scratch copy of `source`, found sound: the source itself is never written to."""
    scratch = beside.with_name("restore.tmp")
    scratch.unlink(missing_ok=True)
    try:
        with closing(sqlite3.connect(source)) as copy, closing(sqlite3.connect(scratch)) as into:
            sound = copy.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            jobs = copy.execute("SELECT name FROM sqlite_master WHERE name = 'job'").fetchone()
            if not sound or not jobs:
                raise InputError(f"{source} is not a copy of the records, or is damaged.")
            copy.backup(into)
    except sqlite3.Error as error:
        raise InputError(f"{source} is not a copy of the records ({error}).") from error
    return scratch


def _kept(records: Records, force: bool) -> Path | None:
    full = any(
        records.db.conn.execute(f"SELECT 1 FROM {t} LIMIT 1").fetchone() for t in tables(records.db)
    )
    if not full:
        return None
    if not force:
        raise UsageError(
            "There are records here already.", "Give --force to overwrite them; a copy is kept."
        )
    stamp = datetime.now().strftime("%Y%m%d-%H%M%S-%f")
    kept = records.path.with_name(f"records-before-{stamp}.db")
    back_up(records, kept)
    return kept


def tables(db: Database) -> list[str]:
    """The tables that hold what a person gave, those that others point at first."""
    names = [
        row[0]
        for row in db.conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        if not row[0].startswith(("sqlite_", "_sqlite"))
    ]
    return sorted(names, key=lambda name: (name != "job", name))


def export_csv(records: Records, folder: Path) -> list[Path]:
    """Writes one CSV for each table of the records into `folder`; the files written."""
    written = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for table in tables(records.db):
            found = records.db.conn.execute(f"SELECT * FROM {table} ORDER BY rowid")
            path = folder / f"{table}.csv"
            with path.open("w", encoding="utf-8", newline="") as stream:
                writer = csv.writer(stream)
                writer.writerow([column[0] for column in found.description])
                writer.writerows(tuple(row) for row in found)
            written.append(path)
    except OSError as error:
        raise InputError(f"{folder} can't be written ({error.strerror}).") from error
    return written


def import_csv(records: Records, folder: Path, *, force: bool = False) -> int:
    """Puts the rows of an export in place of the records; how many rows came in.

    The rules of `restore` hold. An empty cell is nothing where the column allows it, else "".
    """
    files = {name: folder / f"{name}.csv" for name in tables(records.db)}
    if not files["job"].is_file():
        raise InputError(f"There is no job.csv in {folder}.", "Give the folder of an export.")
    _kept(records, force)
    count = 0
    try:
        with writing(records.db) as db:
            for name in reversed(files):
                db.conn.execute(f"DELETE FROM {name}")
            for name, path in files.items():
                if path.is_file():
                    count += _rows_in(db, name, path)
    except (sqlite3.Error, ValueError, OSError, csv.Error) as error:
        raise InputError(f"The export in {folder} can't be used ({error}).") from error
    return count


def _rows_in(db: Database, table: str, path: Path) -> int:
    columns = {row[1]: row for row in db.conn.execute(f"PRAGMA table_info({table})")}
    count = 0
    with path.open(encoding="utf-8-sig", newline="") as stream:
        reader = csv.DictReader(stream)
        names = [name for name in reader.fieldnames or () if name in columns]
        marks = ", ".join("?" * len(names))
        sql = f"INSERT INTO {table}({', '.join(names)}) VALUES ({marks})"
        for row in reader:
            cells = [_cell(row[name] or "", columns[name]) for name in names]
            db.conn.execute(sql, cells)
            count += 1
    return count


def _cell(text: str, column: sqlite3.Row) -> object:
    if not text and not column["notnull"] and not column["pk"]:
        return None
    return int(text) if column["type"] == "INTEGER" else text
