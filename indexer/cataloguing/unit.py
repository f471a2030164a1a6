"""One unit's pages (a bound file, or a folder's loose sheets) made into facts and entries."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from indexer.cataloguing import (
    cross_list,
    identity,
    lineups,
    makers,
    particulars,
    set_table,
)
from indexer.cataloguing.book import bound_at, page_numbers, publication_of
from indexer.cataloguing.entry import borne_out, entry_of, maker_of
from indexer.cataloguing.folders import maker_by_folder
from indexer.cataloguing.forms import distinct
from indexer.cataloguing.headings import named_first
from indexer.cataloguing.identity import Masthead
from indexer.cataloguing.kinds import kinds_of, section_kind
from indexer.cataloguing.listings import listings_in, merge_listings
from indexer.cataloguing.region import Region, pieces, squeeze
from indexer.cataloguing.relations import is_addendum
from indexer.cataloguing.sequence import Stretch, assign, group_loose
from indexer.cataloguing.shared_page import (
    Named,
    Part,
    heads_of,
    named_in,
    parts_of,
    sets_named,
)
from indexer.cataloguing.sheet import (
    FOOT_SHARE,
    HEAD_SHARE,
    FirstLook,
    Sheet,
    makers_on,
    sheets_of,
)
from indexer.model import Entry, Listing, PageFacts, PageInput, PageKind, PageRef
from indexer.trade.codes import fold, normal

_NO_COPIES: Mapping[PageRef, PageRef] = MappingProxyType({})
_NO_ALIASES: Mapping[str, str] = MappingProxyType({})
_CONTINUED = re.compile(r"\b(CONTINUED|CONT'?D\.?|CONT\.)")


@dataclass(frozen=True, slots=True)
class Catalogued:
    """What cataloguing made of a unit. `texts` and `keys` go with `facts`, page by page."""

    facts: tuple[PageFacts, ...]
    texts: tuple[str, ...]
    keys: tuple[str, ...]
    entries: tuple[Entry, ...]
    listings: tuple[Listing, ...]


def catalogue_unit(
    pages: Sequence[PageInput],
    known_makers: Sequence[str] = (),
    copies: Mapping[PageRef, PageRef] = _NO_COPIES,
    aliases: Mapping[str, str] = _NO_ALIASES,
    look: FirstLook | None = None,
) -> Catalogued:
    """Facts of every page, the entries they make up, and the listings on index pages.

    `known_makers` are names known from elsewhere in the library; `copies` are further scans of
    pages, each with its best copy: they belong to no entry and list nothing; the best copy stands
    in a bound unit where the first of them does. `aliases` gives the
    maker for a folded other name; `look` is what a first look at these pages found, where there
    was one. The same pages always give the same answer.
    """
    loose = len({page.ref.sha256 for page in pages}) > 1 or len(pages) == 1
    single = loose or len(pages) <= _LEAFLET
    sheets = [
        sheet
        for page in pages
        for sheet in sheets_of(page, look.kinds[page.ref] if look else (), single=single)
    ]
    named = look.makers if look else makers_on(sheets)
    known = tuple(filter(makers.may_be, makers.with_new(known_makers, named)))
    heads = [[] if sheet.is_index else heads_of(sheet, sheet.whole, known) for sheet in sheets]
    elsewhere = [] if loose else named_in(heads)
    stretches = _with_headers_named(
        [
            stretch
            for sheet, some in zip(sheets, heads, strict=True)
            for stretch in set_table.stretches(sheet, known, aliases)
            or [
                one
                for part in parts_of(sheet, some, known, loose, elsewhere)
                for stretch in _stretches(sheet, part, some, known, aliases, loose)
                for one in _for_each_set(stretch, elsewhere)
            ]
        ]
    )
    served = _in_place([s for s in stretches if s.region.page.ref not in copies], pages, copies)
    starts = group_loose(served) if loose else assign(served)
    publication, volume = publication_of(pages)
    grouped: dict[int, list[Stretch]] = {}
    for start, stretch in zip(starts, served, strict=True):
        if start >= 0:
            grouped.setdefault(start, []).append(stretch)
    groups = list(grouped.values())
    filed = [
        maker_by_folder(group[0].region.page.file, known, aliases, by_name=loose)
        for group in groups
    ]
    filed = borne_out(filed, [maker_of(group) for group in groups])
    entries = tuple(
        entry
        for group, folder in zip(groups, filed, strict=True)
        if (entry := entry_of(group, folder)) is not None
    )
    numbers = page_numbers(pages, copies, loose)
    facts = tuple(
        replace(
            _page_facts(
                page, [s for s in stretches if s.region.page.ref == page.ref], publication, volume
            ),
            printed=numbers[page.ref],
        )
        for page in pages
    )
    rows: list[Listing] = []
    for stretch in served:
        if stretch.is_index:
            above = rows[-1].maker if rows else ""
            rows += [
                replace(row, maker=aliases.get(fold(row.maker), row.maker))
                for row in listings_in(stretch.region, publication, volume, known, above)
            ]
    return Catalogued(
        facts,
        tuple(page.reading.text for page in pages),
        tuple(_keys(page) for page in facts),
        entries,
        merge_listings(rows),
    )


def _in_place(
    stretches: Sequence[Stretch], pages: Sequence[PageInput], copies: Mapping[PageRef, PageRef]
) -> list[Stretch]:
    """The stretches in the order of their pages, a best copy where its first scan was bound."""
    place = bound_at(pages, copies)
    return sorted(stretches, key=lambda stretch: place[stretch.region.page.ref])


def _for_each_set(stretch: Stretch, elsewhere: Sequence[Named]) -> list[Stretch]:
    """A stretch whose heading names several sets of the volume, and that nothing parts, once for
    each: all of them are served by its page."""
    head = stretch.masthead
    sets = sets_named(head, elsewhere) if head and len(head.models) > 1 else []
    if head is None or len(sets) < _SETS:
        return [stretch]
    every: frozenset[str] = frozenset().union(*sets)
    return [
        replace(_without(stretch, every - one), named=one & stretch.named, shared=True)
        for one in sets
    ]


_SETS = 2
_LEAFLET = 4  # pages of a leaflet about one set, at most


def _without(stretch: Stretch, foreign: frozenset[str]) -> Stretch:
    """The stretch without codes that its headings name and that are other sets'."""
    head = stretch.masthead
    if head is None or not foreign:
        return stretch
    own = [
        tuple(c for c in codes if fold(c) not in foreign) for codes in (head.models, head.chassis)
    ]
    kept = replace(head, models=own[0], chassis=own[1]) if any(own) else None
    return replace(stretch, masthead=kept, named=stretch.named - foreign)


