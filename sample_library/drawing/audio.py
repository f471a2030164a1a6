"""Detector, audio and output stages."""

from __future__ import annotations

from .stages import Chain, cathode, grid_in
from .tubes import TUBES
from .valves import double, electrodes, envelope, valve


def _volume_and_grid(c: Chain, x: float, leads: dict[str, tuple[float, float]]) -> None:
    """Volume control at x + 10, its slider through a capacitor to the grid on the right."""
    d = c.d
    d.pot_v(x + 10, 18.5, 25, c.values["volume"], "VOLUME CONTROL WITH SWITCH")
    c.gnd(x + 10, 25)
    d.cap_h(x + 12, x + 16, 21.75, c.values["to grid"], "200 V")
    gx, gy = leads["g1"]
    d.wire((gx, gy), (x + 16, gy), (x + 16, 21.75))
    d.dot(x + 16, 21.75)
    d.res_v(x + 16, 21.75, 27.6, c.values["grid leak"])
    c.gnd(x + 16, 27.6)


def _plate_load(c: Chain, x: float, plate: tuple[float, float]) -> None:
    d = c.d
    d.wire(plate, (plate[0], 3), (x, 3))
    d.dot(x, 3)
    d.res_v(x, 3, 11.5, c.values["load"])
    c.to_bplus(x, 11.5)
    d.cap_h(x, x + 4.6, 3, c.values["coupling"])
    c.x, c.signal = x + 5, (x + 5, 3)
    d.wire((x + 4.6, 3), (x + 5, 3))


def detector(c: Chain, tube: str) -> None:
    """Second detector, A.V.C. and first audio in one tube, fed by the last I.F. can."""
    d, info, x = c.d, TUBES[tube], c.x
    cx = x + 9
    lx, ly = c.low
    d.wire((lx, ly), (lx, 18.5))
    d.dot(lx, 18.5)
    d.cap_v(lx, 18.5, 24, c.values["i.f. bypass"])
    c.gnd(lx, 24)
    d.res_h(lx, x + 4, 18.5, c.values["i.f. filter"])
    d.wire((x + 4, 18.5), (x + 10, 18.5))
    d.dot(x + 4, 18.5)
    d.res_v(x + 4, 20, 28.2, c.values["a.v.c."], side="l")
    d.wire((x + 4, 18.5), (x + 4, 20))
    c.to_avc(x + 4, 28.2)
    n = 1 if tube in ("1H5", "1U5") else 2
    if info.kind == "diode pentode":
        leads = valve(d, cx, 9, 4.2, "pentode", info.filament, n)
        gx, gy = leads["g1"]
        leads["g1"] = (cx + 5.4, 14.0)
        d.wire((gx, gy), (gx - 0.7, gy), (gx - 0.7, 14.0), leads["g1"])
        sx, sy = leads["s"]
        d.wire((sx, sy), (sx + 8.4, sy))
        d.res_v(sx + 8.4, sy, 16.0, "4.7 MEG", side="l")
        c.to_bplus(sx + 8.4, 16.0)
    else:
        leads = valve(d, cx, 9, 4.2, "triode right", info.filament, n)
    c.name(cx, 4.2, tube, "DET. 1ST AUDIO")
    sx, sy = c.signal
    d.wire((sx, sy), (sx + 0.8, sy), (sx + 0.8, leads["d1"][1]), leads["d1"])
    if n == 2:
        d.wire(
            leads["d2"],
            (leads["d2"][0] - 0.9, leads["d2"][1]),
            (leads["d2"][0] - 0.9, leads["d1"][1]),
        )
    cathode(c, leads, "")
    _volume_and_grid(c, x, leads)
    _plate_load(c, x + 22.5, leads["p"])


def audio(c: Chain, tube: str) -> None:
    """First audio triode after a separate detector; the signal comes in at the control."""
    d, x = c.d, c.x
    cx = x + 9
    leads = valve(d, cx, 9, 4.2, "triode right")
    c.name(cx, 4.2, tube, "1ST AUDIO")
    sx, sy = c.signal
    d.wire((sx, sy), (sx + 1.4, sy), (sx + 1.4, 18.5), (x + 10, 18.5))
    cathode(c, leads, "")
    _volume_and_grid(c, x, leads)
    _plate_load(c, x + 22.5, leads["p"])


