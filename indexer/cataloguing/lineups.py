"""The tubes of a set: what each stretch of a page shows, and one line-up merged from them."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from indexer.cataloguing.kinds import headings_in
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.region import Line, Region, make_line, printed_rows, squeeze
from indexer.cataloguing.told_once import told_once
from indexer.cataloguing.ways import (
    COMPLEMENT,
    ROLE,
    Way,
    grouped,
    head_type,
    old_type_at_head,
    old_types_in,
)
from indexer.model import PageKind, TubePlace
from indexer.trade.line_text import TubeToken
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_line_up
from indexer.trade.tubes import lookup

_MENTION = re.compile(
    r"\b(SUBSTITUT\w*|INTERCHANGE\w*|REPLACED? (BY|WITH)|INSTEAD OF|EQUIVALENT|MAY BE USED"
    r"|IN PLACE OF|EARLIER|LATER (SETS|RUNS)|OTHER MODELS|TUBE TESTER|PRICE|EACH)\b"
)
# Headings over tubes in general, not over one set's.
_CHART = re.compile(
    r"\b(SUBSTITUT\w*|INTERCHANG\w*|REPLACE\w* (CHART|GUIDE|TABLE)|TUBE (CHART|GUIDE|MANUAL|DATA"
    r"|PRICES?|BAS(ES|INGS?|E (DIAGRAMS|CHARTS?)))|CHARACTERISTICS|EQUIVALENTS?|(IN|OUR) STOCK)\b"
)
_PROSE = frozenset({PageKind.ALIGNMENT, PageKind.DIAL_STRINGING, PageKind.SERVICE_NOTES})
_LISTED_WORDS = 9
_SYMBOL = re.compile(r"\b[Vv][- ]?([\dIl]{1,2})(?:[ -]?[AB])?\b")
_CHARTS = frozenset({PageKind.VOLTAGE_CHART, PageKind.RESISTANCE_CHART})
_DRAWN = frozenset({PageKind.SCHEMATIC, PageKind.OTHER, PageKind.CHASSIS_VIEW})
_ONE_BY_ONE = _CHARTS | {PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW, PageKind.TUBE_LAYOUT}
_READING = re.compile(r"^-?\d*\.?\d+[KM]?$|^(NC|INF)\W?$", re.IGNORECASE)
_SOME_READINGS = 2
_NAMED = re.compile(
    r"\b(?:TYPE|MODEL|CHASSIS|SUPER|SERIES|RADIO)S?\W+\d{2,3} [A-Z]\b(?!\.)", re.IGNORECASE
)
_NAME_WORDS = 5
_LAST = 99  # where a tube without a number sorts
_SHORT_LIST = 3  # tubes, from which a list may be a set's
_COMPLETE_SHARE = 0.6  # of the largest source, for a source to count as a whole line-up


@dataclass(frozen=True, slots=True)
class TubeSource:
    """The tubes one stretch of a page shows, and how it shows them."""

    kind: PageKind  # of the section that shows them
    places: tuple[TubePlace, ...]
    in_passing: bool = False  # named in prose that gives no line-up


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
    for line in printed_rows(region.lines):
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
    return _without_passing(shown)


def _without_passing(sources: Sequence[TubeSource]) -> tuple[TubeSource, ...]:
    """The sources without those that name tubes in passing, where there are others."""
    return tuple(s for s in sources if not s.in_passing) or tuple(sources)


def _shown(rows: Sequence[Line], region: Region, kind: PageKind) -> list[TubeSource]:
    """The tubes of a section's rows, place by place."""
    found = []
    for way, lines in grouped(rows, charted=kind in _CHARTS):
        if kind in _PROSE and way is not Way.CHART:
            lines = [line for line in lines if way is not Way.DRAWN or _is_listed(line)]
        if way is Way.SENTENCE and lines:
            lines = [make_line(word for line in lines for word in line.words)]
        places = [place for line in lines for place in _places(line, region, kind, way)]
        if places:
            passing = way is Way.PASSING
            found.append(TubeSource(_kind_of(way, kind), told_once(places), passing))
    return found


def _kind_of(way: Way, kind: PageKind) -> PageKind:
    """The kind of the matter that shows tubes in some way, whatever heading stands over it."""
    if way is Way.CHART:
        return kind if kind in _CHARTS else PageKind.VOLTAGE_CHART
    if way in (Way.SENTENCE, Way.LIST):
        return PageKind.SERVICE_NOTES if kind in _DRAWN | _CHARTS else kind
    return PageKind.OTHER if kind in _CHARTS else kind


def _is_listed(line: Line) -> bool:
    """Whether a line among prose lists tubes rather than mentions one."""
    text = squeeze(line.text)
    if COMPLEMENT.search(text):
        return True
    tokens = parse_line_up(text, bare_numbers=False)
    if not tokens or len(line.words) > _LISTED_WORDS:
        return len(tokens) >= 3
    return tokens[0].start <= 6 or bool(_SYMBOL.match(text))


