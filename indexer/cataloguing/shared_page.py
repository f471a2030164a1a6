"""A page that prints more than one set: where each begins, and which codes of a running head that
names several are whose. Pure.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from indexer.cataloguing import identity, lineups, spread
from indexer.cataloguing.identity import Masthead
from indexer.cataloguing.kinds import kinds_of, section_kind
from indexer.cataloguing.region import Line, Region, split
from indexer.cataloguing.relations import without_references
from indexer.cataloguing.sheet import FOOT_SHARE, HEAD_SHARE, Sheet
from indexer.limits import MAX_RANGE_SHOWN
from indexer.trade.codes import fold, parse_codes

_STACKED = 0.045  # of the height, between two lines of one heading
_SHOWN = 3  # types, from which a part shows a line-up of its own
_SAME_TUBES = 0.5  # of all types: less in common, and two parts show two sets
_NONE: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Part:
    """The part of a page that one set's matter fills; `foreign` are folded codes that its
    headings name and that are other sets'."""

    region: Region
    foreign: frozenset[str] = _NONE


@dataclass(frozen=True, slots=True)
class Named:
    """What a heading names, folded, and whether it heads a set beyond doubt: at the head of a
    page, or with a maker or chassis."""

    models: frozenset[str]
    chassis: frozenset[str]
    page: int


def heads_of(sheet: Sheet, region: Region, known: Sequence[str]) -> list[Masthead]:
    """The mastheads of a region, top to bottom; two lines set one below the other, "MODELS 5D10,
    5D11 CHASSIS CH-41A" and "MODELS 5D20, 5D21 CHASSIS CH-41B", are one."""
    height = float(region.page.reading.height_px)
    lines = without_references(region.lines, sheet.whole.lines)
    found = identity.mastheads(lines, height, known, typed=sheet.typed, large=sheet.single)
    return found if sheet.typed else _stacked(found)


def _stacked(heads: Sequence[Masthead]) -> list[Masthead]:
    kept: list[Masthead] = []
    last = -1.0
    for head in heads:
        above = kept[-1] if kept else None
        if (
            above
            and 0 <= head.top - last <= _STACKED
            and head.models
            and above.models
            and bool(head.chassis) == bool(above.chassis)
            and (not head.maker or not above.maker or fold(head.maker) == fold(above.maker))
        ):
            kept[-1] = identity.joined(above, head)
        else:
            kept.append(head)
        last = head.top
    return kept


def named_in(heads: Sequence[Sequence[Masthead]]) -> list[Named]:
    """What the headings of a bound volume name, by `heads` of page after page: those that head a
    set for sure, at the head of a page or with a maker or chassis."""
    return [
        _named(head, n)
        for n, some in enumerate(heads)
        for head in some
        if head.models and (head.top < HEAD_SHARE or head.maker or head.chassis)
    ]


def _named(head: Masthead, page: int) -> Named:
    return Named(frozenset(map(fold, head.models)), frozenset(map(fold, head.chassis)), page)


def parts_of(
    sheet: Sheet,
    heads: Sequence[Masthead],
    known: Sequence[str],
    loose: bool,
    elsewhere: Sequence[Named] = (),
) -> tuple[Part, ...]:
    """The page cut where a further set's masthead stands below matter of another set.

    `heads` are the page's (`heads_of`). On a loose sheet the first masthead is the sheet's own,
    wherever it stands. `elsewhere` is what a bound volume's headings name: models that stand in
    other company there are sets of their own, even where one running head names them together.
    """
    whole = sheet.whole
    if sheet.is_index:
        return (Part(whole),)
    halves = (
        spread.facing(whole, known)
        or spread.columns(whole, known, sum(len(head.models) for head in heads))
        or spread.notes(whole, known)
    )
    if not halves:
        return _cut(whole, heads, loose, elsewhere)
    return tuple(
        Part(part.region, part.foreign | _others(half, halves, sheet, known))
        for half in halves
        for part in _cut(half, heads_of(sheet, half, known), loose, elsewhere)
    )


