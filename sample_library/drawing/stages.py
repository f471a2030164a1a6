"""Radio-frequency stages of a receiver, drawn left to right between common rails."""

from __future__ import annotations

from dataclasses import dataclass, field

from .draft import Draft, Parts
from .tubes import TUBES
from .valves import valve

AVC_Y, BPLUS_Y = 29.0, 32.0


@dataclass
class Chain:
    """Where the drawing has got to in a row, and the values this set uses."""

    d: Draft
    values: dict[str, str]
    common_negative: bool
    x: float = 0.0
    signal: tuple[float, float] = (0.0, 8.0)
    low: tuple[float, float] = (0.0, 15.0)
    avc: list[float] = field(default_factory=list)
    bplus: list[float] = field(default_factory=list)
    socket: int = 0
    gang: list[tuple[float, float]] = field(default_factory=list)

    @property
    def parts(self) -> Parts:
        """The register that parts go to."""
        return self.d.parts

    def gnd(self, x: float, y: float) -> None:
        """Common negative on AC/DC sets, chassis otherwise."""
        (self.d.earth if self.common_negative else self.d.ground)(x, y)

    def name(self, cx: float, top: float, tube: str, job: str) -> None:
        """Letter a tube left of its plate lead: designator, type, what it does."""
        self.socket += 1
        self.d.label(cx - 0.7, top - 2.5, f"V{self.socket}  {tube}", "rm", 1.75)
        self.d.label(cx - 0.7, top - 0.8, job, "rm", 1.25)

    def name_right(self, x: float, y: float, tube: str, job: str) -> None:
        """Letter a tube to its right, where wires crowd the other side."""
        self.socket += 1
        self.d.label(x, y, f"V{self.socket}  {tube}", "lm", 1.75)
        self.d.label(x, y + 1.7, job, "lm", 1.25)

    def to_bplus(self, x: float, y: float) -> None:
        """Drop a wire to the plate supply rail."""
        self.d.wire((x, y), (x, BPLUS_Y))
        self.d.dot(x, BPLUS_Y)
        self.bplus.append(x)

    def to_avc(self, x: float, y: float) -> None:
        """Drop a wire to the automatic volume control rail."""
        self.d.wire((x, y), (x, AVC_Y))
        self.d.dot(x, AVC_Y)
        self.avc.append(x)

    def rails(self, note: str = "B+") -> None:
        """Draw the rails under everything that reached them."""
        if self.avc:
            far = max(self.avc) if len(self.avc) > 1 else self.avc[0] + 6
            self.d.wire((min(self.avc), AVC_Y), (far, AVC_Y))
            self.d.label(min(self.avc) + 0.8, AVC_Y + 0.95, "A.V.C.", "lm", 1.2)
        if self.bplus:
            self.d.wire((min(self.bplus), BPLUS_Y), (self.x, BPLUS_Y))
            self.d.label(self.x + 0.4, BPLUS_Y, note, "lm", 1.6)
        for x, y in self.gang:
            self.d.dashes((x, y), (x, 27.2))
        if len(self.gang) > 1:
            self.d.dashes((self.gang[0][0], 27.2), (self.gang[-1][0], 27.2))


def front(c: Chain, kind: str, gang: str) -> None:
    """An aerial circuit ('loop' or 'aerial') or the coil after an R.F. stage ('rf')."""
    d, x = c.d, c.x
    ref = c.parts.add(
        "L", {"loop": "LOOP ANTENNA ASSEMBLY", "aerial": "ANTENNA COIL", "rf": "R.F. COIL"}[kind]
    )
    if kind == "loop":
        d.label(x + 1.0, 5.6, f"{ref} LOOP", "lm", 1.35)
        d.wire((x + 2.2, 8), (x + 2.2, 9))
        d.coil_v(x + 2.2, 9, 14, 5, "l")
        d.wire((x + 2.2, 14), (x + 2.2, 15))
        sec = x + 2.2
    else:
        sec = x + 4.6
        if kind == "aerial":
            d.wire((x + 2.2, 3.0), (x + 2.2, 9))
            for dx in (-1, 0, 1):
                d.wire((x + 2.2, 3.0), (x + 2.2 + dx, 1.2))
            d.label(x + 3.4, 2.2, "ANT.", "lm", 1.3)
            d.wire((x + 2.2, 14), (x + 2.2, 16))
            c.gnd(x + 2.2, 16)
        else:
            d.wire((x, c.signal[1]), (x + 2.2, c.signal[1]), (x + 2.2, 9))
            c.to_bplus(x + 2.2, 14)
        d.coil_v(x + 2.2, 9, 14, 5, "r")
        d.label(x + 3.2, 6.2, ref, "lm", 1.35)
        d.wire((sec, 8), (sec, 9))
        d.coil_v(sec, 9, 14, 5, "l")
        d.wire((sec, 14), (sec, 15))
    tune = sec + 4.0
    d.wire((sec, 8), (tune + 2.6, 8))
    d.dot(tune, 8)
    d.tuning(tune, 8, 15, gang)
    c.gnd(tune, 15)
    c.gang.append((tune + 1.2, 13.6))
    c.x, c.signal = tune + 2.6, (tune + 2.6, 8)
    d.wire((sec, 15), (sec, 21))
    if c.values.get("no avc"):
        c.gnd(sec, 21)
        return
    c.to_avc(sec, 21)
    d.dot(sec, 21)
    d.wire((sec, 21), (sec + 1.9, 21))
    d.cap_v(sec + 1.9, 21, 24.4, c.values["avc cap"], "200 V")
    c.gnd(sec + 1.9, 24.4)