def merge(sources: Sequence[TubeSource]) -> tuple[tuple[TubePlace, ...], tuple[str, ...]]:
    """One line-up out of all sources, and doubts where they disagree.

    Sources that show at least 60 % as many tubes as the fullest vote on how often each type
    occurs: two sources by the larger count, three or more by the middle one. What only a drawing
    shows, without a tube symbol, beside another whole source, is a misread label: a doubt.
    """
    sources = _without_passing(sources)
    fullest = max((len(source.places) for source in sources), default=0)
    if not fullest:
        return (), ()
    whole = [s for s in sources if len(s.places) >= _COMPLETE_SHARE * fullest]
    whole = _with_a_list(whole, sources)
    counts = [Counter(place.type for place in source.places) for source in whole]
    lists = [n for n, source in enumerate(whole) if not _is_drawn(source)]
    chosen: Counter[str] = Counter()
    doubts: list[str] = []
    for kind in dict.fromkeys(kind for count in counts for kind in count):
        # a drawing whose labels were not read says nothing beside a list
        voting = [n for n in range(len(whole)) if counts[n][kind] or not lists or n in lists]
        votes = sorted((counts[n][kind] for n in voting), reverse=True)
        if lists and all(_loose_label(source, kind) for source in whole):
            doubts.append(f"a drawing seems to show {kind}, no list does")
            continue
        chosen[kind] = votes[(len(votes) - 1) // 2] if len(votes) > 2 else votes[0]
        chosen[kind] = chosen[kind] or _only_so_numbered(kind, whole)
        if chosen[kind]:
            chosen[kind] = max(chosen[kind], _in_the_fullest(counts, lists)[kind])
        if len(set(votes)) > 1:
            doubts.append(f"pages disagree on {kind}: {'/'.join(map(str, votes))} times")
    chosen = +chosen
    places = [place for kind, count in chosen.items() for place in _best_places(kind, count, whole)]
    order = _order(whole)
    places.sort(key=lambda place: order.get(place.type, len(order)))
    return _with_roles(places), tuple(doubts)


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


def _places(line: Line, region: Region, kind: PageKind, way: Way) -> list[TubePlace]:
    shown: list[tuple[int, TubePlace]] = []
    charted = way is Way.CHART
    single = (
        charted
        or kind in (PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW, PageKind.TUBE_LAYOUT)
        or kind in _CHARTS
    ) and way is not Way.SENTENCE
    old_at = -1
    old = old_type_at_head(line) if way in (Way.CHART, Way.LIST) else ""
    if old:  # early types are bare numbers: "75", at the row's head
        word = line.words[head_type(line) or 0].text
        old_at = line.text.find(word)
        shown.append((old_at, TubePlace(old, word.strip(".,|[]"), page=region.page.ref)))
    named = len(line.words) <= _NAME_WORDS and bool(_NAMED.search(line.text))
    for token in parse_line_up(line.text, bare_numbers=not charted):
        if lookup(token.type) is None or token.start == old_at:
            continue
        if named and token.type.isdigit():
            continue  # "Type 53 A" is the set
        if charted and (shown or old) and not _is_word_of(line.text, token):
            continue  # "25 AC 5"
        if charted and _is_reading(line.text, token.start, token.end):
            continue
        before, after = line.text[: token.start], line.text[token.end :]
        labelled = _SYMBOL.search(before[-6:]) or ROLE.match(after)
        if way is Way.DRAWN and token.type.isdigit() and kind in _ONE_BY_ONE and not labelled:
            continue  # 20 beside a capacitor
        symbols = _SYMBOL.findall(before[-12:])
        place = TubePlace(
            token.type,
            printed=token.printed,
            symbol=f"V{int(symbols[-1].translate(_FIGURES))}" if symbols else "",
            page=region.page.ref,
            alternatives=token.alternatives,
        )
        # "5-35Z4" beside a symbol is V5, and "2-6V6" in a list two of them
        shown += [(token.start, place)] * (1 if single else token.count)
    if way in (Way.SENTENCE, Way.LIST):
        taken = {start for start, _ in shown}
        shown += [
            (at, TubePlace(name, printed, page=region.page.ref))
            for at, printed, name in old_types_in(line.text)
            if at not in taken
        ]
        shown.sort(key=lambda pair: pair[0])
    return [place for _, place in shown]


def _is_word_of(row: str, token: TubeToken) -> bool:
    """Whether a type is one printed word, and not made up of parts of a row's readings."""
    return " " not in token.printed and (not token.start or row[token.start - 1] in " (|")


_FIGURES = str.maketrans("Il", "11")


def _is_reading(row: str, start: int, end: int) -> bool:
    """Whether what looks like a type stands among a chart's readings: "74" read as "7A4". Of two
    charts side by side each begins with a type and goes on with readings of its own."""
    before = [word for word in row[:start].split() if _READING.match(word)]
    after = [word for word in row[end:].split() if _READING.match(word)]
    return len(before) >= _SOME_READINGS > len(after)


def _best_places(kind: str, count: int, sources: Sequence[TubeSource]) -> list[TubePlace]:
    """The fullest-described places of a type, `count` of them."""
    options = [[p for p in source.places if p.type == kind] for source in sources]
    best = max(options, key=lambda found: (min(len(found), count), _numbered(found)))
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
    return tuple(replace(place, role=role) for place, role in zip(places, roles, strict=True))
