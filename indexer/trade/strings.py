"""Heater arithmetic of a line-up: which tubes share one series current, and their volts."""

from collections.abc import Sequence
from dataclasses import dataclass

from indexer.trade.jobs import RECTIFIERS
from indexer.trade.tubes import Tube

US_LINE_V = 117.0
EUROPEAN_LINES_V = (110.0, 127.0, 220.0, 240.0)
STRING_CURRENTS_A = (0.05, 0.1, 0.15, 0.18, 0.2, 0.3, 0.45, 0.6)
_SAME_CURRENT = 0.07  # share: makers held string currents to a few per cent
_ENOUGH = 0.9  # a string of nine tenths of the line's volts runs without a dropper


@dataclass(frozen=True, slots=True)
class Drop:
    """What a series string lacks to one line voltage, and the resistor or cord that takes it up.

    `missing_v` is negative when the string wants more than the line gives. `ohms` and `watts` are
    0 when nothing is needed; `watts` is the heat, so a part of at least twice that is fitted.
    """

    line_v: float
    missing_v: float
    ohms: float
    watts: float


@dataclass(frozen=True, slots=True)
class CurrentGroup:
    """Tubes of one line-up that want the same heater current: their places in it and their sum."""

    current_a: float
    volts: float
    places: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class HeaterString:
    """The main series group and the tubes that don't fit its current."""

    current_a: float
    volts: float
    places: tuple[int, ...]
    others: tuple[CurrentGroup, ...]


def connection_at(tube: Tube, current_a: float) -> float | None:
    """Heater volts of the connection that takes this current, within 7 %; else None."""
    for volts, amps in tube.heaters:
        if abs(amps - current_a) <= _SAME_CURRENT * current_a:
            return volts
    return None


def heater_string(tubes: Sequence[Tube | None]) -> HeaterString | None:
    """The series group with the most volts among the usual string currents, and the rest.

    Ballast tubes count with the volts they drop. None when no group has two tubes.
    """
    best: tuple[float, float, tuple[int, ...]] | None = None
    for current_a in STRING_CURRENTS_A:
        found = [(n, connection_at(t, current_a)) for n, t in enumerate(tubes) if t]
        places = tuple(n for n, volts in found if volts)
        total = sum(volts for _, volts in found if volts)
        if len(places) >= 2 and (best is None or total > best[1]):
            best = (current_a, total, places)
    if best is None:
        return None
    current_a, total, places = best
    rest: dict[float, list[int]] = {}
    for n, tube in enumerate(tubes):
        if tube and n not in places and tube.heaters:
            rest.setdefault(tube.heaters[0][1], []).append(n)
    others = tuple(
        CurrentGroup(amps, _volts(tubes, ns), tuple(ns)) for amps, ns in sorted(rest.items())
    )
    return HeaterString(current_a, round(total, 1), places, others)


def _volts(tubes: Sequence[Tube | None], places: Sequence[int]) -> float:
    return round(sum(t.heater_v or 0.0 for n in places if (t := tubes[n])), 1)


def drop(string_v: float, current_a: float, line_v: float) -> Drop:
    """Ballast or resistance cord for a string on a line: volts, ohms, watts by Ohm's law."""
    missing = round(line_v - string_v, 1)
    if missing <= line_v * (1 - _ENOUGH):
        return Drop(line_v, missing, 0.0, 0.0)
    return Drop(line_v, missing, round(missing / current_a), round(missing * current_a, 1))


def line_rectifier(tube: Tube) -> bool:
    """Whether it rectifies the line directly: half-wave or doubler with a heater for a string."""
    parts = set(tube.functions) & RECTIFIERS
    volts = max((v for v, _ in tube.heaters), default=0.0)
    return (
        tube.heating == "indirect"
        and volts >= 12
        and bool(parts & {"half-wave rectifier", "rectifier-doubler"})
    )


def line_heater(tube: Tube) -> bool:
    """A heater for the full line voltage: 117Z3, 117L7 and kin."""
    return bool(tube.heater_v and 105 <= tube.heater_v <= 125)
