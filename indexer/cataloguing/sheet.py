"""A page with what is asked of it several times: its lines, its kinds; and the makers it names."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from indexer.cataloguing import makers
from indexer.cataloguing.kinds import kinds_of
from indexer.cataloguing.listings import listed_makers
from indexer.cataloguing.region import Region, printed_rows, whole_page
from indexer.model import PageInput, PageKind

HEAD_SHARE = 0.16  # a masthead this near the top heads the whole page
FOOT_SHARE = 0.93  # below it stands what runs along the foot of every page


@dataclass(frozen=True)
class Sheet:
    """One page; what costs time is worked out once, when first asked for."""

    page: PageInput

    @cached_property
    def whole(self) -> Region:
        """The page as one region."""
        return whole_page(self.page)

    @cached_property
    def kinds(self) -> dict[PageKind, float]:
        """What the whole page prints, each kind with its probability."""
        return kinds_of(self.whole)

    @property
    def is_index(self) -> bool:
        """Whether the page is an index of sets."""
        return PageKind.INDEX_PAGE in self.kinds

    @property
    def typed(self) -> bool:
        """Whether the words are the owner's own, typed."""
        return self.page.reading.reader == "typed"


def makers_named(pages: Iterable[PageInput]) -> list[str]:
    """Makers that the pages name, most often named first: by corporate wording, by standing
    before a model in a heading, or by an index page."""
    return makers_on(map(Sheet, pages))


def makers_on(sheets: Iterable[Sheet]) -> list[str]:
    """The same of pages already in hand."""
    named: Counter[str] = Counter()
    before: list[tuple[int, str]] = []
    for n, sheet in enumerate(sheets):
        region = sheet.whole
        named.update(name for line in region.lines if (name := makers.maker_in([line])))
        edges = HEAD_SHARE * region.bottom, FOOT_SHARE * region.bottom
        head = [line for line in region.lines if not edges[0] <= line.box.top <= edges[1]]
        named.update(makers.named_before_code(head))
        before += [(n, name) for name in makers.headed(printed_rows(head))]
        if sheet.is_index:
            named.update(listed_makers(region))
    named.update(makers.recurring(before))
    return [maker for maker, _ in makers.without_slips(named).most_common()]
