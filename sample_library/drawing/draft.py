"""Drafting of circuit diagrams: wires and two-terminal parts in units, with a parts register."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from .sheet import Sheet


@dataclass
class Parts:
    """Counts reference designators and remembers each part for the parts list."""

    count: dict[str, int] = field(default_factory=dict)
    lines: list[tuple[str, str]] = field(default_factory=list)

    def add(self, prefix: str, description: str) -> str:
        """Take the next designator of that prefix and register the part."""
        self.count[prefix] = self.count.get(prefix, 0) + 1
        ref = f"{prefix}{self.count[prefix]}"
        self.lines.append((ref, description))
        return ref


class Draft:
    """Draws with the origin at (x_px, y_px), one unit being unit_px; y grows downward."""

    font = "drafting"

    def __init__(self, sheet: Sheet, x_px: float, y_px: float, unit_px: float, parts: Parts):
        self.sheet, self.parts = sheet, parts
        self.x_px, self.y_px, self.u = x_px, y_px, unit_px
        self.w = max(3, round(unit_px * 0.16))

    def px(self, x: float, y: float) -> tuple[float, float]:
        """Units to pixels."""
        return self.x_px + x * self.u, self.y_px + y * self.u

    def wire(self, *points: tuple[float, float], heavy: float = 1) -> None:
        """A line through the points."""
        self.sheet.pen.line(
            [self.px(*p) for p in points], fill=0, width=round(self.w * heavy), joint="curve"
        )

    def dashes(self, a: tuple[float, float], b: tuple[float, float], on: float = 0.8) -> None:
        """A dashed line from a to b."""
        length = math.dist(a, b)
        steps = max(1, int(length / (on * 1.8)))
        for i in range(steps):
            s, e = i / steps, (i + 0.58) / steps
            self.wire(
                (a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s),
                (a[0] + (b[0] - a[0]) * e, a[1] + (b[1] - a[1]) * e),
                heavy=0.8,
            )

    def dot(self, x: float, y: float) -> None:
        """A joined crossing."""
        cx, cy = self.px(x, y)
        r = self.u * 0.3
        self.sheet.pen.ellipse([cx - r, cy - r, cx + r, cy + r], fill=0)

    def arc(
        self, cx: float, cy: float, r: float, start: float, end: float, heavy: float = 1
    ) -> None:
        """Part of a circle; degrees clockwise from three o'clock."""
        x, y = self.px(cx, cy)
        r_px = r * self.u
        self.sheet.pen.arc(
            [x - r_px, y - r_px, x + r_px, y + r_px],
            start,
            end,
            fill=0,
            width=round(self.w * heavy),
        )

    def label(self, x: float, y: float, words: str, anchor: str = "lm", size: float = 1.5) -> None:
        """Lettering; size in units of height."""
        self.sheet.text(*self.px(x, y), words, self.font, round(size * self.u), anchor)

    def ground(self, x: float, y: float) -> None:
        """Chassis ground: a bar with slanting strokes."""
        self.wire((x - 0.9, y), (x + 0.9, y), heavy=1.2)
        for dx in (-0.8, -0.1, 0.6):
            self.wire((x + dx, y), (x + dx - 0.55, y + 0.8), heavy=0.8)

    def earth(self, x: float, y: float) -> None:
        """Common negative (not the chassis): three bars growing shorter."""
        for i, half in enumerate((0.95, 0.62, 0.28)):
            self.wire((x - half, y + i * 0.45), (x + half, y + i * 0.45), heavy=1.1)

    def names(self, x: float, y: float, ref: str, value: str, anchor: str = "l") -> None:
        """Designator above its value."""
        self.label(x, y - 0.72, ref, anchor + "m", 1.3)
        self.label(x, y + 0.78, value, anchor + "m", 1.3)

    def _zigzag(self, x: float, y: float, upright: bool) -> None:
        pts = (
            [(0.0, -1.75)]
            + [((-0.62 if i % 2 else 0.62), -1.45 + i * 0.58) for i in range(6)]
            + [(0.0, 1.75)]
        )
        self.wire(*[(x + a, y + b) if upright else (x + b, y + a) for a, b in pts])

    def res_v(
        self, x: float, y1: float, y2: float, value: str, watt: str = "1/2 W", side: str = "r"
    ) -> str:
        """A resistor between two heights; returns its designator."""
        ref = self.parts.add("R", f"{value}  {watt}  CARBON")
        mid = (y1 + y2) / 2
        self.wire((x, y1), (x, mid - 1.75))
        self.wire((x, mid + 1.75), (x, y2))
        self._zigzag(x, mid, True)
        self.names(
            x + (1.05 if side == "r" else -1.05), mid, ref, value, (side == "r" and "l") or "r"
        )
        return ref

    def res_h(
        self, x1: float, x2: float, y: float, value: str, watt: str = "1/2 W", below: bool = False
    ) -> str:
        """A resistor along a wire; returns its designator."""
        ref = self.parts.add(
            "R", f"{value}  {watt}  {'WIRE WOUND' if watt[0] != '1' else 'CARBON'}"
        )
        mid = (x1 + x2) / 2
        self.wire((x1, y), (mid - 1.75, y))
        self.wire((mid + 1.75, y), (x2, y))
        self._zigzag(mid, y, False)
        self.label(mid, y + (1.5 if below else -3.0), ref, "mm", 1.35)
        self.label(mid, y + (3.0 if below else -1.5), value, "mm", 1.35)
        return ref

    def cap_v(
        self,
        x: float,
        y1: float,
        y2: float,
        value: str,
        volts: str = "400 V",
        side: str = "r",
        ref: str = "",
        plus: bool = False,
    ) -> str:
        """A capacitor between two heights: straight plate above, bent plate below."""
        if not ref:
            paper = value.startswith(".") or plus
            kind = "ELECTROLYTIC" if plus else "PAPER" if paper else "MICA"
            unit = "MFD" if paper else "MMF"
            ref = self.parts.add("C", f"{value} {unit}  {volts if paper else '500 V'}  {kind}")
        mid = (y1 + y2) / 2
        self.wire((x, y1), (x, mid - 0.35))
        self.wire((x - 1.05, mid - 0.35), (x + 1.05, mid - 0.35), heavy=1.3)
        self.arc(x, mid + 2.05, 1.75, 235, 305, heavy=1.3)
        self.wire((x, mid + 0.32), (x, y2))
        if plus:
            self.label(x + (-0.95 if side == "r" else 0.95), mid - 1.25, "+", "mm", 1.5)
        self.names(
            x + (1.35 if side == "r" else -1.35), mid, ref, value, (side == "r" and "l") or "r"
        )
        return ref

    def cap_h(
        self, x1: float, x2: float, y: float, value: str, volts: str = "400 V", below: bool = False
    ) -> str:
        """A capacitor along a wire."""
        paper = value.startswith(".")
        ref = self.parts.add(
            "C",
            f"{value} {'MFD' if paper else 'MMF'}  "
            f"{volts if paper else '500 V'}  {'PAPER' if paper else 'MICA'}",
        )
        mid = (x1 + x2) / 2
        self.wire((x1, y), (mid - 0.35, y))
        self.wire((mid - 0.35, y - 1.05), (mid - 0.35, y + 1.05), heavy=1.3)
        self.arc(mid + 2.05, y, 1.75, 145, 215, heavy=1.3)
        self.wire((mid + 0.32, y), (x2, y))
        self.label(mid, y + (1.9 if below else -3.3), ref, "mm", 1.35)
        self.label(mid, y + (3.3 if below else -1.9), value, "mm", 1.35)
        return ref

    def tuning(self, x: float, y1: float, y2: float, name: str, side: str = "r") -> None:
        """One section of the tuning gang: a capacitor with an arrow through it."""
        mid = (y1 + y2) / 2
        self.cap_v(x, y1, y2, "", ref=" ", side=side)
        self.label(x + 1.6, mid + 1.5, name, "lm", 1.3)
        self.wire((x - 1.5, mid + 1.3), (x + 1.5, mid - 1.4))
        self.wire((x + 0.75, mid - 1.35), (x + 1.5, mid - 1.4), (x + 1.3, mid - 0.65))

    def coil_v(self, x: float, y1: float, y2: float, bumps: int = 5, side: str = "r") -> None:
        """A winding between two heights, its turns bulging to one side."""
        step = (y2 - y1) / bumps
        box = self.u * step / 2
        for i in range(bumps):
            cx, cy = self.px(x, y1 + step * (i + 0.5))
            turn = (270, 90) if side == "r" else (90, 270)
            self.sheet.pen.arc(
                [cx - box, cy - box, cx + box, cy + box], *turn, fill=0, width=self.w
            )

    def coil_h(self, x1: float, x2: float, y: float, bumps: int = 6) -> None:
        """A choke along a wire, its turns bulging upward."""
        step = (x2 - x1) / bumps
        r = self.u * step / 2
        for i in range(bumps):
            cx, cy = self.px(x1 + step * (i + 0.5), y)
            self.sheet.pen.arc([cx - r, cy - r, cx + r, cy + r], 180, 360, fill=0, width=self.w)

    def switch(self, x: float, y: float) -> None:
        """A single-throw switch, three units long, drawn open."""
        for at in (x, x + 3):
            self.arc(at, y, 0.3, 0, 360)
        self.wire((x + 0.25, y - 0.15), (x + 2.7, y - 1.3))

    def core(self, x: float, y1: float, y2: float) -> None:
        """Iron core: two upright lines."""
        self.wire((x - 0.25, y1), (x - 0.25, y2))
        self.wire((x + 0.25, y1), (x + 0.25, y2))

    def core_h(self, x1: float, x2: float, y: float) -> None:
        """Iron core lying above a choke: two level lines."""
        self.wire((x1, y - 0.2), (x2, y - 0.2))
        self.wire((x1, y + 0.3), (x2, y + 0.3))

    def box_dashed(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """A shield can."""
        for a, b in (
            ((x1, y1), (x2, y1)),
            ((x2, y1), (x2, y2)),
            ((x2, y2), (x1, y2)),
            ((x1, y2), (x1, y1)),
        ):
            self.dashes(a, b)

    def pot_v(self, x: float, y1: float, y2: float, value: str, name: str) -> str:
        """A control between two heights, its slider arrow on the right at mid height."""
        ref = self.parts.add("R", f"{value}  {name}")
        mid = (y1 + y2) / 2
        self.wire((x, y1), (x, mid - 1.75))
        self.wire((x, mid + 1.75), (x, y2))
        self._zigzag(x, mid, True)
        self.wire((x + 1.5, mid - 0.45), (x + 0.75, mid), (x + 1.5, mid + 0.45))
        self.wire((x + 0.75, mid), (x + 2.0, mid))
        self.names(x - 1.05, mid, ref, value, "r")
        return ref

    def speaker(self, x: float, y: float) -> None:
        """Loudspeaker with its terminals on the left, at y - 1 and y + 1."""
        self.wire((x, y - 1.6), (x + 1.2, y - 1.6), (x + 1.2, y + 1.6), (x, y + 1.6), (x, y - 1.6))
        self.wire((x + 1.2, y - 1.6), (x + 3.0, y - 3.2), (x + 3.0, y + 3.2), (x + 1.2, y + 1.6))