def ratio_detector(c: Chain, tube: str) -> None:
    """Ratio detector with a double diode."""
    d, x = c.d, c.x
    cx = x + 10.5
    left, right = double(d, cx, 9, 3.4, ("diode", "diode"))
    c.name(cx - 2.2, 2.6, tube, "RATIO DET.")
    sx, sy = c.signal
    d.wire((sx, sy), (sx + 0.6, sy), (sx + 0.6, 3), (left["p"][0], 3), left["p"])
    kx, ky = left["k"]
    d.wire((kx, ky), (kx, 17.5))
    d.res_v(kx, 17.5, 23.5, "6,800", side="l")
    c.gnd(kx, 23.5)
    lx, ly = c.low
    d.wire((lx, ly), (lx, 16), (right["k"][0], 16), right["k"])
    px, py = right["p"]
    d.wire((px, py), (px, 3), (cx + 7.6, 3), (cx + 7.6, 17.5))
    d.cap_v(cx + 7.6, 17.5, 23.5, "5", "50 V", plus=True)
    c.gnd(cx + 7.6, 23.5)
    d.wire((lx, 16), (lx, 25.6))
    d.res_h(lx, cx + 1, 25.6, "39K", below=True)
    d.wire((cx + 1, 25.6), (cx + 11.6, 25.6), (cx + 11.6, 18.5))
    c.x, c.signal = cx + 11.6, (cx + 11.6, 18.5)


def plate_detector(c: Chain, tube: str) -> None:
    """Screen-grid plate detector of a tuned-radio-frequency set."""
    d, x = c.d, c.x
    cx = x + 7.5
    leads = valve(d, cx, 9, 4.2, "tetrode")
    c.name(cx, 4.2, tube, "DETECTOR")
    grid_in(c, leads, "g1")
    cathode(c, leads, "20M", ".5")
    sx, sy = leads["s"]
    d.wire((sx, sy), (sx + 3.4, sy))
    d.res_v(sx + 3.4, sy, 17, "1 MEG")
    c.to_bplus(sx + 3.4, 17)
    _plate_load(c, x + 21, leads["p"])


def _output_coil(c: Chain, x: float, plate: tuple[float, float]) -> None:
    d = c.d
    ref = c.parts.add("T", "OUTPUT TRANSFORMER")
    speaker = c.parts.add("LS", c.values["speaker"])
    d.wire(plate, (plate[0], 3), (x, 3), (x, 5))
    d.coil_v(x, 5, 12, 6, "r")
    c.to_bplus(x, 12)
    d.core(x + 1.6, 5, 12)
    d.coil_v(x + 3.2, 5.6, 11.4, 5, "l")
    d.wire((x + 3.2, 5.6), (x + 5.2, 5.6), (x + 5.2, 7.6), (x + 6.2, 7.6))
    d.wire((x + 3.2, 11.4), (x + 5.2, 11.4), (x + 5.2, 9.4), (x + 6.2, 9.4))
    d.speaker(x + 6.2, 8.5)
    d.label(x + 1.6, 1.6, ref, "mm", 1.5)
    d.label(x + 7.4, 4.0, speaker, "mm", 1.4)
    c.x = x + 9.5


def output(c: Chain, tube: str) -> None:
    """A single output tube with its transformer and speaker."""
    d, x = c.d, c.x
    cx = x + 7.5
    leads = valve(d, cx, 9, 4.2, "pentode", TUBES[tube].filament)
    c.name(cx, 4.2, tube, "OUTPUT")
    grid_in(c, leads, "g1")
    gy = leads["g1"][1]
    d.dot(x + 0.8, gy)
    d.res_v(x + 0.8, gy, 18.6, c.values["output grid"], side="l")
    c.gnd(x + 0.8, 18.6)
    cathode(c, leads, c.values["output bias"], "")
    sx, sy = leads["s"]
    d.wire((sx, sy), (sx + 1.4, sy))
    c.to_bplus(sx + 1.4, sy)
    _output_coil(c, x + 16, leads["p"])


