"""Keeping the records: a consistent copy while in use, and putting it back in one step."""

import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path

from sqlite_utils import Database

from indexer import limits
from indexer.errors import BenchfolioError, InputError, LibraryError, UsageError
from indexer.store.connect import open_reader, plain_errors, writing
from indexer.store.photos import SUFFIXES, PhotoFolder, sync_folder
from indexer.store.records import Records

# A copy holds the photos too, so that it is whole in one file. The records themselves do not.
_PHOTOS = "CREATE TABLE kept_photo (sha256 TEXT PRIMARY KEY, suffix TEXT NOT NULL, bytes BLOB)"


def back_up(records: Records, target: Path, photos: PhotoFolder | None = None) -> list[str]:
    """Writes a consistent copy of the records to `target`, with their photos, also while they are
    in use: what is written meanwhile is wholly in it or not at all.

    Returns a line for each photo whose file is gone. Raises UsageError when `target` is there
    already, InputError when it can't be written.
    """
    if target.exists():
        raise UsageError(f"{target} is there already.", "Name another file.")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with _scratch(target.parent) as part:
            missing = _copy(records.path, part, photos)
            with part.open("rb+") as stream:  # on the disk before it gets its name
                os.fsync(stream.fileno())
            _name(part, target)
        sync_folder(target.parent)
    except (OSError, sqlite3.Error) as error:
        raise InputError(f"The copy can't be written to {target} ({error}).") from error
    return missing


def _name(part: Path, target: Path) -> None:
    """Gives the finished file its name, never in place of another that came meanwhile."""
    try:
        os.link(part, target)
    except FileExistsError as error:
        raise UsageError(f"{target} is there already.", "Name another file.") from error
    except OSError:  # a stick's file system knows no links
        if target.exists():
            raise UsageError(f"{target} is there already.", "Name another file.") from None
        part.rename(target)


def _copy(source: Path, part: Path, photos: PhotoFolder | None) -> list[str]:
    missing = []
    # A connection of its own: SQLite copies nothing from one that is in a write transaction.
    with closing(open_reader(source)) as original, closing(sqlite3.connect(part)) as copy:
        original.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")  # one plain file, readable from anywhere
        if photos is not None:
            copy.execute(_PHOTOS)
            for sha256, suffix, name in copy.execute(
                "SELECT sha256, suffix, min(name) FROM photo GROUP BY sha256"
            ).fetchall():
                data = photos.read(sha256 + suffix)
                if data is None:
                    missing.append(f"{name} is gone from {photos.folder}")
                else:
                    copy.execute("INSERT INTO kept_photo VALUES (?, ?, ?)", [sha256, suffix, data])
            copy.commit()
    return missing


@contextmanager
def _scratch(folder: Path) -> Iterator[Path]:
    """A file of a name of its own in `folder`, gone afterwards with what SQLite puts beside it."""
    handle, name = tempfile.mkstemp(prefix=".benchfolio-", suffix=".part", dir=folder)
    os.close(handle)
    part = Path(name)
    try:
        yield part
    finally:
        for left in (part, *(Path(name + tail) for tail in ("-wal", "-shm", "-journal"))):
            left.unlink(missing_ok=True)


def restore(
    records: Records, source: Path, photos: PhotoFolder | None = None, *, force: bool = False
) -> Path | None:
    """Puts a copy made by `back_up` in place of the records, in one step that other programs see
    whole or not at all; the photos in it are put back first.

    Records that hold something are only overwritten with `force`, and a copy of them is kept
    beside: its path comes back, None when there was nothing to keep. Raises InputError when
    `source` is no sound copy, UsageError without `force`.
    """
    if not source.is_file():
        raise InputError(f"{source} is not there.", "Give the file that `backup` wrote.")
    with _scratch(records.path.parent) as scratch:
        _checked(source, scratch)
        _photos_back(scratch, photos, source)
        with plain_errors(records.path):
            records.db.conn.execute("ATTACH DATABASE ? AS copy", [str(scratch)])
        try:
            return replaced(records, lambda db: _rows_over(db, source), force=force)
        finally:
            with suppress(sqlite3.Error):
                records.db.conn.execute("DETACH DATABASE copy")


