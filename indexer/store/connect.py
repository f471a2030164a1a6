"""Opening a store: one SQLite file, WAL mode, migrated, with plain errors."""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlite_utils import Database, Migrations

from indexer.errors import LibraryError
from indexer.limits import LOCK_TIMEOUT_S

_BUSY = ("database is locked", "database is busy")
_UNWRITABLE = ("readonly", "unable to open", "disk I/O")


def open_store(path: Path, migrations: Migrations) -> Database:
    """The database at `path`, created or upgraded as needed.

    Before an upgrade a copy is kept beside it, such as `records-before-r004_corrections.db`.
    Where nothing can be written, as on a medium mounted read-only, it can be read, and is empty
    if it is not there; every write is then refused. Raises LibraryError when it can't be opened,
    is damaged, or was written by a newer program.
    """
    with plain_errors(path):
        db = Database(_absent(migrations) if _nowhere(path) else _opened(path))
        try:
            db.conn.row_factory = sqlite3.Row
            _refuse_newer(db, migrations, path)
            if migrations.pending(db):
                _upgrade(db, migrations, path)
        except BaseException:
            db.close()
            raise
    return db


def _upgrade(db: Database, migrations: Migrations, path: Path) -> None:
    if _only_read(db):
        raise LibraryError(
            f"{path} is of an earlier version, and can't be upgraded where nothing can be written.",
            f"Copy {path.parent} to a disk that can be written, and name it with --home.",
        )
    with writing(db):
        _keep_copy(db, migrations, path)
        migrations.apply(db)


def open_reader(path: Path, mode: str = "rw") -> sqlite3.Connection:
    """A connection that changes nothing, to a store that is there; also where nothing can be
    written. With `mode` "ro" it doesn't even tidy away the log of a program that was stopped.

    SQLite shares the reading of a store with a write-ahead log through files beside it. Where
    those can't be made, nobody writes: the store is read without them, with its log if a program
    that was stopped left one. Raises sqlite3.Error.
    """
    uri = path.absolute().as_uri()
    try:
        return _begun(f"{uri}?mode={mode}")
    except sqlite3.OperationalError:
        if os.access(path.parent, os.W_OK) or not path.is_file():
            raise
        log = Path(f"{path}-wal")
        if not log.exists() or not log.stat().st_size:
            return _begun(f"{uri}?immutable=1")
        if os.name != "posix":  # that log can only be read where SQLite may do without locks
            raise
        return _begun(f"{uri}?mode=ro&vfs=unix-none", "PRAGMA locking_mode = EXCLUSIVE")


def _nowhere(path: Path) -> bool:
    """Whether a store can neither be found nor be made."""
    return not path.exists() and path.parent.is_dir() and not os.access(path.parent, os.W_OK)


def _opened(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(
        path, timeout=LOCK_TIMEOUT_S, isolation_level=None, check_same_thread=False
    )
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("SELECT 1 FROM sqlite_master").fetchone()
    except sqlite3.OperationalError as error:
        connection.close()
        if not any(word in str(error) for word in _UNWRITABLE):
            raise
        return open_reader(path)
    if not os.access(path, os.W_OK):
        connection.execute("PRAGMA query_only = ON")
    return connection


def _begun(uri: str, *before: str) -> sqlite3.Connection:
    connection = sqlite3.connect(
        uri, uri=True, timeout=LOCK_TIMEOUT_S, isolation_level=None, check_same_thread=False
    )
    try:
        for command in (*before, "PRAGMA query_only = ON", "SELECT 1 FROM sqlite_master"):
            connection.execute(command).fetchone()
    except BaseException:
        connection.close()
        raise
    return connection


def _absent(migrations: Migrations) -> sqlite3.Connection:
    """A store that holds nothing, and takes nothing."""
    connection = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    migrations.apply(Database(connection))
    connection.execute("PRAGMA query_only = ON")
    return connection


def _only_read(db: Database) -> bool:
    return bool(db.conn.execute("PRAGMA query_only").fetchone()[0])


@contextmanager
def writing(db: Database) -> Iterator[Database]:
    """A write transaction that takes the write lock at once; rolled back on any exception."""
    if db.conn.in_transaction:  # nested: the outer one decides
        yield db
        return
    if _only_read(db):  # else only the first row written would say so
        raise sqlite3.OperationalError("attempt to write a readonly database")
    db.conn.execute("BEGIN IMMEDIATE")
    try:
        yield db
    except BaseException:
        db.conn.rollback()
        raise
    db.conn.commit()


@contextmanager
def reading(db: Database) -> Iterator[None]:
    """One state of the store for several questions, whatever another program writes meanwhile."""
    if db.conn.in_transaction:
        yield
        return
    db.conn.execute("BEGIN")
    try:
        yield
    finally:
        db.conn.rollback()


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
        if "readonly" in said:
            raise unwritable(path.parent) from error
        if "unable to open" in said:
            raise LibraryError(
                f"{path} can't be opened ({said}).",
                "Check the folder's rights and that the disk isn't full, or choose another --home.",
            ) from error
        if "full" in said:
            raise LibraryError(
                f"The disk that holds {path} is full.", "Free some space and try again."
            ) from error
        raise LibraryError(f"{path} is damaged ({said}).", _remedy(path)) from error


def unwritable(home: Path, why: OSError | None = None) -> LibraryError:
    """What a person is told who wants to change a library where nothing can be written."""
    if why is not None and why.errno == errno.ENOSPC:
        return LibraryError(
            f"The disk that holds {home} is full.", "Free some space and try again."
        )
    return LibraryError(
        f"The home {home} can't be written: it can be asked, but not changed.",
        "Copy it to a disk that can be written and name that with --home, or see to its rights.",
    )


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
