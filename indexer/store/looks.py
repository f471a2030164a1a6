"""How well each page was read, which makers each unit names, and the typed lists."""

import json
import sqlite3
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from indexer.model import ListedSet
from indexer.store.connect import plain_errors, writing

if TYPE_CHECKING:
    from indexer.store.catalogue import Catalogue

_MAKER_PAGES = 5_000  # pages looked through for a name; a commoner word is no maker's


@dataclass(frozen=True, slots=True)
class Repair:
    """A code or tube type that was read otherwise; its place in shares of the upright page."""

    text: str
    printed: str
    why: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Look:
    """How well one page was read. `confidence` and `kind_sure` run from 0 to 1."""

    page_id: int
    words: int
    confidence: float
    kind_sure: float  # probability of its likeliest kind
    repaired: tuple[Repair, ...] = ()


class Looks:
    """Reads and writes these rows."""

    def __init__(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue
        self._run = catalogue.db.conn.execute

    def _rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        return self._catalogue.rows(sql, *values)

    def put(self, looks: Iterable[Look]) -> None:
        """Keeps looks, within a transaction."""
        for look in looks:
            repaired = [list(asdict(one).values()) for one in look.repaired]
            self._run(
                "INSERT OR REPLACE INTO page_look VALUES (?, ?, ?, ?, ?)",
                [
                    look.page_id,
                    look.words,
                    round(look.confidence, 4),
                    round(look.kind_sure, 4),
                    json.dumps(repaired, ensure_ascii=False),
                ],
            )

    def repaired(self, page_id: int) -> tuple[Repair, ...]:
        """The repaired codes of a page."""
        found = self._rows("SELECT repaired FROM page_look WHERE page_id = ?", page_id)
        return tuple(Repair(*one) for row in found for one in json.loads(row[0]))

    # -- makers

    def makers(self) -> Counter[str]:
        """Every maker that some unit's pages name, in alphabetical order, and how many units do."""
        rows = self._rows("SELECT maker, count(*) FROM unit_maker GROUP BY maker ORDER BY maker")
        return Counter(dict(map(tuple, rows)))

    def put_makers(self, unit: str, makers: Sequence[str]) -> None:
        """Keeps the makers that a unit's pages name."""
        with plain_errors(self._catalogue.path), writing(self._catalogue.db) as db:
            db.conn.execute("DELETE FROM unit_maker WHERE unit = ?", [unit])
            db.conn.executemany(
                "INSERT INTO unit_maker VALUES (?, ?, ?)",
                [(unit, maker, n) for n, maker in enumerate(makers)],
            )

    def own_makers_stamp(self) -> int:
        """The stamp of the person's list of makers that the catalogue follows; 0 for none."""
        found = self._rows("SELECT value FROM counter WHERE name = 'own makers'")
        return int(found[0][0]) if found else 0

    def keep_own_makers_stamp(self, stamp: int) -> None:
        """Notes which list of makers the catalogue follows from now on."""
        with plain_errors(self._catalogue.path), writing(self._catalogue.db):
            self._run("INSERT OR REPLACE INTO counter VALUES ('own makers', ?)", [stamp])

    def units_with(self, maker: str) -> set[str]:
        """Units in whose text a maker's name stands."""
        phrase = '"' + maker.replace('"', " ") + '"'
        rows = self._rows(
            "SELECT DISTINCT content.unit FROM (SELECT rowid AS id FROM page_text"
            " WHERE page_text MATCH ? LIMIT ?) hit"
            " JOIN page ON page.id = hit.id JOIN content USING (sha256)",
            phrase,
            _MAKER_PAGES,
        )
        return {row[0] for row in rows}

    def units(self) -> list[str]:
        """Every unit that has pages."""
        return [row[0] for row in self._rows("SELECT DISTINCT unit FROM content ORDER BY unit")]

    def seconds_reading(self) -> float:
        """What reading all pages took, summed over the readers' work."""
        return float(
            self._rows("SELECT coalesce(sum(seconds), 0) FROM reading WHERE raw = 1")[0][0]
        )

    # -- typed lists

    def put_list(
        self, sha256: str, sets: Sequence[ListedSet], troubles: Sequence[tuple[int, str]]
    ) -> None:
        """Keeps the rows of a typed list beside its content."""
        with plain_errors(self._catalogue.path), writing(self._catalogue.db) as db:
            db.conn.execute(
                "INSERT OR REPLACE INTO typed_list VALUES (?, ?, ?)",
                [
                    sha256,
                    json.dumps([asdict(one) for one in sets], ensure_ascii=False),
                    json.dumps(list(troubles), ensure_ascii=False),
                ],
            )

    def list_of(self, sha256: str) -> tuple[tuple[ListedSet, ...], str] | None:
        """A list's rows and the name of its file; None when the content is no typed list."""
        found = self._rows(
            "SELECT sets, (SELECT min(name) FROM file WHERE file.sha256 = typed_list.sha256)"
            " FROM typed_list WHERE sha256 = ?",
            sha256,
        )
        if not found:
            return None
        rows: list[dict[str, Any]] = json.loads(found[0][0])
        for row in rows:
            row["further"] = tuple(map(tuple, row["further"]))
        return tuple(ListedSet(**row) for row in rows), found[0][1] or ""

    def list_troubles(self) -> list[tuple[str, int, str]]:
        """(file, line, reason) of every row of a typed list that was not used."""
        return [
            (row[0], line, why)
            for row in self._rows(
                "SELECT (SELECT min(name) FROM file WHERE file.sha256 = typed_list.sha256) AS name,"
                " troubles FROM typed_list WHERE troubles <> '[]' ORDER BY name"
            )
            for line, why in json.loads(row[1])
        ]

    def owner(self, entry_id: str) -> str | None:
        """The unit that an entry belongs to, or None when there is no such entry."""
        found = self._rows("SELECT unit FROM entry WHERE id = ?", entry_id)
        return str(found[0][0]) if found else None
