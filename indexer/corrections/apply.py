"""The log of corrections replayed on what cataloguing gave. Pure: the same in, the same out."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from indexer.corrections import fields
from indexer.corrections.meant import GONE, NO_ENTRY, meant
from indexer.corrections.parting import new_id, split_of, without_page
from indexer.model import Entry, PageRef
from indexer.store.corrections import FIELDS, Correction

BY = "your correction"
_MAKES_A_SET = frozenset({"maker", "models", "chassis", "tubes"})


@dataclass(frozen=True, slots=True)
class Effect:
    """What became of one correction: `said` is "" when it applies, else why it has no effect."""

    said: str
    entries: tuple[str, ...] = ()


@dataclass
class Corrected:
    """Entries after all corrections, kinds given to pages, doubts settled, and each effect."""

    entries: list[Entry]
    kinds: dict[PageRef, tuple[str, ...]] = field(default_factory=dict)
    settled: dict[str, frozenset[str]] = field(default_factory=dict)  # by entry
    settled_pages: dict[PageRef, frozenset[str]] = field(default_factory=dict)
    effects: dict[int, Effect] = field(default_factory=dict)


def apply(
    entries: Sequence[Entry],
    corrections: Sequence[Correction],
    on_shelf: Collection[PageRef],
    page_codes: Mapping[PageRef, Collection[str]] | None = None,
) -> Corrected:
    """The entries as the person has them, each correction in the state that those before it left.

    `on_shelf` are the pages there are; `page_codes` the models and chassis that each page names,
    by which a split entry's codes go to its parts. A correction that finds nothing to act on is
    passed over, with the reason in `effects`.
    """
    made = Corrected(list(entries))
    for correction in corrections:
        there = [ref for ref in correction.refs if ref in on_shelf]
        if not there or (correction.page is not None and correction.page not in on_shelf):
            made.effects[correction.id] = Effect(GONE)
            continue
        made.effects[correction.id] = _one(made, correction, on_shelf, page_codes or {})
    return made


def _one(
    made: Corrected,
    correction: Correction,
    on_shelf: Collection[PageRef],
    page_codes: Mapping[PageRef, Collection[str]],
) -> Effect:
    what = correction.what
    if what == "kinds" and correction.page is not None:
        made.kinds[correction.page] = correction.values
        return Effect("")
    if what == "looked at":
        return _looked_at(made, correction)
    if what in ("move", "share"):
        return _move(made, correction, page_codes)
    at, why = meant(made.entries, correction.pages, correction.codes)
    if what in FIELDS:
        return _set_field(made, correction, at, why, on_shelf)
    if at < 0:
        return Effect(why)
    if what == "join":
        return _join(made, correction, at)
    if what == "split":
        parts, why = split_of(made.entries[at], correction, page_codes)
        if parts:
            made.entries[at : at + 1] = parts
        return Effect(why, tuple(part.id for part in parts))
    gone = made.entries.pop(at)  # not an entry
    return Effect("", (gone.id,))


def _set_field(
    made: Corrected, correction: Correction, at: int, why: str, on_shelf: Collection[PageRef]
) -> Effect:
    if at < 0:
        if correction.what not in _MAKES_A_SET or why != NO_ENTRY or not correction.values:
            return Effect(why)
        pages = tuple(ref for ref in correction.pages if ref in on_shelf)
        if not pages:
            return Effect(GONE)
        made.entries.append(_new(pages, correction.values[0]))
        at = len(made.entries) - 1
    entry = made.entries[at]
    made.entries[at] = fields.with_field(entry, correction.what, correction.values, BY)
    return Effect("", (entry.id,))


def _new(pages: tuple[PageRef, ...], code: str) -> Entry:
    blank = Entry(new_id(pages[0], code), maker="", models=(), chassis=(), tubes=(), pages=pages)
    return fields.marked(blank, "pages")


def _join(made: Corrected, correction: Correction, at: int) -> Effect:
    other, why = meant(made.entries, correction.other, correction.other_codes)
    if other < 0:
        return Effect(why)
    if other == at:
        return Effect("the two are one entry already")
    whole = fields.joined(made.entries[at], made.entries[other])
    made.entries[at] = whole
    del made.entries[other]
    return Effect("", (whole.id,))


def _move(
    made: Corrected, correction: Correction, page_codes: Mapping[PageRef, Collection[str]]
) -> Effect:
    page = correction.page
    assert page is not None
    to, why = meant(made.entries, correction.other, correction.other_codes)
    if to < 0:
        return Effect(why)
    target = made.entries[to]
    if correction.what == "share":
        if page in target.pages:
            return Effect("the page belongs to that entry already")
        made.entries[to] = _with_page(target, page)
        return Effect("", (target.id,))
    source = -1
    if correction.pages:
        source, why = meant(made.entries, correction.pages, correction.codes)
        if source < 0:
            return Effect(why)
    kept: list[Entry] = []
    for at, entry in enumerate(made.entries):
        if at == to:
            kept.append(_with_page(entry, page))
        elif page in entry.pages and source in (-1, at):
            if len(entry.pages) > 1:
                kept.append(without_page(entry, page, page_codes))
        else:
            kept.append(entry)
    made.entries = kept
    return Effect("", (target.id,))


def _with_page(entry: Entry, page: PageRef) -> Entry:
    """The entry with a page in its place: after the last page before it in its own file."""
    if page in entry.pages:
        return entry
    at = len(entry.pages)
    for place, ref in enumerate(entry.pages):
        if ref.sha256 == page.sha256:
            at = place + 1 if ref.page < page.page else min(at, place)
    pages = (*entry.pages[:at], page, *entry.pages[at:])
    return fields.marked(replace(entry, pages=pages), "pages")


def _looked_at(made: Corrected, correction: Correction) -> Effect:
    said = frozenset(correction.values)
    for ref in correction.refs:
        made.settled_pages[ref] = made.settled_pages.get(ref, frozenset()) | said
    if not correction.pages:
        return Effect("")
    at, why = meant(made.entries, correction.pages, correction.codes)
    if at < 0:
        return Effect(why)
    entry = made.entries[at]
    made.settled[entry.id] = made.settled.get(entry.id, frozenset()) | said
    doubts = tuple(doubt for doubt in entry.doubts if doubt not in said)
    made.entries[at] = replace(entry, doubts=doubts)
    return Effect("", (entry.id,))
