"""What only the person can give: jobs, marked pages, notes. Never written by indexing."""

import json
from collections.abc import Iterable, Sequence
from functools import cached_property
from pathlib import Path

from sqlite_utils import Database

from indexer.model import PageRef
from indexer.store import merging
from indexer.store.bench_records import BenchRecords
from indexer.store.connect import open_store, plain_errors, writing
from indexer.store.job_reading import JobReader
from indexer.store.job_rows import JobRecord, Mark, Note, Photo, now
from indexer.store.schema import records_migrations

__all__ = ["JobRecord", "Mark", "Note", "Photo", "Records"]

_CHANGEABLE = frozenset(
    ("title", "symptom", "owner_tag", "entry", "maker", "models", "chassis", "tubes")
)


class Records(JobReader):
    """`records.db`."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.db: Database = open_store(path, records_migrations)

    def close(self) -> None:
        self.db.close()

    @cached_property
    def bench(self) -> BenchRecords:
        """Replacement list, readings, photos and spares."""
        return BenchRecords(self.path, self.db)

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
        owner_tag: str = "",
        opened: str = "",
    ) -> int:
        """Opens a job, now or at the time given; its number."""
        lists = [json.dumps(list(codes)) for codes in (models, chassis, tubes)]
        with plain_errors(self.path), writing(self.db) as db:
            made = db.conn.execute(
                "INSERT INTO job(title, entry, maker, models, chassis, tubes, symptom, owner_tag,"
                " opened) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                [title, entry, maker, *lists, symptom, owner_tag, opened or now()],
            )
        return int(made.lastrowid or 0)

    def change_job(self, job_id: int, **values: str | Sequence[str]) -> None:
        """Gives new texts to a job's title, symptom, owner_tag, entry or maker, new lists to its
        models, chassis or tubes; all in one transaction."""
        with plain_errors(self.path), writing(self.db) as db:
            for name, value in values.items():
                if name not in _CHANGEABLE:
                    raise ValueError(name)
                kept = value if isinstance(value, str) else json.dumps(list(value))
                db.conn.execute(f"UPDATE job SET {name} = ? WHERE id = ?", [kept, job_id])

    def close_job(self, job_id: int, outcome: str, closed: str = "") -> None:
        """Closes a job with what was found and done, now or at the time given."""
        self._write(
            "UPDATE job SET closed = ?, outcome = ? WHERE id = ?", closed or now(), outcome, job_id
        )

    def reopen_job(self, job_id: int) -> None:
        """Opens a closed job again; its outcome stays as a note."""
        with plain_errors(self.path), writing(self.db) as db:
            run = db.conn.execute
            run(
                "INSERT INTO note(job_id, at, text) SELECT id, closed, 'Closed: ' || outcome"
                " FROM job WHERE id = ? AND closed IS NOT NULL AND outcome <> ''",
                [job_id],
            )
            run("UPDATE job SET closed = NULL, outcome = '' WHERE id = ?", [job_id])

    def delete_job(self, job_id: int) -> None:
        """Puts a job out of sight; `undelete_job` brings it back whole."""
        self._write("UPDATE job SET deleted = ? WHERE id = ?", now(), job_id)

    def undelete_job(self, job_id: int) -> None:
        """Brings a deleted or merged job back; see `merging`."""
        with plain_errors(self.path):
            merging.bring_back(self.db, job_id)

    def merge_jobs(self, into: int, other: int) -> None:
        """Puts all of `other` into `into`; see `merging`."""
        with plain_errors(self.path):
            merging.merge(self.db, into, other)

    def mark(self, job_id: int, marks: Iterable[Mark]) -> None:
        """Adds pages at the end of a job's list; a page already marked gets the new reason."""
        with plain_errors(self.path), writing(self.db) as db:
            run = db.conn.execute
            position = run(
                "SELECT coalesce(max(position), 0) FROM mark WHERE job_id = ?", [job_id]
            ).fetchone()[0]
            for number, mark in enumerate(marks, position + 1):
                run(
                    "INSERT INTO mark(job_id, position, sha256, page, why, file)"
                    " VALUES (?, ?, ?, ?, ?, ?)"
                    " ON CONFLICT(job_id, sha256, page) DO UPDATE SET file = excluded.file,"
                    " why = coalesce(nullif(excluded.why, ''), why), from_job = NULL",
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

    def move_marks(self, job_id: int, refs: Sequence[PageRef], to: int = 1) -> None:
        """Puts these pages together, in this order, so that the first is number `to` (from 1)."""
        with plain_errors(self.path), writing(self.db) as db:
            kept = [mark.ref for mark in self.marks_of(job_id)]
            order = [ref for ref in kept if ref not in refs]
            order[max(0, to - 1) : max(0, to - 1)] = [ref for ref in refs if ref in kept]
            for position, ref in enumerate(order, 1):
                db.conn.execute(
                    "UPDATE mark SET position = ? WHERE job_id = ? AND sha256 = ? AND page = ?",
                    [position, job_id, ref.sha256, ref.page],
                )

    def note(self, job_id: int, text: str) -> None:
        """Adds a note with the time."""
        self._write("INSERT INTO note(job_id, at, text) VALUES (?, ?, ?)", job_id, now(), text)

    def _write(self, sql: str, *values: object) -> None:
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(sql, values)
