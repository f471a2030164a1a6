"""What deserves a look, worst first, from what the catalogue holds."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from indexer.cataloguing.entry import FOLDERS_MAKER
from indexer.corrections.index_doubts import index_doubts
from indexer.corrections.raw_doubt import LISTED, RawDoubt
from indexer.model import PageKind, PageRef
from indexer.store.entries import EntryStore
from indexer.store.looks import Looks
from indexer.trade.codes import fold
from indexer.trade.lineup import analyse

ADDS_UP = "line-up does not add up"
DISAGREE = "sources disagree"
UNKNOWN = "unknown tube type"
REPAIRED = "repaired code"
NO_MAKER = "no maker"
FAINT = "low confidence"
NO_ENTRY = "page without entry"
UNSURE = "kind unsure"
SUPPLY = "supply unsure"
ROW = "row not used"
DOUBT_SORTS = (
    ADDS_UP, DISAGREE, UNKNOWN, REPAIRED, NO_MAKER, FAINT, NO_ENTRY, UNSURE, SUPPLY, LISTED, ROW,
)  # fmt: skip

_FAINT = 0.75  # mean confidence; of honest pages of the sample shelf nine in ten lie above 0.85
_FAINT_WORDS = 10  # fewer words say nothing about a page
_UNSURE = 0.7
_NO_MATTER = frozenset({PageKind.OTHER.value, PageKind.INDEX_PAGE.value})
_TYPES_SHOWN = 4


def raw_doubts(store: EntryStore, sorts: Sequence[str] = ()) -> list[RawDoubt]:
    """Every doubt of the sorts (all when empty) that the person has not looked at, worst first."""
    wanted = set(sorts or DOUBT_SORTS)
    found = [doubt for doubt in _all(store, wanted) if doubt.sort in wanted]
    order = {sort: n for n, sort in enumerate(DOUBT_SORTS)}
    return sorted(
        found, key=lambda d: (order[d.sort], -d.weight, d.entry, _place(d.page), d.file, d.said)
    )


def by_entry(found: Sequence[RawDoubt]) -> list[RawDoubt]:
    """The doubts with those of one sort about one entry as one, standing where the worst of them
    stood; doubts about pages and rows stay as they are."""
    together: dict[tuple[str, str] | int, list[RawDoubt]] = {}
    for n, doubt in enumerate(found):
        together.setdefault((doubt.sort, doubt.entry) if doubt.entry else n, []).append(doubt)
    return [_as_one(same) for same in together.values()]


def _as_one(same: Sequence[RawDoubt]) -> RawDoubt:
    first = same[0]
    each = tuple(dict.fromkeys(doubt.said for doubt in same))
    if len(each) < _SEVERAL:
        return replace(first, each=each)
    said = "; ".join(each[:_SAID])
    said += f"; and {len(each) - _SAID} more" if len(each) > _SAID else ""
    return replace(first, said=said, each=each)


_SEVERAL = 2
_SAID = 3


def _place(page: PageRef | None) -> tuple[str, int]:
    return (page.sha256, page.page) if page else ("", 0)


def _all(store: EntryStore, wanted: set[str]) -> Iterator[RawDoubt]:
    rows = store.catalogue.rows
    if wanted & {ADDS_UP, DISAGREE, UNKNOWN, SUPPLY, NO_MAKER}:
        for row in rows("SELECT id, doubts, line_up FROM entry WHERE doubts <> '[]'"):
            for said in json.loads(row[1]):
                sort = _sort_of(said, row[2])
                yield RawDoubt(sort, said, row[0], weight=len(row[2].split()))
    if REPAIRED in wanted:
        yield from _repaired(store)
    if NO_MAKER in wanted:
        yield from _no_maker(store)
    if wanted & {FAINT, NO_ENTRY, UNSURE}:
        yield from _of_pages(store)
    if LISTED in wanted:
        yield from index_doubts(store)
    if ROW in wanted:
        for file, line, why in Looks(store.catalogue).list_troubles():
            yield RawDoubt(ROW, f"row {line}: {why}", file=file)


def _sort_of(said: str, line_up: str) -> str:
    if said == FOLDERS_MAKER:
        return NO_MAKER
    if said in _line_up_doubts(line_up):
        if "string" in said:
            return ADDS_UP
        return UNKNOWN if "not in the tube table" in said or "only by its" in said else SUPPLY
    return UNKNOWN if said.endswith("is no tube type known here") else DISAGREE


@lru_cache(4096)
def _line_up_doubts(line_up: str) -> frozenset[str]:
    return frozenset(analyse([tube.partition("/")[0] for tube in line_up.split()]).doubts)


def _repaired(store: EntryStore) -> Iterator[RawDoubt]:
    """A doubt for each page of an entry whose repaired words are among the entry's own codes."""
    looks = Looks(store.catalogue)
    for row in store.catalogue.rows(
        "SELECT entry_id, l.page_id, page.sha256, page.number, corrected, g.settled"
        " FROM page_look l JOIN entry_page USING (page_id) JOIN page ON page.id = l.page_id"
        " LEFT JOIN entry_given g USING (entry_id) WHERE l.repaired <> '[]'"
    ):
        entry = store.entry(row["entry_id"])
        given = set(json.loads(row["corrected"] or "[]"))
        if entry is None:
            continue
        codes: set[str] = set()
        if "tubes" not in given:
            codes |= {fold(t) for tube in entry.tubes for t in (tube.type, tube.printed) if t}
        for name, kept in (("models", entry.models), ("chassis", entry.chassis)):
            codes |= set() if name in given else set(map(fold, kept))
        own = [one for one in looks.repaired(row["page_id"]) if fold(one.text) in codes]
        pairs = list(dict.fromkeys((one.text, one.printed) for one in own))
        if not pairs:
            continue
        said = "; ".join(f"{text} was read as {printed}" for text, printed in pairs[:_TYPES_SHOWN])
        said += f" and {len(pairs) - _TYPES_SHOWN} more" if len(pairs) > _TYPES_SHOWN else ""
        if said not in json.loads(row["settled"] or "[]"):
            # what only looks like a type it could be is less sure than what stands elsewhere too
            weight = sum(2.0 if one.why.startswith("the only") else 1.0 for one in own)
            ref = PageRef(row["sha256"], row["number"])
            yield RawDoubt(REPAIRED, said, entry.id, ref, weight, repairs=tuple(own))


