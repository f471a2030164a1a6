"""Writing what cataloguing made: one unit at once, or single entries."""

import json
from collections.abc import Iterable, Sequence

from indexer.limits import MAX_RANGE_SHOWN
from indexer.model import Entry, Listing, PageFacts, PageRef, TubePlace
from indexer.store.catalogue import Catalogue
from indexer.store.code_forms import forget_unused, put_forms
from indexer.store.connect import plain_errors, writing
from indexer.store.entry_questions import EntryQuestions
from indexer.store.given import put_given
from indexer.trade.codes import base, fold, normal, parse_codes, series
from indexer.trade.page_numbers import page_number


class EntryWriting(EntryQuestions):
    """The part of `EntryStore` that writes."""

    def __init__(self, catalogue: Catalogue) -> None:
        super().__init__(catalogue)
        self.catalogue = catalogue
        self._db = catalogue.db

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
                self.put_entry(unit, entry, ids)
            forget_unused(db, [row[0] for row in forms])
            db.conn.executemany(
                "INSERT INTO listing(unit, page_id, maker, model, normal, folded,"
                " publication, volume, page, chassis) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                [
                    (
                        unit,
                        ids[listing.ref],
                        listing.maker,
                        listing.model,
                        normal(code),
                        fold(code),
                        listing.publication,
                        listing.volume,
                        listing.page,
                        listing.chassis,
                    )
                    for listing in listings
                    for code in _asked_as(listing)
                ],
            )
            run("UPDATE unit SET stale = 0 WHERE name = ?", [unit])
            self._changed()

    def _changed(self) -> None:
        self._db.conn.execute(
            "INSERT INTO counter(name, value) VALUES ('entries changed', 1)"
            " ON CONFLICT(name) DO UPDATE SET value = value + 1"
        )

    def replace_entries(
        self,
        gone: Sequence[str],
        added: Sequence[tuple[str, Entry, frozenset[str]]],
        ids: dict[PageRef, int],
    ) -> None:
        """Takes entries out and puts others in (unit, entry, doubts looked at), within a
        transaction; pages that are not in `ids` are left out."""
        run = self._db.conn.execute
        forms: list[int] = []
        for entry_id in gone:
            found = run("SELECT form_id FROM code_form WHERE entry_id = ?", [entry_id])
            forms += [row[0] for row in found.fetchall()]
            run("DELETE FROM entry WHERE id = ?", [entry_id])
        for unit, entry, settled in added:
            self.put_entry(unit, entry, ids, settled)
        forget_unused(self._db, forms)
        self._changed()

    def put_entry(
        self, unit: str, entry: Entry, ids: dict[PageRef, int], settled: Iterable[str] = ()
    ) -> None:
        """Adds one entry, within a transaction. `ids` names its pages; `settled` are doubts that
        the person has looked at."""
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
        put_given(self._db, entry, settled)
        there = [ids[ref] for ref in entry.pages if ref in ids]
        for position, page_id in enumerate(there):
            run("INSERT INTO entry_page VALUES (?, ?, ?)", [entry.id, page_id, position])
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
        for position, (said, model) in enumerate(entry.relations):
            run(
                "INSERT INTO entry_relation(entry_id, position, relation, model, normal, folded)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                [entry.id, position, said, model, normal(model), fold(model)],
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
        """Points listings at the page on the shelf whose volume and printed number they name.

        A page that prints "7-31" answers to page 31 of volume 7 where the book's volume is 7 or
        was not read, and to a row that itself prints "7-31".
        """
        with plain_errors(self._catalogue.path), writing(self._db) as db:
            run = db.conn.execute
            self._put_numbers()
            run(
                "UPDATE listing SET here_page_id = (SELECT min(f.page_id) FROM page_fact f"
                " WHERE f.volume = listing.volume AND f.printed = listing.page"
                " AND f.page_id NOT IN (SELECT page_id FROM page_copy)"
                " AND (listing.publication = '' OR f.publication = ''"
                " OR f.publication = listing.publication))"
                " WHERE listing.page <> '' AND listing.volume <> ''"
            )
            run(
                "UPDATE listing SET here_page_id = (SELECT min(n.page_id) FROM page_number n"
                " WHERE n.volume = listing.volume AND n.page = upper(listing.page)"
                " AND (listing.publication = '' OR n.publication = ''"
                " OR n.publication = listing.publication))"
                " WHERE here_page_id IS NULL AND listing.page <> '' AND listing.volume <> ''"
            )
            # a volume that could not be read: the set's own entry may tell
            for pages in (
                "SELECT page_id, volume, printed AS page FROM page_fact WHERE volume <> ''",
                "SELECT page_id, volume, page FROM page_number WHERE volume <> ''",
            ):
                found = (
                    "FROM code c JOIN entry_page e USING (entry_id)"
                    f" JOIN ({pages}) n ON n.page_id = e.page_id WHERE c.kind = 'model'"
                    " AND c.normal = listing.normal AND n.page = listing.page"
                )
                run(
                    "UPDATE listing SET (here_page_id, volume) ="
                    f" (SELECT n.page_id, n.volume {found} LIMIT 1)"
                    f" WHERE volume = '' AND page <> '' AND EXISTS (SELECT 1 {found})"
                )
            self._resolve_whole()
            run("DROP TABLE page_number")

    def _put_numbers(self) -> None:
        """The pages that print volume or section and page in one, for a while: both in plain
        figures, and the whole of it."""
        run = self._db.conn.execute
        run("DROP TABLE IF EXISTS temp.page_number")
        run(
            "CREATE TEMP TABLE page_number (page_id INTEGER, volume TEXT, page TEXT, whole TEXT,"
            " publication TEXT)"
        )
        rows = run(
            "SELECT page_id, volume, printed, publication FROM page_fact"
            " WHERE printed GLOB '*[^0-9]*' AND page_id NOT IN (SELECT page_id FROM page_copy)"
        ).fetchall()
        for page_id, volume, printed, publication in rows:
            number = page_number(printed)
            if number is None:
                continue
            whole = f"{number.part}-{number.in_part}" if number.part else ""
            own = number.part if volume in ("", number.part) and number.part.isdigit() else ""
            row = [page_id, own, number.in_part if own else "", whole, publication]
            run("INSERT INTO page_number VALUES (?, ?, ?, ?, ?)", row)
        run("CREATE INDEX temp.page_number_page ON page_number(volume, page)")
        run("CREATE INDEX temp.page_number_id ON page_number(page_id)")

    def _resolve_whole(self) -> None:
        """Rows that print volume or section and page in one ("A-12"): resolved where one page on
        the shelf alone carries that number."""
        run = self._db.conn.execute
        rows = run(
            "SELECT id, page, volume, publication FROM listing WHERE page GLOB '*[^0-9]*'"
            " AND (here_page_id IS NULL OR volume = '')"
        ).fetchall()
        for listing_id, page, volume, publication in rows:
            number = page_number(page)
            found = []
            if number is not None and number.part:
                found = run(
                    "SELECT n.page_id FROM page_number n JOIN page_fact f USING (page_id)"
                    " WHERE n.whole = ? AND (? IN ('', f.volume) OR f.volume = '')"
                    " AND (? IN ('', f.publication) OR f.publication = '') LIMIT 2",
                    [f"{number.part}-{number.in_part}", volume, publication],
                ).fetchall()
            here = found[0][0] if len(found) == 1 else None
            run("UPDATE listing SET here_page_id = ? WHERE id = ?", [here, listing_id])


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


def _asked_as(listing: Listing) -> list[str]:
    """What a row of an index is found by: its text as printed, each model that it names
    ("61, 61-B", "22 thru 25") without what sort of set it is ("2-40 Combination"), and its
    chassis."""
    words = listing.model.split()
    while len(words) > 1 and not any(map(str.isdigit, words[-1])):
        words.pop()
    codes = [listing.model, " ".join(words), *filter(None, [listing.chassis])]
    for span in parse_codes(listing.model):
        codes += span.codes
        if span.range and span.range.is_pattern:
            codes += span.range.members(MAX_RANGE_SHOWN)
    return list({normal(code): code for code in codes}.values())
