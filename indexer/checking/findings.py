"""What a check found, and a store opened only for looking."""

import re
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlite_utils import Database, Migrations

from indexer.store.connect import open_reader

MOST_SAID = 20  # findings of one sort; a damaged store has thousands


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be.

    `damage` says that something was lost or contradicts itself; else it is a fact to know, such
    as a marked page whose file is not on the shelf. `mend` names what `--repair` does about it,
    "" when nothing can be made again.
    """

    where: str  # "catalogue.db", "entries.index", "records.db", "files"
    said: str
    remedy: str = ""
    damage: bool = True
    mend: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """Everything that was looked at, with a short account each; findings; what was repaired."""

    checked: Mapping[str, str]
    findings: tuple[Finding, ...] = ()
    repaired: tuple[str, ...] = ()

    @property
    def damaged(self) -> bool:
        """Whether anything is damaged, rather than only worth knowing."""
        return any(finding.damage for finding in self.findings)

    @property
    def mendable(self) -> bool:
        """Whether `--repair` would do anything."""
        return any(finding.mend for finding in self.findings)


@contextmanager
def looking(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that never writes, in one read transaction. Raises sqlite3.Error."""
    db = open_reader(path, "ro")
    try:
        db.execute("BEGIN")
        yield db
    finally:
        db.close()


def check_store(
    db: sqlite3.Connection, where: str, migrations: Migrations, remedy: str, mend: str
) -> list[Finding]:
    """SQLite's own checks, and whether the schema is this program's."""
    found = [Finding(where, f"is damaged: {said}", remedy, mend=mend) for said in _integrity(db)]
    if found:
        return found
    strays: dict[tuple[str, str], int] = {}
    for table, _, parent, _ in db.execute("PRAGMA foreign_key_check"):
        strays[table, parent] = strays.get((table, parent), 0) + 1
    found += [
        Finding(where, f"{n} rows of {table} belong to no {parent}", remedy, mend=mend)
        for (table, parent), n in strays.items()
    ]
    view = Database(db)
    ours = {migration.name for migration in migrations.pending(Database(memory=True))}
    there = {migration.name for migration in migrations.applied(view)}
    if newer := sorted(there - ours):
        found.append(
            Finding(
                where,
                f"was written by a newer Benchfolio (it has {', '.join(newer)})",
                "Install the newer version.",
            )
        )
    elif older := sorted(ours - there):
        found.append(
            Finding(
                where,
                f"is of an earlier version (it lacks {', '.join(older)})",
                "The next command brings it up to date.",
                damage=False,
            )
        )
    return found


def _integrity(db: sqlite3.Connection) -> list[str]:
    """What SQLite's check objects to, each once.

    SQLite 3.40 looks at the wrong columns of tables WITHOUT ROWID whose key is not their first
    columns, and reports a NULL there for every row: such a line counts only when one is found.
    """
    said: dict[str, None] = {}
    for (line,) in db.execute("PRAGMA integrity_check(1000000000)"):
        if line != "ok" and len(said) < MOST_SAID:
            said[line] = None
    return [line for line in said if not _untrue(db, line)]


def _untrue(db: sqlite3.Connection, line: str) -> bool:
    named = re.fullmatch(r"NULL value in (\w+)\.(\w+)", line)
    if named is None:
        return False
    table, column = named.groups()
    found = db.execute(f'SELECT 1 FROM "{table}" WHERE +"{column}" IS NULL LIMIT 1').fetchone()
    return found is None
