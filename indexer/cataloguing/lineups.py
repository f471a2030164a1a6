"""The tubes of a set: what each stretch of a page shows, and one line-up merged from them."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from indexer.cataloguing.kinds import headings_in
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.region import Line, Region, printed_rows, squeeze
from indexer.model import PageKind, TubePlace
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
_COMPLEMENT = re.compile(r"\b(TUBES?|VALVES?|COMPLEMENT|LINE[ -]?UP)\b\W*(?:\(?\d|:|ARE\b|USED\b)")
_PROSE = frozenset({PageKind.ALIGNMENT, PageKind.DIAL_STRINGING, PageKind.SERVICE_NOTES})
_LISTED_WORDS = 9
_ROLE = re.compile(
    r"^\W{0,3}(RECT|OUTPUT|POWER|DET|OSC|MIX|CONV|AMP|AUDIO|1ST|2ND|I\.?F|R\.?F|EYE)", re.IGNORECASE
)
_SYMBOL = re.compile(r"\bV[- ]?([\dIl]{1,2})(?:[ -]?[AB])?\b")
_CHARTS = frozenset({PageKind.VOLTAGE_CHART, PageKind.RESISTANCE_CHART})
_DRAWN = frozenset({PageKind.SCHEMATIC, PageKind.OTHER, PageKind.CHASSIS_VIEW})
_ONE_BY_ONE = _CHARTS | {PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW, PageKind.TUBE_LAYOUT}
_READING = re.compile(r"^-?\d*\.?\d+[KM]?$|^(NC|INF)\W?$", re.IGNORECASE)
_SOME_READINGS = 3
_OLD = re.compile(r"\d{2,3}A?")
_CHART_WORDS = 5  # a row of a chart has a tube, its job and a few pins
_LAST = 99  # where a tube without a number sorts
_COMPLETE_SHARE = 0.6  # of the largest source, for a source to count as a whole line-up


@dataclass(frozen=True, slots=True)
class TubeSource:
    """The tubes one stretch of a page shows, and how it shows them."""

    kind: PageKind  # of the section that shows them
    places: tuple[TubePlace, ...]


def tubes_in(region: Region, kinds: Iterable[PageKind]) -> tuple[TubeSource, ...]:
    """Every line-up that a region shows, one for each of its sections (schematic, parts list,
    charts, layout), as their headings divide it.

    Lines that only mention tubes (substitution notes, prices) are passed over. A tube symbol
    printed twice with the same type ("V2 12AX7", halves of one tube) counts once.
    """
    headings = [(line.box.top, kind or PageKind.OTHER) for line, kind in headings_in(region)]
    opening = PageKind.SCHEMATIC if PageKind.SCHEMATIC in set(kinds) else PageKind.OTHER
    sections: dict[int, list[TubePlace]] = {}
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
            if kind in _PROSE and not _is_listed(line):
                continue
            sections.setdefault(section, []).extend(_places(line, region, kind))
    return tuple(
        TubeSource(headings[section - 1][1] if section else opening, _halves_joined(places))
        for section, places in sections.items()
        if places
    )


def _is_listed(line: Line) -> bool:
    """Whether a line among prose lists tubes rather than mentions one."""
    text = squeeze(line.text)
    if _COMPLEMENT.search(text):
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
    fullest = max((len(source.places) for source in sources), default=0)
    if not fullest:
        return (), ()
    whole = [s for s in sources if len(s.places) >= _COMPLETE_SHARE * fullest]
    counts = [Counter(place.type for place in source.places) for source in whole]
    chosen: Counter[str] = Counter()
    doubts: list[str] = []
    for kind in dict.fromkeys(kind for count in counts for kind in count):
        votes = sorted((count[kind] for count in counts), reverse=True)
        if len(whole) > 1 and all(_loose_label(source, kind) for source in whole):
            doubts.append(f"a drawing seems to show {kind}, no list does")
            continue
        chosen[kind] = votes[(len(votes) - 1) // 2] if len(votes) > 2 else votes[0]
        if len(set(votes)) > 1:
            doubts.append(f"pages disagree on {kind}: {'/'.join(map(str, votes))} times")
    chosen = +chosen
    places = [place for kind, count in chosen.items() for place in _best_places(kind, count, whole)]
    order = _order(whole)
    places.sort(key=lambda place: order.get(place.type, len(order)))
    return _with_roles(places), tuple(doubts)


def _loose_label(source: TubeSource, kind: str) -> bool:
    """Whether a source shows the type only as a label of a drawing, or not at all."""
    shown = [place for place in source.places if place.type == kind]
    return not shown or (source.kind in _DRAWN and not any(place.symbol for place in shown))


def _places(line: Line, region: Region, kind: PageKind) -> list[TubePlace]:
    found = []
    single = kind in _ONE_BY_ONE and not _COMPLEMENT.search(squeeze(line.text))
    for token in parse_line_up(line.text, bare_numbers=kind not in _CHARTS):
        if lookup(token.type) is None:
            continue
        if kind in _CHARTS and _is_reading(line.text, token.start, token.end):
            continue
        drawn = kind in (PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW)
        if (
            drawn
            and token.type.isdigit()
            and not (
                _SYMBOL.search(line.text[: token.start][-6:]) or _ROLE.match(line.text[token.end :])
            )
        ):
            continue  # 20 beside a capacitor
        symbols = _SYMBOL.findall(line.text[: token.start][-12:])
        place = TubePlace(
            token.type,
            printed=token.printed,
            symbol=f"V{int(symbols[-1].replace('I', '1').replace('l', '1'))}" if symbols else "",
            page=region.page.ref,
            alternatives=token.alternatives,
        )
        # "5-35Z4" beside a symbol is V5, and "2-6V6" in a list two of them
        found += [place] * (1 if single else token.count)
    if not found and kind in _CHARTS:  # old types are bare numbers: "75", at the row's head
        printed = line.words[0].text.strip(".,|[]")
        tube = lookup(printed) if _OLD.fullmatch(printed) else None
        if tube is not None and len(line.words) >= _CHART_WORDS:
            found.append(TubePlace(tube.type, printed, page=region.page.ref))
    return found


def _is_reading(row: str, start: int, end: int) -> bool:
    """Whether what looks like a type stands among a chart's readings: "74" read as "7A4". Of two
    charts side by side each begins with a type and goes on with readings of its own."""
    before = [word for word in row[:start].split() if _READING.match(word)]
    after = [word for word in row[end:].split() if _READING.match(word)]
    return len(before) >= _SOME_READINGS > len(after)


def _halves_joined(places: Sequence[TubePlace]) -> tuple[TubePlace, ...]:
    """Places with one symbol and type counted once."""
    kept: list[TubePlace] = []
    seen: set[tuple[str, str]] = set()
    for place in places:
        key = (place.symbol, place.type)
        if place.symbol and key in seen:
            continue
        seen.add(key)
        kept.append(place)
    return tuple(kept)


def _best_places(kind: str, count: int, sources: Sequence[TubeSource]) -> list[TubePlace]:
    """The fullest-described places of a type, `count` of them."""
    options = [[p for p in source.places if p.type == kind] for source in sources]
    best = max(options, key=lambda found: (min(len(found), count), _numbered(found)))
    return (best * count)[:count]


def _numbered(places: Sequence[TubePlace]) -> int:
    return sum(bool(place.symbol) for place in places)


def _order(sources: Sequence[TubeSource]) -> dict[str, int]:
    """Types in the order of the source that numbers most of its tubes."""
    best = max(sources, key=lambda source: (_numbered(source.places), len(source.places)))
    numbered = sorted(best.places, key=lambda p: int(p.symbol[1:]) if p.symbol else _LAST)
    order: dict[str, int] = {}
    for place in numbered:
        order.setdefault(place.type, len(order))
    return order


def _with_roles(places: Sequence[TubePlace]) -> tuple[TubePlace, ...]:
    roles = analyse([place.type for place in places]).roles
    return tuple(replace(place, role=role) for place, role in zip(places, roles, strict=True))
