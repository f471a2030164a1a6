"""What was found on disk and read: folders, files, contents, pages, readings."""

import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path

from sqlite_utils import Database

from indexer.file_names import find_again, folder_again, printable
from indexer.model import PageInput, PageReading, PageRef, PageState, PictureFacts
from indexer.store.connect import open_store, plain_errors, writing
from indexer.store.rows import FileRow, PageRow, PageTask
from indexer.store.schema import catalogue_migrations
from indexer.store.words import pack, page_name, unpack

__all__ = ["Catalogue", "FileRow", "PageRow", "PageTask"]


class Catalogue:
    """The part of `catalogue.db` that mirrors the disk. Derived facts are in `EntryStore`."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.db: Database = open_store(path, catalogue_migrations)

    def close(self) -> None:
        self.db.close()

    def rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        """All rows of a question, with SQLite's errors made plain."""
        with plain_errors(self.path):
            return self.db.conn.execute(sql, values).fetchall()

    # -- files and contents

    def folder_id(self, path: Path) -> int:
        """The id of a library folder, added when new."""
        name = printable(str(path))
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute("INSERT OR IGNORE INTO folder(path) VALUES (?)", [name])
        return int(self.rows("SELECT id FROM folder WHERE path = ?", name)[0][0])

    def folders(self) -> dict[int, Path]:
        """Every library folder by id."""
        return {
            row["id"]: folder_again(row["path"]) for row in self.rows("SELECT id, path FROM folder")
        }

    def files(self, folder_id: int) -> dict[str, FileRow]:
        """The files known in a folder, by their name relative to it."""
        found = self.rows(
            "SELECT id, name, size_bytes, mtime_ns, sha256, state, reason FROM file"
            " WHERE folder_id = ?",
            folder_id,
        )
        return {row["name"]: FileRow(*row) for row in found}

    def put_file(
        self,
        folder_id: int,
        name: str,
        size_bytes: int,
        mtime_ns: int,
        *,
        sha256: str | None = None,
        state: str = "ok",
        reason: str = "",
    ) -> None:
        """Adds or replaces what is known of one file."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(
                "INSERT INTO file(folder_id, name, size_bytes, mtime_ns, sha256, state, reason)"
                " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT(folder_id, name) DO UPDATE SET"
                " size_bytes = excluded.size_bytes, mtime_ns = excluded.mtime_ns,"
                " sha256 = excluded.sha256, state = excluded.state, reason = excluded.reason",
                [folder_id, name, size_bytes, mtime_ns, sha256, state, reason],
            )

    def put_content(
        self, sha256: str, kind: str, title: str, unit: str, labels: Iterable[str]
    ) -> None:
        """Adds the pages of a file's bytes, one for each label; all wait for the first reader."""
        with plain_errors(self.path), writing(self.db) as db:
            if db.conn.execute("SELECT 1 FROM content WHERE sha256 = ?", [sha256]).fetchone():
                return
            printed = list(labels)
            db.conn.execute(
                "INSERT INTO content(sha256, kind, title, page_count, unit) VALUES (?,?,?,?,?)",
                [sha256, kind, title, len(printed), unit],
            )
            db.conn.executemany(
                "INSERT INTO page(sha256, number, name, label, state) VALUES (?, ?, ?, ?, ?)",
                [
                    (sha256, n, page_name(PageRef(sha256, n)), label, PageState.WAITING.value)
                    for n, label in enumerate(printed, 1)
                ],
            )

    def place_content(self, sha256: str, unit: str) -> None:
        """Says with which pages a content is catalogued; both units become stale on a change."""
        was = self.rows("SELECT unit FROM content WHERE sha256 = ?", sha256)
        if was and was[0]["unit"] != unit:
            with plain_errors(self.path), writing(self.db) as db:
                db.conn.execute("UPDATE content SET unit = ? WHERE sha256 = ?", [unit, sha256])
                self.make_stale({was[0]["unit"], unit})

    def make_stale(self, units: Iterable[str]) -> None:
        """Marks units to be catalogued again."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.executemany(
                "INSERT OR REPLACE INTO unit(name, stale) VALUES (?, 1)", [(u,) for u in units]
            )

    def stale_units(self) -> list[str]:
        """Units whose pages changed since they were last catalogued."""
        return [row["name"] for row in self.rows("SELECT name FROM unit WHERE stale = 1")]

    def forget_files(self, folder_id: int, names: Iterable[str]) -> None:
        """Drops files that are no longer there; their contents go with `forget_orphans`."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.executemany(
                "DELETE FROM file WHERE folder_id = ? AND name = ?",
                [(folder_id, name) for name in names],
            )

    def forget_orphans(self) -> int:
        """Drops contents that no file holds any more. Returns how many."""
        with plain_errors(self.path), writing(self.db) as db:
            orphans = db.conn.execute(
                "SELECT sha256, unit FROM content"
                " WHERE sha256 NOT IN (SELECT sha256 FROM file WHERE sha256 IS NOT NULL)"
            ).fetchall()
            for sha256, unit in orphans:
                db.conn.execute(
                    "DELETE FROM page_text WHERE rowid IN (SELECT id FROM page WHERE sha256 = ?)",
                    [sha256],
                )
                db.conn.execute("DELETE FROM page WHERE sha256 = ?", [sha256])
                db.conn.execute("DELETE FROM content WHERE sha256 = ?", [sha256])
                self.make_stale({unit})
        return len(orphans)

    # -- pages and readings

    def tasks(self, state: PageState) -> list[PageTask]:
        """Pages in `state`, in file order, each with one path where it can be read."""
        found = self.rows(
            "SELECT page.id, page.sha256, page.number, folder.path, file.name FROM page"
            " JOIN file ON file.id = (SELECT min(f.id) FROM file f WHERE f.sha256 = page.sha256)"
            " JOIN folder ON folder.id = file.folder_id"
            " WHERE page.state = ? ORDER BY file.id, page.number",
            state.value,
        )
        return [
            PageTask(row[0], PageRef(row[1], row[2]), find_again(row[3], row[4])) for row in found
        ]

    def put_reading(
        self,
        page_id: int,
        readings: Iterable[PageReading],
        best: PageReading,
        picture: PictureFacts,
        *,
        state: PageState,
        wants_second: bool,
        readers: int = 0,
    ) -> None:
        """Keeps every raw reading of a page, the one to use, where the page stands now, and which
        state of the `readers` read it."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute("DELETE FROM reading WHERE page_id = ?", [page_id])
            db.conn.execute("INSERT OR REPLACE INTO page_readers VALUES (?, ?)", [page_id, readers])
            self._keep(page_id, readings, best)
            db.conn.execute(
                "UPDATE page SET state = ?, reason = '', wants_second = ?, ink = ?,"
                " long_lines = ?, text_like = ?, photo_like = ?, phash = ? WHERE id = ?",
                [
                    state.value,
                    int(wants_second),
                    picture.ink,
                    picture.long_lines,
                    picture.text_like,
                    picture.photo_like,
                    picture.phash,
                    page_id,
                ],
            )
            self._touch(page_id)

    def put_second(self, page_id: int, raw: PageReading, merged: PageReading) -> None:
        """Keeps the second reader's reading and the two as one, which is used from now on."""
        with plain_errors(self.path), writing(self.db):
            self._keep(page_id, [raw], merged)
            self.settle_page(page_id)
            self._touch(page_id)

    def _keep(self, page_id: int, raw: Iterable[PageReading], best: PageReading) -> None:
        run = self.db.conn.execute
        run("DELETE FROM reading WHERE page_id = ? AND raw = 0", [page_id])
        for is_raw, reading in (*((1, reading) for reading in raw), (0, best)):
            run(
                "INSERT OR REPLACE INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                [
                    page_id,
                    is_raw,
                    reading.reader,
                    reading.rotation_deg,
                    int(reading.rotation_sure),
                    reading.skew_deg,
                    reading.width_px,
                    reading.height_px,
                    round(reading.seconds, 3),
                    pack(reading.words),
                ],
            )

    def _touch(self, page_id: int) -> None:
        self.db.conn.execute(
            "INSERT OR REPLACE INTO unit(name, stale) SELECT content.unit, 1 FROM page"
            " JOIN content USING (sha256) WHERE page.id = ?",
            [page_id],
        )

    def fail_page(self, page_id: int, reason: str) -> None:
        """Notes why a page could not be read at all."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(
                "UPDATE page SET state = ?, reason = ? WHERE id = ?",
                [PageState.FAILED.value, reason, page_id],
            )

    def settle_page(self, page_id: int, reason: str = "") -> None:
        """The second reader has had its turn; `reason` says why it added nothing, if so."""
        with plain_errors(self.path), writing(self.db) as db:
            db.conn.execute(
                "UPDATE page SET state = ?, reason = ?, wants_second = 0 WHERE id = ?",
                [PageState.DONE.value, reason, page_id],
            )

    def reading(self, page_id: int, reader: str = "") -> PageReading | None:
        """The reading to use of a page, or the raw one of a reader; None when it has none."""
        found = self.rows(
            "SELECT * FROM reading WHERE page_id = ? AND raw = ? AND (? = '' OR reader = ?)",
            page_id,
            int(bool(reader)),
            reader,
            reader,
        )
        return _reading(found[0]) if found else None

    def unit_pages(self, unit: str) -> Iterator[tuple[int, PageInput]]:
        """The pages that are catalogued together, in order, each with its id."""
        found = self.rows(
            "SELECT page.id AS page_id, page.*, reading.*, file.name AS file FROM page"
            " JOIN content USING (sha256)"
            " JOIN reading ON reading.page_id = page.id AND reading.raw = 0"
            " JOIN file ON file.id = (SELECT min(f.id) FROM file f WHERE f.sha256 = page.sha256)"
            " WHERE content.unit = ? ORDER BY file.name, page.number",
            unit,
        )
        for row in found:
            picture = PictureFacts(
                row["ink"] or 0.0,
                row["long_lines"] or 0.0,
                row["text_like"] or 0.0,
                row["photo_like"] or 0.0,
                row["phash"] or "",
            )
            ref = PageRef(row["sha256"], row["number"])
            yield row["page_id"], PageInput(ref, row["file"], _reading(row), picture, row["label"])

    def pages(self, where: str = "1", *values: object) -> list[PageRow]:
        """Pages for listing, in file order; `where` may use page, file and folder columns."""
        found = self.rows(
            "SELECT page.id, page.sha256, page.number, page.name, folder.path, file.name,"
            " page.label, page.state, page.reason FROM page"
            " JOIN file ON file.id = (SELECT min(f.id) FROM file f WHERE f.sha256 = page.sha256)"
            f" JOIN folder ON folder.id = file.folder_id WHERE {where}"
            " ORDER BY folder.path, file.name, page.number",
            *values,
        )
        return [
            PageRow(row[0], PageRef(row[1], row[2]), row[3], Path(row[4]), *tuple(row)[5:])
            for row in found
        ]

    def counts(self) -> dict[str, int]:
        """Pages by state, and files by state under "files ok", "files failed", …"""
        found = {row[0]: row[1] for row in self.rows("SELECT state, count(*) FROM page GROUP BY 1")}
        for row in self.rows("SELECT state, count(*) FROM file GROUP BY 1"):
            found[f"files {row[0]}"] = row[1]
        return found


def _reading(row: sqlite3.Row) -> PageReading:
    return PageReading(
        unpack(row["words"]),
        row["width_px"],
        row["height_px"],
        row["reader"],
        row["rotation_deg"],
        row["seconds"],
        bool(row["rotation_sure"]),
        row["skew_deg"],
    )
