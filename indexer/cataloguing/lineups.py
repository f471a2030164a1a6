"""The tubes of a set: what each stretch of a page shows, and one line-up merged from them."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from indexer.cataloguing.counted import CHAIN, belongs, numbered_whole, said_in, settled
from indexer.cataloguing.kinds import headings_in
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.printed_roles import told
from indexer.cataloguing.region import Line, Region, make_line, squeeze
from indexer.cataloguing.told_once import told_once
from indexer.cataloguing.tube_places import (
    CHARTS,
    SYMBOL,
    labels_first,
    with_quantities,
    without_items,
)
from indexer.cataloguing.ways import (
    COMPLEMENT,
    Way,
    grouped,
)
from indexer.model import PageKind, TubePlace
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_line_up

_MENTION = re.compile(
    r"\b(SUBSTITUT\w*|INTERCHANGE\w*|REPLACED? (BY|WITH)|INSTEAD OF|EQUIVALENT|MAY BE USED"
    r"|ERSATZ(?!TEIL)\w*|ERSETZ\w*|REMPLAC\w*|VERVANG\w*|ERSÄTT\w*"
    r"|IN PLACE OF|EARLIER|LATER (SETS|RUNS)|OTHER MODELS|TUBE TESTER|PRICE|EACH)\b"
)
# Headings over tubes in general, not over one set's.
_CHART = re.compile(
    r"\b(SUBSTITUT\w*|INTERCHANG\w*|REPLACE\w* (CHART|GUIDE|TABLE)|TUBE (CHART|GUIDE|MANUAL|DATA"
    r"|PRICES?|BAS(ES|INGS?|E (DIAGRAMS|CHARTS?)))|CHARACTERISTICS|EQUIVALENTS?|(IN|OUR) STOCK)\b"
)
_PROSE = frozenset({PageKind.ALIGNMENT, PageKind.DIAL_STRINGING, PageKind.SERVICE_NOTES})
_LISTED_WORDS = 9
_DRAWN = frozenset({PageKind.SCHEMATIC, PageKind.OTHER, PageKind.CHASSIS_VIEW})
_LAST = 99  # where a tube without a number sorts
_SHORT_LIST = 3  # tubes, from which a list may be a set's
_SAID_IN_ALL = 4  # types that prose names in passing, from which it tells a line-up
_CHAIN = 4  # tubes that a chain of heaters joins, at the least
_COMPLETE_SHARE = 0.6  # of the largest source, for a source to count as a whole line-up


@dataclass(frozen=True, slots=True)
class TubeSource:
    """The tubes one stretch of a page shows, and how it shows them."""

    kind: PageKind  # of the section that shows them
    places: tuple[TubePlace, ...]
    in_passing: bool = False  # named in prose that gives no line-up
    once: bool = False  # has each tube once, and all of them: numbered through, or in one chain
    said: int = 0  # tubes that the page says the set has; 0 when it doesn't
    typed: bool = False  # in the owner's own note, which names what was worked on


def tubes_in(region: Region, kinds: Iterable[PageKind]) -> tuple[TubeSource, ...]:
    """Every line-up that a region shows, one for each of its sections (schematic, parts list,
    charts, layout), as their headings divide it.

    Lines that only mention tubes (substitution notes, prices) are passed over. A tube symbol
    printed twice with the same type ("V2 12AX7", halves of one tube) counts once.
    """
    headings = [(line.box.top, kind or PageKind.OTHER) for line, kind in headings_in(region)]
    opening = PageKind.SCHEMATIC if PageKind.SCHEMATIC in set(kinds) else PageKind.OTHER
    sections: dict[int, list[Line]] = {}
    charted = [line.box.top for line in region.lines if line.is_heading and _CHART.search(
        plain_words(line.text))]  # fmt: skip
    for line in with_quantities(region.rows):
        if not _MENTION.search(squeeze(line.text)):
            at = line.box.middle[1]
            section = sum(top <= at for top, _ in headings)
            kind = headings[section - 1][1] if section else opening
            above = max((top for top in charted if top <= at), default=None)
            if above is not None and (not section or headings[section - 1][0] <= above):
                continue  # a chart of tubes in general
            sections.setdefault(section, []).append(line)
    shown: list[TubeSource] = []
    for section, rows in sections.items():
        kind = headings[section - 1][1] if section else opening
        shown += _shown(rows, region, kind)
    said = said_in(region.text)
    typed = region.page.reading.reader == "typed"
    return tuple(replace(s, said=said, typed=typed) for s in _without_passing(shown))


def _without_passing(sources: Sequence[TubeSource]) -> tuple[TubeSource, ...]:
    """The sources without those that name tubes in passing, where there are others."""
    return tuple(s for s in sources if not s.in_passing) or tuple(sources)


def _shown(rows: Sequence[Line], region: Region, kind: PageKind) -> list[TubeSource]:
    """The tubes of a section's rows, place by place."""
    found = []
    for way, lines in grouped(without_items(rows), charted=kind in CHARTS):
        if kind in _PROSE and way is not Way.CHART:
            lines = [line for line in lines if way is not Way.DRAWN or _is_listed(line)]
        if way is Way.SENTENCE and lines:
            lines = [make_line(word for line in lines for word in line.words)]
        places = labels_first(lines, region, kind, way)
        if places:
            told = told_once(places)
            once = numbered_whole(told) or (
                way is Way.SENTENCE
                and bool(CHAIN.search(lines[0].text))
                and len(told) >= _CHAIN == len({place.type for place in told[:_CHAIN]})
            )
            found.append(TubeSource(_kind_of(way, kind), told, way is Way.PASSING, once))
    return found


