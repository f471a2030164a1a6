"""Opening a store: one SQLite file, WAL mode, migrated, with plain errors."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlite_utils import Database, Migrations

from indexer.errors import LibraryError
from indexer.limits import LOCK_TIMEOUT_S

_BUSY = ("database is locked", "database is busy")


def open_store(path: Path, migrations: Migrations) -> Database:
    """The database at `path`, created or upgraded as needed.

    Before an upgrade a copy is kept beside it, such as `records-before-r004_corrections.db`.
    Raises LibraryError when it can't be opened or written, is damaged, or was written by a
    newer program.
    """
    with plain_errors(path):
        connection = sqlite3.connect(
            path, timeout=LOCK_TIMEOUT_S, isolation_level=None, check_same_thread=False
        )
        connection.row_factory = sqlite3.Row
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        db = Database(connection)
        _refuse_newer(db, migrations, path)
        if migrations.pending(db):
            with writing(db):
                _keep_copy(db, migrations, path)
                migrations.apply(db)
    return db


@contextmanager
def writing(db: Database) -> Iterator[Database]:
    """A write transaction that takes the write lock at once; rolled back on any exception."""
    if db.conn.in_transaction:  # nested: the outer one decides
        yield db
        return
    db.conn.execute("BEGIN IMMEDIATE")
    try:
        yield db
    except BaseException:
        db.conn.rollback()
        raise
    db.conn.commit()


@contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """Turns SQLite's errors about the file at `path` into a LibraryError a person can act on."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        said = str(error)
        if any(word in said for word in _BUSY):
            raise LibraryError(
                f"The library is busy: another program is writing {path.name}.",
                "Wait for it to finish and try again.",
            ) from error
        if "readonly" in said or "unable to open" in said:
            raise LibraryError(
                f"{path} can't be opened for writing ({said}).",
                "Check the folder's rights and that the disk isn't full, or choose another --home.",
            ) from error
        if "full" in said:
            raise LibraryError(
                f"The disk that holds {path} is full.", "Free some space and try again."
            ) from error
        raise LibraryError(f"{path} is damaged ({said}).", _remedy(path)) from error


def _keep_copy(db: Database, migrations: Migrations, path: Path) -> None:
    """Copies what is there as it was, within the upgrade's transaction, so that no other program
    upgrades it meanwhile. A new store needs none, nor does a scratch file of another suffix."""
    pending = migrations.pending(db)
    if not pending or not migrations.applied(db) or path.suffix != ".db":
        return
    kept = path.with_name(f"{path.stem}-before-{pending[0].name}.db")
    part = kept.with_suffix(".part")
    try:
        part.unlink(missing_ok=True)
        # a connection of its own: SQLite copies nothing from one in a write transaction
        with closing(sqlite3.connect(path)) as before, closing(sqlite3.connect(part)) as copy:
            before.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # one plain file
        with part.open("rb+") as stream:
            os.fsync(stream.fileno())
        part.replace(kept)
    except (OSError, sqlite3.Error) as error:
        part.unlink(missing_ok=True)
        raise LibraryError(
            f"{path} is to be upgraded, but a copy of it can't be kept first ({error}).",
            "Free some space beside it, or check the folder's rights. Nothing was changed.",
        ) from error


def _refuse_newer(db: Database, migrations: Migrations, path: Path) -> None:
    ours = {migration.name for migration in migrations.pending(Database(memory=True))}
    unknown = {migration.name for migration in migrations.applied(db)} - ours
    if unknown:
        raise LibraryError(
            f"{path} was written by a newer Benchfolio (it has {', '.join(sorted(unknown))}).",
            "Install the newer version, or choose another --home.",
        )


def _remedy(path: Path) -> str:
    if path.name == "catalogue.db":
        return f"Delete {path.name} and run `benchfolio index` again: it can be made again."
    return "Restore it from a copy; it holds what only you can give."
