"""Cataloguing of units whose pages changed, from the stored readings alone: no file is opened."""

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from indexer.cataloguing.makers import with_new, without_slips
from indexer.cataloguing.on_paper import entries_on_paper
from indexer.cataloguing.sheet import FirstLook, first_look
from indexer.cataloguing.unit import Catalogued, catalogue_unit
from indexer.corrections.settle import put_unit
from indexer.model import Entry, PageFacts, PageInput
from indexer.store.catalogue import Catalogue
from indexer.store.corrections import Correction
from indexer.store.duplicates import Copies
from indexer.store.entries import EntryStore
from indexer.store.looks import Look, Looks, Repair
from indexer.store.own_makers import own_makers
from indexer.trade.codes import fold

Corrections = Callable[[], Sequence[Correction]]
Step = Callable[[int, int, float], None]  # done, of how many, seconds

_MOST_TOUCHED = 200  # further units catalogued again for a maker learned; more wait
_MORE_USUAL = 2  # times as many units, for a like name to be the right one
_MOST_REPAIRS = 40  # kept of one page


def catalogue_stale(catalogue: Catalogue, step: Step, corrections: Corrections = tuple) -> int:
    """Catalogues every unit whose pages changed; how many. Each is whole or as it was.

    Where a maker's name was learned or given up, units that print it are catalogued again too, so
    that the outcome depends on what was read and not on the order of the runs.
    """
    store, looks = EntryStore(catalogue), Looks(catalogue)
    own = own_makers(catalogue.path.parent)
    if looks.own_makers_stamp() != own.stamp:
        catalogue.make_stale(looks.units())
        looks.keep_own_makers_stamp(own.stamp)
    units = catalogue.stale_units()
    if not units:
        return 0
    before = set(_known_makers(looks))
    copies = Copies(catalogue)
    seen: dict[str, FirstLook] = {}  # so that nothing is sought twice
    for unit in units:
        pages = list(catalogue.unit_pages(unit))
        seen[unit] = first_look(page for _, page in pages)
        looks.put_makers(unit, seen[unit].makers)
        copies.put_sketches(pages)
    makers = _known_makers(looks)
    changed = before ^ set(makers) if set(looks.units()) - set(units) else set()
    touched = {unit for name in changed for unit in looks.units_with(name)}
    touched |= {unit for name in changed for unit in _filed_under(catalogue, name)}
    more = sorted(touched - set(units))[:_MOST_TOUCHED]
    more += sorted(copies.renew(units) - set(units) - set(more))
    catalogue.make_stale(more)
    started = time.monotonic()
    for n, unit in enumerate([*units, *more], 1):
        names, look = with_new(own.names, makers), seen.get(unit)
        _catalogue(catalogue, store, looks, unit, names, own.aliases, corrections, look)
        step(n, len(units) + len(more), time.monotonic() - started)
    store.resolve_listings()
    return len(units) + len(more)


def _known_makers(looks: Looks) -> list[str]:
    """The makers that units name, without a name that is one slip away from a more usual one."""
    return list(without_slips(looks.makers(), _MORE_USUAL))


def _catalogue(
    catalogue: Catalogue,
    store: EntryStore,
    looks: Looks,
    unit: str,
    makers: Sequence[str],
    aliases: Mapping[str, str],
    corrections: Corrections,
    look: FirstLook | None = None,
) -> None:
    pages = list(catalogue.unit_pages(unit))
    copies = Copies(catalogue).of_unit(unit)
    made = catalogue_unit([page for _, page in pages], makers, copies, aliases, look)
    listed = looks.list_of(unit)  # a typed list is a unit by itself, named by its content
    if listed is not None:
        entries = _own_names(entries_on_paper(*listed), looks, unit)
        made = Catalogued(made.facts, made.texts, made.keys, entries, ())
    ids = {page.ref: page_id for page_id, page in pages}
    facts = [
        (ids[page.ref], page, text, keys)
        for page, text, keys in zip(made.facts, made.texts, made.keys, strict=True)
    ]
    seen = [
        _look(page_id, page, fact) for (page_id, page), fact in zip(pages, made.facts, strict=True)
    ]
    put_unit(store, unit, facts, made.entries, made.listings, corrections, seen)


def _filed_under(catalogue: Catalogue, maker: str) -> set[str]:
    """Units with a file in whose path a maker's name stands."""
    rows = catalogue.rows(
        "SELECT DISTINCT content.unit FROM file JOIN content USING (sha256)"
        " WHERE instr(lower(file.name), ?) LIMIT ?",
        maker.lower(),
        _MOST_TOUCHED,
    )
    return {row[0] for row in rows}


def _own_names(entries: Iterable[Entry], looks: Looks, unit: str) -> tuple[Entry, ...]:
    """Entries of a list under names that no other unit has: a row may stand on two lists."""
    named = []
    for entry in entries:
        name, n = entry.id, 1
        while looks.owner(name) not in (None, unit):
            n += 1
            name = f"{entry.id}-{n}"
        named.append(replace(entry, id=name))
    return tuple(named)


def _look(page_id: int, page: PageInput, facts: PageFacts) -> Look:
    reading = page.reading
    codes = {fold(code) for code in (*facts.models, *facts.chassis)}
    codes |= {fold(text) for tube in facts.tubes for text in (tube.type, tube.printed)}
    width, height = max(1, reading.width_px), max(1, reading.height_px)
    repaired = [
        Repair(
            word.text,
            word.printed,
            word.why,
            round(word.box.left / width, 4),
            round(word.box.top / height, 4),
            round(word.box.right / width, 4),
            round(word.box.bottom / height, 4),
        )
        for word in reading.words
        if word.why and word.printed != word.text and fold(word.text) in codes
    ]
    return Look(
        page_id,
        len(reading.words),
        reading.confidence,
        max(facts.kinds.values(), default=0.0),
        tuple(repaired[:_MOST_REPAIRS]),
    )
