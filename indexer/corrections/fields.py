"""One entry with a field given by the person, and what follows from it. Pure."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from indexer.model import Entry, PageRef, TubePlace
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_tube, registered

_LIVE = {"transformer": "no", "battery": "no", "vibrator": "no"}
_STRINGS = frozenset({"series string", "battery and line"})


def with_field(entry: Entry, what: str, values: Sequence[str], by: str) -> Entry:
    """The entry with maker, models, chassis, tubes or year as given; `by` says who gave it."""
    if what == "tubes":
        changed = with_tubes(entry, given_places(values))
    elif what == "year":
        changed = replace(entry, year=int(values[0]) if values else None)
    elif what == "maker":
        changed = replace(entry, maker=values[0] if values else "")
    elif what == "models":
        changed = replace(entry, models=tuple(values))
    else:
        changed = replace(entry, chassis=tuple(values))
    return marked(replace(changed, evidence={**entry.evidence, what: by}), what)


def marked(entry: Entry, what: str) -> Entry:
    """The entry with `what` among the fields that the person gave."""
    return replace(entry, corrected=tuple(dict.fromkeys((*entry.corrected, what))))


def given_places(values: Iterable[str]) -> tuple[TubePlace, ...]:
    """Typed tubes as a line-up."""
    places = []
    for text in values:
        name = parse_tube(text)
        others = tuple(map(registered, name.alternatives)) if name else ()
        base = registered(name.base) if name else registered(text)
        printed = text if not others else text.partition("/")[0]
        places.append(TubePlace(base, printed, alternatives=others))
    return tuple(places)


def with_tubes(entry: Entry, tubes: Sequence[TubePlace]) -> Entry:
    """The entry with another line-up: roles, supply, heater string and doubts anew.

    A supply that the words of the page gave stays, and so a set is said to be off the line
    ("no") only where its supply says so; whatever is not settled is "unknown".
    """
    before = analyse([tube.type for tube in entry.tubes])
    after = analyse([tube.type for tube in tubes])
    by_words = entry.supply not in ("unknown", before.supply)
    supply = entry.supply if by_words else after.supply
    doubts = list(after.doubts)
    if by_words and after.supply not in ("unknown", supply):
        doubts.insert(0, f"the words say {supply}, the line-up says {after.supply}")
    return replace(
        entry,
        tubes=tuple(
            replace(tube, role=role) for tube, role in zip(tubes, after.roles, strict=True)
        ),
        supply=supply,
        string_volts=after.string_volts if supply in _STRINGS else None,
        live_chassis=after.live_chassis if supply == after.supply else _LIVE.get(supply, "unknown"),
        doubts=tuple(doubts),
    )


def joined(first: Entry, other: Entry) -> Entry:
    """Two entries as one: the first one's facts, and the other's where the first has none."""
    pages = tuple(dict.fromkeys((*first.pages, *other.pages)))
    doubts = tuple(dict.fromkeys((*first.doubts, *other.doubts)))
    fuller = other if len(other.tubes) > len(first.tubes) else first
    if first.tubes and other.tubes and first.tube_types != other.tube_types:
        doubts = (*doubts, "the parts joined show different line-ups")
    both = replace(
        first,
        maker=first.maker or other.maker,
        models=_distinct(first.models, other.models),
        chassis=_distinct(first.chassis, other.chassis),
        tubes=fuller.tubes,
        pages=pages,
        year=first.year or other.year,
        if_khz=first.if_khz or other.if_khz,
        supply=fuller.supply,
        string_volts=fuller.string_volts,
        live_chassis=fuller.live_chassis,
        doubts=doubts,
        evidence={**other.evidence, **first.evidence},
        relations=tuple(dict.fromkeys((*first.relations, *other.relations))),
    )
    return marked(both, "pages")


def part_of(
    entry: Entry,
    pages: Sequence[PageRef],
    codes: frozenset[str] | None,
    entry_id: str,
) -> Entry:
    """One part of a split entry: the codes in `codes` (all when None), the tubes of its pages."""
    tubes = [tube for tube in entry.tubes if tube.page is None or tube.page in pages]
    kept = replace(
        entry,
        id=entry_id,
        pages=tuple(pages),
        models=tuple(c for c in entry.models if codes is None or c in codes),
        chassis=tuple(c for c in entry.chassis if codes is None or c in codes),
    )
    if len(tubes) != len(entry.tubes):
        kept = with_tubes(kept, tubes)
    return marked(kept, "pages")


def _distinct(a: Sequence[str], b: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*a, *b)))
