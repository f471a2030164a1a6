"""The drawer of spare tubes in the records, and the spares that jobs took out of it."""

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from sqlite_utils import Database

from indexer.store.connect import plain_errors, writing
from indexer.store.job_rows import now


@dataclass(frozen=True, slots=True)
class Spare:
    """Tubes of one type lying in one place. `type` keeps the envelope as typed: 6V6GT."""

    type: str
    count: int
    place: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class SpareUse:
    """A spare taken out of the drawer for a job: `spare` went where `tube` stood.

    `place` is where it lay, so that it can be put back.
    """

    tube: str
    spare: str
    at: str = ""
    place: str = ""


class Drawer:
    """Reads and writes the drawer in `records.db`."""

    def __init__(self, path: Path, db: Database) -> None:
        self._path, self._db = path, db

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
        self.put_spares([spare], add=True)

    def set_spare(self, spare: Spare) -> None:
        """Makes the drawer hold just this many of a type in a place."""
        self.put_spares([spare], add=False)

    def put_spares(self, spares: Iterable[Spare], *, add: bool) -> None:
        """Puts each on top of what lies there, or makes the place hold just that; all or none."""
        count = "count + excluded.count" if add else "excluded.count"
        with plain_errors(self._path), writing(self._db) as db:
            for spare in spares:
                db.conn.execute(
                    "INSERT INTO spare(type, count, place, note) VALUES (?, ?, ?, ?)"
                    f" ON CONFLICT(type, place) DO UPDATE SET count = {count},"
                    " note = coalesce(nullif(excluded.note, ''), note)",
                    [spare.type, spare.count, spare.place, spare.note],
                )

    def take_spare(self, spare_type: str, count: int = 1, place: str = "") -> tuple[str, ...]:
        """Takes tubes out, from the fullest place first or from one place.

        The place of each tube taken; nothing is taken, and () comes back, when too few lie there.
        """
        wanted = "type = ? AND count > 0" + (" AND place = ?" if place else "")
        values = [spare_type, place] if place else [spare_type]
        places: list[str] = []
        with plain_errors(self._path), writing(self._db) as db:
            run = db.conn.execute
            rows = run(
                f"SELECT id, count, place FROM spare WHERE {wanted} ORDER BY count DESC, place",
                values,
            ).fetchall()
            if sum(row["count"] for row in rows) < count:
                return ()
            for row in rows:
                out = min(count - len(places), row["count"])
                run("UPDATE spare SET count = count - ? WHERE id = ?", [out, row["id"]])
                places += [row["place"]] * out
        return tuple(places)

    def use_spare(self, job_id: int, tube: str, spare_type: str) -> SpareUse | None:
        """Takes one spare out for a place in the job's set; None when none lies there."""
        with plain_errors(self._path), writing(self._db) as db:
            places = self.take_spare(spare_type)
            if not places:
                return None
            use = SpareUse(tube, spare_type, now(), places[0])
            db.conn.execute(
                "INSERT INTO spare_use(job_id, tube, spare, at, place) VALUES (?, ?, ?, ?, ?)",
                [job_id, use.tube, use.spare, use.at, use.place],
            )
        return use

    def put_back(self, job_id: int, spare_type: str) -> SpareUse | None:
        """Puts the last spare of a type that the job took back where it lay; None for none."""
        with plain_errors(self._path), writing(self._db) as db:
            found = db.conn.execute(
                "SELECT id, tube, spare, at, place FROM spare_use WHERE job_id = ? AND spare = ?"
                " ORDER BY id DESC LIMIT 1",
                [job_id, spare_type],
            ).fetchone()
            if found is None:
                return None
            db.conn.execute("DELETE FROM spare_use WHERE id = ?", [found["id"]])
            self.add_spare(Spare(spare_type, 1, found["place"]))
        return SpareUse(*tuple(found)[1:])

    def spare_uses(self, job_id: int) -> list[SpareUse]:
        """The spares that a job took, in order."""
        return [
            SpareUse(*row)
            for row in self._rows(
                "SELECT tube, spare, at, place FROM spare_use WHERE job_id = ? ORDER BY at, id",
                job_id,
            )
        ]

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        with plain_errors(self._path):
            return self._db.conn.execute(sql, values).fetchall()

    def _write(self, sql: str, *values: object) -> None:
        with plain_errors(self._path), writing(self._db) as db:
            db.conn.execute(sql, values)
