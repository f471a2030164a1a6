"""Tube symbols: a round envelope with its electrodes, returning where each lead comes out."""

from __future__ import annotations

import math

from .draft import Draft

Leads = dict[str, tuple[float, float]]
# Electrodes from the plate downward, as fractions of the envelope's radius.
GRIDS = {
    "diode": [],
    "triode": [("g1", -0.05, "l")],
    "oscillator": [("g1", 0.32, "l")],
    "triode right": [("g1", -0.05, "r")],
    "tetrode": [("s", -0.15, "r"), ("g1", 0.2, "l")],
    "pentode": [("g3", -0.28, "k"), ("s", 0.0, "r"), ("g1", 0.28, "l")],
    "pentagrid": [
        ("g5", -0.46, "k"),
        ("s", -0.24, "r"),
        ("g3", -0.02, "l"),
        ("", 0.18, "s"),
        ("g1", 0.36, "l"),
    ],
    "octode": [
        ("s", -0.4, "r"),
        ("g3", -0.16, "l"),
        ("", 0.04, "s"),
        ("ga", 0.22, "ro"),
        ("g1", 0.4, "l"),
    ],
    "hexode": [("s", -0.4, "r"), ("g3", -0.16, "l"), ("", 0.08, "s"), ("g1", 0.32, "l")],
}


def _grid(d: Draft, cx: float, y: float, half: float) -> None:
    for i in range(4):
        x = cx - half + i * half * 0.56
        d.wire((x, y), (x + half * 0.32, y))


def _edge(r: float, dy: float) -> float:
    return math.sqrt(max(r * r - dy * dy, 0.01))


def envelope(d: Draft, cx: float, cy: float, r: float, stretch: float = 0) -> None:
    """The glass: a circle, or two half circles joined for double tubes."""
    if not stretch:
        d.arc(cx, cy, r, 0, 360, heavy=1.25)
        return
    d.arc(cx - stretch, cy, r, 90, 270, heavy=1.25)
    d.arc(cx + stretch, cy, r, 270, 90, heavy=1.25)
    for dy in (-r, r):
        d.wire((cx - stretch, cy + dy), (cx + stretch, cy + dy), heavy=1.25)


def heater(d: Draft, cx: float, cy: float, r: float) -> None:
    """Hairpin under the cathode; its leads are drawn with the supply."""
    d.wire((cx - 0.2 * r, cy + 0.97 * r), (cx, cy + 0.7 * r), (cx + 0.2 * r, cy + 0.97 * r))


def electrodes(
    d: Draft, cx: float, cy: float, r: float, kind: str, filament: bool, lead_r: float | None = None
) -> Leads:
    """Plate, grids and cathode or filament about (cx, cy); leads end at the envelope."""
    leads: Leads = {}
    half = 0.48 * r
    out = lead_r or r
    plate_y = cy - 0.66 * r
    d.wire((cx - half * 0.8, plate_y), (cx + half * 0.8, plate_y), heavy=1.6)
    d.wire((cx, plate_y), (cx, cy - r))
    leads["p"] = (cx, cy - r)
    base = cy + 0.55 * r
    for name, at, way in GRIDS.get(kind, []):
        y = cy + at * r
        _grid(d, cx, y, half)
        if way in ("l", "r", "ro"):
            sign = -1 if way == "l" else 1
            x_end = cx + sign * _edge(out, at * r)
            d.wire((cx + sign * half, y), (x_end, y))
            leads[name] = (x_end, y)
        elif way == "k":
            x = cx + 0.66 * r
            d.wire((cx + half, y), (x, y), (x, base), (cx + half * 0.8, base))
        elif way == "s":
            x = cx + 0.6 * r
            screen = next(g[1] for g in GRIDS[kind] if g[0] == "s")
            d.wire((cx + half, y), (x, y), (x, cy + screen * r))
    if filament:
        d.wire(
            (cx - 0.34 * r, cy + 0.94 * r),
            (cx - 0.34 * r, base + 0.12 * r),
            (cx, base - 0.05 * r),
            (cx + 0.34 * r, base + 0.12 * r),
            (cx + 0.34 * r, cy + 0.94 * r),
        )
        leads["f1"], leads["f2"] = (cx - 0.34 * r, cy + 0.94 * r), (cx + 0.34 * r, cy + 0.94 * r)
        leads["k"] = leads["f1"]
    else:
        d.wire(
            (cx - half * 0.8, base + 0.1 * r),
            (cx - half * 0.8, base),
            (cx + half * 0.8, base),
            (cx + half * 0.8, base + 0.1 * r),
        )
        x = cx - half * 0.8
        d.wire((x, base), (x, cy + _edge(r, x - cx)))
        leads["k"] = (x, cy + _edge(r, x - cx))
        heater(d, cx + 0.12 * r, cy, r)
    return leads


