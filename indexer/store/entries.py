"""What cataloguing made of the pages: facts, entries, codes, listings and the full text."""

import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from indexer.model import Entry, Listing, PageFacts, PageRef, TubePlace
from indexer.store.catalogue import Catalogue
from indexer.store.connect import plain_errors, writing
from indexer.trade.codes import base, fold, normal, parse_codes, series


@dataclass(frozen=True, slots=True)
class PageCard:
    """A page as answers show it."""

    page_id: int
    ref: PageRef
    name: str
    folder: Path
    file: str
    printed: str
    kinds: tuple[str, ...]

    @property
    def path(self) -> Path:
        return self.folder / self.file


@dataclass(frozen=True, slots=True)
class CodeRow:
    """One printed model or chassis number (or range) of an entry."""

    entry_id: str
    kind: str  # "model" or "chassis"
    printed: str


@dataclass(frozen=True, slots=True)
class TextHit:
    """A page whose words answer a question, with the words around the hit."""

    page_id: int
    snippet: str
    rank: float  # bm25, lower is better


class EntryStore:
    """Derived facts in `catalogue.db`. Everything here can be made again from the readings."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._db = catalogue.db

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
                " ".join(entry.tube_types),
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

    def changes(self) -> int:
        """A number that grows with every change of the entries."""
        found = self._rows("SELECT value FROM counter WHERE name = 'entries changed'")
        return int(found[0][0]) if found else 0

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

    def codes(self, column: str, values: Iterable[str]) -> list[CodeRow]:
        """Codes whose `column` (normal, folded, base, series) is one of the values."""
        wanted = list(dict.fromkeys(values))
        marks = ", ".join("?" * len(wanted))
        return _codes(
            self._rows(
                f"SELECT entry_id, kind, printed FROM code WHERE {column} IN ({marks})", *wanted
            )
        )

    def ranges(self) -> list[CodeRow]:
        """Every printed range."""
        return _codes(self._rows("SELECT entry_id, kind, printed FROM code WHERE is_range = 1"))

    def makers(self) -> dict[str, str]:
        """Makers by their normal form, as printed."""
        return {
            row["maker_key"]: row["maker"]
            for row in self._rows("SELECT DISTINCT maker_key, maker FROM entry WHERE maker <> ''")
        }

    def line_ups(self) -> dict[str, list[str]]:
        """Each distinct line-up (types sorted, joined by a space) with its entries' ids."""
        grouped: dict[str, list[str]] = {}
        for row in self._rows("SELECT line_up, id FROM entry WHERE line_up <> '' ORDER BY id"):
            grouped.setdefault(row["line_up"], []).append(row["id"])
        return grouped

    def text_hits(self, match: str, limit: int) -> list[TextHit]:
        """Pages whose text matches an FTS5 expression, best first."""
        return [
            TextHit(row[0], " ".join(row[1].split()), row[2])
            for row in self._rows(
                "SELECT rowid, snippet(page_text, 0, '', '', ' … ', 12), bm25(page_text)"
                " FROM page_text WHERE page_text MATCH ? ORDER BY bm25(page_text), rowid LIMIT ?",
                match,
                limit,
            )
        ]

    def listings(self, column: str, value: str) -> list[Listing]:
        """Listings whose `column` (normal, folded or maker) equals the value."""
        return self._listings(f"WHERE listing.{column} = ?", value)

    def all_listings(self) -> list[Listing]:
        """Every listing, in the order printed."""
        return self._listings("")

    def _listings(self, where: str, *values: object) -> list[Listing]:
        found = self._rows(
            "SELECT listing.*, page.sha256, page.number, here.sha256 AS here_sha256,"
            " here.number AS here_number FROM listing JOIN page ON page.id = listing.page_id"
            " LEFT JOIN page here ON here.id = listing.here_page_id"
            f" {where} ORDER BY listing.id",
            *values,
        )
        return [
            Listing(
                PageRef(row["sha256"], row["number"]),
                row["maker"],
                row["model"],
                row["publication"],
                row["volume"],
                row["page"],
                PageRef(row["here_sha256"], row["here_number"]) if row["here_sha256"] else None,
            )
            for row in found
        ]

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        return self._catalogue.rows(sql, *values)

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


def _codes(rows: Iterable[sqlite3.Row]) -> list[CodeRow]:
    return [CodeRow(*row) for row in rows]