def _no_maker(store: EntryStore) -> Iterator[RawDoubt]:
    said = "no maker was read"
    for row in store.catalogue.rows(
        "SELECT id, corrected, settled, (SELECT count(*) FROM entry_page p WHERE p.entry_id = id)"
        " AS pages FROM entry LEFT JOIN entry_given ON entry_id = id WHERE maker = ''"
    ):
        given = {*json.loads(row["corrected"] or "[]"), *json.loads(row["settled"] or "[]")}
        if row["pages"] and not given & {"maker", said}:
            yield RawDoubt(NO_MAKER, said, row["id"], weight=row["pages"])


def _of_pages(store: EntryStore) -> Iterator[RawDoubt]:
    for row in store.catalogue.rows(
        "SELECT page.sha256, page.number, kinds, words, confidence, kind_sure, kinds_read,"
        " settled, EXISTS (SELECT 1 FROM entry_page e WHERE e.page_id = page.id) AS used"
        " FROM page JOIN page_fact ON page_fact.page_id = page.id"
        " JOIN page_look ON page_look.page_id = page.id"
        " LEFT JOIN page_given ON page_given.page_id = page.id"
        " WHERE page.sha256 NOT IN (SELECT sha256 FROM typed_list)"
    ):
        ref = PageRef(row["sha256"], row["number"])
        kinds = json.loads(row["kinds"])
        for doubt in _of_page(ref, row["words"], row["confidence"], row["kind_sure"], kinds):
            if doubt.sort == UNSURE and row["kinds_read"] is not None:
                continue
            if doubt.sort == NO_ENTRY and row["used"]:
                continue
            if doubt.said not in json.loads(row["settled"] or "[]"):
                yield doubt


def _of_page(
    ref: PageRef, words: int, confidence: float, kind_sure: float, kinds: Iterable[str]
) -> Iterator[RawDoubt]:
    shown = [kind for kind in kinds if kind not in _NO_MATTER]
    if confidence < _FAINT and words >= _FAINT_WORDS:
        said = f"read with a confidence of {confidence:.0%} only"
        yield RawDoubt(FAINT, said, page=ref, weight=1 - confidence)
    if shown:
        said = f"shows {', '.join(shown)}, and belongs to no entry"
        yield RawDoubt(NO_ENTRY, said, page=ref, weight=len(shown))
    if kind_sure < _UNSURE:
        said = f"may be {', '.join(kinds) or 'anything'} ({kind_sure:.0%} sure)"
        yield RawDoubt(UNSURE, said, page=ref, weight=1 - kind_sure)