def _stretches(
    sheet: Sheet,
    part: Part,
    heads: Sequence[Masthead],
    known: Sequence[str],
    aliases: Mapping[str, str],
    loose: bool,
) -> list[Stretch]:
    """A part of a page as one stretch; a table of many sets' chassis as one for each set. `heads`
    are the whole page's."""
    region = part.region
    if region is not sheet.whole:
        heads = heads_of(sheet, region, known)
    whole = _without(_stretch(sheet, region, heads, known, aliases, loose), part.foreign)
    rows = () if whole.is_index else cross_list.sets_in(region, whole.maker)
    return [
        Stretch(
            row.region,
            {PageKind.SERVICE_NOTES: 1.0},
            row.masthead,
            frozenset(map(fold, row.masthead.models + row.masthead.chassis)),
            whole.maker,
            tuple(
                replace(source, kind=PageKind.SERVICE_NOTES)
                for source in lineups.tubes_in(row.region, ())
            ),
            False,
        )
        for row in rows
    ] or [whole]


def _stretch(
    sheet: Sheet,
    region: Region,
    heads: Sequence[Masthead],
    known: Sequence[str],
    aliases: Mapping[str, str],
    loose: bool,
) -> Stretch:
    height = float(region.page.reading.height_px)
    head = identity.with_chassis_said(heads, region)
    kinds = sheet.kinds if region is sheet.whole else kinds_of(region, sheet.as_index)
    addendum = is_addendum(
        [line for line in sheet.whole.lines if line.box.top < HEAD_SHARE * height]
    )
    if head and set(kinds) == {PageKind.OTHER}:
        noted = _ADDED if addendum else sheet.kinds.get(PageKind.SERVICE_NOTES, 0.0)
        kinds = {PageKind.SERVICE_NOTES: noted} if noted else kinds
    named = frozenset(fold(code) for h in heads for code in (*h.models, *h.chassis))
    top = [line for line in region.lines if line.is_heading][:12]
    foot = [line for line in region.lines if line.box.top > FOOT_SHARE * height]
    maker = (head.maker if head else "") or makers.maker_in(top, known)
    maker = maker or makers.maker_in([part for line in foot for part in pieces(line)], known)
    maker = maker or next((name for line in foot if (name := named_first(line, known))), "")
    if not maker and loose and head and head.models:
        maker = makers.titled([line for line in region.lines if not section_kind(line)])
    maker = aliases.get(fold(maker), maker)
    is_index = PageKind.INDEX_PAGE in kinds
    return Stretch(
        region,
        kinds,
        None if is_index else head,
        frozenset() if is_index else named,
        "" if is_index else maker,
        () if is_index else lineups.tubes_in(region, kinds),
        any(_CONTINUED.search(squeeze(line.text)) for line in region.lines[:6]),
        addendum,
    )


