"""Power supplies: series string, transformer, batteries, vibrator, and both battery and line."""

from __future__ import annotations

from .stages import Chain
from .tubes import TUBES
from .valves import rectifier

# The order of heaters along a series string from the line to common negative.
STRING_ORDER = ("half", "output", "triode hexode", "pentode", "tapped cathode", "diode triode")


def plug(c: Chain, words: str) -> None:
    """Line plug and switch; leaves the hot side at (9, 8) and the other side at (3, 18)."""
    d = c.d
    d.arc(1.2, 9, 1.7, 0, 360)
    for y in (8.3, 9.7):
        d.wire((-1.6, y), (0.2, y), heavy=1.6)
    d.wire((2.7, 8), (4, 8))
    d.switch(4, 8)
    d.label(5.4, 5.4, "SWITCH", "mm", 1.2)
    d.wire((7.3, 8), (9, 8))
    d.wire((2.7, 10), (3.4, 10), (3.4, 18), (9, 18))
    d.label(-1.6, 21.4, words, "lm", 1.3)


def filter_rc(
    c: Chain, x: float, y: float, resistor: str, first: str, second: str, volts: str
) -> float:
    """Reservoir, series resistor and smoothing capacitor in one can; returns the B+ x."""
    d = c.d
    unit = c.parts.add("C", f"{first}-{second} MFD  {volts}  ELECTROLYTIC")
    d.dot(x, y)
    d.cap_v(x, y, 16.5, first, ref=unit + "A", plus=True)
    c.gnd(x, 16.5)
    d.res_h(x, x + 8, y, resistor, "2 W")
    d.dot(x + 8, y)
    d.cap_v(x + 8, y, 16.5, second, ref=unit + "B", plus=True)
    c.gnd(x + 8, 16.5)
    d.wire((x + 8, y), (x + 12, y))
    d.label(x + 12.3, y, "B+", "lm", 1.6)
    return x + 12


def half_wave(c: Chain, tube: str, values: dict[str, str]) -> None:
    """Half-wave rectifier straight from the line, with its filter."""
    d = c.d
    cx = 21.0
    leads = rectifier(d, cx, 9, 4.0, 1, "cathode")
    c.name(cx, 1.9, tube, "RECTIFIER")
    d.dot(9, 8)
    d.wire((9, 8), (9, 2.6), (cx, 2.6), leads["p1"])
    d.cap_v(9, 8, 18, ".05", "400 V")
    d.dot(9, 18)
    d.wire((9, 18), (9, 18.8))
    c.gnd(9, 18.8)
    kx, ky = leads["k"]
    d.wire((kx, ky), (kx + 3, ky))
    filter_rc(
        c, kx + 3, ky, values["filter"], values["first"], values["second"], values["filter volts"]
    )


def heater(c: Chain, x: float, y: float, socket: int, tube: str, volts: float) -> None:
    """One heater of a string, lettered with its tube."""
    d = c.d
    d.arc(x, y, 2.0, 0, 360)
    d.wire(
        (x - 2.0, y),
        (x - 1.1, y),
        (x - 0.9, y - 1.2),
        (x - 0.3, y + 1.2),
        (x + 0.3, y - 1.2),
        (x + 0.9, y + 1.2),
        (x + 1.1, y),
        (x + 2.0, y),
    )
    d.label(x, y - 3.0, f"V{socket}", "mm", 1.3)
    d.label(x, y + 3.1, f"{volts:g} V", "mm", 1.2)


def series_string(c: Chain, tubes: list[str], values: dict[str, str]) -> None:
    """AC/DC supply: half-wave rectifier, filter and the heaters in series."""
    d = c.d
    plug(c, values["line"])
    half_wave(c, tubes[-1], values)
    d.wire((9, 2.6), (9, -2.6), (48, -2.6), (48, 9))
    x = 51.0
    ohms = values.get("string resistor")
    if ohms:
        d.res_h(48, 55, 9, ohms, "10 W")
        x = 58.0
    else:
        d.wire((48, 9), (x - 2, 9))
    order = sorted(range(len(tubes)), key=lambda i: (STRING_ORDER.index(TUBES[tubes[i]].kind), -i))
    for n, i in enumerate(order):
        heater(c, x, 9, i + 1, tubes[i], TUBES[tubes[i]].heater_v)
        if n < len(order) - 1:
            d.wire((x + 2, 9), (x + 5.6, 9))
        x += 7.6
    end = x - 7.6
    d.wire((end + 2, 9), (end + 4, 9), (end + 4, 13))
    c.gnd(end + 4, 13)
    d.label(58, 16.6, f"HEATERS IN SERIES, {values['string amps']}", "lm", 1.3)
    d.label(58, 19.0, "COMMON NEGATIVE IS ONE SIDE OF THE LINE", "lm", 1.3)


