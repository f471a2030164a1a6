"""Brings the catalogue in line with the log of corrections, touching no more than they concern.

Corrections, entries and pages hang together: what shares a page belongs to one knot, and a knot
is made anew as a whole from what was read.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from indexer.corrections.apply import Corrected, apply
from indexer.model import Entry, Listing, PageFacts, PageRef
from indexer.store.connect import plain_errors, writing
from indexer.store.corrections import Correction
from indexer.store.entries import EntryStore
from indexer.store.given import Given
from indexer.store.looks import Look, Looks


@dataclass
class _Knot:
    """All that hangs together: pages, what was read, what is stored now."""

    refs: set[PageRef]
    corrections: list[Correction]
    read: dict[str, tuple[str, Entry]]
    stored: dict[str, tuple[Entry, frozenset[str]]]
    ids: dict[PageRef, int]


def settle(
    store: EntryStore,
    corrections: Sequence[Correction],
    seeds: Iterable[PageRef] | None = None,
    *,
    stamp: int | None = None,
) -> Corrected:
    """Makes entries and page kinds as the corrections have them, in one transaction.

    `seeds` are pages where something changed (None: look everywhere); `stamp` is that of the log,
    kept so that a later look sees whether the catalogue follows it.
    """
    given = Given(store.catalogue)
    with plain_errors(store.catalogue.path), writing(store.catalogue.db):
        knot = _knot(store, given, corrections, seeds)
        made = _applied(given, knot)
        if knot.refs:
            _write(store, given, knot, made)
        if stamp is not None:
            given.set_stamp(stamp)
    return made


def foresee(
    store: EntryStore,
    corrections: Sequence[Correction],
    seeds: Iterable[PageRef] | None = None,
) -> Corrected:
    """What `settle` would make of the corrections, without writing."""
    given = Given(store.catalogue)
    return _applied(given, _knot(store, given, corrections, seeds))


def put_unit(
    store: EntryStore,
    unit: str,
    facts: Sequence[tuple[int, PageFacts, str, str]],
    entries: Sequence[Entry],
    listings: Sequence[Listing],
    corrections: Callable[[], Sequence[Correction]] = tuple,
    looks: Sequence[Look] = (),
) -> None:
    """Puts a unit's derived facts in place (see `EntryStore.replace_unit`), corrected, at once.

    `corrections` is asked within the transaction, so that none made meanwhile is missed.
    """
    given = Given(store.catalogue)
    with plain_errors(store.catalogue.path), writing(store.catalogue.db):
        seeds = given.unit_refs(unit) | {page.ref for _, page, _, _ in facts}
        given.forget_unit(unit, [page_id for page_id, _, _, _ in facts])
        store.replace_unit(unit, facts, entries, listings)
        Looks(store.catalogue).put(looks)
        log = _of_best_copies(given, corrections())
        seeds |= set(given.best_copies(seeds).values())
        if any(seeds & correction.refs for correction in log):
            settle(store, log, seeds)


def _knot(
    store: EntryStore,
    given: Given,
    corrections: Sequence[Correction],
    seeds: Iterable[PageRef] | None,
) -> _Knot:
    kept = given.as_read()
    corrections = _of_best_copies(given, corrections)
    if seeds is None:
        refs = {ref for correction in corrections for ref in correction.refs} | given.given_pages()
        refs |= {ref for _, entry in kept.values() for ref in entry.pages}
        for entry_id in given.corrected():
            entry = store.entry(entry_id)
            refs |= set(entry.pages) if entry else set()
    else:
        refs = set(seeds)
        refs |= set(given.best_copies(refs).values())
        idle = not kept and not given.corrected()
        if idle and not any(refs & correction.refs for correction in corrections):
            known = given.given_pages() & refs
            return _Knot(known, [], {}, {}, given.page_ids(known))
    left = {correction.id: correction for correction in corrections}
    touched: dict[str, Entry] = {}
    ids: dict[PageRef, int] = {}
    fresh = refs
    while fresh:
        found = given.page_ids(fresh)
        ids |= found
        more: set[PageRef] = set()
        for correction in [c for c in left.values() if c.refs & fresh]:
            more |= correction.refs
            del left[correction.id]
        for _, entry in kept.values():
            if fresh & set(entry.pages):
                more |= set(entry.pages)
        for entry_id in given.touching(found.values()) - set(touched):
            stored = store.entry(entry_id)
            if stored is not None:
                touched[entry_id] = stored
                more |= set(stored.pages)
        fresh = more - refs
        refs |= more
    read = {
        key: (unit, replace(entry, pages=tuple(ref for ref in entry.pages if ref in ids)))
        for key, (unit, entry) in kept.items()
        if refs & set(entry.pages)
    }
    heads = {entry_id: given.head(entry_id) for entry_id in touched}
    for entry_id, entry in touched.items():
        if entry_id not in read and not entry.corrected:
            read[entry_id] = (heads[entry_id][0], entry)
    concerned = [correction for correction in corrections if correction.id not in left]
    stored_now = {key: (entry, heads[key][1]) for key, entry in touched.items()}
    return _Knot(refs, concerned, read, stored_now, ids)


def _of_best_copies(given: Given, corrections: Sequence[Correction]) -> list[Correction]:
    """The corrections as said of the copy that entries show, where a page was scanned again."""
    best = given.best_copies({ref for correction in corrections for ref in correction.refs})
    if not best:
        return list(corrections)

    def mapped(refs: tuple[PageRef, ...]) -> tuple[PageRef, ...]:
        return tuple(dict.fromkeys(best.get(ref, ref) for ref in refs))

    return [
        replace(
            one,
            pages=mapped(one.pages),
            other=mapped(one.other),
            page=best.get(one.page, one.page) if one.page and one.what != "kinds" else one.page,
        )
        for one in corrections
    ]


def _applied(given: Given, knot: _Knot) -> Corrected:
    codes: dict[PageRef, list[str]] = {}
    if any(correction.what in ("split", "move") for correction in knot.corrections):
        named = given.page_codes(knot.ids.values())
        codes = {ref: named.get(page_id, []) for ref, page_id in knot.ids.items()}
    read = sorted((entry for _, entry in knot.read.values() if entry.pages), key=_place)
    return apply(read, knot.corrections, knot.ids.keys(), codes)


def _place(entry: Entry) -> tuple[str, int, str]:
    return entry.pages[0].sha256, entry.pages[0].page, entry.id


def _write(store: EntryStore, given: Given, knot: _Knot, made: Corrected) -> None:
    none: frozenset[str] = frozenset()
    wanted = {entry.id: (entry, made.settled.get(entry.id, none)) for entry in made.entries}
    gone = [key for key, stored in knot.stored.items() if wanted.get(key) != stored]
    added = [value for key, value in wanted.items() if knot.stored.get(key) != value]
    if gone or added:
        store.replace_entries(
            gone, [(_unit(given, knot, entry), entry, said) for entry, said in added], knot.ids
        )
    for key, (unit, entry) in knot.read.items():
        if wanted.get(key) == (entry, none):
            given.forget_as_read(key)
        else:
            given.keep_as_read(unit, entry)
    for ref, page_id in knot.ids.items():
        given.put_page(page_id, made.kinds.get(ref), made.settled_pages.get(ref, none))


def _unit(given: Given, knot: _Knot, entry: Entry) -> str:
    return knot.read[entry.id][0] if entry.id in knot.read else given.unit_of(entry.pages[0])