def push_pull(c: Chain, inverter: str, tubes: list[str]) -> None:
    """Double triode as phase inverter, then two output tubes one above the other."""
    d, x = c.d, c.x
    cx = x + 12
    left, right = double(d, cx, 9, 4.0, ("triode", "triode right"))
    c.name(cx - 2.9, 4.6, inverter, "INVERTER")
    grid_in(c, left, "g1")
    for at, value, way in ((left, "1,500", "l"), (right, "1,500", "r")):
        kx, ky = at["k"]
        d.wire((kx, ky), (kx, 14))
        d.res_v(kx, 14, 20, value, side=way)
        c.gnd(kx, 20)
    out_x = x + 47
    upper = valve(d, out_x, 7, 3.8, "pentode")
    c.name(out_x, 3.4, tubes[0], "OUTPUT")
    lower = valve(d, out_x, 21, 3.8, "pentode")
    c.name(out_x - 4.8, 17.6, tubes[1], "OUTPUT")
    low_g = lower["g1"][1]
    d.wire(left["p"], (left["p"][0], 2), (x + 26, 2))
    d.dot(x + 22.6, 2)
    d.res_v(x + 22.6, 2, 9.4, "100K")
    c.to_bplus(x + 22.6, 9.4)
    d.wire(right["p"], (right["p"][0], 3.4), (x + 20.4, 3.4), (x + 20.4, low_g), (x + 24.6, low_g))
    d.dot(x + 24.6, low_g)
    d.res_v(x + 24.6, low_g, 29, "100K")
    c.to_bplus(x + 24.6, 29)
    d.cap_h(x + 26, x + 30, 2, ".05")
    up_g = upper["g1"][1]
    d.wire((x + 30, 2), (x + 30, up_g), upper["g1"])
    d.dot(x + 30, up_g)
    d.res_v(x + 30, up_g, 13.2, "470K", side="l")
    d.dot(x + 30, 13.2)
    d.wire(right["g1"], (x + 21.6, right["g1"][1]), (x + 21.6, 13.2), (x + 30, 13.2))
    d.res_v(x + 30, 13.2, 19, "18K", side="l")
    c.gnd(x + 30, 19)
    d.cap_h(x + 24.6, x + 27.8, low_g, ".05")
    d.wire((x + 27.8, low_g), (x + 30, low_g))
    d.wire((x + 30, low_g), lower["g1"])
    d.dot(x + 30, low_g)
    d.res_v(x + 30, low_g, 28.4, "470K", side="r")
    c.gnd(x + 30, 28.4)
    for leads in (upper, lower):
        sx, sy = leads["s"]
        d.wire((sx, sy), (out_x + 5.4, sy))
    d.wire((out_x + 5.4, upper["s"][1]), (out_x + 5.4, lower["s"][1]))
    c.to_bplus(out_x + 5.4, lower["s"][1])
    for leads, y in ((upper, 11.4), (lower, 25.4)):
        kx, ky = leads["k"]
        d.wire((kx, ky), (kx, y + 0.6))
    kx = upper["k"][0]
    d.wire((kx, 12), (kx - 3.4, 12), (kx - 3.4, 26), (kx, 26))
    d.dot(kx, 26)
    d.res_v(kx, 26, 31, "270", "2 W")
    c.gnd(kx, 31)
    ref = c.parts.add("T", "OUTPUT TRANSFORMER, PUSH-PULL")
    speaker = c.parts.add("LS", c.values["speaker"])
    tx = out_x + 9
    d.wire(upper["p"], (out_x, 2.4), (tx, 2.4), (tx, 7))
    d.wire(
        lower["p"], (out_x, 16.2), (out_x + 6.4, 16.2), (out_x + 6.4, 18.6), (tx, 18.6), (tx, 17)
    )
    d.coil_v(tx, 7, 17, 8, "r")
    d.wire((tx, 12), (tx - 1.6, 12))
    c.to_bplus(tx - 1.6, 12)
    d.core(tx + 1.6, 7, 17)
    d.coil_v(tx + 3.2, 8, 16, 6, "l")
    d.wire((tx + 3.2, 8), (tx + 5.2, 8), (tx + 5.2, 11), (tx + 6.2, 11))
    d.wire((tx + 3.2, 16), (tx + 5.2, 16), (tx + 5.2, 13), (tx + 6.2, 13))
    d.speaker(tx + 6.2, 12)
    d.label(tx + 1.6, 4.8, ref, "mm", 1.5)
    d.label(tx + 7.4, 7.0, speaker, "mm", 1.4)
    c.x = tx + 9.5


def eye(c: Chain, tube: str) -> None:
    """Tuning indicator: a triode and a target in one glass, fed from the A.V.C. rail."""
    d, x, cy = c.d, c.x, 16.0
    cx = x + 9
    envelope(d, cx, cy, 4.2)
    leads = electrodes(d, cx, cy + 0.6, 3.5, "triode", False, 4.2)
    d.wire((cx - 2.8, cy - 2.6), (cx - 1.2, cy - 3.4))
    d.wire((cx + 1.2, cy - 3.4), (cx + 2.8, cy - 2.6), (cx + 3.4, cy - 2.4))
    c.name(cx - 0.4, cy - 4.8, tube, "TUNING EYE")
    gx, gy = leads["g1"]
    d.wire((gx, gy), (x + 2.4, gy))
    c.to_avc(x + 2.4, gy)
    kx, ky = leads["k"]
    d.wire((kx, ky), (kx, cy + 6))
    c.gnd(kx, cy + 6)
    d.wire(leads["p"], (cx, cy - 5.4), (cx + 7, cy - 5.4))
    d.res_v(cx + 7, cy - 5.4, cy + 2.6, "1 MEG")
    c.to_bplus(cx + 7, cy + 2.6)
    d.wire((cx + 3.4, cy - 2.4), (cx + 5, cy - 2.4))
    c.to_bplus(cx + 5, cy - 2.4)
    c.x = cx + 13
