"""Whether a measured value agrees with the printed one. Common practice, no source."""

from dataclasses import dataclass
from math import inf, isfinite

from indexer.trade.value_forms import plain
from indexer.trade.value_units import Value

USUAL_PERCENT = (5.0, 10.0, 20.0)  # gold, silver and no band
DEFAULT_PERCENT = 20.0  # what a part of the period has when nothing is printed
ELECTROLYTIC_FROM_F, ELECTROLYTIC_PLUS = 0.9e-6, 50.0  # such capacitors were made too large
EDGE_SHARE = 0.9  # the last tenth of the tolerance counts as its edge

IN, EDGE, OUT = "in", "at the edge", "out"


@dataclass(frozen=True, slots=True)
class Verdict:
    """State "in", "at the edge" or "out"; the limits, in the nominal's unit; and by how much.

    `off_percent` is signed, against the nominal; infinite for an open part.
    """

    state: str
    low: float
    high: float
    off_percent: float
    note: str


def _tidy(number: float) -> float:
    return float(f"{number:.12g}")


def limits(nominal: float | Value, tolerance: float | None = None) -> tuple[float, float]:
    """Lowest and highest reading inside the tolerance, in the nominal's unit.

    The tolerance (percent) is the one given, else the value's own, else 20 %, and 50 % upward
    for an electrolytic. Raises ValueError for a nominal or tolerance that is no number above zero.
    """
    number, plus, minus = _nominal(nominal, tolerance)
    return _tidy(number * (1 - min(minus, 100.0) / 100)), _tidy(number * (1 + plus / 100))


def _nominal(nominal: float | Value, tolerance: float | None) -> tuple[float, float, float]:
    if isinstance(nominal, Value):
        number, printed, lower = nominal.number, nominal.tolerance_percent, nominal.minus_percent
    else:
        number, printed, lower = float(nominal), None, None
    if not (isfinite(number) and number > 0):
        raise ValueError("the nominal value must be above zero")
    if tolerance is not None:
        printed, lower = tolerance, None
    plus = DEFAULT_PERCENT if printed is None else printed
    minus = plus if lower is None else lower
    if printed is None and isinstance(nominal, Value) and _electrolytic(nominal):
        plus = ELECTROLYTIC_PLUS
    if not (isfinite(plus) and plus > 0 and isfinite(minus) and minus >= 0):
        raise ValueError("the tolerance must be a percentage above zero")
    return number, plus, minus


def _electrolytic(value: Value) -> bool:
    return value.kind == "farads" and value.number >= ELECTROLYTIC_FROM_F


def _state(off: float, plus: float, minus: float) -> str:
    bound = plus if off >= 0 else minus
    size = abs(off)
    if size > bound:
        return OUT
    return EDGE if size and size >= EDGE_SHARE * bound else IN


def _usual(off: float) -> str:
    """Where the reading stands among the usual tolerances, in words."""
    places = [(percent, _state(off, percent, percent)) for percent in USUAL_PERCENT]
    words = [f"at the edge of {plain(p)} %" for p, state in places if state == EDGE]
    inside = [p for p, state in places if state == IN]
    if inside:
        words.append(f"inside {plain(inside[0])} %")
    return ", ".join(words) or "out of any usual tolerance"


def verdict(
    nominal: float | Value, reading: float | Value, tolerance: float | None = None
) -> Verdict:
    """Whether a reading is in tolerance, at its edge (the last tenth of it), or out.

    Numbers are in one unit, of your choice; with a Value its kind also shapes the note.
    `tolerance` in percent; without one the value's own counts, else 20 %. A reading of
    infinity is an open part, 0 a shorted one. Raises ValueError for impossible numbers.
    """
    number, plus, minus = _nominal(nominal, tolerance)
    measured = reading.number if isinstance(reading, Value) else float(reading)
    if measured < 0 or measured != measured:
        raise ValueError("a reading can't be below zero")
    kind = nominal.kind if isinstance(nominal, Value) else ""
    low, high = limits(nominal, tolerance)
    off = inf if measured == inf else round((measured / number - 1) * 100, 6)
    state = _state(off, plus, minus)
    if measured == inf:
        note = "open"
    elif measured == 0:
        note = "reads nothing: shorted, or the wrong range"
    else:
        side = "high" if off > 0 else "low"
        note = f"{plain(abs(off), 3)} % {side}: " if off else "as printed: "
        usual = isinstance(nominal, Value) and _electrolytic(nominal) and plus != minus
        place = "outside" if state == OUT else "inside"
        note += f"{place} +{plain(plus)} -{plain(minus)} %" if usual else _usual(off)
    return Verdict(state, low, high, off, note + _advice(kind, state, off))


def _advice(kind: str, state: str, off: float) -> str:
    if kind == "ohms" and off < 0 and state != IN:
        return ". In circuit another path may pull the reading down: lift one end and try again."
    if kind == "ohms" and state == OUT:
        return ". Old carbon resistors drift upward with age."
    if kind == "farads":
        return ". A capacitance meter doesn't show leakage at working voltage: test that as well."
    return ""
