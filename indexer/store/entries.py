"""What cataloguing made of the pages: facts, entries, codes, listings and the full text."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from pathlib import Path

from indexer.model import Entry, Listing, PageFacts, PageRef, TubePlace
from indexer.store.catalogue import Catalogue
from indexer.store.code_forms import CodeForms, forget_unused, put_forms
from indexer.store.connect import plain_errors, writing
from indexer.store.entry_questions import EntryQuestions
from indexer.store.rows import PageCard
from indexer.trade.codes import base, fold, normal, parse_codes, series

__all__ = ["EntryStore", "PageCard", "is_range", "line_up_key"]


class EntryStore(EntryQuestions):
    """Derived facts in `catalogue.db`. Everything here can be made again from the readings."""

    def __init__(self, catalogue: Catalogue) -> None:
        super().__init__(catalogue)
        self._db = catalogue.db
        self.forms = CodeForms(catalogue)

    # -- writing

    def replace_unit(
        self,
        unit: str,
        facts: Sequence[tuple[int, PageFacts, str, str]],
        entries: Sequence[Entry],
        listings: Sequence[Listing],
    ) -> None:
        """Puts one unit's derived facts in place of the earlier ones, in one transaction.

        `facts` holds (page id, facts, text, keys) for each page; `keys` are the codes and tube
        types in normal form that the full-text index also answers to.
        """
        ids = {page.ref: page_id for page_id, page, _, _ in facts}
        with plain_errors(self._catalogue.path), writing(self._db) as db:
            run = db.conn.execute
            forms = run(
                "SELECT DISTINCT form_id FROM code_form JOIN entry ON entry.id = entry_id"
                " WHERE unit = ?",
                [unit],
            ).fetchall()
            run("DELETE FROM entry WHERE unit = ?", [unit])
            run("DELETE FROM listing WHERE unit = ?", [unit])
            for page_id, page, text, keys in facts:
                run("DELETE FROM page_text WHERE rowid = ?", [page_id])
                run(
                    "INSERT INTO page_text(rowid, body, keys) VALUES (?, ?, ?)",
                    [page_id, text, keys],
                )
                run(
                    "INSERT OR REPLACE INTO page_fact VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                    _fact(page_id, page),
                )
            for entry in entries:
                self._put_entry(unit, entry, ids)
            forget_unused(db, [row[0] for row in forms])
            for listing in listings:
                run(
                    "INSERT INTO listing(unit, page_id, maker, model, normal, folded,"
                    " publication, volume, page) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    [
                        unit,
                        ids[listing.ref],
                        listing.maker,
                        listing.model,
                        normal(listing.model),
                        fold(listing.model),
                        listing.publication,
                        listing.volume,
                        listing.page,
                    ],
                )
            run("UPDATE unit SET stale = 0 WHERE name = ?", [unit])
            run(
                "INSERT INTO counter(name, value) VALUES ('entries changed', 1)"
                " ON CONFLICT(name) DO UPDATE SET value = value + 1"
            )

    def _put_entry(self, unit: str, entry: Entry, ids: dict[PageRef, int]) -> None:
        run = self._db.conn.execute
        run(
            "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [
                entry.id,
                unit,
                entry.maker,
                normal(entry.maker),
                entry.year,
                entry.if_khz,
                entry.supply,
                entry.string_volts,
                entry.live_chassis,
                line_up_key(entry.tubes),
                json.dumps(entry.doubts),
                json.dumps(entry.evidence),
            ],
        )
        for position, ref in enumerate(entry.pages):
            run("INSERT INTO entry_page VALUES (?, ?, ?)", [entry.id, ids[ref], position])
        for kind, codes in (("model", entry.models), ("chassis", entry.chassis)):
            for position, printed in enumerate(codes):
                run(
                    "INSERT INTO code VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    [
                        entry.id,
                        kind,
                        position,
                        printed,
                        normal(printed),
                        fold(printed),
                        base(printed),
                        series(printed),
                        int(is_range(printed)),
                    ],
                )
                put_forms(self._db, entry.id, kind, position, printed)
        for position, tube in enumerate(entry.tubes):
            run(
                "INSERT INTO entry_tube VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                [
                    entry.id,
                    position,
                    tube.type,
                    tube.printed,
                    tube.role,
                    tube.symbol,
                    ids.get(tube.page) if tube.page else None,
                    json.dumps(tube.alternatives),
                ],
            )

    def resolve_listings(self) -> None:
        """Points listings at the page on the shelf whose volume and printed number they name."""
        with plain_errors(self._catalogue.path), writing(self._db) as db:
            db.conn.execute(
                "UPDATE listing SET here_page_id = (SELECT min(f.page_id) FROM page_fact f"
                " WHERE f.volume = listing.volume AND f.printed = listing.page"
                " AND (listing.publication = '' OR f.publication = ''"
                " OR f.publication = listing.publication))"
                " WHERE listing.page <> '' AND listing.volume <> ''"
            )

    # -- reading

    def ids(self) -> list[str]:
        """Every entry's id, in the order a person would leaf through them."""
        return [row[0] for row in self._rows("SELECT id FROM entry ORDER BY maker, id")]

    def entry(self, entry_id: str) -> Entry | None:
        """One entry, or None."""
        found = self._rows("SELECT * FROM entry WHERE id = ?", entry_id)
        if not found:
            return None
        row = found[0]
        codes = self._rows(
            "SELECT kind, printed FROM code WHERE entry_id = ? ORDER BY kind, position", entry_id
        )
        tubes = self._rows(
            "SELECT t.*, page.sha256, page.number FROM entry_tube t"
            " LEFT JOIN page ON page.id = t.page_id WHERE entry_id = ? ORDER BY position",
            entry_id,
        )
        pages = self._rows(
            "SELECT page.sha256, page.number FROM entry_page"
            " JOIN page ON page.id = entry_page.page_id WHERE entry_id = ? ORDER BY position",
            entry_id,
        )
        return Entry(
            id=row["id"],
            maker=row["maker"],
            models=tuple(code["printed"] for code in codes if code["kind"] == "model"),
            chassis=tuple(code["printed"] for code in codes if code["kind"] == "chassis"),
            tubes=tuple(_tube(tube) for tube in tubes),
            pages=tuple(PageRef(*page) for page in pages),
            year=row["year"],
            if_khz=row["if_khz"],
            supply=row["supply"],
            string_volts=row["string_volts"],
            live_chassis=row["live_chassis"],
            doubts=tuple(json.loads(row["doubts"])),
            evidence=json.loads(row["evidence"]),
        )

    def cards(self, entry_id: str) -> list[PageCard]:
        """The pages of an entry in order."""
        return self._cards(
            "JOIN entry_page ON entry_page.page_id = page.id WHERE entry_page.entry_id = ?"
            " ORDER BY entry_page.position",
            entry_id,
        )

    def card(self, page_id: int) -> PageCard | None:
        """One page."""
        found = self._cards("WHERE page.id = ?", page_id)
        return found[0] if found else None

    def card_of(self, ref: PageRef) -> PageCard | None:
        """One page by content; None when its file is gone or not catalogued."""
        found = self._cards("WHERE page.sha256 = ? AND page.number = ?", ref.sha256, ref.page)
        return found[0] if found else None

    def card_printed(self, publication: str, volume: str, printed: str) -> PageCard | None:
        """The page that a volume prints under a number; "" for a publication leaves it open."""
        found = self._cards(
            "WHERE page_fact.volume = ? AND page_fact.printed = ? AND (? = '' OR"
            " page_fact.publication IN ('', ?)) ORDER BY page.id",
            volume,
            printed,
            publication,
            publication,
        )
        return found[0] if found else None

    def entries_on_page(self, page_id: int) -> list[str]:
        """Ids of the entries that a page serves."""
        return [
            row[0]
            for row in self._rows(
                "SELECT DISTINCT entry_id FROM entry_page WHERE page_id = ?", page_id
            )
        ]

    def facts(self, page_id: int) -> sqlite3.Row | None:
        """The derived facts of one page; its list columns hold JSON."""
        found = self._rows("SELECT * FROM page_fact WHERE page_id = ?", page_id)
        return found[0] if found else None

    def _cards(self, tail: str, *values: object) -> list[PageCard]:
        found = self._rows(
            "SELECT page.id, page.sha256, page.number, page.name, folder.path, file.name,"
            " coalesce(nullif(page_fact.printed, ''), page.label), coalesce(page_fact.kinds, '[]')"
            " FROM page"
            " JOIN file ON file.id = (SELECT min(f.id) FROM file f WHERE f.sha256 = page.sha256)"
            " JOIN folder ON folder.id = file.folder_id"
            f" LEFT JOIN page_fact ON page_fact.page_id = page.id {tail}",
            *values,
        )
        return [
            PageCard(
                row[0],
                PageRef(row[1], row[2]),
                row[3],
                Path(row[4]),
                row[5],
                row[6],
                tuple(json.loads(row[7])),
            )
            for row in found
        ]


def line_up_key(tubes: Iterable[TubePlace]) -> str:
    """A line-up as one text: types sorted, joined by a space, alternatives after a slash."""
    return " ".join(sorted("/".join((tube.type, *tube.alternatives)) for tube in tubes))


def is_range(printed: str) -> bool:
    """Whether a printed code stands for a run of numbers, as in "40-120 through 40-125"."""
    return any(span.range is not None for span in parse_codes(printed))


def _fact(page_id: int, page: PageFacts) -> list[object]:
    kinds = sorted(page.kinds, key=lambda kind: -page.kinds[kind])
    return [
        page_id,
        page.printed,
        json.dumps([kind.value for kind in kinds]),
        json.dumps(page.models),
        json.dumps(page.chassis),
        json.dumps([tube.type for tube in page.tubes]),
        page.publication,
        page.volume,
    ]


def _tube(row: sqlite3.Row) -> TubePlace:
    page = PageRef(row["sha256"], row["number"]) if row["sha256"] else None
    alternatives = tuple(json.loads(row["alternatives"]))
    return TubePlace(row["type"], row["printed"], row["role"], row["symbol"], page, alternatives)
