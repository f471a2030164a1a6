"""Corrections: what the person said against what was read. In `records.db`.

They are a log. Each points at the pages of the entry that was meant (by content) and at the codes
that the entry showed then, and is replayed in order on whatever reading and cataloguing give.
"""

import json
import re
import secrets
import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from indexer.model import PageRef
from indexer.store.connect import open_reader, plain_errors, writing
from indexer.store.job_rows import now

if TYPE_CHECKING:
    from indexer.store.records import Records

SCHEMA = """
CREATE TABLE correction (
    id INTEGER PRIMARY KEY, what TEXT NOT NULL, value TEXT NOT NULL DEFAULT '[]',
    pages TEXT NOT NULL DEFAULT '', codes TEXT NOT NULL DEFAULT '[]',
    page TEXT NOT NULL DEFAULT '', other TEXT NOT NULL DEFAULT '',
    other_codes TEXT NOT NULL DEFAULT '[]', file TEXT NOT NULL DEFAULT '',
    at TEXT NOT NULL, undone TEXT);
CREATE TABLE correction_stamp (
    id INTEGER PRIMARY KEY CHECK (id = 1), value INTEGER NOT NULL);
"""
FIELDS = ("maker", "models", "chassis", "tubes", "year")
WHATS = (*FIELDS, "kinds", "join", "split", "move", "share", "not an entry", "looked at")
_RUN = re.compile(r"([0-9a-f]{64}):(\d{1,5}(?:,\d{1,5})*)")


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing the person said. `id` is 0 until it is kept.

    `pages` and `codes` are those of the entry meant, as it was then; `page` is the page of
    "kinds", "split", "move" and "share"; `other` and `other_codes` are the entry joined in, moved
    to or shared with. For "split", `values` are the codes of the second set (none: as its pages
    name them), and `other` holds the page again when it belongs to both.
    `file` says for people where the first page was. `undone` is the time of an undo, else None.
    """

    what: str
    values: tuple[str, ...] = ()
    pages: tuple[PageRef, ...] = ()
    codes: tuple[str, ...] = ()
    page: PageRef | None = None
    other: tuple[PageRef, ...] = ()
    other_codes: tuple[str, ...] = ()
    file: str = ""
    at: str = ""
    undone: str | None = None
    id: int = 0

    @property
    def refs(self) -> frozenset[PageRef]:
        """Every page it points at."""
        return frozenset((*self.pages, *self.other, *((self.page,) if self.page else ())))

    @property
    def said(self) -> "Correction":
        """What was said and of what, without number, file name and undo: equal for the same."""
        return replace(self, id=0, file="", undone=None)


class CorrectionList:
    """Reads and writes the log."""

    def __init__(self, records: "Records") -> None:
        self._path, self._db = records.path, records.db
        self._kept: tuple[int, list[Correction]] = (0, [])

    def add(self, corrections: Iterable[Correction]) -> list[Correction]:
        """Keeps corrections at the end of the log, all or none; as kept, with number and time."""
        kept = []
        with plain_errors(self._path), writing(self._db) as db:
            for correction in corrections:
                timed = replace(correction, at=correction.at or now())
                made = db.conn.execute(
                    "INSERT INTO correction(what, value, pages, codes, page, other, other_codes,"
                    " file, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    _cells(timed),
                )
                kept.append(replace(timed, id=int(made.lastrowid or 0)))
            self._stamp()
        return kept

    def all(self, *, undone: bool = False) -> list[Correction]:
        """The log, oldest first; `undone` adds those taken back."""
        clause = "" if undone else " WHERE undone IS NULL"
        return [
            _correction(row) for row in self._rows(f"SELECT * FROM correction{clause} ORDER BY id")
        ]

    def undo(self, correction_id: int) -> None:
        """Takes one back; it stays in the log as undone."""
        with plain_errors(self._path), writing(self._db) as db:
            db.conn.execute(
                "UPDATE correction SET undone = ? WHERE id = ? AND undone IS NULL",
                [now(), correction_id],
            )
            self._stamp()

    def stamp(self) -> int:
        """A number that changes with every change of the log; 0 for a log never written."""
        found = self._rows("SELECT value FROM correction_stamp")
        return int(found[0][0]) if found else 0

    def renew_stamp(self) -> None:
        """Says that the log has changed by other means, as when records are put back."""
        with plain_errors(self._path), writing(self._db):
            self._stamp()

    def _stamp(self) -> None:
        self._db.conn.execute(
            "INSERT OR REPLACE INTO correction_stamp VALUES (1, ?)", [secrets.randbits(62) + 1]
        )

    def _rows(self, sql: str) -> list[sqlite3.Row]:
        with plain_errors(self._path):
            return self._db.conn.execute(sql).fetchall()


def stamp_of(path: Path) -> int:
    """The stamp of the log in a `records.db` that is not opened yet, at little cost; 0 for none."""
    if not path.exists():
        return 0
    try:
        with closing(open_reader(path)) as db:
            found = db.execute("SELECT value FROM correction_stamp").fetchone()
    except sqlite3.Error:  # made before there were corrections, or not to be read: told on use
        return 0
    return int(found[0]) if found else 0


def refs_text(refs: Sequence[PageRef]) -> str:
    """Pages as text, in order: each content's hash once for a run of its pages.

    >>> refs_text([PageRef("ab" * 32, 3), PageRef("ab" * 32, 4)])[60:]
    'abab:3,4'
    """
    runs: list[str] = []
    last = ""
    for ref in refs:
        if ref.sha256 == last:
            runs[-1] += f",{ref.page}"
        else:
            runs.append(f"{ref.sha256}:{ref.page}")
        last = ref.sha256
    return " ".join(runs)


def refs_from(text: str) -> tuple[PageRef, ...]:
    """The pages that `refs_text` wrote. Raises ValueError for anything else."""
    found = []
    for run in text.split():
        match = _RUN.fullmatch(run)
        if match is None:
            raise ValueError(f"{run[:80]} names no page by content")
        found += [PageRef(match[1], int(number)) for number in match[2].split(",")]
    return tuple(found)


def _cells(correction: Correction) -> list[object]:
    return [
        correction.what,
        json.dumps(correction.values, ensure_ascii=False),
        refs_text(correction.pages),
        json.dumps(correction.codes, ensure_ascii=False),
        refs_text([correction.page] if correction.page else []),
        refs_text(correction.other),
        json.dumps(correction.other_codes, ensure_ascii=False),
        correction.file,
        correction.at,
    ]


def _correction(row: sqlite3.Row) -> Correction:
    return Correction(
        what=row["what"],
        values=tuple(json.loads(row["value"])),
        pages=refs_from(row["pages"]),
        codes=tuple(json.loads(row["codes"])),
        page=next(iter(refs_from(row["page"])), None),
        other=refs_from(row["other"]),
        other_codes=tuple(json.loads(row["other_codes"])),
        file=row["file"],
        at=row["at"],
        undone=row["undone"],
        id=row["id"],
    )