def transformer(c: Chain, tube: str, tubes: list[str], values: dict[str, str]) -> None:
    """Power transformer, full-wave rectifier and a choke or field-coil filter."""
    d = c.d
    plug(c, values["line"])
    ref = c.parts.add("T", "POWER TRANSFORMER")
    d.wire((9, 8), (12, 8))
    d.wire((9, 18), (12, 18), (12, 14))
    d.coil_v(12, 8, 14, 6, "r")
    d.core(14.2, 2, 19)
    d.label(14.2, 0.4, ref, "mm", 1.5)
    d.coil_v(16.4, 2.4, 9.6, 6, "l")
    d.wire((16.4, 6), (19, 6), (19, 8))
    c.gnd(19, 8)
    info = TUBES[tube]
    cx = 28.0
    cold = {"full filament": "filament", "full cathode": "cathode", "gas": "gas"}[info.kind]
    leads = rectifier(d, cx, 7, 4.0, 2, cold)
    c.name_right(cx + 4.6, 2.4, tube, "RECTIFIER")
    d.wire((16.4, 2.4), (16.4, 1.6), (leads["p1"][0], 1.6), leads["p1"])
    d.wire((16.4, 9.6), (16.4, 10.6), (22.6, 10.6), (22.6, 0.4), (leads["p2"][0], 0.4), leads["p2"])
    if cold == "filament":
        d.coil_v(16.4, 11.6, 14, 3, "l")
        d.wire((16.4, 11.6), (leads["f1"][0], 11.6), leads["f1"])
        d.wire((16.4, 14), (leads["f2"][0], 14), leads["f2"])
        d.label(19.6, 12.8, "5 V", "lm", 1.2)
        d.dot(leads["f2"][0], 12.6)
        kx, ky = leads["f2"][0], 12.6
        d.wire((kx, ky), (34, ky), (34, 8.4), (44, 8.4))
    else:
        kx, ky = leads["k"]
        d.wire((kx, ky), (44, 8.4))
    d.coil_v(16.4, 15.6, 19.2, 4, "l")
    for y, name in ((15.6, "X"), (19.2, "X")):
        d.wire((16.4, y), (20, y))
        d.label(20.6, y, name, "lm", 1.4)
    volts = next(TUBES[t].heater_v for t in tubes if TUBES[t].heater_v in (6.3, 2.5))
    d.label(18, 17.4, f"{volts:g} V HEATERS", "lm", 1.2)
    _choke_filter(c, 44, 8.4, values)


def _choke_filter(c: Chain, x: float, y: float, values: dict[str, str]) -> None:
    d = c.d
    choke = c.parts.add("L", values["choke"])
    for at, value in ((x + 1, values["first"]), (x + 14, values["second"])):
        d.dot(at, y)
        d.cap_v(at, y, 16.5, value, values["filter volts"], plus=True)
        c.gnd(at, 16.5)
    d.wire((x, y), (x + 4.6, y))
    d.coil_h(x + 4.6, x + 11, y, 6)
    d.core_h(x + 4.6, x + 11, y - 1.7)
    d.wire((x + 11, y), (x + 18, y))
    d.label(x + 7.8, y - 3.2, choke, "mm", 1.4)
    d.label(x + 7.8, y - 4.9, values["choke"], "mm", 1.15)
    d.label(x + 18.4, y, "B+", "lm", 1.6)


def battery_cell(c: Chain, x: float, y: float, name: str, words: str) -> None:
    """A battery standing upright from (x, y) to (x, y + 4), plus at the top."""
    d = c.d
    d.wire((x, y), (x, y + 1.0))
    for i in range(3):
        d.wire((x - 1.5, y + 1 + i * 0.9), (x + 1.5, y + 1 + i * 0.9))
        d.wire((x - 0.7, y + 1.45 + i * 0.9), (x + 0.7, y + 1.45 + i * 0.9), heavy=1.8)
    d.wire((x, y + 3.25), (x, y + 4.4))
    d.label(x - 1.0, y - 0.2, "+", "rm", 1.5)
    d.label(x + 2.1, y + 1.5, name, "lm", 1.4)
    d.label(x + 2.1, y + 3.1, words, "lm", 1.3)


def batteries(
    c: Chain, tubes: list[str], values: dict[str, str], x: float = 4.0, fan_out: bool = True
) -> None:
    """A and B batteries with their switch; filaments in parallel."""
    d = c.d
    for at, name, words, rail in (
        (x, "A BATTERY", values["a volts"], "A+"),
        (x + 22, "B BATTERY", values["b volts"], "B+"),
    ):
        battery_cell(c, at, 10, name, words)
        d.wire((at, 10), (at, 6), (at + 3, 6))
        d.switch(at + 3, 6)
        d.wire((at + 6.3, 6), (at + 9, 6))
        d.label(at + 9.4, 6, rail, "lm", 1.6)
        d.wire((at, 14.4), (at, 16))
        c.gnd(at, 16)
    if not fan_out:
        return
    d.cap_v(x + 36, 6, 16, values["second"], values["filter volts"], plus=True)
    d.wire((x + 33.6, 6), (x + 36, 6))
    c.gnd(x + 36, 16)
    at = x + 50
    d.label(at - 4.4, 6, "A+", "rm", 1.5)
    d.wire((at - 4, 6), (at + 10 * (len(tubes) - 1), 6))
    for i in range(len(tubes)):
        px = at + 10 * i
        if i < len(tubes) - 1:
            d.dot(px, 6)
        d.wire((px, 6), (px, 8.4), (px - 0.9, 10.6), (px + 0.9, 10.6), (px, 12.8), (px, 14.4))
        d.label(px + 1.2, 10.6, f"V{i + 1}", "lm", 1.3)
        c.gnd(px, 14.4)
    d.label(at, 18.4, "FILAMENTS IN PARALLEL, 1.4 V", "lm", 1.3)