def can(
    c: Chain, plate: tuple[float, float], screen: tuple[float, float] | None, title: str, last: bool
) -> None:
    """An I.F. transformer to the right of a plate; its secondary becomes the signal."""
    d = c.d
    ref = c.parts.add("T", title)
    x = (screen or plate)[0] + 3.4
    d.wire(plate, (plate[0], 3), (x + 1.6, 3), (x + 1.6, 6.4))
    d.box_dashed(x - 1.2, 4.2, x + 7.6, 14.4)
    d.label(x + 3.4, 0.4, ref, "rm", 1.5)
    d.label(x + 3.4, 1.9, title.split(" TRANS")[0], "rm", 1.15)
    d.wire((x + 1.6, 6.4), (x, 6.4), (x, 8.9))
    d.cap_v(x, 6.4, 12.2, "", ref=" ", side="l")
    d.coil_v(x + 1.6, 6.4, 12.2, 5, "r")
    d.wire((x, 12.2), (x + 1.6, 12.2), (x + 1.6, 16.5))
    d.coil_v(x + 4.6, 6.4, 12.2, 5, "l")
    d.cap_v(x + 6.2, 6.4, 12.2, "", ref=" ", side="r")
    d.wire((x + 4.6, 6.4), (x + 6.2, 6.4))
    d.wire((x + 4.6, 12.2), (x + 6.2, 12.2))
    d.wire((x + 4.6, 6.4), (x + 4.6, 5.4), (x + 9, 5.4))
    if screen:
        d.wire(screen, (screen[0] + 1.2, screen[1]), (screen[0] + 1.2, 16.5), (x + 1.6, 16.5))
        d.dot(x + 1.6, 16.5)
    c.to_bplus(x + 1.6, 16.5)
    c.low = (x + 4.6, 12.2)
    if not last:
        c.to_avc(x + 4.6, 12.2)
    c.x, c.signal = x + 9, (x + 9, 5.4)


def grid_in(c: Chain, leads: dict[str, tuple[float, float]], grid: str) -> None:
    """Join the signal to a grid lead with one bend."""
    gx, gy = leads[grid]
    sx, sy = c.signal
    c.d.wire((sx, sy), (sx + 0.8, sy), (sx + 0.8, gy), (gx, gy))


def cathode(c: Chain, leads: dict[str, tuple[float, float]], value: str, bypass: str = "") -> None:
    """Cathode straight to common, or through a bias resistor with its bypass."""
    d, (x, y) = c.d, leads["k"]
    if "f2" in leads and c.values.get("a.c. filament"):
        for at in (leads["f1"], leads["f2"]):
            d.wire(at, (at[0], 15.4))
            d.label(at[0], 16.3, "X", "mm", 1.4)
        return
    if "f2" in leads:
        d.wire((x, y), (x, 15.4))
        c.gnd(x, 15.4)
        fx, fy = leads["f2"]
        d.wire((fx, fy), (fx, 16.4), (fx + 1.2, 16.4))
        d.label(fx + 1.5, 16.4, c.values["filament"], "lm", 1.3)
        return
    if not value:
        d.wire((x, y), (x, 15.4))
        c.gnd(x, 15.4)
        return
    d.wire((x, y), (x, 16))
    d.res_v(x, 16, 22, value, side="l")
    c.gnd(x, 22)
    if bypass:
        d.dot(x, 16.4)
        d.wire((x, 16.4), (x + 2.8, 16.4))
        d.cap_v(x + 2.8, 16.4, 22, bypass, "200 V")
        c.gnd(x + 2.8, 22)


def amplifier(c: Chain, tube: str, job: str, title: str, last: bool) -> None:
    """An R.F. or I.F. pentode; title '' leaves the plate as the signal for an R.F. coil."""
    info = TUBES[tube]
    cx = c.x + 6.2
    kind = "tetrode" if info.kind == "tetrode" else "pentode"
    leads = valve(c.d, cx, 9, 4.2, kind, info.filament)
    c.name(cx, 4.2, tube, job)
    grid_in(c, leads, "g1")
    cathode(c, leads, c.values["if bias"], c.values["bypass"] if c.values["if bias"] else "")
    if title:
        can(c, leads["p"], leads["s"], title, last)
        return
    sx, sy = leads["s"]
    c.d.wire((sx, sy), (sx + 1.4, sy))
    c.to_bplus(sx + 1.4, sy)
    c.d.wire(leads["p"], (leads["p"][0], 3), (sx + 3.6, 3))
    c.x, c.signal = sx + 3.6, (sx + 3.6, 3)
