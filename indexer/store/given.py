"""Rows of the catalogue that hold what corrections made, and what was read before them."""

import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from sqlite_utils import Database

from indexer.model import Entry, PageRef, TubePlace

if TYPE_CHECKING:
    from indexer.store.catalogue import Catalogue

_SETTLED = "corrections settled"
_AT_ONCE = 400  # page hashes in one question; older SQLite takes 999 values


def put_given(db: Database, entry: Entry, settled: Iterable[str] = ()) -> None:
    """Keeps what the person gave of an entry, if anything; `settled` are doubts looked at."""
    looked_at = sorted(settled)
    if entry.corrected or entry.on_paper or entry.note or looked_at:
        db.conn.execute(
            "INSERT INTO entry_given(entry_id, corrected, settled, on_paper, note)"
            " VALUES (?, ?, ?, ?, ?)",
            [
                entry.id,
                json.dumps(entry.corrected),
                json.dumps(looked_at),
                entry.on_paper,
                entry.note,
            ],
        )


class Given:
    """Reads and writes these rows, within a transaction that the caller holds."""

    def __init__(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        self._run = catalogue.db.conn.execute

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        return self._catalogue.rows(sql, *values)

    # -- how far the log of corrections has been followed

    def stamp(self) -> int:
        """The stamp of the log that the catalogue follows; 0 when it never followed one."""
        found = self._rows("SELECT value FROM counter WHERE name = ?", _SETTLED)
        return int(found[0][0]) if found else 0

    def set_stamp(self, stamp: int) -> None:
        self._run("INSERT OR REPLACE INTO counter(name, value) VALUES (?, ?)", [_SETTLED, stamp])

    # -- pages

    def page_ids(self, refs: Iterable[PageRef]) -> dict[PageRef, int]:
        """The pages that are on the shelf, with their ids."""
        wanted = set(refs)
        found = {}
        for part in _hashes(wanted):
            marks = ", ".join("?" * len(part))
            for row in self._rows(
                f"SELECT id, sha256, number FROM page WHERE sha256 IN ({marks})", *part
            ):
                ref = PageRef(row[1], row[2])
                if ref in wanted:
                    found[ref] = int(row[0])
        return found

    def best_copies(self, refs: Iterable[PageRef]) -> dict[PageRef, PageRef]:
        """For each page that is a further scan of another: the copy that entries show."""
        found: dict[PageRef, PageRef] = {}
        wanted = set(refs)
        for part in _hashes(wanted):
            marks = ", ".join("?" * len(part))
            for row in self._rows(
                "SELECT sha256, number, best_sha256, best_number FROM page_copy"
                f" JOIN page ON page.id = page_id WHERE sha256 IN ({marks})",
                *part,
            ):
                if PageRef(row[0], row[1]) in wanted:
                    found[PageRef(row[0], row[1])] = PageRef(row[2], row[3])
        return found

    def page_codes(self, page_ids: Iterable[int]) -> dict[int, list[str]]:
        """Models and chassis that each page itself names."""
        codes = {}
        for page_id in page_ids:
            for row in self._rows(
                "SELECT models, chassis FROM page_fact WHERE page_id = ?", page_id
            ):
                codes[page_id] = [*json.loads(row[0]), *json.loads(row[1])]
        return codes

    def unit_of(self, ref: PageRef) -> str:
        """The unit that a page is catalogued with."""
        found = self._rows("SELECT unit FROM content WHERE sha256 = ?", ref.sha256)
        return str(found[0][0]) if found else ""

    # -- entries

    def as_read(self) -> dict[str, tuple[str, Entry]]:
        """Entries as cataloguing gave them where a correction replaced them, with their units."""
        return {
            row["id"]: (row["unit"], _entry(json.loads(row["entry"])))
            for row in self._rows("SELECT id, unit, entry FROM as_read")
        }

    def keep_as_read(self, unit: str, entry: Entry) -> None:
        self._run(
            "INSERT OR REPLACE INTO as_read VALUES (?, ?, ?)",
            [entry.id, unit, json.dumps(asdict(entry), ensure_ascii=False)],
        )

    def forget_as_read(self, entry_id: str) -> None:
        self._run("DELETE FROM as_read WHERE id = ?", [entry_id])

    def touching(self, page_ids: Iterable[int]) -> set[str]:
        """Ids of the entries that have one of the pages."""
        found: set[str] = set()
        for page_id in page_ids:
            rows = self._rows("SELECT entry_id FROM entry_page WHERE page_id = ?", page_id)
            found.update(row[0] for row in rows)
        return found

    def head(self, entry_id: str) -> tuple[str, frozenset[str]]:
        """An entry's unit, and the doubts of it that were looked at."""
        (row,) = self._rows(
            "SELECT unit, settled FROM entry LEFT JOIN entry_given ON entry_id = id WHERE id = ?",
            entry_id,
        )
        return row[0], frozenset(json.loads(row[1] or "[]"))

    def corrected(self) -> list[str]:
        """Ids of the entries that corrections changed or made."""
        rows = self._rows(
            "SELECT entry_id FROM entry_given WHERE corrected <> '[]' OR settled <> '[]'"
        )
        return [row[0] for row in rows]

    def unit_refs(self, unit: str) -> set[PageRef]:
        """Pages of the entries of a unit, as they are and as they were read."""
        rows = self._rows(
            "SELECT sha256, number FROM entry JOIN entry_page ON entry_id = entry.id"
            " JOIN page ON page.id = page_id WHERE unit = ?",
            unit,
        )
        refs = {PageRef(*row) for row in rows}
        for row in self._rows("SELECT entry FROM as_read WHERE unit = ?", unit):
            refs.update(_entry(json.loads(row[0])).pages)
        return refs

    def forget_unit(self, unit: str, page_ids: Iterable[int]) -> None:
        """A unit is catalogued afresh: nothing of its former reading is to come back."""
        self._run("DELETE FROM as_read WHERE unit = ?", [unit])
        for page_id in page_ids:
            self._run("DELETE FROM page_given WHERE page_id = ?", [page_id])

    # -- page kinds

    def given_pages(self) -> set[PageRef]:
        """Pages whose kinds were given or whose doubts were looked at."""
        rows = self._rows(
            "SELECT sha256, number FROM page_given CROSS JOIN page ON page.id = page_given.page_id"
        )
        return {PageRef(*row) for row in rows}

    def put_page(self, page_id: int, kinds: Sequence[str] | None, settled: Iterable[str]) -> bool:
        """Gives a page its kinds (None: those read) and the doubts looked at.

        Returns whether that changed anything.
        """
        known = self._rows("SELECT * FROM page_given WHERE page_id = ?", page_id)
        read = known[0]["kinds_read"] if known else None
        fact = self._rows("SELECT kinds FROM page_fact WHERE page_id = ?", page_id)
        now = fact[0]["kinds"] if fact else "[]"
        was = now if read is None else read
        shown = was if kinds is None else json.dumps(list(kinds))
        looked_at = json.dumps(sorted(settled))
        kept = (None if kinds is None else was, looked_at)
        if shown == now and kept == ((read, known[0]["settled"]) if known else (None, "[]")):
            return False
        if fact:
            self._run("UPDATE page_fact SET kinds = ? WHERE page_id = ?", [shown, page_id])
        elif kinds is not None:
            self._run(
                "INSERT INTO page_fact(page_id, kinds, models, chassis, tubes)"
                " VALUES (?, ?, '[]', '[]', '[]')",
                [page_id, shown],
            )
        self._run("DELETE FROM page_given WHERE page_id = ?", [page_id])
        if kept != (None, "[]"):
            self._run("INSERT INTO page_given VALUES (?, ?, ?)", [page_id, *kept])
        return True

    def kinds_given(self, page_id: int) -> bool:
        """Whether the person gave the page's kinds."""
        found = self._rows("SELECT kinds_read FROM page_given WHERE page_id = ?", page_id)
        return bool(found) and found[0][0] is not None


def _hashes(refs: Iterable[PageRef]) -> Iterator[list[str]]:
    """The contents of pages, so many at once as go into one question."""
    hashes = sorted({ref.sha256 for ref in refs})
    for start in range(0, len(hashes), _AT_ONCE):
        yield hashes[start : start + _AT_ONCE]


def _entry(data: dict[str, Any]) -> Entry:
    tubes = tuple(
        TubePlace(
            **{
                **tube,
                "page": PageRef(**tube["page"]) if tube["page"] else None,
                "alternatives": tuple(tube["alternatives"]),
            }
        )
        for tube in data["tubes"]
    )
    lists = {name: tuple(data[name]) for name in ("models", "chassis", "doubts", "corrected")}
    pages = tuple(PageRef(**page) for page in data["pages"])
    relations = tuple((said, model) for said, model in data.get("relations", ()))
    return Entry(**{**data, **lists, "tubes": tubes, "pages": pages, "relations": relations})