def replaced(records: Records, fill: Callable[[Database], None], *, force: bool) -> Path | None:
    """Empties the records and lets `fill` put other rows in, all in one transaction.

    A copy of what was there is kept beside first; its path, None where nothing was. Raises
    UsageError where something was and `force` is not given; whatever `fill` raises undoes it all.
    """
    with plain_errors(records.path), writing(records.db) as db:
        kept = _kept(records, force)
        db.conn.execute("PRAGMA defer_foreign_keys = ON")
        for table in reversed(tables(db)):
            db.conn.execute(f"DELETE FROM {table}")
        fill(db)
        _readable(records)
    return kept


def _readable(records: Records) -> None:
    """Reads all that came in once, as the rest of the program will. Raises InputError."""
    run = records.db.conn.execute
    stray = run("PRAGMA main.foreign_key_check").fetchone()
    if stray is not None:
        raise InputError(f"A row of {stray[0]} belongs to no job.", "Nothing was changed.")
    try:
        for table in tables(records.db):
            names = [row["name"] for row in run(f"PRAGMA main.table_info({table})")]
            kinds = [row["type"] for row in run(f"PRAGMA main.table_info({table})")]
            for row in run(f"SELECT * FROM {table}"):
                for name, kind, cell in zip(names, kinds, row, strict=True):
                    if cell is not None and isinstance(cell, int) != (kind == "INTEGER"):
                        raise ValueError(f"{table} has {cell!r} for {name}"[:200])
        for deleted in (False, True):
            records.search_jobs("all of it", deleted=deleted)
    except (ValueError, TypeError, sqlite3.Error) as error:
        raise InputError(f"What is in it can't be read ({error}).") from error


def _rows_over(db: Database, source: Path) -> None:
    try:
        for table in tables(db):
            there = _columns(db, "copy", table)
            names = ", ".join(name for name in _columns(db, "main", table) if name in there)
            if names:
                db.conn.execute(
                    f"INSERT INTO main.{table}({names}) SELECT {names} FROM copy.{table}"
                    " ORDER BY rowid"
                )
    except (sqlite3.Error, ValueError) as error:
        raise InputError(f"{source} is not a copy of the records ({error}).") from error


def _columns(db: Database, schema: str, table: str) -> list[str]:
    return [row[1] for row in db.conn.execute(f"PRAGMA {schema}.table_info({table})")]


def _checked(source: Path, scratch: Path) -> None:
    """A copy of `source` brought up to date and found sound: the source is never written to."""
    try:
        with closing(open_reader(source)) as copy, closing(sqlite3.connect(scratch)) as into:
            sound = copy.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            jobs = copy.execute("SELECT name FROM sqlite_master WHERE name = 'job'").fetchone()
            if not sound or not jobs:
                raise InputError(f"{source} is not a copy of the records, or is damaged.")
            copy.backup(into)
    except (sqlite3.Error, ValueError) as error:
        raise InputError(f"{source} is not a copy of the records ({error}).") from error
    try:
        upgraded = Records(scratch)
        upgraded.db.conn.execute("PRAGMA journal_mode = DELETE")
        upgraded.close()
    except LibraryError as error:  # it names the scratch file, which means nothing to a person
        said = error.message.replace(str(scratch), str(source))
        raise InputError(said, error.remedy) from error
    except (sqlite3.Error, ValueError) as error:
        raise InputError(f"{source} is not a copy of the records ({error}).") from error


def _photos_back(scratch: Path, photos: PhotoFolder | None, source: Path) -> None:
    if photos is None:
        return
    try:
        with closing(sqlite3.connect(scratch)) as copy:
            if not copy.execute("SELECT 1 FROM sqlite_master WHERE name = 'kept_photo'").fetchone():
                return
            for sha256, suffix, data in copy.execute(
                "SELECT sha256, suffix, bytes FROM kept_photo WHERE length(bytes) <= ?",
                [limits.MAX_PHOTO_BYTES],
            ):
                if suffix not in SUFFIXES or photos.put(data, suffix) != sha256:
                    raise InputError(f"A photo in {source} is damaged.")
    except (sqlite3.Error, TypeError, ValueError) as error:
        raise InputError(f"The photos in {source} can't be read ({error}).") from error


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
    try:
        back_up(records, kept)
    except BenchfolioError as error:
        raise LibraryError(
            f"The records here could not be copied first ({error.message})",
            "Nothing was changed.",
        ) from error
    return kept


def tables(db: Database) -> list[str]:
    """The tables that hold what a person gave, those that others point at first."""
    names = [
        row[0]
        for row in db.conn.execute("SELECT name FROM main.sqlite_master WHERE type = 'table'")
        if not row[0].startswith(("sqlite_", "_sqlite"))
    ]
    return sorted(names, key=lambda name: (name != "job", name))
