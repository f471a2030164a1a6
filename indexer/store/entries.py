"""What cataloguing made of the pages: facts, entries, codes, listings and the full text."""

import json
import sqlite3
from pathlib import Path

from indexer.model import Entry, PageRef, TubePlace
from indexer.store.catalogue import Catalogue
from indexer.store.code_forms import CodeForms
from indexer.store.duplicates import Copies
from indexer.store.entry_writing import EntryWriting, is_range, line_up_key
from indexer.store.given import Given
from indexer.store.rows import PageCard
from indexer.trade.codes import normal

__all__ = ["EntryStore", "PageCard", "is_range", "line_up_key"]


class EntryStore(EntryWriting):
    """Derived facts in `catalogue.db`. Everything here can be made again from the readings."""

    def __init__(self, catalogue: Catalogue) -> None:
        super().__init__(catalogue)
        self.forms = CodeForms(catalogue)

    def ids(self) -> list[str]:
        """Every entry's id, in the order a person would leaf through them."""
        return [row[0] for row in self._rows("SELECT id FROM entry ORDER BY maker, id")]

    def entry(self, entry_id: str) -> Entry | None:
        """One entry, or None."""
        found = self._rows(
            "SELECT entry.*, corrected, on_paper, note FROM entry"
            " LEFT JOIN entry_given ON entry_given.entry_id = entry.id WHERE id = ?",
            entry_id,
        )
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
        said = self._rows(
            "SELECT relation, model FROM entry_relation WHERE entry_id = ? ORDER BY position",
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
            corrected=tuple(json.loads(row["corrected"] or "[]")),
            on_paper=row["on_paper"] or "",
            note=row["note"] or "",
            relations=tuple((one["relation"], one["model"]) for one in said),
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

    def has_volume(self, publication: str, volume: str) -> bool:
        """Whether any page of a publication's volume is on the shelf; "" for a publication leaves
        it open."""
        return bool(
            self._rows(
                "SELECT 1 FROM page_fact WHERE volume = ? AND (? = '' OR publication IN ('', ?))"
                " LIMIT 1",
                volume,
                publication,
                publication,
            )
        )

    def entries_on_page(self, page_id: int) -> list[str]:
        """Ids of the entries that a page serves; a further copy serves those of the best one."""
        return [
            row[0]
            for row in self._rows(
                "SELECT DISTINCT entry_id FROM entry_page WHERE page_id = ? OR page_id = (SELECT"
                " page.id FROM page_copy JOIN page ON sha256 = best_sha256 AND number = best_number"
                " WHERE page_id = ?)",
                page_id,
                page_id,
            )
        ]

    def best_copy(self, page_id: int) -> PageCard | None:
        """The best scan of a page that was scanned more than once; None for that scan itself."""
        ref = Copies(self.catalogue).best(page_id)
        return self.card_of(ref) if ref else None

    def copies(self, ref: PageRef) -> list[PageCard]:
        """The further scans of a page, as far as `ref` is the best one."""
        found = [self.card_of(one) for one in Copies(self.catalogue).copies(ref)]
        return [card for card in found if card is not None]

    def related(self, maker: str, model: str, but: str = "") -> str | None:
        """The entry of a model that another entry of the maker names, or None."""
        found = self._rows(
            "SELECT entry_id FROM code JOIN entry ON entry.id = entry_id WHERE kind = 'model'"
            " AND normal = ? AND entry_id <> ? AND (? = '' OR maker_key IN ('', ?))"
            " AND NOT EXISTS (SELECT 1 FROM entry_relation r WHERE r.entry_id = entry.id"
            " AND r.relation = 'addendum to') ORDER BY entry_id",
            normal(model),
            but,
            maker,
            normal(maker),
        )
        return str(found[0][0]) if found else None

    def naming(self, folded: str) -> list[tuple[str, str, str]]:
        """(entry, relation, model) of every entry that names a model, given folded, as related."""
        return [
            (row["entry_id"], row["relation"], row["model"])
            for row in self._rows(
                "SELECT entry_id, relation, model FROM entry_relation WHERE folded = ?"
                " ORDER BY entry_id",
                folded,
            )
        ]

    def kinds_given(self, page_id: int) -> bool:
        """Whether the person said what a page prints."""
        return Given(self.catalogue).kinds_given(page_id)

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


def _tube(row: sqlite3.Row) -> TubePlace:
    page = PageRef(row["sha256"], row["number"]) if row["sha256"] else None
    alternatives = tuple(json.loads(row["alternatives"]))
    return TubePlace(row["type"], row["printed"], row["role"], row["symbol"], page, alternatives)