def battery_and_line(c: Chain, tubes: list[str], values: dict[str, str]) -> None:
    """Three-way portable: half-wave line supply, or batteries, by a change-over switch."""
    d = c.d
    plug(c, values["line"])
    half_wave(c, tubes[-1], values)
    d.label(20, 21.6, "V5 HEATER ACROSS THE LINE", "lm", 1.2)
    batteries(c, tubes[:-1], values, 47.0, False)
    at = 84.0
    d.label(at - 2.6, 2.2, "A+", "rm", 1.4)
    d.wire((at - 2.2, 2.2), (at, 2.2))
    for i in range(len(tubes) - 1):
        px = at + 6.4 * i
        d.wire(
            (px, 2.2),
            (px + 1.4, 2.2),
            (px + 2.2, 1.2),
            (px + 3.0, 3.2),
            (px + 3.8, 1.2),
            (px + 4.6, 2.2),
            (px + 6.4, 2.2),
        )
        d.label(px + 3, -0.4, f"V{len(tubes) - 1 - i}", "mm", 1.3)
    end = at + 6.4 * (len(tubes) - 1)
    d.wire((end, 2.2), (end, 5))
    c.gnd(end, 5)
    d.label(at - 1, 8.0, "FILAMENTS IN SERIES", "lm", 1.2)


def vibrator(c: Chain, tube: str, values: dict[str, str]) -> None:
    """Car radio supply: vibrator, transformer, rectifier and choke from the car battery."""
    d = c.d
    fuse = c.parts.add("F", "FUSE 14 AMP")
    vib = c.parts.add("VB", "VIBRATOR, NON-SYNCHRONOUS, 6 V")
    ref = c.parts.add("T", "VIBRATOR TRANSFORMER")
    hash_l = c.parts.add("L", "HASH CHOKE")
    d.label(-1.6, 3.2, "6 V FROM CAR", "lm", 1.3)
    d.wire((-1, 6), (1, 6), (1, 5.4), (4, 5.4), (4, 6.6), (1, 6.6), (1, 6))
    d.wire((1, 6), (6, 6))
    d.label(2.5, 8.0, fuse, "mm", 1.3)
    d.switch(6, 6)
    d.wire((9.3, 6), (11, 6))
    d.coil_h(11, 16, 6, 5)
    d.label(13.5, 3.8, hash_l, "mm", 1.3)
    d.wire((16, 6), (28, 6))
    d.dot(18, 6)
    d.cap_v(18, 6, 13, ".5", "100 V")
    c.gnd(18, 13)
    d.box_dashed(22, 10, 30, 19.4)
    d.label(31, 20.4, f"{vib} VIBRATOR", "lm", 1.3)
    d.wire((26, 20.6), (26, 14), heavy=1.5)
    for dx in (-1.6, 1.6):
        d.wire((26 + dx, 11.2), (26 + dx, 15), (26 + dx * 0.35, 15))
    c.gnd(26, 20.6)
    d.wire((28, 6), (33, 6))
    d.wire((24.4, 11.2), (24.4, 2.4), (33, 2.4))
    d.wire((27.6, 11.2), (27.6, 9.6), (33, 9.6))
    d.coil_v(33, 2.4, 9.6, 6, "r")
    d.core(35, 2, 10)
    d.label(35, 0.2, ref, "mm", 1.5)
    d.coil_v(37, 2.4, 9.6, 6, "l")
    d.wire((37, 6), (39.4, 6), (39.4, 8))
    c.gnd(39.4, 8)
    leads = rectifier(d, 49, 7, 4.0, 2, "gas")
    c.name_right(53.6, 2.4, tube, "RECTIFIER")
    d.wire((37, 2.4), (37, 1.6), (leads["p1"][0], 1.6), leads["p1"])
    d.wire((37, 9.6), (37, 12), (43.4, 12), (43.4, 0.4), (leads["p2"][0], 0.4), leads["p2"])
    d.dot(37, 12)
    d.wire((37, 12), (37, 13))
    d.cap_v(37, 13, 17, ".007", "1600 V")
    c.gnd(37, 17)
    d.wire(leads["k"], (64, leads["k"][1]))
    _choke_filter(c, 64, leads["k"][1], values)