def _kind_of(way: Way, kind: PageKind) -> PageKind:
    """The kind of the matter that shows tubes in some way, whatever heading stands over it."""
    if way is Way.CHART:
        return kind if kind in CHARTS else PageKind.VOLTAGE_CHART
    if way in (Way.SENTENCE, Way.LIST):
        return PageKind.SERVICE_NOTES if kind in _DRAWN | CHARTS else kind
    return PageKind.OTHER if kind in CHARTS else kind


def _is_listed(line: Line) -> bool:
    """Whether a line among prose lists tubes rather than mentions one."""
    text = squeeze(line.text)
    if COMPLEMENT.search(text):
        return True
    tokens = parse_line_up(text, bare_numbers=False)
    if not tokens or len(line.words) > _LISTED_WORDS:
        return len(tokens) >= 3
    return tokens[0].start <= 6 or bool(SYMBOL.match(text))


def merge(sources: Sequence[TubeSource]) -> tuple[tuple[TubePlace, ...], tuple[str, ...]]:
    """One line-up out of all sources, and doubts where they disagree.

    Sources that show at least 60 % as many tubes as the fullest vote on how often each type
    occurs: two sources by the larger count, three or more by the middle one. What only a drawing
    shows, without a tube symbol, beside another whole source, is a misread label: a doubt.
    """
    sources = _without_passing(sources)
    passing = all(source.in_passing and not source.typed for source in sources)
    if passing and len(_types(sources)) < _SAID_IN_ALL:
        return (), ()
    fullest = max((len(source.places) for source in sources), default=0)
    if not fullest:
        return (), ()
    whole = [s for s in sources if len(s.places) >= _COMPLETE_SHARE * fullest]
    whole = _with_a_list(whole, sources)
    counts = [Counter(place.type for place in source.places) for source in whole]
    lists = [n for n, source in enumerate(whole) if not _is_drawn(source)]
    most: Counter[str] = Counter()
    loose: Counter[str] = Counter()  # what only a drawing shows, without a symbol
    doubts: list[str] = []
    for kind in dict.fromkeys(kind for count in counts for kind in count):
        # a drawing whose labels were not read says nothing beside a list
        voting = [n for n in range(len(whole)) if counts[n][kind] or not lists or n in lists]
        votes = sorted((counts[n][kind] for n in voting), reverse=True)
        if lists and all(_loose_label(source, kind) for source in whole):
            loose[kind] = votes[0]
            continue
        most[kind] = votes[(len(votes) - 1) // 2] if len(votes) > 2 else votes[0]
        most[kind] = most[kind] or _only_so_numbered(kind, whole)
        if most[kind]:
            most[kind] = max(most[kind], _in_the_fullest(counts, lists)[kind])
        if len(set(votes)) > 1:
            doubts.append(f"pages disagree on {kind}: {'/'.join(map(str, votes))} times")
    parts = [source for source in sources if source not in whole and not source.in_passing]
    spare = [*loose, *sorted(_types(parts) - most.keys())]
    filling = Counter({k: 1 for k in spare if belongs(k, list(+most))})
    most = +most + filling
    full = [n for n, s in enumerate(whole) if s.once and len(s.places) >= len(most)]
    once = _bounded(most, counts, full)
    least = Counter({kind: _least(kind, counts) for kind in once})
    said = max((source.said for source in sources), default=0)
    chosen = settled([once, least, once + (loose - filling), Counter(list(once))], said)
    doubts += [f"a drawing seems to show {kind}, no list does" for kind in loose - chosen]
    shown = [*whole, *parts]
    places = [place for kind, n in chosen.items() for place in _best_places(kind, n, shown)]
    order = _order(whole)
    places.sort(key=lambda place: order.get(place.type, len(order)))
    return _with_roles(places), tuple(doubts)


def _types(sources: Sequence[TubeSource]) -> set[str]:
    return {place.type for source in sources for place in source.places}


def _bounded(
    most: Counter[str], counts: Sequence[Counter[str]], once: Sequence[int]
) -> Counter[str]:
    """The counts, none larger than the sources that have each tube once say."""
    bound = {kind: max(counts[n][kind] for n in once) for kind in most} if once else {}
    return Counter({kind: min(n, bound.get(kind) or n) for kind, n in most.items()})


def _least(kind: str, counts: Sequence[Counter[str]]) -> int:
    """How often the source that shows a type least often has it."""
    return min((count[kind] for count in counts if count[kind]), default=1)


def _in_the_fullest(counts: Sequence[Counter[str]], lists: Sequence[int]) -> Counter[str]:
    """What the one list that shows more tubes than every other list shows; nothing when no list
    does. Lists as long as each other may be misread in one place."""
    sizes = sorted((counts[n].total() for n in lists), reverse=True)
    if len(sizes) < 2 or sizes[0] == sizes[1]:
        return Counter()
    return next(counts[n] for n in lists if counts[n].total() == sizes[0])


def _only_so_numbered(kind: str, sources: Sequence[TubeSource]) -> int:
    """1 where a type stands beside a tube symbol, and no source gives that symbol another type."""
    types: dict[str, set[str]] = {}
    for place in (place for source in sources for place in source.places if place.symbol):
        types.setdefault(place.symbol, set()).add(place.type)
    return int(any(named == {kind} for named in types.values()))


def _is_drawn(source: TubeSource) -> bool:
    return source.kind in _DRAWN


def _with_a_list(whole: list[TubeSource], sources: Sequence[TubeSource]) -> list[TubeSource]:
    """The whole sources; where they are drawings alone, with the fullest list of some length: the
    drawing may show labels that are none."""
    if all(map(_is_drawn, whole)):
        lists = [s for s in sources if not _is_drawn(s) and len(s.places) >= _SHORT_LIST]
        return [*whole, *sorted(lists, key=lambda s: -len(s.places))[:1]]
    return whole


def _loose_label(source: TubeSource, kind: str) -> bool:
    """Whether a source shows the type only as a label of a drawing, or not at all."""
    shown = [place for place in source.places if place.type == kind]
    return not shown or (source.kind in _DRAWN and not any(place.symbol for place in shown))


def _best_places(kind: str, count: int, sources: Sequence[TubeSource]) -> list[TubePlace]:
    """The fullest-described places of a type, `count` of them."""
    options = [[p for p in source.places if p.type == kind] for source in sources]
    best = max(
        options,
        key=lambda found: (
            min(len(found), count),
            _numbered(found),
            sum(bool(place.role) for place in found),
        ),
    )
    said = {place.role for found in options for place in found if place.role}
    if count == 1 and len(said) == 1:  # one of them says what it does
        best = [replace(best[0], role=said.pop())]
    return (best * count)[:count]


def _numbered(places: Sequence[TubePlace]) -> int:
    return sum(bool(place.symbol) for place in places)


def _order(sources: Sequence[TubeSource]) -> dict[str, int]:
    """Types in the order of the source that numbers most of its tubes."""
    best = max(sources, key=lambda s: (_numbered(s.places), not _is_drawn(s), len(s.places)))
    numbered = sorted(best.places, key=lambda p: int(p.symbol[1:]) if p.symbol else _LAST)
    order: dict[str, int] = {}
    for place in numbered:
        order.setdefault(place.type, len(order))
    return order


def _with_roles(places: Sequence[TubePlace]) -> tuple[TubePlace, ...]:
    roles = analyse([place.type for place in places]).roles
    return tuple(
        replace(place, role=told(place.role, role))
        for place, role in zip(places, roles, strict=True)
    )
