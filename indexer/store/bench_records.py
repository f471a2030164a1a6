"""The bench side of the records: replacement list, readings taken, photos, spares."""

from collections.abc import Iterable
from dataclasses import dataclass

from indexer.store.connect import plain_errors, writing
from indexer.store.drawer import Drawer, Spare, SpareUse
from indexer.store.job_rows import Photo, now

__all__ = ["BenchRecords", "PartEdit", "Spare", "SpareUse", "Taken"]


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


class BenchRecords(Drawer):
    """Reads and writes the bench's tables in `records.db`; the drawer of spares with them."""

    # -- replacement list

    def edit_part(self, job_id: int, reference: str, *, added: str = "", state: str = "") -> None:
        """Adds a line of the person's own, or gives a line its state; an earlier text stays."""
        self._write(
            "INSERT INTO part_edit(job_id, reference, added, state, at) VALUES (?, ?, ?, ?, ?)"
            " ON CONFLICT(job_id, reference) DO UPDATE SET state = excluded.state,"
            " at = excluded.at, from_job = NULL,"
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
        self.take_all(job_id, [taken])

    def take_all(self, job_id: int, readings: Iterable[Taken]) -> None:
        """Keeps several readings, all or none."""
        with plain_errors(self._path), writing(self._db) as db:
            for one in readings:
                db.conn.execute(
                    "INSERT INTO taken(job_id, point, reads, nominal, note, at)"
                    " VALUES (?, ?, ?, ?, ?, ?)",
                    [job_id, one.point, one.reads, one.nominal, one.note, one.at or now()],
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
            " ON CONFLICT(job_id, sha256) DO UPDATE SET from_job = NULL,"
            " why = coalesce(nullif(excluded.why, ''), why)",
            job_id,
            photo.sha256,
            photo.suffix,
            photo.name,
            photo.at,
            photo.why,
        )

    def remove_photo(self, job_id: int, sha256: str) -> None:
        """Takes a photo off a job's list."""
        self._write("DELETE FROM photo WHERE job_id = ? AND sha256 = ?", job_id, sha256)
