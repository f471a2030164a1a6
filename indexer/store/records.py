"""What only the person can give: jobs, marked pages, notes. Never written by indexing."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from sqlite_utils import Database

from indexer.model import PageRef
from indexer.store.connect import open_store, plain_errors, writing
from indexer.store.schema import records_migrations


@dataclass(frozen=True, slots=True)
class Mark:
    """A page marked for a job, pointed at by content. `file` is the name it had when marked."""

    ref: PageRef
    why: str = ""
    file: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Something noted during a job."""

    at: str  # local time, ISO 8601
    text: str


@dataclass(frozen=True, slots=True)
class JobRecord:
    """One set on the bench."""

    id: int
    title: str
    opened: str
    entry: str = ""
    maker: str = ""
    models: tuple[str, ...] = ()
    chassis: tuple[str, ...] = ()
    tubes: tuple[str, ...] = ()
    symptom: str = ""
    closed: str | None = None
    outcome: str = ""
    marks: tuple[Mark, ...] = field(default=())
    notes: tuple[Note, ...] = field(default=())


class Records:
    """`records.db`."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.db: Database = open_store(path, records_migrations)

    def close(self) -> None:
        self.db.close()

    def open_job(
        self,
        title: str,
        *,
        entry: str = "",
        maker: str = "",
        models: Sequence[str] = (),
        chassis: Sequence[str] = (),
        tubes: Sequence[str] = (),
        symptom: str = "",
    ) -> int:
        """Opens a job; its number."""
        with plain_errors(self.path), writing(self.db) as db:
            made = db.conn.execute(
                "INSERT INTO job(title, entry, maker, models, chassis, tubes, symptom, opened)"
                " VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                [
                    title,
                    entry,
                    maker,
                    json.dumps(list(models)),
                    json.dumps(list(chassis)),
                    json.dumps(list(tubes)),
                    symptom,
                    _now(),
                ],
            )
        return int(made.lastrowid or 0)

    def close_job(self, job_id: int, outcome: str) -> None:
        """Closes a job with what was found and done."""
        self._write("UPDATE job SET closed = ?, outcome = ? WHERE id = ?", _now(), outcome, job_id)

    def mark(self, job_id: int, marks: Iterable[Mark]) -> None:
        """Adds pages at the end of a job's list; a page already marked gets the new reason."""
        with plain_errors(self.path), writing(self.db) as db:
            run = db.conn.execute
            position = run(
                "SELECT coalesce(max(position), 0) FROM mark WHERE job_id = ?", [job_id]
            ).fetchone()[0]
            for number, mark in enumerate(marks, position + 1):
                run(
                    "INSERT INTO mark VALUES (?, ?, ?, ?, ?, ?)"
                    " ON CONFLICT(job_id, sha256, page) DO UPDATE SET why = excluded.why",
                    [job_id, number, mark.ref.sha256, mark.ref.page, mark.why, mark.file],
                )

    def unmark(self, job_id: int, ref: PageRef) -> None:
        """Takes a page off a job's list."""
        self._write(
            "DELETE FROM mark WHERE job_id = ? AND sha256 = ? AND page = ?",
            job_id,
            ref.sha256,
            ref.page,
        )

    def note(self, job_id: int, text: str) -> None:
        """Adds a note with the time."""
        self._write("INSERT INTO note(job_id, at, text) VALUES (?, ?, ?)", job_id, _now(), text)

    def job(self, job_id: int) -> JobRecord | None:
        """One job with its marks in order and its notes, or None."""
        found = self._rows("SELECT * FROM job WHERE id = ?", job_id)
        return self._job(found[0]) if found else None

    def jobs(self) -> list[JobRecord]:
        """Every job, the newest first."""
        return [self._job(row) for row in self._rows("SELECT * FROM job ORDER BY id DESC")]

    def _job(self, row: sqlite3.Row) -> JobRecord:
        marks = self._rows("SELECT * FROM mark WHERE job_id = ? ORDER BY position", row["id"])
        notes = self._rows("SELECT at, text FROM note WHERE job_id = ? ORDER BY id", row["id"])
        return JobRecord(
            id=row["id"],
            title=row["title"],
            opened=row["opened"],
            entry=row["entry"],
            maker=row["maker"],
            models=tuple(json.loads(row["models"])),
            chassis=tuple(json.loads(row["chassis"])),
            tubes=tuple(json.loads(row["tubes"])),
            symptom=row["symptom"],
            closed=row["closed"],
            outcome=row["outcome"],
            marks=tuple(
                Mark(PageRef(mark["sha256"], mark["page"]), mark["why"], mark["file"])
                for mark in marks
            ),
            notes=tuple(Note(*note) for note in notes),
        )

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        with plain_errors(self.path):
            return self.db.conn.execute(sql, values).fetchall()

    def _write(self, sql: str, *values: object) -> None:
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(sql, values)


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")
