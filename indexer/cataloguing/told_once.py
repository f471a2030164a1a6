"""A tube that one section of a page shows twice counts once: halves of one tube, and a line-up
told a second time under a heading that was not read."""

from collections import Counter
from collections.abc import Sequence

from indexer.cataloguing.counted import told_twice
from indexer.model import TubePlace

_TOLD_AGAIN = 3  # types beside their symbols, from which the same without symbols are a retelling
_TOLD_TWICE = 4  # types, from which the same again, none with its symbol, are a retelling
_ODD = 1  # tube that one of two tellings may have more, or other


def told_once(places: Sequence[TubePlace]) -> tuple[TubePlace, ...]:
    """The places without those that tell of a tube again.

    One symbol with one type is one tube. Where nearly all types that stand without a symbol stand
    with one as well, they are the same tubes (a layout below a chart); where a row of types comes
    twice over, so are these.
    """
    kept = _halves_joined(places)
    numbered = {place.type for place in kept if place.symbol}
    loose = [place for place in kept if not place.symbol]
    again = {place.type for place in loose if place.type in numbered}
    others = [place for place in loose if place.type not in numbered]
    if len(again) >= _TOLD_AGAIN and len(others) <= _ODD:
        return tuple(place for place in kept if place.symbol or place.type not in numbered)
    if told_twice(Counter(place.type for place in kept)):
        return _once_each(kept)
    if not numbered:
        return _first_telling(kept)
    return kept


def _once_each(places: Sequence[TubePlace]) -> tuple[TubePlace, ...]:
    """One place a type, the one with a symbol where there is one."""
    best: dict[str, TubePlace] = {}
    for place in places:
        if place.type not in best or (place.symbol and not best[place.type].symbol):
            best[place.type] = place
    return tuple(best.values())


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


def _first_telling(places: tuple[TubePlace, ...]) -> tuple[TubePlace, ...]:
    """The places once, where the second half of them names the types of the first again."""
    for at in range(_TOLD_TWICE, len(places) - _TOLD_TWICE + 1):
        first, second = (Counter(p.type for p in part) for part in (places[:at], places[at:]))
        odd = (first - second).total() + (second - first).total()
        if odd <= _ODD and len(first.keys() & second.keys()) >= _TOLD_TWICE:
            missed = [p for p in places[at:] if p.type not in first]
            return (*places[:at], *missed)
    return places
