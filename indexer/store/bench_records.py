"""The bench side of the records: replacement list, readings taken, photos, spares."""

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from sqlite_utils import Database

from indexer.store.connect import plain_errors, writing
from indexer.store.job_rows import Photo, now


@dataclass(frozen=True, slots=True)
class PartEdit:
    """What the person did to one line of a job's replacement list.

    `added` holds the printed value and words of a line that the person added, else "";
    `state` is "", "done" or "struck".
    """

    reference: str
    added: str = ""
    state: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading taken at a point, as typed. `nominal` is the person's own, "" for the pages'."""

    point: str
    reads: str
    nominal: str = ""
    note: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Spare:
    """Tubes of one type lying in one place."""

    type: str
    count: int
    place: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class SpareUse:
    """A spare taken out of the drawer for a job: `spare` went where `tube` stood."""

    tube: str
    spare: str
    at: str = ""


class BenchRecords:
    """Reads and writes the bench's tables in `records.db`."""

    def __init__(self, path: Path, db: Database) -> None:
        self._path, self._db = path, db

    # -- replacement list

    def edit_part(self, job_id: int, reference: str, *, added: str = "", state: str = "") -> None:
        """Adds a line of the person's own, or gives a line its state; an earlier text stays."""
        self._write(
            "INSERT INTO part_edit VALUES (?, ?, ?, ?, ?) ON CONFLICT(job_id, reference) DO"
            " UPDATE SET state = excluded.state, at = excluded.at,"
            " added = coalesce(nullif(excluded.added, ''), added)",
            job_id,
            reference,
            added,
            state,
            now(),
        )

    def forget_part(self, job_id: int, reference: str) -> None:
        """Undoes every edit of a line."""
        self._write("DELETE FROM part_edit WHERE job_id = ? AND reference = ?", job_id, reference)

    def part_edits(self, job_id: int) -> list[PartEdit]:
        """Every edit of a job, in the order of its references."""
        return [
            PartEdit(*row)
            for row in self._rows(
                "SELECT reference, added, state, at FROM part_edit WHERE job_id = ? ORDER BY rowid",
                job_id,
            )
        ]

    # -- readings

    def take(self, job_id: int, taken: Taken) -> None:
        """Keeps a reading with the time; earlier ones of the same point stay as its history."""
        self._write(
            "INSERT INTO taken(job_id, point, reads, nominal, note, at) VALUES (?, ?, ?, ?, ?, ?)",
            job_id,
            taken.point,
            taken.reads,
            taken.nominal,
            taken.note,
            taken.at or now(),
        )

    def taken(self, job_id: int) -> list[Taken]:
        """Every reading of a job in the order taken."""
        return [
            Taken(*row)
            for row in self._rows(
                "SELECT point, reads, nominal, note, at FROM taken WHERE job_id = ? ORDER BY id",
                job_id,
            )
        ]

    # -- photos

    def add_photo(self, job_id: int, photo: Photo) -> None:
        """Keeps a photo's reference; the same picture again only gets the new words."""
        self._write(
            "INSERT INTO photo(job_id, sha256, suffix, name, at, why) VALUES (?, ?, ?, ?, ?, ?)"
            " ON CONFLICT(job_id, sha256) DO UPDATE SET why = excluded.why",
            job_id,
            photo.sha256,
            photo.suffix,
            photo.name,
            photo.at,
            photo.why,
        )

    # -- spares

    def spares(self) -> list[Spare]:
        """The drawer, by type and place; empty places are left out."""
        return [
            Spare(*row)
            for row in self._rows(
                "SELECT type, count, place, note FROM spare WHERE count > 0 ORDER BY type, place"
            )
        ]

    def add_spare(self, spare: Spare) -> None:
        """Puts tubes into the drawer, on top of what lies there."""
        self._put(spare, "count + excluded.count")

    def set_spare(self, spare: Spare) -> None:
        """Makes the drawer hold just this many of a type in a place."""
        self._put(spare, "excluded.count")

    def _put(self, spare: Spare, count: str) -> None:
        self._write(
            "INSERT INTO spare(type, count, place, note) VALUES (?, ?, ?, ?)"
            f" ON CONFLICT(type, place) DO UPDATE SET count = {count},"
            " note = coalesce(nullif(excluded.note, ''), note)",
            spare.type,
            spare.count,
            spare.place,
            spare.note,
        )

    def take_spare(self, spare_type: str, count: int = 1) -> bool:
        """Takes tubes out, from the fullest place first; False when too few lie there."""
        with plain_errors(self._path), writing(self._db) as db:
            run = db.conn.execute
            rows = run(
                "SELECT id, count FROM spare WHERE type = ? AND count > 0 ORDER BY count DESC",
                [spare_type],
            ).fetchall()
            if sum(row["count"] for row in rows) < count:
                return False
            for row in rows:
                out = min(count, row["count"])
                run("UPDATE spare SET count = count - ? WHERE id = ?", [out, row["id"]])
                count -= out
        return True

    def use_spare(self, job_id: int, tube: str, spare_type: str) -> bool:
        """Takes one spare out for a place in the job's set; False when none lies there."""
        with plain_errors(self._path), writing(self._db) as db:
            if not self.take_spare(spare_type):
                return False
            db.conn.execute(
                "INSERT INTO spare_use(job_id, tube, spare, at) VALUES (?, ?, ?, ?)",
                [job_id, tube, spare_type, now()],
            )
        return True

    def spare_uses(self, job_id: int) -> list[SpareUse]:
        """The spares that a job took, in order."""
        return [
            SpareUse(*row)
            for row in self._rows(
                "SELECT tube, spare, at FROM spare_use WHERE job_id = ? ORDER BY id", job_id
            )
        ]

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        with plain_errors(self._path):
            return self._db.conn.execute(sql, values).fetchall()

    def _write(self, sql: str, *values: object) -> None:
        with plain_errors(self._path), writing(self._db) as db:
            db.conn.execute(sql, values)