_ADDED = 0.8  # how likely matter under a title of additions is service notes


def _with_headers_named(stretches: Sequence[Stretch]) -> list[Stretch]:
    """Running headers that repeat a code some masthead gave count as naming that set."""
    known = frozenset(code for stretch in stretches for code in stretch.named if len(code) >= 3)
    named = []
    for stretch in stretches:
        if stretch.masthead is None and not stretch.is_index:
            height = stretch.region.page.reading.height_px
            edges = HEAD_SHARE * height, FOOT_SHARE * height
            headings = [
                line
                for line in stretch.region.lines
                if line.is_heading and not edges[0] <= line.box.top <= edges[1]
            ][:6]
            words = {fold(w.text.strip(".,;:()")) for line in headings for w in line.words}
            stretch = replace(stretch, named=stretch.named | (known & words))
        named.append(stretch)
    return named


def _page_facts(
    page: PageInput, stretches: Sequence[Stretch], publication: str, volume: str
) -> PageFacts:
    kinds: dict[PageKind, float] = {}
    for stretch in stretches:
        for kind, probability in stretch.kinds.items():
            kinds[kind] = max(kinds.get(kind, 0.0), probability)
    if len(kinds) > 1:
        kinds.pop(PageKind.OTHER, None)
    heads = [stretch.masthead for stretch in stretches if stretch.masthead]
    text = page.reading.text
    sources = {id(source): source for stretch in stretches for source in stretch.sources}
    return PageFacts(
        ref=page.ref,
        kinds=kinds,
        maker=next((stretch.maker for stretch in stretches if stretch.maker), ""),
        models=distinct(code for head in heads for code in head.models),
        chassis=distinct(code for head in heads for code in head.chassis),
        tubes=tuple(place for source in sources.values() for place in source.places),
        year=particulars.year_in(text),
        if_khz=particulars.if_khz_in(text),
        supply_words=particulars.supply_in(text),
        masthead=1.0 if heads else 0.0,
        continued=any(stretch.continued for stretch in stretches),
        publication=publication,
        volume=volume,
    )


def _keys(facts: PageFacts) -> str:
    """Codes and tube types in normal form, for the full-text index."""
    codes = [normal(code) for code in (*facts.models, *facts.chassis)]
    return " ".join([*codes, *(tube.type for tube in facts.tubes)])
