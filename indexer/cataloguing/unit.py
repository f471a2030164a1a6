"""One unit's pages (a bound file, or a folder's loose sheets) made into facts and entries."""

import hashlib
import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from indexer.cataloguing import identity, lineups, makers, particulars
from indexer.cataloguing.book import page_numbers, publication_of
from indexer.cataloguing.forms import distinct, settled
from indexer.cataloguing.kinds import is_index, kinds_of
from indexer.cataloguing.listings import listed_makers, listings_in, merge_listings
from indexer.cataloguing.region import Region, printed_rows, split, squeeze, whole_page
from indexer.cataloguing.relations import is_addendum, relations_in
from indexer.cataloguing.sequence import Stretch, assign, group_loose
from indexer.model import Entry, Listing, PageFacts, PageInput, PageKind, PageRef, TubePlace
from indexer.trade.codes import fold, normal
from indexer.trade.lineup import analyse

_NO_ALIASES: Mapping[str, str] = MappingProxyType({})
_ADDENDUM_SHARE = 0.1  # of the page's height, below the masthead's top
_HEAD_SHARE = 0.16  # a masthead this near the top heads the whole page
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
    copies: Collection[PageRef] = frozenset(),
    aliases: Mapping[str, str] = _NO_ALIASES,
) -> Catalogued:
    """Facts of every page, the entries they make up, and the listings on index pages.

    `known_makers` are names known from elsewhere in the library; `copies` are further scans of
    pages that serve better elsewhere: they belong to no entry and list nothing. `aliases` gives the
    maker for a folded other name. The same pages always give the same answer.
    """
    loose = len({page.ref.sha256 for page in pages}) > 1 or len(pages) == 1
    known = tuple(dict.fromkeys([*known_makers, *makers_named(pages)]))
    stretches = _with_headers_named(
        [_stretch(part, known, aliases) for page in pages for part in _parts(page, known, loose)]
    )
    served = [s for s in stretches if s.region.page.ref not in copies]
    starts = group_loose(served) if loose else assign(served)
    publication, volume = publication_of(pages)
    grouped: dict[int, list[Stretch]] = {}
    for start, stretch in zip(starts, served, strict=True):
        if start >= 0:
            grouped.setdefault(start, []).append(stretch)
    entries = tuple(entry for group in grouped.values() if (entry := _entry(group)) is not None)
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


def makers_named(pages: Iterable[PageInput]) -> list[str]:
    """Makers that the pages name, most often named first: by corporate wording, by standing
    before a model in a heading, or by an index page."""
    named: Counter[str] = Counter()
    before: list[tuple[int, str]] = []
    for n, page in enumerate(pages):
        region = whole_page(page)
        named.update(name for line in region.lines if (name := makers.maker_in([line])))
        head = [line for line in region.lines if line.box.top < _HEAD_SHARE * region.bottom]
        named.update(makers.named_before_code(head))
        before += [(n, name) for name in makers.headed(printed_rows(head))]
        if is_index(region):
            named.update(listed_makers(region))
    named.update(makers.recurring(before))
    return [maker for maker, _ in makers.without_slips(named).most_common()]


def _parts(page: PageInput, known: Sequence[str], loose: bool) -> tuple[Region, ...]:
    """The page cut where a further set's masthead stands below matter of another set.

    On a loose sheet the first masthead is the sheet's own, wherever it stands.
    """
    whole = whole_page(page)
    if is_index(whole):
        return (whole,)
    height = float(page.reading.height_px)
    heads = identity.mastheads(whole.lines, height, known, typed=_typed(page))
    first = next((h for h in heads if loose or h.top < _HEAD_SHARE), None)
    seen = frozenset(map(fold, first.models + first.chassis)) if first else frozenset()
    cuts = []
    for head in heads:
        codes = frozenset(map(fold, head.models + head.chassis))
        if head.top >= _HEAD_SHARE and head.models and not codes & seen:
            cuts.append(head.top * height - 1)
            seen |= codes
    return tuple(part for part in split(whole, cuts) if part.lines) or (whole,)


def _typed(page: PageInput) -> bool:
    return page.reading.reader == "typed"


