"""One unit's pages (a bound file, or a folder's loose sheets) made into facts and entries."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from indexer.cataloguing import cross_list, identity, lineups, makers, particulars, spread
from indexer.cataloguing.book import bound_at, page_numbers, publication_of
from indexer.cataloguing.entry import borne_out, entry_of, maker_of
from indexer.cataloguing.folders import maker_by_folder
from indexer.cataloguing.forms import distinct
from indexer.cataloguing.kinds import kinds_of, section_kind
from indexer.cataloguing.listings import listings_in, merge_listings
from indexer.cataloguing.region import Region, pieces, split, squeeze
from indexer.cataloguing.sequence import Stretch, assign, group_loose
from indexer.cataloguing.sheet import FOOT_SHARE, HEAD_SHARE, Sheet, makers_on
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
    named: Sequence[str] | None = None,
) -> Catalogued:
    """Facts of every page, the entries they make up, and the listings on index pages.

    `known_makers` are names known from elsewhere in the library; `copies` are further scans of
    pages, each with its best copy: they belong to no entry and list nothing; the best copy stands
    in a bound unit where the first of them does. `aliases` gives the
    maker for a folded other name; `named` are the makers that these pages name
    (`sheet.makers_named`) where they were asked for before. The same pages always give the same
    answer.
    """
    loose = len({page.ref.sha256 for page in pages}) > 1 or len(pages) == 1
    sheets = [Sheet(page) for page in pages]
    named = makers_on(sheets) if named is None else named
    known = tuple(filter(makers.may_be, makers.with_new(known_makers, named)))
    stretches = _with_headers_named(
        [
            stretch
            for sheet in sheets
            for part in _parts(sheet, known, loose)
            for stretch in _stretches(sheet, part, known, aliases, loose)
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
            _page_facts(page, [s for s in stretches if s.region.page is page], publication, volume),
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


def _parts(sheet: Sheet, known: Sequence[str], loose: bool) -> tuple[Region, ...]:
    """The page cut where a further set's masthead stands below matter of another set.

    On a loose sheet the first masthead is the sheet's own, wherever it stands.
    """
    whole = sheet.whole
    if sheet.is_index:
        return (whole,)
    facing = spread.facing(whole, known)
    if facing:
        return facing
    height = float(sheet.page.reading.height_px)
    heads = identity.mastheads(whole.lines, height, known, typed=sheet.typed)
    first = next((h for h in heads if loose or h.top < HEAD_SHARE), None)
    seen = frozenset(map(fold, first.models + first.chassis)) if first else frozenset()
    cuts = []
    for head in heads:
        codes = frozenset(map(fold, head.models + head.chassis))
        if HEAD_SHARE <= head.top <= FOOT_SHARE and head.models and not codes & seen:
            cuts.append(head.top * height - 1)
            seen |= codes
    if not cuts:
        return (whole,)
    return tuple(part for part in split(whole, cuts) if part.lines) or (whole,)


def _stretches(
    sheet: Sheet, region: Region, known: Sequence[str], aliases: Mapping[str, str], loose: bool
) -> list[Stretch]:
    """A part of a page as one stretch; a table of many sets' chassis as one for each set."""
    whole = _stretch(sheet, region, known, aliases, loose)
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
    sheet: Sheet, region: Region, known: Sequence[str], aliases: Mapping[str, str], loose: bool
) -> Stretch:
    height = float(region.page.reading.height_px)
    heads = identity.mastheads(region.lines, height, known, typed=sheet.typed)
    head = identity.with_same_set(heads)
    kinds = sheet.kinds if region is sheet.whole else kinds_of(region)
    named = frozenset(fold(code) for h in heads for code in (*h.models, *h.chassis))
    top = [line for line in region.lines if line.is_heading][:12]
    foot = [line for line in region.lines if line.box.top > FOOT_SHARE * height]
    maker = (head.maker if head else "") or makers.maker_in(top, known)
    maker = maker or makers.maker_in([part for line in foot for part in pieces(line)], known)
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
    )


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
    return PageFacts(
        ref=page.ref,
        kinds=kinds,
        maker=next((stretch.maker for stretch in stretches if stretch.maker), ""),
        models=distinct(code for head in heads for code in head.models),
        chassis=distinct(code for head in heads for code in head.chassis),
        tubes=tuple(p for s in stretches for source in s.sources for p in source.places),
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
