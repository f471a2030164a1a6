"""A page with what is asked of it several times: its lines, its kinds; and the makers it names."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from indexer.cataloguing import makers, spread, standing_alone
from indexer.cataloguing.at_head import names_at_head, names_over_notes
from indexer.cataloguing.kinds import kinds_of
from indexer.cataloguing.listings import IndexPage, listed_makers
from indexer.cataloguing.region import Region, printed_rows, whole_page
from indexer.model import PageInput, PageKind, PageRef
from indexer.trade.codes import fold

HEAD_SHARE = 0.16  # a masthead this near the top heads the whole page
_MAKERS_SERVED = 3  # from which whoever stands before them is a publisher
FOOT_SHARE = 0.93  # below it stands what runs along the foot of every page


@dataclass(frozen=True)
class Sheet:
    """One page; what costs time is worked out once, when first asked for."""

    page: PageInput
    known_kinds: dict[PageKind, float] = field(default_factory=dict)  # from an earlier look
    single: bool = False  # a loose sheet or a leaf of a few: no volume's page

    @cached_property
    def whole(self) -> Region:
        """The page as one region."""
        return whole_page(self.page)

    @cached_property
    def kinds(self) -> dict[PageKind, float]:
        """What the whole page prints, each kind with its probability."""
        return self.known_kinds or kinds_of(self.whole)

    @cached_property
    def as_index(self) -> IndexPage:
        """The page taken as an index of sets."""
        return IndexPage(self.page)

    @property
    def is_index(self) -> bool:
        """Whether the page is an index of sets."""
        return PageKind.INDEX_PAGE in self.kinds

    @property
    def typed(self) -> bool:
        """Whether the words are the owner's own, typed."""
        return self.page.reading.reader == "typed"


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What must be known of all units before one is catalogued, and what it took to find out:
    small enough to be kept while the others are looked at."""

    makers: Sequence[str]  # that the pages name
    kinds: Mapping[PageRef, Sequence[dict[PageKind, float]]]  # of each sheet of a page


def sheets_of(
    page: PageInput, seen: Sequence[dict[PageKind, float]] = (), *, single: bool = False
) -> list[Sheet]:
    """A page as one sheet; as two where its scan shows an index and another page side by side.
    `seen` are the kinds of each from an earlier look; `single` says that it is no volume's."""
    shown: Sequence[PageInput] = ()
    if seen:
        shown = spread.in_halves(page) if len(seen) > 1 else (page,)
    shown = shown or spread.beside_an_index(page) or (page,)
    kinds = seen or [{}] * len(shown)
    return [Sheet(one, known, single) for one, known in zip(shown, kinds, strict=True)]


def first_look(pages: Iterable[PageInput]) -> FirstLook:
    """The makers that a unit's pages name (`makers_on`), and the kinds of each page's sheets."""
    sheets = [sheet for page in pages for sheet in sheets_of(page)]
    kinds: dict[PageRef, list[dict[PageKind, float]]] = {}
    for sheet in sheets:
        kinds.setdefault(sheet.page.ref, []).append(sheet.kinds)
    return FirstLook(makers_on(sheets), kinds)


def makers_on(sheets: Iterable[Sheet]) -> list[str]:
    """Makers that pages name, most often named first: by corporate wording, by standing before a
    model in a heading, or by an index page."""
    named: Counter[str] = Counter()
    unannounced: Counter[str] = Counter()
    before: list[tuple[int, PageRef, str]] = []
    tops: list[tuple[str, ...]] = []
    regions: list[Region] = []
    for n, sheet in enumerate(sheets):
        region = sheet.whole
        named.update(name for line in region.lines if (name := makers.maker_in([line])))
        edges = HEAD_SHARE * region.bottom, FOOT_SHARE * region.bottom
        head = [line for line in region.lines if not edges[0] <= line.box.top <= edges[1]]
        named.update(makers.named_before_code(head))
        tops += [tuple(word.text.upper() for word in line.words[:2]) for line in head[:1]]
        before += [(n, region.page.ref, name) for name in makers.headed(printed_rows(head))]
        if sheet.is_index:
            named.update(listed_makers(region))
        elif not sheet.typed:
            named.update(standing_alone.firms_named(region))
            unannounced.update(names_over_notes(region.lines))
            if not any(makers.maker_in([line]) for line in region.lines):
                unannounced.update(names_at_head(region))
            regions.append(region)
    alone = standing_alone.recurring(regions)
    theirs = {region.page.ref for some in alone.values() for region in some}
    named.update(makers.recurring((n, name) for n, ref, name in before if ref not in theirs))
    named.update({name: len(some) for name, some in alone.items()})
    for name, count in unannounced.items():
        flat = fold(name)
        like = (k for k in named if fold(k).startswith(flat) or makers.one_slip(flat, fold(k)))
        named[next(like, name)] += count
    named = _without_publisher(named, tops)
    return [m for m, _ in makers.without_slips(named).most_common() if makers.may_be(m)]


def _without_publisher(named: Counter[str], tops: Iterable[tuple[str, ...]]) -> Counter[str]:
    """Names without the word that heads sheet after sheet before ever other names: whoever prints
    the sheets of many makers."""
    after: dict[str, set[str]] = {}
    for first, *rest in filter(None, tops):
        after.setdefault(first, set()).update(rest)
    kept: Counter[str] = Counter()
    for name, count in named.items():
        publisher, _, maker = name.partition(" ")
        prints = len(after.get(publisher.upper(), ())) >= _MAKERS_SERVED
        kept[maker if prints and maker else name] += count
    makes = {name.upper() for name in kept}
    return Counter(
        {name: n for name, n in kept.items() if not after.get(name.upper(), set()) & makes}
    )