def _stretch(region: Region, known: Sequence[str], aliases: Mapping[str, str]) -> Stretch:
    height = float(region.page.reading.height_px)
    heads = identity.mastheads(region.lines, height, known, typed=_typed(region.page))
    head = heads[0] if heads else None
    kinds = kinds_of(region)
    named = frozenset(fold(code) for h in heads for code in (*h.models, *h.chassis))
    top = [line for line in region.lines if line.is_heading][:12]
    maker = (head.maker if head else "") or makers.maker_in(top, known)
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
            headings = [line for line in stretch.region.lines if line.is_heading][:6]
            words = {fold(w.text.strip(".,;:()")) for line in headings for w in line.words}
            stretch = replace(stretch, named=stretch.named | (known & words))
        named.append(stretch)
    return named


def _entry(group: Sequence[Stretch]) -> Entry | None:
    heads = [stretch.masthead for stretch in group if stretch.masthead]
    models = settled([head.models for head in heads])
    chassis = settled([head.chassis for head in heads])
    models = _without(models, chassis)
    tubes, doubts = lineups.merge([source for s in group for source in s.sources])
    if not models and not chassis and not tubes:
        return None
    makers = Counter(stretch.maker for stretch in group if stretch.maker)
    maker = makers.most_common(1)[0][0] if makers else ""
    text = "\n".join(stretch.region.text for stretch in group)
    line_up = analyse([tube.type for tube in tubes])
    worded = particulars.supply_in(text)
    supply = line_up.supply
    if worded and (supply == "unknown" or (supply, worded) in _WORDS_WIN):
        supply = worded
    elif worded and worded != supply:
        doubts = (*doubts, f"the words say {worded}, the line-up says {supply}")
    live = line_up.live_chassis if supply == line_up.supply else _LIVE.get(supply, "unknown")
    pages = tuple(dict.fromkeys(stretch.region.page.ref for stretch in group))
    entry = Entry(
        id="",
        maker=maker,
        models=models,
        chassis=chassis,
        tubes=tubes,
        pages=pages,
        year=particulars.year_in(text),
        if_khz=particulars.if_khz_in(text),
        supply=supply,
        string_volts=line_up.string_volts if supply in _STRINGS else None,
        live_chassis=live,
        doubts=(*doubts, *line_up.doubts),
        evidence=_evidence(group, tubes),
        relations=_relations(group, models),
    )
    return replace(entry, id=_entry_id(entry))


def _relations(group: Sequence[Stretch], models: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """What the pages say of other models; for an addendum, which set it adds to."""
    said = relations_in("\n\n".join(stretch.region.text for stretch in group), models)
    first = group[0]
    height = first.region.page.reading.height_px
    until = (first.masthead.top if first.masthead else 0.0) * height + _ADDENDUM_SHARE * height
    head = [line for line in first.region.lines if line.box.top < until]
    if models and is_addendum(head):
        said = (("addendum to", models[0]), *said)
    return said


_STRINGS = frozenset({"series string", "battery and line"})
_LIVE = {"transformer": "no", "battery": "no", "vibrator": "no"}
_WORDS_WIN = frozenset({("transformer", "vibrator"), ("battery", "battery and line")})


def _without(models: tuple[str, ...], chassis: Sequence[str]) -> tuple[str, ...]:
    """Models without those that other headings call chassis, as long as any are left."""
    stamped = {fold(code) for code in chassis}
    return tuple(code for code in models if fold(code) not in stamped) or models


def _evidence(group: Sequence[Stretch], tubes: Sequence[TubePlace]) -> dict[str, str]:
    """Where each fact was read: the file and page number."""
    where: dict[str, str] = {}
    for stretch in group:
        page = stretch.region.page
        place = f"{page.file} page {page.ref.page}"
        if stretch.masthead and stretch.masthead.models:
            where.setdefault("models", place)
        if stretch.masthead and stretch.masthead.chassis:
            where.setdefault("chassis", place)
        if stretch.maker:
            where.setdefault("maker", place)
        if stretch.sources and tubes:
            where.setdefault("tubes", place)
    return where


def _entry_id(entry: Entry) -> str:
    """A name for typing that stays while the entry's first page and first code stay."""
    first = entry.pages[0]
    code = (entry.models or entry.chassis or ("set",))[0]
    stem = "-".join(part for part in (_slug(entry.maker)[:16], _slug(code)[:14]) if part)
    salt = hashlib.sha256(f"{first.sha256}:{first.page}:{code}".encode()).hexdigest()
    return f"{stem}-{int(salt[:8], 16) % 46656:x}"


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "", text.lower())


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
