"""The list of wanted pages: what is known of each, and which later came in. In `records.db`."""

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from indexer.limits import MAX_NUMBER
from indexer.model import PageRef
from indexer.store.connect import plain_errors, writing

if TYPE_CHECKING:
    from indexer.store.records import Records

SCHEMA = """
CREATE TABLE wanted (
    id INTEGER PRIMARY KEY, maker TEXT NOT NULL DEFAULT '', model TEXT NOT NULL DEFAULT '',
    chassis TEXT NOT NULL DEFAULT '', tubes TEXT NOT NULL DEFAULT '',
    publication TEXT NOT NULL DEFAULT '', volume TEXT NOT NULL DEFAULT '',
    page TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '', added TEXT NOT NULL,
    came_in TEXT, sha256 TEXT, number INTEGER, file TEXT NOT NULL DEFAULT '');
"""
COLUMNS = ("maker", "model", "chassis", "tubes", "publication", "volume", "page", "note")


@dataclass(frozen=True, slots=True)
class Wanted:
    """One wanted page or set. `came_in` is the time a page that serves it was first indexed."""

    id: int
    maker: str = ""
    model: str = ""
    chassis: str = ""
    tubes: str = ""  # types joined by a space
    publication: str = ""
    volume: str = ""
    page: str = ""
    note: str = ""
    added: str = ""
    came_in: str | None = None
    here: PageRef | None = None
    file: str = ""

    @property
    def title(self) -> str:
        """The set in one phrase, as on its label."""
        chassis = f"chassis {self.chassis}" if self.chassis else ""
        words = " ".join(part for part in (self.maker, self.model, chassis) if part)
        return words or self.tubes or self.note


class WantedList:
    """Reads and writes the list."""

    def __init__(self, records: "Records") -> None:
        self._path, self._db = records.path, records.db

    def add(self, wanted: Wanted) -> Wanted:
        """Adds an item, unless the same one is already looked for; the item as kept."""
        values = [getattr(wanted, name) for name in COLUMNS]
        same = " AND ".join(f"{name} = ?" for name in COLUMNS)
        with plain_errors(self._path), writing(self._db) as db:
            known = db.conn.execute(
                f"SELECT * FROM wanted WHERE came_in IS NULL AND {same}", values
            ).fetchone()
            if known is None:
                made = db.conn.execute(
                    f"INSERT INTO wanted({', '.join(COLUMNS)}, added)"
                    f" VALUES ({', '.join('?' * len(values))}, ?)",
                    [*values, _now()],
                )
                known = db.conn.execute(
                    "SELECT * FROM wanted WHERE id = ?", [made.lastrowid]
                ).fetchone()
        return _wanted(known)

    def all(self, *, open_only: bool = False) -> list[Wanted]:
        """Every item, oldest first; `open_only` leaves out what came in."""
        clause = " WHERE came_in IS NULL" if open_only else ""
        with plain_errors(self._path):
            found = self._db.conn.execute(f"SELECT * FROM wanted{clause} ORDER BY id").fetchall()
        return [_wanted(row) for row in found]

    def drop(self, wanted_id: int) -> bool:
        """Takes an item off the list; whether it was there."""
        if wanted_id > MAX_NUMBER:
            return False
        with plain_errors(self._path), writing(self._db) as db:
            done = db.conn.execute("DELETE FROM wanted WHERE id = ?", [wanted_id])
        return bool(done.rowcount)

    def tick(self, came: Iterable[tuple[Wanted, PageRef, str]]) -> None:
        """Notes the page (and its file's name) that serves each item."""
        with plain_errors(self._path), writing(self._db) as db:
            db.conn.executemany(
                "UPDATE wanted SET came_in = ?, sha256 = ?, number = ?, file = ? WHERE id = ?",
                [(_now(), ref.sha256, ref.page, file, wanted.id) for wanted, ref, file in came],
            )


def _wanted(row: sqlite3.Row) -> Wanted:
    here = PageRef(row["sha256"], row["number"]) if row["sha256"] else None
    known = {name: row[name] for name in ("id", *COLUMNS, "added", "came_in", "file")}
    return Wanted(**known, here=here)


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")
