"""Readings against nominal values: parts by tolerance, pins against the page's charts.

Where a chart states no tolerance, 20 % either way: common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import inf, isinf

from indexer.bench import networks
from indexer.bench.charts import MILLIAMPERES, OHMS, VOLTS, ChartPoint
from indexer.bench.part_sense import LOOK_AT_IT, UNSURE
from indexer.bench.parts import PartLine
from indexer.bench.sheet_types import UNIT, ReadingLine
from indexer.errors import UsageError
from indexer.store.bench_records import Taken
from indexer.trade.value_forms import today_form
from indexer.trade.value_parse import parse_value
from indexer.trade.value_units import Value
from indexer.trade.value_verdict import IN, OUT, limits, verdict
from indexer.trade.values import read_as, read_near, unit_doubt

_MEASURED = ("R", "C", "RV", "VR")
_WHAT = {"ohms": "resistance", "farads": "capacitance", "volts": "voltage", MILLIAMPERES: "current"}
_NEAR_ZERO = {
    VOLTS: 0.5,
    OHMS: 2.0,
    MILLIAMPERES: 0.1,
}  # as zero: common practice
_OPEN_FROM_OHMS = 20e6  # what counts as open: common practice, no source
_MILLIAMPS_READ = re.compile(r"([-+]?\d*\.?\d+)\s*(m\.?a|[uµμ]a|a)?(?:mps?)?", re.I)
_VOLTS_READ = re.compile(r"([-+]?\d*\.?\d+)\s*(m|k)?\s*(?:v(?:olts?)?)?(?:\s*[ad]\.?c\.?)?", re.I)


def reading_lines(
    parts: Sequence[PartLine], taken: Sequence[Taken], source: str = ""
) -> tuple[ReadingLine, ...]:
    """Every part with a value, in printed order, then points that only the person names.

    The latest reading of a point counts. A reading that can't be understood is shown with a note
    in place of a verdict.
    """
    latest = {one.point.upper(): one for one in taken}
    lines = []
    for part in parts:
        if part.value is not None and part.prefix in _MEASURED:
            one = latest.pop(part.name.upper(), None)
            lines.append(judged(part.name, part.value, one, source, part))
        if part.prefix in networks.PREFIXES:
            for pair in networks.pin_pairs(part.description):
                point = f"{part.name} {pair.pins}"
                line = judged(point, pair.value, latest.pop(point.upper(), None), source)
                lines.append(replace(line, page=part.page))
    for one in latest.values():
        own = parse_value(one.nominal)
        if own and own[0].number > 0:
            lines.append(judged(one.point, own[0], one))
        else:
            note = one.note or "No nominal value is known for this point."
            lines.append(ReadingLine(one.point, "", "", "", "", one.reads, "", note, one.at))
    return tuple(lines)


def points_of(parts: Sequence[PartLine]) -> set[str]:
    """The points, in capitals, at which readings belong to these parts."""
    points = {part.name.upper() for part in parts}
    for part in parts:
        if part.prefix in networks.PREFIXES:
            pairs = networks.pin_pairs(part.description)
            points |= {f"{part.name} {pair.pins}".upper() for pair in pairs}
    return points


def judged(
    point: str, value: Value, taken: Taken | None, source: str = "", part: PartLine | None = None
) -> ReadingLine:
    """One point with its limits and, when something was read, the verdict."""
    low, high = (today_form(Value(value.kind, bound)) for bound in limits(value))
    reads, state, note = (taken.reads, "", taken.note) if taken else ("", "", "")
    shares = None
    if taken:
        try:
            number, taken_as = read_near(taken.reads, value)
            found = verdict(value, number)
            doubt = unit_doubt(value, number)
            state, said = (UNIT, doubt) if doubt else (found.state, found.note)
            if not doubt:
                shares = _shares(limits(value), number, value.number)
            if part and part.sense and not doubt:
                state, said = ("", "") if part.sense == UNSURE else (state, said)
                said = f"{said} {LOOK_AT_IT}".strip()
            note = " ".join(text for text in (taken.note, taken_as, said) if text)
        except (UsageError, ValueError):
            note = f"The reading {taken.reads!r} was not understood. {taken.note}".strip()
    return ReadingLine(
        point=point,
        what=_WHAT.get(value.kind, value.kind),
        nominal=part.printed if part else today_form(value),
        low=low,
        high=high,
        reads=reads,
        verdict=state,
        note=note,
        at=taken.at if taken else "",
        source=source,
        page=part.page if part else None,
        shares=shares,
    )


def _shares(
    bounds: tuple[float, float], reads: float, nominal: float
) -> tuple[float, float, float] | None:
    """The limits and the reading as shares of the nominal value; None where there is no scale."""
    if not nominal or isinf(nominal) or isinf(reads):
        return None
    low, high = sorted(bound / nominal for bound in bounds)
    return low, high, reads / nominal


def point_name(text: str) -> str:
    """A point as it is compared: capitals, single spaces ("V1 PIN 5")."""
    return " ".join(text.upper().split())


def chart_lines(
    points: Iterable[ChartPoint], taken: Sequence[Taken], source: str = ""
) -> tuple[ReadingLine, ...]:
    """Every point of the charts, with the latest reading of each judged against the chart."""
    latest = {point_name(one.point): one for one in taken}
    return tuple(_chart_line(point, latest.get(point_name(point.name)), source) for point in points)


def volts_read(text: str) -> float:
    """A reading in volts: "88", "-6.5 V", "800 mV". Raises UsageError."""
    found = _VOLTS_READ.fullmatch(text.strip())
    if not found:
        raise UsageError(f"The reading {text!r} is not a voltage.", "Try 88 or -6.5.")
    scale = {"m": 1e-3, "k": 1e3}.get((found[2] or "").lower(), 1.0)
    return float(found[1]) * scale


def milliamps_read(text: str) -> float:
    """A reading in milliamperes: "2.4", "36 mA", "400 µA", ".04 A". Raises UsageError."""
    found = _MILLIAMPS_READ.fullmatch(text.strip())
    if not found:
        raise UsageError(f"The reading {text!r} is not a current.", "Try 2.4 or 36 mA.")
    unit = (found[2] or "mA").lower()
    scale = {"m": 1.0, "a": 1e3}.get(unit[0], 1e-3)
    return float(f"{float(found[1]) * scale:.9g}")


def _point_read(unit: str, text: str) -> float:
    if unit == VOLTS:
        return volts_read(text)
    return milliamps_read(text) if unit == MILLIAMPERES else read_as(text, OHMS)


def _chart_line(point: ChartPoint, taken: Taken | None, source: str) -> ReadingLine:
    low, high = _chart_limits(point)
    unit = " AC" if point.ac else ""
    state, said = "", taken.note if taken else ""
    shares = None
    if taken:
        try:
            state = _chart_state(point, taken.reads)
            reads = _point_read(point.unit, taken.reads)
            off = point.percent / 100
            bounds = ((1 - off) * point.nominal, (1 + off) * point.nominal)
            shares = _shares(bounds, reads, point.nominal)
        except (UsageError, ValueError):
            said = f"The reading {taken.reads!r} was not understood. {said}".strip()
    tube = "" if point.symbol.startswith(point.tube) else point.tube
    basis = f"{point.percent:g} %, " + ("from the chart" if point.stated else "common practice")
    if not point.nominal or isinf(point.nominal):
        basis = ""
    star = "marked *: see the chart's note" if "*" in point.printed else ""
    return ReadingLine(
        point=point.name,
        what=_WHAT[point.unit],
        nominal=_shown(point.nominal, point.unit) + unit,
        low=low,
        high=high,
        reads=taken.reads if taken else "",
        verdict=state,
        note="; ".join(text for text in (tube, basis, star, said) if text),
        at=taken.at if taken else "",
        source=source,
        page=point.page,
        shares=shares,
        tube=tube,
    )


def _shown(number: float, unit: str) -> str:
    if isinf(number):
        return "open"
    if unit == VOLTS:
        return f"{number:.4g} V"
    if unit == MILLIAMPERES:
        return f"{number:.4g} mA"
    return today_form(Value("ohms", number)) if number else "0 Ω"


def _chart_limits(point: ChartPoint) -> tuple[str, str]:
    if isinf(point.nominal):
        return _shown(_OPEN_FROM_OHMS, OHMS), "open"
    if not point.nominal:
        near = _NEAR_ZERO[point.unit]
        return _shown(0.0 if point.unit == OHMS else -near, point.unit), _shown(near, point.unit)
    low, high = limits(abs(point.nominal), point.percent)
    if point.nominal < 0:
        low, high = -high, -low
    return _shown(low, point.unit), _shown(high, point.unit)


def _chart_state(point: ChartPoint, text: str) -> str:
    """The verdict on a reading of a chart's point. Raises UsageError when it can't be read."""
    reads = _point_read(point.unit, text)
    if isinf(point.nominal):
        return IN if reads >= _OPEN_FROM_OHMS else OUT
    if not point.nominal:
        return IN if abs(reads) <= _NEAR_ZERO[point.unit] else OUT
    sign = -1.0 if point.nominal < 0 else 1.0
    if reads == inf or sign * reads < 0:
        return OUT
    return verdict(abs(point.nominal), sign * reads, point.percent).state
