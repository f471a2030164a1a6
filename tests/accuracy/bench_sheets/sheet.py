"""One drawn work page with what a person would copy from it, and the pen that sets tables."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, field

from tests.accuracy.press.faces import Family, face
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.sets import Set

LEFT, RIGHT, BOTTOM = 170, 2380, 3120

Fact = tuple[object, ...]


@dataclass
class Sheet:
    """A page being drawn. Truth: `parts` (name, value), `points` (tube, pin, unit, nominal),
    `steps` (step, column, text); values in SI units, None where the line states none."""

    paper: Paper
    one: Set
    kind: Family
    style: int
    parts: list[Fact] = field(default_factory=list)
    points: list[Fact] = field(default_factory=list)
    steps: list[Fact] = field(default_factory=list)
    page: Page | None = None

    @property
    def rng(self) -> random.Random:
        return self.paper.rng


def masthead(sheet: Sheet) -> float:
    """Maker, model and chassis at the head; returns the height below them."""
    paper, one, kind = sheet.paper, sheet.one, sheet.kind
    paper.put(LEFT, 150, one.maker.upper(), kind.bold, 70)
    paper.put(RIGHT, 165, f"Model {one.models[0]}   Ch. {one.chassis}", kind.bold, 46, "ra")
    paper.rule(LEFT, 250, RIGHT, 250, 4)
    return 300.0


def title(sheet: Sheet, text: str, y: float, size: int) -> float:
    """A heading in the middle."""
    sheet.paper.put((LEFT + RIGHT) / 2, y, text, sheet.kind.bold, size + 8, "ma")
    return y + size * 2.1


def set_table(
    sheet: Sheet,
    rows: Sequence[Sequence[str]],
    y: float,
    size: int,
    *,
    left: float = LEFT,
    right: float = RIGHT,
    heads: int = 1,
    ruled: bool = False,
    centred: bool = False,
    pitch: float = 1.6,
) -> float:
    """Rows of cells in columns as wide as their widest cell; returns the height below."""
    paper, kind = sheet.paper, sheet.kind
    cells = [row for row in rows if len(row) > 1]
    widest = [
        max(face(kind.bold, size).getlength(row[n]) for row in cells) for n in range(len(cells[0]))
    ]
    room = right - left
    scale = min(1.0, (room - 26 * len(widest)) / sum(widest))
    size = int(size * scale)
    spare = (room - sum(widest) * scale) / len(widest)
    spare = spare if centred or ruled else min(spare, 3.2 * size)
    edges = [left]
    for width in widest:
        edges.append(edges[-1] + width * scale + spare)
    step, top = size * pitch, y
    for n, row in enumerate(rows):
        font = kind.bold if n < heads else kind.body
        if len(row) == 1:  # a heading within the table
            paper.put(left + 20, y + step / 2, row[0], kind.bold, size, "lm")
        for k, cell in enumerate(row if len(row) > 1 else ()):
            x = (edges[k] + edges[k + 1]) / 2 if centred else edges[k] + 12
            anchor = "mm" if centred else "lm"
            paper.put(x, y + step / 2, cell, font, size, anchor, same_line=k > 0)
        if ruled:
            paper.rule(left, y, edges[-1], y, 3)
        y += step
    if ruled:
        paper.rule(left, y, edges[-1], y, 3)
        for x in edges:
            paper.rule(x, top, x, y, 3)
    return y
