"""Questions over all entries at once: makers, line-ups, and what the index of entries holds."""

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from indexer.model import Listing, PageRef
from indexer.store.catalogue import Catalogue
from indexer.trade.codes import normal

_MAX_RANKED = 20_000  # pages; ranking more costs more than 60 ms and tells no more


@dataclass(frozen=True, slots=True)
class TextHit:
    """A page whose words answer a question, with the words around the hit."""

    page_id: int
    snippet: str
    rank: float  # bm25, lower is better


class EntryQuestions:
    """The part of `EntryStore` that ranking asks. What is costly is kept until entries change."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._kept: dict[str, tuple[int, Any]] = {}

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        return self._catalogue.rows(sql, *values)

    def changes(self) -> int:
        """A number that grows with every change of the entries."""
        found = self._rows("SELECT value FROM counter WHERE name = 'entries changed'")
        return int(found[0][0]) if found else 0

    def head(self, entry_id: str) -> tuple[str, str, int | None] | None:
        """Maker, line-up key and year of an entry; cheaper than the whole of it."""
        found = self._rows("SELECT maker, line_up, year FROM entry WHERE id = ?", entry_id)
        return (found[0][0], found[0][1], found[0][2]) if found else None

    def documents(self) -> list[tuple[Any, ...]]:
        """(id, maker, models, chassis, line-up, supply, year, first file's name or where it lies
        on paper) of every entry, codes one a line."""
        code = (
            "(SELECT group_concat(printed, char(10)) FROM code c"
            " WHERE c.entry_id = e.id AND c.kind = '{}')"
        )
        found = self._rows(
            f"SELECT e.id, e.maker, {code.format('model')}, {code.format('chassis')}, e.line_up,"
            " e.supply, e.year, coalesce((SELECT file.name FROM entry_page p"
            " JOIN page ON page.id = p.page_id JOIN file ON file.sha256 = page.sha256"
            " WHERE p.entry_id = e.id LIMIT 1), (SELECT on_paper || ' ' || note || '.'"
            " FROM entry_given g WHERE g.entry_id = e.id))"
            " FROM entry e ORDER BY e.id"
        )
        return [tuple(row) for row in found]

    def makers(self) -> dict[str, str]:
        """Makers by their normal form, as printed."""
        return dict(self._keep("makers", self._makers))

    def _makers(self) -> dict[str, str]:
        rows = self._rows(  # one step of the B-tree a maker, where DISTINCT reads every entry
            "WITH RECURSIVE m(k) AS (SELECT min(maker_key) FROM entry UNION ALL"
            " SELECT (SELECT min(maker_key) FROM entry WHERE maker_key > m.k) FROM m"
            " WHERE m.k IS NOT NULL) SELECT k, (SELECT maker FROM entry WHERE maker_key = k"
            " ORDER BY maker LIMIT 1) FROM m WHERE k IS NOT NULL AND k <> ''"
        )
        return {row[0]: row[1] for row in rows}

    def line_ups(self) -> dict[str, int]:
        """Each distinct line-up (see `line_up_key`) with how many entries have it."""
        counted: dict[str, int] = self._keep(
            "line-ups",
            lambda: {
                row[0]: row[1]
                for row in self._rows(
                    "SELECT line_up, count(*) FROM entry WHERE line_up <> '' GROUP BY line_up"
                )
            },
        )
        return counted

    def with_line_ups(
        self, line_ups: Sequence[str], limit: int, *, maker: str = "", schematic: bool = False
    ) -> list[str]:
        """Ids of entries with one of the line-ups: those of `maker` first, then by maker, year."""
        marks = ", ".join("?" * len(line_ups))
        drawn = (
            " AND EXISTS (SELECT 1 FROM entry_page p JOIN page_fact USING (page_id)"
            " WHERE p.entry_id = entry.id AND page_fact.kinds LIKE '%\"schematic\"%')"
            if schematic
            else ""
        )
        first = "maker <> ?, " if maker else ""
        found = self._rows(
            f"SELECT id FROM entry WHERE line_up IN ({marks}){drawn}"
            f" ORDER BY {first}maker, year, id LIMIT ?",
            *line_ups,
            *([maker] if maker else []),
            limit,
        )
        return [row[0] for row in found]

    def by_maker(self, maker: str, year: int | None, limit: int) -> list[str]:
        """Ids of a maker's entries, those of the year first."""
        found = self._rows(
            "SELECT id FROM entry WHERE maker_key = ? ORDER BY year IS NOT ?, year, id LIMIT ?",
            normal(maker),
            year,
            limit,
        )
        return [row[0] for row in found]

    def with_tube(self, type_: str, limit: int) -> list[str]:
        """Ids of entries that use a tube type."""
        found = self._rows(
            "SELECT DISTINCT entry_id FROM entry_tube WHERE type = ? ORDER BY entry_id LIMIT ?",
            type_,
            limit,
        )
        return [row[0] for row in found]

    def _keep(self, name: str, make: Callable[[], Any]) -> Any:
        """What `make` gives, made again only when the entries have changed."""
        changes = self.changes()
        kept = self._kept.get(name)
        if kept is None or kept[0] != changes:
            kept = self._kept[name] = (changes, make())
        return kept[1]

    def text_hits(self, match: str, limit: int) -> list[TextHit]:
        """Pages whose text matches an FTS5 expression, best first.

        Of words that stand on more than _MAX_RANKED pages, the first so many are ranked.
        """
        beyond = self._rows(
            "SELECT rowid FROM page_text WHERE page_text MATCH ? ORDER BY rowid LIMIT 1 OFFSET ?",
            match,
            _MAX_RANKED,
        )
        last = beyond[0][0] if beyond else (1 << 62)
        return [
            TextHit(row[0], " ".join(row[1].split()), row[2])
            for row in self._rows(
                "SELECT rowid, snippet(page_text, 0, '', '', ' … ', 12), rank"
                " FROM page_text WHERE page_text MATCH ? AND rowid <= ? ORDER BY rank LIMIT ?",
                match,
                last,
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
        listings = (
            Listing(
                PageRef(row["sha256"], row["number"]),
                row["maker"],
                row["model"],
                row["publication"],
                row["volume"],
                row["page"],
                PageRef(row["here_sha256"], row["here_number"]) if row["here_sha256"] else None,
                row["chassis"],
            )
            for row in found
        )
        return list(dict.fromkeys(listings))  # a row that names several models is kept for each