def _cut(
    whole: Region, heads: Sequence[Masthead], loose: bool, elsewhere: Sequence[Named]
) -> tuple[Part, ...]:
    """A page, or one side of it, cut below each set's matter."""
    height = float(whole.page.reading.height_px)
    first = next((h for h in heads if loose or h.top < HEAD_SHARE), None)
    lower = [
        head
        for head in heads
        if head.models and head is not first and head.top <= FOOT_SHARE
        if head.top >= HEAD_SHARE or _of_another_maker(head, first)
        if not _in_range_of(head, first)
    ]
    sets = _sets(first, lower, elsewhere, whole)
    at = _first_set(sets, lower) if first else -1
    owners, cuts = [at], []
    for head in lower:
        codes = _codes(head)
        met = [n for n, one in enumerate(sets) if one & codes]
        if not met:
            sets.append(codes)
            met = [len(sets) - 1]
        elif len(met) == 1:
            sets[met[0]] |= codes
        if at not in met:
            at = met[0]
            cuts.append(head.top * height - 1)
            owners.append(at)
    if not cuts:
        return (Part(whole),)
    every = _NONE.union(*sets)
    parts = [
        Part(region, every - sets[n] if n >= 0 else _NONE)
        for region, n in zip(split(whole, cuts), owners, strict=True)
        if region.lines
    ]
    return tuple(parts) or (Part(whole),)


def _of_another_maker(head: Masthead, first: Masthead | None) -> bool:
    named = first is not None and first.maker
    return bool(named and head.maker) and fold(named or "") != fold(head.maker)


def _in_range_of(head: Masthead, first: Masthead | None) -> bool:
    """Whether a heading only names models that a printed range of the first one includes."""
    if first is None or head.chassis or head.maker:
        return False
    return frozenset(map(fold, head.models)) <= _members(first.models)


def sets_named(head: Masthead, elsewhere: Sequence[Named]) -> list[frozenset[str]]:
    """The models that one heading names, folded, in groups that a volume shows to be sets of their
    own, each with a chassis of its own elsewhere; one group when it does not."""
    return _grouped(list(map(fold, head.models)), lambda a, b: not _chassis_apart(a, b, elsewhere))


def _grouped(models: Sequence[str], together: Callable[[str, str], bool]) -> list[frozenset[str]]:
    groups: list[frozenset[str]] = []
    for model in dict.fromkeys(models):
        alike = [group for group in groups if any(together(model, one) for one in group)]
        groups = [group for group in groups if group not in alike]
        groups.append(frozenset({model}).union(*alike))
    return groups


def _others(
    half: Region, halves: Sequence[Region], sheet: Sheet, known: Sequence[str]
) -> frozenset[str]:
    """What the heads of the other half name and this one's own heading does not."""
    own: frozenset[str] = _NONE
    others: frozenset[str] = _NONE
    over = {id(line) for line in halves[0].lines} & {id(line) for line in halves[1].lines}
    for region in halves:
        alone = replace(region, lines=tuple(x for x in region.lines if id(x) not in over))
        heads = [h for h in heads_of(sheet, alone, known) if h.models]
        named = min((_codes(head) for head in heads), key=len, default=_NONE)
        if region is half:
            own = named
        else:
            others |= named
    return others - own


def _sets(
    first: Masthead | None, lower: Sequence[Masthead], elsewhere: Sequence[Named], whole: Region
) -> list[frozenset[str]]:
    """The sets that the first heading names: its models in groups that belong together, each with
    the chassis that lower headings give it; chassis that none gives go with the first group."""
    if not first:
        return []
    strong = [*elsewhere, *(_named(head, -1) for head in lower if head.maker or head.chassis)]
    found = _grouped(
        list(map(fold, first.models)),
        lambda a, b: not _apart(a, b, first, lower, strong, whole),
    ) or [_NONE]
    chassis = frozenset(map(fold, first.chassis))
    given = [
        frozenset(
            fold(code)
            for head in lower
            if group & frozenset(map(fold, head.models))
            for code in head.chassis
        )
        for group in found
    ]
    left = chassis - _NONE.union(*given)
    at = _first_set(found, lower)
    return [group | given[n] | (left if n == at else _NONE) for n, group in enumerate(found)]