def diodes(d: Draft, cx: float, cy: float, r: float, count: int, leads: Leads) -> None:
    """Small diode plates beside the cathode, their leads to the left."""
    for i in range(count):
        y = cy + ((0.36 if "s" not in leads else 0.5) + 0.2 * i) * r
        x = cx - 0.64 * r
        d.wire((x, y - 0.08 * r), (x, y + 0.08 * r), heavy=1.5)
        x_end = cx - _edge(r, y - cy)
        d.wire((x, y), (x_end, y))
        leads[f"d{i + 1}"] = (x_end, y)


def valve(
    d: Draft, cx: float, cy: float, r: float, kind: str, filament: bool = False, n_diodes: int = 0
) -> Leads:
    """A single-section tube of one of the GRIDS kinds."""
    envelope(d, cx, cy, r)
    leads = electrodes(d, cx, cy, r, kind, filament)
    if n_diodes:
        diodes(d, cx, cy, r, n_diodes, leads)
    return leads


def double(d: Draft, cx: float, cy: float, r: float, kinds: tuple[str, str]) -> tuple[Leads, Leads]:
    """Two sections in one glass; returns the leads of the left and the right one."""
    s = 0.72 * r
    envelope(d, cx, cy, r, s)
    left = electrodes(d, cx - s, cy, r * 0.98, kinds[0], False)
    right = electrodes(d, cx + s, cy, r * 0.98, kinds[1], False)
    return left, right


def rectifier(d: Draft, cx: float, cy: float, r: float, plates: int, cathode: str) -> Leads:
    """A rectifier: one or two plates, over a 'cathode', a 'filament' or cold ('gas')."""
    envelope(d, cx, cy, r)
    leads: Leads = {}
    spots = [0.0] if plates == 1 else [-0.42, 0.42]
    for i, at in enumerate(spots):
        x, y = cx + at * r, cy - 0.35 * r
        d.wire((x - 0.26 * r, y), (x + 0.26 * r, y), heavy=1.7)
        top = cy - _edge(r, at * r)
        d.wire((x, y), (x, top))
        leads[f"p{i + 1}"] = (x, top)
    base = cy + 0.35 * r
    if cathode == "filament":
        d.wire((cx - 0.3 * r, cy + 0.95 * r), (cx, base - 0.25 * r), (cx + 0.3 * r, cy + 0.95 * r))
        leads["f1"], leads["f2"] = (cx - 0.3 * r, cy + 0.95 * r), (cx + 0.3 * r, cy + 0.95 * r)
        leads["k"] = leads["f2"]
        return leads
    d.wire((cx - 0.45 * r, base), (cx + 0.45 * r, base), heavy=1.4)
    d.wire((cx + 0.45 * r, base), (cx + r * 0.936, base))
    leads["k"] = (cx + r * 0.936, base)
    if cathode == "gas":
        d.dot(cx - 0.55 * r, cy + 0.62 * r)
    else:
        heater(d, cx, cy, r)
    return leads
