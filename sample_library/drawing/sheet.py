"""A blank page at 300 dpi, what can be set on it, and a record of what was printed."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from PIL import Image, ImageDraw

from .fonts import face

PAGE_W_PX, PAGE_H_PX = 2550, 3300
MARGIN_PX = 150


@dataclass
class Printed:
    """What a reader could find on a page; tubes are kept per set and socket, so once each."""

    kinds: list[str] = field(default_factory=list)
    models: list[str] = field(default_factory=list)
    chassis: list[str] = field(default_factory=list)
    sockets: dict[tuple[str, int], str] = field(default_factory=dict)
    sets: list[str] = field(default_factory=list)
    set_kinds: dict[str, list[str]] = field(default_factory=dict)

    def add(self, name: str, values: list[str]) -> None:
        """Add values to one of the lists, keeping order and leaving out repeats."""
        have = getattr(self, name)
        have.extend(v for v in values if v not in have)

    def kind(self, kind: str, set_id: str | None = None) -> None:
        """Record that the page carries that kind, and for which set."""
        self.add("kinds", [kind])
        if set_id:
            self.add("sets", [set_id])
            of_set = self.set_kinds.setdefault(set_id, [])
            if kind not in of_set:
                of_set.append(kind)

    def tubes(self, set_id: str, types: list[str]) -> None:
        """Record the tube types of a set, by socket, as printed on the page."""
        self.sockets.update({(set_id, i): t for i, t in enumerate(types)})

    def some_tubes(self, set_id: str, types: dict[int, str]) -> None:
        """Record only the named sockets of a set."""
        self.sockets.update({(set_id, i): t for i, t in types.items()})


class Sheet:
    """A white grey-scale page with text helpers; positions and sizes in pixels."""

    def __init__(self, seed: str, width_px: int = PAGE_W_PX, height_px: int = PAGE_H_PX):
        self.image = Image.new("L", (width_px, height_px), 255)
        self.pen = ImageDraw.Draw(self.image)
        self.rng = random.Random(seed)
        self.printed = Printed()
        self.page_label = ""
        self.lines: list[tuple[float, float, float, int, str]] = []
        self.left, self.right = MARGIN_PX, width_px - MARGIN_PX
        self.top, self.bottom = MARGIN_PX, height_px - MARGIN_PX

    def text(
        self,
        x: float,
        y: float,
        words: str,
        font: str,
        size_px: int,
        anchor: str = "la",
        ink: int = 0,
    ) -> float:
        """Set one line and return its width in pixels."""
        type_face = face(font, size_px)
        self.pen.text((x, y), words, fill=ink, font=type_face, anchor=anchor)
        width = type_face.getlength(words)
        left = x - width * {"l": 0.0, "m": 0.5, "r": 1.0}[anchor[0]]
        if words.strip(". "):
            self.lines.append(
                (left, y - (size_px / 2 if anchor[1] == "m" else 0), width, size_px, words)
            )
        return width

    def spaced(
        self,
        x: float,
        y: float,
        words: str,
        font: str,
        size_px: int,
        gap_px: float,
        anchor: str = "m",
    ) -> None:
        """Set letter-spaced capitals, centred (m) or from the left (l)."""
        type_face = face(font, size_px)
        width = sum(type_face.getlength(c) + gap_px for c in words) - gap_px
        at = x - width / 2 if anchor == "m" else x
        for letter in words:
            self.pen.text((at, y), letter, fill=0, font=type_face, anchor="la")
            at += type_face.getlength(letter) + gap_px

    def wrap(self, words: str, font: str, size_px: int, width_px: float) -> list[str]:
        """Break prose into lines no wider than width_px."""
        type_face, lines, line = face(font, size_px), [], ""
        for word in words.split():
            longer = f"{line} {word}".strip()
            if line and type_face.getlength(longer) > width_px:
                lines.append(line)
                line = word
            else:
                line = longer
        return [*lines, line] if line else lines

    def prose(
        self,
        x: float,
        y: float,
        words: str,
        font: str,
        size_px: int,
        width_px: float,
        lead: float = 1.28,
    ) -> float:
        """Set a justified paragraph with an indent; returns the y below it."""
        type_face = face(font, size_px)
        lines = self.wrap("\u2003" + words, font, size_px, width_px)
        for i, line in enumerate(lines):
            parts = line.split(" ")
            slack = width_px - type_face.getlength(line)
            self.lines.append((x, y, width_px, size_px, line.strip()))
            stretch = slack / (len(parts) - 1) if len(parts) > 1 and i < len(lines) - 1 else 0
            at = x
            for part in parts:
                self.pen.text((at, y), part, fill=0, font=type_face, anchor="la")
                at += type_face.getlength(part + " ") + stretch
            y += size_px * lead
        return y

    def rule(self, x0: float, y: float, x1: float, width_px: int = 3) -> None:
        """Draw a horizontal rule."""
        self.pen.line([(x0, y), (x1, y)], fill=0, width=width_px)

    def leader(self, x0: float, x1: float, y: float, font: str, size_px: int) -> None:
        """Fill from x0 to x1 with dots set on one grid, so that columns of dots line up."""
        step = size_px * 0.55
        at = (int(x0 / step) + 1) * step
        while at < x1 - step * 0.6:
            self.text(at, y, ".", font, size_px)
            at += step
