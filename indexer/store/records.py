"""What only the person can give: jobs, marked pages, notes. Never written by indexing."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from functools import cached_property
from pathlib import Path

from sqlite_utils import Database

from indexer.model import PageRef
from indexer.store.bench_records import BenchRecords
from indexer.store.connect import open_store, plain_errors, writing
from indexer.store.job_rows import JobRecord, Mark, Note, Photo, job_from, now
from indexer.store.schema import records_migrations

__all__ = ["JobRecord", "Mark", "Note", "Photo", "Records"]

_CHANGEABLE = frozenset({"title", "symptom", "owner_tag", "entry", "maker"})
_SEARCHED = "title maker models chassis tubes symptom outcome owner_tag entry"


class Records:
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
    ) -> int:
        """Opens a job; its number."""
        lists = [json.dumps(list(codes)) for codes in (models, chassis, tubes)]
        with plain_errors(self.path), writing(self.db) as db:
            made = db.conn.execute(
                "INSERT INTO job(title, entry, maker, models, chassis, tubes, symptom, owner_tag,"
                " opened) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                [title, entry, maker, *lists, symptom, owner_tag, now()],
            )
        return int(made.lastrowid or 0)

    def change_job(self, job_id: int, **texts: str) -> None:
        """Gives new texts to a job's title, symptom, owner_tag, entry or maker."""
        for name, text in texts.items():
            if name not in _CHANGEABLE:
                raise ValueError(name)
            self._write(f"UPDATE job SET {name} = ? WHERE id = ?", text, job_id)

    def close_job(self, job_id: int, outcome: str) -> None:
        """Closes a job with what was found and done."""
        self._write("UPDATE job SET closed = ?, outcome = ? WHERE id = ?", now(), outcome, job_id)

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
        """Brings a deleted or merged job back."""
        self._write("UPDATE job SET deleted = NULL, merged_into = NULL WHERE id = ?", job_id)

    def merge_jobs(self, into: int, other: int) -> None:
        """Copies all that belongs to `other` into `into`, and puts `other` out of sight.

        What both have (a page marked, a part edited, a photo) stays as `into` has it.
        """
        with plain_errors(self.path), writing(self.db) as db:
            run = db.conn.execute
            last = run("SELECT coalesce(max(position), 0) FROM mark WHERE job_id = ?", [into])
            run(
                "INSERT OR IGNORE INTO mark SELECT ?, position + ?, sha256, page, why, file"
                " FROM mark WHERE job_id = ?",
                [into, last.fetchone()[0], other],
            )
            for table, columns in (
                ("note", "at, text"),
                ("photo", "sha256, suffix, name, at, why"),
                ("part_edit", "reference, added, state, at"),
                ("taken", "point, reads, nominal, note, at"),
                ("spare_use", "tube, spare, at"),
            ):
                run(
                    f"INSERT OR IGNORE INTO {table}(job_id, {columns})"
                    f" SELECT ?, {columns} FROM {table} WHERE job_id = ?",
                    [into, other],
                )
            run("UPDATE job SET deleted = ?, merged_into = ? WHERE id = ?", [now(), into, other])

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

    def order_marks(self, job_id: int, refs: Sequence[PageRef]) -> None:
        """Puts these pages first, in this order; the others follow as they were."""
        kept = self.job(job_id)
        rest = [m.ref for m in kept.marks if m.ref not in refs] if kept else []
        with plain_errors(self.path), writing(self.db) as db:
            for position, ref in enumerate([*refs, *rest], 1):
                db.conn.execute(
                    "UPDATE mark SET position = ? WHERE job_id = ? AND sha256 = ? AND page = ?",
                    [position, job_id, ref.sha256, ref.page],
                )

    def note(self, job_id: int, text: str) -> None:
        """Adds a note with the time."""
        self._write("INSERT INTO note(job_id, at, text) VALUES (?, ?, ?)", job_id, now(), text)

    def job(self, job_id: int) -> JobRecord | None:
        """One job with its marks in order, its notes and photos, or None. Deleted ones too."""
        found = self._rows("SELECT * FROM job WHERE id = ?", job_id)
        return self._job(found[0]) if found else None

    def jobs(self, *, deleted: bool = False) -> list[JobRecord]:
        """Every job, the newest first; with `deleted` those put out of sight instead."""
        state = "IS NOT NULL" if deleted else "IS NULL"
        sql = f"SELECT * FROM job WHERE deleted {state} ORDER BY id DESC"
        return [self._job(row) for row in self._rows(sql)]

    def search_jobs(self, text: str) -> list[JobRecord]:
        """Jobs in which every word of `text` stands somewhere: title, set, symptom, notes,
        readings, marks and photos; the newest first."""
        words = text.lower().split()
        return [job for job in self.jobs() if all(word in self._all_text(job) for word in words)]

    def _all_text(self, job: JobRecord) -> str:
        texts = [str(getattr(job, name)) for name in _SEARCHED.split()]
        texts += [note.text for note in job.notes]
        texts += [f"{mark.file} {mark.why}" for mark in job.marks]
        texts += [f"{photo.name} {photo.why}" for photo in job.photos]
        texts += [f"{t.point} {t.reads} {t.note}" for t in self.bench.taken(job.id)]
        texts += [f"{edit.reference} {edit.added}" for edit in self.bench.part_edits(job.id)]
        return " ".join(texts).lower()

    def _job(self, row: sqlite3.Row) -> JobRecord:
        marks = self._rows("SELECT * FROM mark WHERE job_id = ? ORDER BY position", row["id"])
        notes = self._rows("SELECT at, text FROM note WHERE job_id = ? ORDER BY at, id", row["id"])
        photos = self._rows(
            "SELECT sha256, suffix, name, at, why FROM photo WHERE job_id = ? ORDER BY id",
            row["id"],
        )
        return job_from(row, marks, notes, photos)

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        with plain_errors(self.path):
            return self.db.conn.execute(sql, values).fetchall()

    def _write(self, sql: str, *values: object) -> None:
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(sql, values)
