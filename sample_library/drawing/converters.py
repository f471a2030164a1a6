"""Converter stages and their oscillators."""

from __future__ import annotations

from .stages import Chain, can, cathode, grid_in
from .tubes import TUBES
from .valves import double, valve


def converter(c: Chain, tube: str, gang: str, title: str) -> None:
    """Converter with its oscillator coil: tapped cathode, anode grid, or separate triode."""
    d, info = c.d, TUBES[tube]
    cx = c.x + 10.0
    if info.kind == "triode hexode":
        cx += 3.4
        left, leads = double(d, cx, 9, 4.6, ("oscillator", "hexode"))
        edge = cx - 3.3 - 4.4
        d.wire(leads["g3"], (edge, leads["g3"][1]))
        d.wire(leads["g1"], (cx - 1.4, leads["g1"][1]))
        leads["g3"] = (edge, leads["g3"][1])
        leads = {**leads, "g1": left["g1"], "ga": left["p"], "k": left["k"]}
        c.name(cx - 1.0, 3.4, tube, "CONVERTER")
        osc_x = cx - 5.0
    else:
        kind = "octode" if info.kind == "anode grid" else "pentagrid"
        leads = valve(d, cx, 9, 4.8, kind, info.filament)
        c.name(cx, 3.6, tube, "CONVERTER")
        osc_x = cx - 2.0
    grid_in(c, leads, "g3")
    oscillator(c, leads, info.kind, osc_x, gang)
    can(c, leads["p"], leads["s"], title, False)


def oscillator(
    c: Chain, leads: dict[str, tuple[float, float]], kind: str, coil_x: float, gang: str
) -> None:
    """The oscillator coil under a converter, with grid leak, grid capacitor and tuning."""
    d = c.d
    gx, gy = leads["g1"]
    node = gx - 0.9
    d.wire((gx, gy), (node, gy), (node, 18))
    d.res_v(node, 18, 23.5, c.values["osc leak"], side="l")
    c.gnd(node, 23.5)
    d.dot(node, 18)
    d.cap_h(node, coil_x, 18, c.values["osc cap"], below=True)
    ref = c.parts.add("L", "OSCILLATOR COIL")
    d.wire((coil_x, 18), (coil_x, 19))
    d.coil_v(coil_x, 19, 24.5, 5, "r")
    d.wire((coil_x, 24.5), (coil_x, 25.2))
    c.gnd(coil_x, 25.2)
    d.label(coil_x - 0.9, 24.0, ref, "rm", 1.2)
    tune = coil_x + 7.0
    d.wire((coil_x, 18), (tune, 18), (tune, 19))
    d.tuning(tune, 19, 24.5, gang)
    c.gnd(tune, 24.5)
    c.gang.append((tune - 0.2, 26.0))
    kx, ky = leads["k"]
    if kind == "tapped cathode":
        d.wire(
            (kx, ky), (kx, 16.2), (coil_x + 2.4, 16.2), (coil_x + 2.4, 22.3), (coil_x + 0.6, 22.3)
        )
        return
    if "f2" in leads:
        cathode(c, leads, "")
    else:
        d.wire((kx, ky), (kx, 15))
        c.gnd(kx, 15)
    tick = coil_x + 2.6
    ax, ay = leads["ga"]
    if kind == "triode hexode":
        d.wire((ax, ay), (ax, 3.6), (gx - 2.2, 3.6), (gx - 2.2, 16.8), (tick, 16.8), (tick, 19))
    else:
        d.wire((ax, ay), (ax + 0.9, ay), (ax + 0.9, 16.8), (tick, 16.8), (tick, 19))
    d.coil_v(tick, 19, 24.5, 5, "l")
    d.wire((tick, 24.5), (tick, 26))
    c.to_bplus(tick, 26)