def _first_set(sets: Sequence[frozenset[str]], lower: Sequence[Masthead]) -> int:
    """Which set's matter stands at the top: one that no lower heading names, else the one whose
    heading comes first."""
    named = [n for head in lower for n, one in enumerate(sets) if one & _codes(head)]
    return next((n for n in range(len(sets)) if n not in named), named[0] if named else 0)


def _apart(
    a: str,
    b: str,
    first: Masthead,
    lower: Sequence[Masthead],
    elsewhere: Sequence[Named],
    whole: Region,
) -> bool:
    """Whether two models that one heading names are two sets, as other headings tell."""
    if _in_other_company(a, b, elsewhere):
        return True
    known = frozenset(map(fold, first.chassis))
    for head in lower:
        models, chassis = (frozenset(map(fold, codes)) for codes in (head.models, head.chassis))
        if (a in models) is (b in models) or not models <= frozenset(map(fold, first.models)):
            continue
        if head.maker and not (chassis and chassis == known):
            return True
        if chassis and not chassis & known and not _is_section(head, whole):
            return True
        if not _is_section(head, whole) and _other_tubes(head, whole):
            return True
    return False


def _in_other_company(a: str, b: str, elsewhere: Sequence[Named]) -> bool:
    """Whether headings name each of two models without the other, on no chassis of both."""
    with_a = [one for one in elsewhere if a in one.models and b not in one.models]
    with_b = [one for one in elsewhere if b in one.models and a not in one.models]
    if not with_a or not with_b:
        return False
    stamps = [_NONE.union(*(one.chassis for one in some)) for some in (with_a, with_b)]
    return not stamps[0] & stamps[1]


def _chassis_apart(a: str, b: str, elsewhere: Sequence[Named]) -> bool:
    """The same, each with a chassis of its own."""
    return _in_other_company(a, b, elsewhere) and all(
        any(one.chassis for one in elsewhere if x in one.models and y not in one.models)
        for x, y in ((a, b), (b, a))
    )


def _is_section(head: Masthead, whole: Region) -> bool:
    """Whether a heading announces a section, "PARTS LIST, MODEL 5D11", rather than a set."""
    return any(section_kind(line) for line in _at(head, whole))


def _at(head: Masthead, whole: Region) -> list[Line]:
    top = head.top * whole.page.reading.height_px
    return [line for line in whole.lines if abs(line.box.top - top) <= line.box.height]


def _other_tubes(head: Masthead, whole: Region) -> bool:
    """Whether other tubes are shown below a heading than above it."""
    shown = []
    for region in split(whole, [head.top * whole.page.reading.height_px - 1]):
        if not region.lines:
            return False
        sources = lineups.tubes_in(region, kinds_of(region))
        shown.append({place.type for source in sources for place in source.places})
    above, below = shown
    if min(len(above), len(below)) < _SHOWN:
        return False
    return len(above & below) < _SAME_TUBES * len(above | below)


def _codes(head: Masthead) -> frozenset[str]:
    return frozenset(map(fold, (*head.models, *head.chassis)))


def _members(models: Sequence[str]) -> frozenset[str]:
    """The models, folded, that lie in ranges of a heading."""
    ranges = [
        span.range
        for model in models
        if _THROUGH in model
        for span in parse_codes(f"MODELS {model}")
        if span.range
    ]
    return frozenset(fold(code) for one in ranges for code in one.members(MAX_RANGE_SHOWN))


_THROUGH = " through "
