"""Two jobs made one, and taken apart again. Everything happens in one transaction."""

from sqlite_utils import Database

from indexer.store.connect import writing
from indexer.store.job_rows import now

_COPIED = {  # columns beside job_id and from_job
    "note": "at, text",
    "photo": "sha256, suffix, name, at, why",
    "part_edit": "reference, added, state, at",
    "taken": "point, reads, nominal, note, at",
}
_HEAD = "From job "  # how the note begins that keeps the other job's own words


def merge(db: Database, into: int, other: int) -> None:
    """Copies all that belongs to `other` into `into`, and puts `other` out of sight.

    What both have (a page marked, a part edited, a photo) stays as `into` has it. Spares taken
    move over, so that each is put back once only. The other job's title, symptom and outcome
    become a note.
    """
    with writing(db):
        run = db.conn.execute
        last = run("SELECT coalesce(max(position), 0) FROM mark WHERE job_id = ?", [into])
        run(
            "INSERT OR IGNORE INTO mark(job_id, position, sha256, page, why, file, from_job)"
            " SELECT ?, position + ?, sha256, page, why, file, job_id FROM mark WHERE job_id = ?",
            [into, last.fetchone()[0], other],
        )
        for table, columns in _COPIED.items():
            run(
                f"INSERT OR IGNORE INTO {table}(job_id, from_job, {columns})"
                f" SELECT ?, job_id, {columns} FROM {table} WHERE job_id = ? ORDER BY rowid",
                [into, other],
            )
        run("UPDATE spare_use SET job_id = ?, from_job = ? WHERE job_id = ?", [into, other, other])
        job = run("SELECT * FROM job WHERE id = ?", [other]).fetchone()
        words = [f"{_HEAD}{other} “{job['title']}”, opened {job['opened'][:10]}"]
        for name, label in (
            ("owner_tag", "tag"),
            ("symptom", "symptom"),
            ("outcome", "closed with"),
        ):
            if job[name]:
                words.append(f"{label}: {job[name]}")
        run(
            "INSERT INTO note(job_id, from_job, at, text) VALUES (?, ?, ?, ?)",
            [into, other, job["closed"] or job["opened"], "; ".join(words)],
        )
        run("UPDATE job SET deleted = ?, merged_into = ? WHERE id = ?", [now(), into, other])


def bring_back(db: Database, job_id: int) -> None:
    """Undoes a deletion or a merging. What a merging copied leaves the job it went into, except
    what was changed there since."""
    with writing(db):
        run = db.conn.execute
        found = run("SELECT merged_into FROM job WHERE id = ?", [job_id]).fetchone()
        into = found["merged_into"] if found else None
        if into is not None:
            for table in ("mark", *_COPIED):
                run(f"DELETE FROM {table} WHERE job_id = ? AND from_job = ?", [into, job_id])
            run(
                "UPDATE spare_use SET job_id = from_job, from_job = NULL"
                " WHERE job_id = ? AND from_job = ?",
                [into, job_id],
            )
        run("UPDATE job SET deleted = NULL, merged_into = NULL WHERE id = ?", [job_id])
