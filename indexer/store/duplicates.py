"""Which pages are further scans of one printed page, over the whole library."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from indexer.cataloguing.copies import Sketch, best_of, is_copy, marks, sketch
from indexer.model import PageInput, PageRef
from indexer.store.connect import plain_errors, writing

if TYPE_CHECKING:
    from indexer.store.catalogue import Catalogue

# The best copy is kept by content, so that it may leave the library and be missed.
SCHEMA = """
CREATE TABLE page_sketch (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    phash TEXT NOT NULL, quality REAL NOT NULL, words BLOB NOT NULL);
CREATE TABLE page_mark (
    mark INTEGER NOT NULL, page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
    PRIMARY KEY (mark, page_id)) WITHOUT ROWID;
CREATE INDEX page_mark_page ON page_mark(page_id);
CREATE TABLE page_copy (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    best_sha256 TEXT NOT NULL, best_number INTEGER NOT NULL);
CREATE INDEX page_copy_best ON page_copy(best_sha256, best_number);
CREATE TABLE entry_relation (
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE, position INTEGER NOT NULL,
    relation TEXT NOT NULL, model TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
    other TEXT NOT NULL DEFAULT '', PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
CREATE INDEX entry_relation_folded ON entry_relation(folded);
UPDATE unit SET stale = 1;
"""

_COMMON = 60  # pages that share a mark: more, and the mark says nothing


class Copies:
    """Reads and writes what is known of copies."""

    def __init__(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        self._run = catalogue.db.conn.execute

    def put_sketches(self, pages: Iterable[tuple[int, PageInput]]) -> None:
        """Keeps what pages are known by; typed notes have no copies."""
        with plain_errors(self._catalogue.path), writing(self._catalogue.db):
            for page_id, page in pages:
                self._run("DELETE FROM page_mark WHERE page_id = ?", [page_id])
                if page.reading.reader == "typed":
                    continue
                made = sketch(page)
                self._run(
                    "INSERT OR REPLACE INTO page_sketch VALUES (?, ?, ?, ?)",
                    [page_id, made.phash, made.quality, made.packed()],
                )
                self._run_many(page_id, marks(made))

    def _run_many(self, page_id: int, found: Iterable[int]) -> None:
        self._catalogue.db.conn.executemany(
            "INSERT OR IGNORE INTO page_mark VALUES (?, ?)", [(mark, page_id) for mark in found]
        )

    def renew(self, units: Iterable[str]) -> set[str]:
        """Finds the copies of the units' pages anew; the units where a page's standing changed."""
        changed: set[int] = set()
        with plain_errors(self._catalogue.path), writing(self._catalogue.db):
            changed |= self._orphans()
            done: set[int] = set()
            for unit in units:
                rows = self._run(
                    "SELECT page.id FROM page JOIN content USING (sha256) WHERE unit = ?"
                    " ORDER BY page.id",
                    [unit],
                ).fetchall()
                for (page_id,) in rows:
                    if page_id not in done:
                        group = self._group(page_id)
                        done |= group
                        changed |= self._put_group(group)
        found: set[str] = set()
        for page_id in changed:
            found |= {
                row["unit"]
                for row in self._catalogue.rows(
                    "SELECT unit FROM content JOIN page USING (sha256) WHERE page.id = ?", page_id
                )
            }
        return found

    def _orphans(self) -> set[int]:
        """Copies whose best copy left the library."""
        gone = "FROM page_copy WHERE NOT EXISTS (SELECT 1 FROM page WHERE sha256 = best_sha256"
        gone += " AND number = best_number)"
        found = {row[0] for row in self._run(f"SELECT page_id {gone}").fetchall()}
        self._run(f"DELETE {gone}")
        return found

    def _group(self, page_id: int) -> set[int]:
        """The page and all its copies, those of its copies too."""
        group, fresh = {page_id}, [page_id]
        while fresh:
            more = self._near(fresh.pop()) - group
            group |= more
            fresh += more
        return group

    def _near(self, page_id: int) -> set[int]:
        own = self._sketch(page_id)
        if own is None:
            return set()
        rows = self._run(
            "SELECT DISTINCT other.page_id FROM page_mark mine JOIN page_mark other USING (mark)"
            " WHERE mine.page_id = ? AND other.page_id <> ?"
            " AND (SELECT count(*) FROM (SELECT 1 FROM page_mark m WHERE m.mark = mine.mark"
            f" LIMIT {_COMMON + 1})) <= {_COMMON}",
            [page_id, page_id],
        ).fetchall()
        near = set()
        for (other,) in rows:
            there = self._sketch(other)
            if there is not None and is_copy(own, there):
                near.add(other)
        return near

    def _sketch(self, page_id: int) -> Sketch | None:
        row = self._run(
            "SELECT words, phash, quality FROM page_sketch WHERE page_id = ?", [page_id]
        ).fetchone()
        return Sketch.of(*row) if row else None

    def _put_group(self, group: set[int]) -> set[int]:
        """Notes the best page of a group for all others; the pages whose standing changed."""
        names: dict[str, tuple[int, str, int]] = {}
        sketches = []
        for page_id in group:
            sha256, number = self._run(
                "SELECT sha256, number FROM page WHERE id = ?", [page_id]
            ).fetchone()
            made = self._sketch(page_id)
            if made is not None:
                names[f"{sha256}:{number:06}"] = page_id, sha256, number
                sketches.append((f"{sha256}:{number:06}", made, self._bound_with(sha256)))
        if not sketches:
            return set()
        best_id, sha256, number = names[best_of(sketches)]
        changed = set()
        for page_id in group:
            before = self._run(
                "SELECT best_sha256, best_number FROM page_copy WHERE page_id = ?", [page_id]
            ).fetchone()
            wanted = None if page_id == best_id else (sha256, number)
            if (tuple(before) if before else None) == wanted:
                continue
            changed.add(page_id)
            self._run("DELETE FROM page_copy WHERE page_id = ?", [page_id])
            if wanted:
                self._run("INSERT INTO page_copy VALUES (?, ?, ?)", [page_id, *wanted])
        return changed

    def _bound_with(self, sha256: str) -> int:
        """How many pages a content has."""
        found = self._run("SELECT page_count FROM content WHERE sha256 = ?", [sha256]).fetchone()
        return int(found[0])

    # -- reading

    def of_unit(self, unit: str) -> dict[PageRef, PageRef]:
        """The unit's pages that are further copies, each with its best copy."""
        rows = self._catalogue.rows(
            "SELECT page.sha256, page.number, best_sha256, best_number FROM page_copy"
            " JOIN page ON page.id = page_id JOIN content ON content.sha256 = page.sha256"
            " WHERE unit = ?",
            unit,
        )
        return {PageRef(row[0], row[1]): PageRef(row[2], row[3]) for row in rows}

    def best(self, page_id: int) -> PageRef | None:
        """The best copy of a page that is a further copy, else None."""
        rows = self._catalogue.rows(
            "SELECT best_sha256, best_number FROM page_copy WHERE page_id = ?", page_id
        )
        return PageRef(*rows[0]) if rows else None

    def copies(self, ref: PageRef) -> list[PageRef]:
        """The further copies of a best copy."""
        rows = self._catalogue.rows(
            "SELECT page.sha256, page.number FROM page_copy JOIN page ON page.id = page_id"
            " WHERE best_sha256 = ? AND best_number = ? ORDER BY page.id",
            ref.sha256,
            ref.page,
        )
        return [PageRef(*row) for row in rows]
