"""A whole circuit diagram from a set's line-up: stages in rows, then the supply."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from . import audio, converters, stages, supplies
from .draft import Draft, Parts
from .sheet import Sheet
from .stages import Chain
from .tubes import TUBES

ROW_UNITS, SUPPLY_UNITS = 36.5, 24.5

MODERN = {
    "avc cap": ".05",
    "osc leak": "22K",
    "osc cap": "56",
    "if bias": "",
    "bypass": ".05",
    "i.f. bypass": "100",
    "i.f. filter": "47K",
    "a.v.c.": "3.3 MEG",
    "volume": "500K",
    "to grid": ".005",
    "grid leak": "10 MEG",
    "load": "470K",
    "coupling": ".01",
    "output grid": "470K",
    "output bias": "150",
    "speaker": "PM SPEAKER 5 IN",
    "filter": "1,200",
    "first": "50",
    "second": "30",
    "filter volts": "150 V",
    "string amps": ".15 AMP",
    "line": "105-125 V A.C. OR D.C.",
    "choke": "SPEAKER FIELD 1,000 OHMS",
    "notes": "",
}
TRANSFORMER = {
    "if bias": "220",
    "a.v.c.": "2.2 MEG",
    "output bias": "270",
    "first": "20",
    "second": "20",
    "filter volts": "450 V",
    "line": "105-125 V 60 CYCLES A.C.",
    "speaker": "DYNAMIC SPEAKER 8 IN",
}
OLD = {
    **TRANSFORMER,
    "osc leak": "50M",
    "osc cap": "100",
    "if bias": "300",
    "bypass": ".1",
    "avc cap": ".1",
    "i.f. filter": "50M",
    "a.v.c.": "1 MEG",
    "volume": ".5 MEG",
    "to grid": ".02",
    "grid leak": "1 MEG",
    "load": "250M",
    "coupling": ".02",
    "output grid": ".5 MEG",
    "output bias": "450",
    "first": "8",
    "second": "8",
}
BATTERY = {
    "filament": "A+",
    "output bias": "",
    "if bias": "",
    "second": "10",
    "filter volts": "150 V",
    "a volts": "1.5 V",
    "b volts": "90 V",
    "load": "1 MEG",
    "osc leak": "200K",
    "speaker": "PM SPEAKER 6 IN",
}


@dataclass(frozen=True)
class Circuit:
    """stages are (kind, tube, …) in signal order, by row; supply as in the ground truth."""

    rows: tuple[tuple[tuple[str, ...], ...], ...]
    supply: str
    values: dict[str, str] = field(default_factory=dict)
    common_negative: bool = False


def superhet(
    tubes: list[str], supply: str, input_kind: str = "aerial", values: dict[str, str] | None = None
) -> Circuit:
    """The plain superheterodyne: optional R.F., converter, I.F., detector, output, rectifier."""
    row: list[tuple[str, ...]] = [("front", input_kind, "C1A")]
    n_rf = 1 if TUBES[tubes[0]].kind == "pentode" else 0
    if n_rf:
        row += [("rf", tubes[0]), ("front", "rf", "C1B")]
    row += [
        ("conv", tubes[n_rf], "C1C" if n_rf else "C1B"),
        ("if", tubes[n_rf + 1], "2ND I.F. TRANSFORMER", "1"),
    ]
    tail: list[tuple[str, ...]] = [("det", tubes[n_rf + 2]), ("out", tubes[n_rf + 3])]
    rows = (tuple(row), tuple(tail)) if n_rf else (tuple(row + tail),)
    if n_rf:
        rows = (tuple(row[:4]), tuple(row[4:] + tail))
    base = {
        "series string": MODERN,
        "transformer": {**MODERN, **TRANSFORMER},
        "vibrator": {**MODERN, **TRANSFORMER, "line": "", "choke": "FILTER CHOKE"},
        "battery": {**MODERN, **BATTERY},
        "battery and line": {**MODERN, **BATTERY, "a volts": "7.5 V", "filament": "F+"},
    }[supply]
    return Circuit(rows, supply, {**base, **(values or {})}, supply == "series string")


def _stage(c: Chain, stage: tuple[str, ...]) -> None:
    kind, rest = stage[0], stage[1:]
    table: dict[str, Callable[[], None]] = {
        "front": lambda: stages.front(c, *rest),
        "rf": lambda: stages.amplifier(c, rest[0], "R.F. AMP.", "", False),
        "conv": lambda: converters.converter(c, rest[0], rest[1], "1ST I.F. TRANSFORMER"),
        "if": lambda: stages.amplifier(c, rest[0], "I.F. AMP.", rest[1], rest[2] == "1"),
        "det": lambda: audio.detector(c, rest[0]),
        "audio": lambda: audio.audio(c, rest[0]),
        "ratio": lambda: audio.ratio_detector(c, rest[0]),
        "plate det": lambda: audio.plate_detector(c, rest[0]),
        "out": lambda: audio.output(c, rest[0]),
        "push-pull": lambda: audio.push_pull(c, rest[0], list(rest[1:])),
        "eye": lambda: audio.eye(c, rest[0]),
    }
    table[kind]()


def _width(circuit: Circuit) -> float:
    """Draw on a scrap sheet to learn the widest row in units."""
    widest = 0.0
    for row in circuit.rows:
        chain = Chain(
            Draft(Sheet("scrap", 40, 40), 0, 0, 0.5, Parts()),
            circuit.values,
            circuit.common_negative,
        )
        for stage in row:
            _stage(chain, stage)
        widest = max(widest, chain.x)
    return max(
        widest + 3.5, {"series string": 104.0, "transformer": 104.0}.get(circuit.supply, 78.0)
    )


def draw(
    sheet: Sheet,
    circuit: Circuit,
    tubes: list[str],
    x_px: float,
    y_px: float,
    width_px: float,
    height_px: float = 2900,
    notes: tuple[str, ...] = (),
    font: str = "drafting",
) -> tuple[float, Parts]:
    """Draw the circuit across width_px; returns the y below it and the parts register."""
    parts = Parts()
    sections = sum(s[0] == "front" for row in circuit.rows for s in row)
    sections += any(s[0] == "conv" for row in circuit.rows for s in row)
    parts.add("C", f"TUNING GANG, {sections} SECTIONS")
    units_high = 3.5 + ROW_UNITS * len(circuit.rows) + SUPPLY_UNITS
    unit = min(width_px / _width(circuit), 24.0, height_px / units_high)
    socket = 0
    y = y_px + 3.5 * unit
    for n, row in enumerate(circuit.rows):
        c = Chain(Draft(sheet, x_px, y, unit, parts), circuit.values, circuit.common_negative)
        c.socket, c.d.font = socket, font
        if n:
            c.x, c.signal, c.low = 6.0, (6.0, 5.4), (4.0, 12.0)
            c.d.label(0.4, 5.4, str(n), "lm", 1.6)
            c.d.wire((1.8, 5.4), c.signal)
        for stage in row:
            _stage(c, stage)
        if n < len(circuit.rows) - 1:
            c.d.wire(c.signal, (c.x + 1, c.signal[1]))
            c.d.label(c.x + 1.4, c.signal[1], f"TO {n + 1}", "lm", 1.6)
        c.rails()
        socket = c.socket
        y += ROW_UNITS * unit
    c = Chain(
        Draft(sheet, x_px + 2 * unit, y + 1.5 * unit, unit, parts),
        circuit.values,
        circuit.common_negative,
    )
    c.socket, c.d.font = socket, font

    for i, line in enumerate(notes if circuit.supply == "transformer" else ()):
        c.d.label(73.0, 4.0 + 2.2 * i, line, "lm", 1.3)
    if circuit.supply == "series string":
        supplies.series_string(c, tubes, circuit.values)
    elif circuit.supply == "transformer":
        supplies.transformer(c, tubes[-1], tubes, circuit.values)
    elif circuit.supply == "battery":
        supplies.batteries(c, tubes, circuit.values)
    elif circuit.supply == "battery and line":
        supplies.battery_and_line(c, tubes, circuit.values)
    else:
        supplies.vibrator(c, tubes[-1], circuit.values)
    return y + SUPPLY_UNITS * unit, parts
