"""Jobs read from the records: one, all, or those that hold some words."""

import sqlite3
from collections import defaultdict
from collections.abc import Mapping, Sequence
from pathlib import Path

from sqlite_utils import Database

from indexer.limits import MAX_NUMBER
from indexer.model import PageRef
from indexer.store.connect import plain_errors
from indexer.store.job_rows import JobRecord, Mark, job_from

_SEARCHED = (
    "title", "symptom", "owner_tag", "entry", "maker", "outcome", "opened", "closed",
)  # fmt: skip
_BESIDE = {  # what else of a job is searched: a table with its columns
    "taken": "point, reads, nominal, note",
    "part_edit": "reference, added",
    "spare_use": "tube, spare",
}
_MARKS = ("mark", "sha256, page, why, file", "position, rowid")
_NOTES = ("note", "at, text", "at, id")
_PHOTOS = ("photo", "sha256, suffix, name, at, why", "id")


class JobReader:
    """Reads jobs; every list takes a few questions to SQLite, however many jobs there are."""

    path: Path
    db: Database

    def job(self, job_id: int) -> JobRecord | None:
        """One job with its marks in order, its notes and photos, or None. Deleted ones too."""
        found = self._jobs("id = ?", job_id) if job_id <= MAX_NUMBER else []
        return found[0] if found else None

    def jobs(self, *, deleted: bool = False) -> list[JobRecord]:
        """Every job, the newest first; with `deleted` those put out of sight instead."""
        return self._jobs("deleted IS NOT NULL" if deleted else "deleted IS NULL")

    def search_jobs(self, text: str, *, deleted: bool = False) -> list[JobRecord]:
        """Jobs in which every word of `text` stands somewhere, the newest first: title, set, tag,
        dates, symptom, outcome, notes, marks, photos, readings, parts, spares used."""
        words = text.casefold().split()
        beside: dict[int, list[str]] = defaultdict(list)
        for table, columns in _BESIDE.items():
            for row in self._rows(f"SELECT job_id, {columns} FROM {table}"):
                beside[row[0]].append(" ".join(tuple(row)[1:]))
        return [job for job in self.jobs(deleted=deleted) if _holds(job, beside, words)]

    def marks_of(self, job_id: int) -> list[Mark]:
        """A job's marks in order."""
        return [_mark(row) for row in self._beside(_MARKS, "job_id = ?", job_id)[job_id]]

    def _jobs(self, which: str, *values: object) -> list[JobRecord]:
        rows = self._rows(f"SELECT * FROM job WHERE {which} ORDER BY id DESC", *values)
        inside = f"job_id IN (SELECT id FROM job WHERE {which})"
        marks, notes, photos = (
            self._beside(what, inside, *values) for what in (_MARKS, _NOTES, _PHOTOS)
        )
        return [
            job_from(
                row,
                [_mark(mark) for mark in marks[row["id"]]],
                notes[row["id"]],
                photos[row["id"]],
            )
            for row in rows
        ]

    def _beside(
        self, what: tuple[str, str, str], which: str, *values: object
    ) -> dict[int, list[sqlite3.Row]]:
        """Rows of a table by the job they belong to; `what` is (table, columns, order)."""
        table, columns, order = what
        out: dict[int, list[sqlite3.Row]] = defaultdict(list)
        sql = f"SELECT {columns}, job_id FROM {table} WHERE {which} ORDER BY {order}"
        for row in self._rows(sql, *values):
            out[row["job_id"]].append(row)
        return out

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        with plain_errors(self.path):
            return self.db.conn.execute(sql, values).fetchall()


def _holds(job: JobRecord, beside: Mapping[int, Sequence[str]], words: Sequence[str]) -> bool:
    texts = [str(getattr(job, name) or "") for name in _SEARCHED]
    texts += [" ".join((*job.models, *job.chassis, *job.tubes))]
    texts += [f"{note.at[:10]} {note.text}" for note in job.notes]
    texts += [f"{mark.file} {mark.why}" for mark in job.marks]
    texts += [f"{photo.name} {photo.why}" for photo in job.photos]
    texts += beside.get(job.id, ())
    whole = "\n".join(texts).casefold()
    return all(word in whole for word in words)


def _mark(row: sqlite3.Row) -> Mark:
    return Mark(PageRef(row["sha256"], row["page"]), row["why"], row["file"])
