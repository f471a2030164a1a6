"""Lettering on a drawing: set when all lines are drawn, each label where it stands clear."""

import re
from dataclasses import dataclass

from sample_library.drawing.sheet import Sheet
from tests.accuracy.press.faces import face
from tests.accuracy.press.paper import Paper
from tests.accuracy.press.sets import Set

STYLES = ("{v}  {t}", "{t}", "{v} {t}", "{t}  {v}", "{v}-{t}")
_TUBE_LABEL = re.compile(r"V(\d+)  (\S+)")
_NUDGES = tuple(
    sorted(
        ((dx * 0.35, dy * 0.35) for dx in range(-6, 7) for dy in range(-4, 5)),
        key=lambda move: move[0] ** 2 + 1.5 * move[1] ** 2,
    )
)  # in letter heights, the nearest first
_CLEAR = 0.02  # share of ink under a label that a stray wire or dot makes
_SIDEWAYS = 0.2  # share of the short values that stand sideways
_WIRE_ABOVE = 0.3  # share of the tube labels that a wire runs close over


@dataclass(frozen=True)
class _Label:
    x: float
    y: float
    words: str
    size_px: int
    anchor: str
    tube: bool = False


class LetteredSheet(Sheet):
    """A sheet whose lettering goes to a paper that remembers it, tube labels in a page's style."""

    def __init__(self, paper: Paper, font: str, one: Set, style: str) -> None:
        super().__init__("press", *paper.image.size)
        self.paper, self.face_path, self.one, self.style = paper, font, one, style
        self.image, self.pen = paper.image, paper.pen
        self.labels: list[_Label] = []

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
        """Keeps one label for later; a tube's is put into the page's own style."""
        del font, ink
        found = _TUBE_LABEL.fullmatch(words)
        if found:
            number = int(found[1])
            tube = self.one.tubes[number - 1] if number <= len(self.one.tubes) else found[2]
            words = self.style.format(v=f"V{number}", t=tube)
        self.labels.append(_Label(x, y, words, size_px, anchor, tube=bool(found)))
        return face(self.face_path, size_px).getlength(words)

    def letter(self) -> None:
        """Sets all labels, tubes first. A label that finds no clear place is left out, but a
        tube's is set smaller until it fits."""
        for label in sorted(self.labels, key=lambda label: not label.tube):
            if not label.tube and len(label.words) < 6 and re.match(r"[.\d]", label.words):
                way = 270 if self.paper.rng.random() < _SIDEWAYS else 0
                if way and put_clear(self.paper, label, self.face_path, way):
                    continue
            if put_clear(self.paper, label, self.face_path):
                continue
            for size_px in range(label.size_px - 2, 12, -2) if label.tube else ():
                smaller = _Label(label.x, label.y, label.words, size_px, label.anchor, tube=True)
                if put_clear(self.paper, smaller, self.face_path):
                    break
            else:
                if label.tube:
                    raise ValueError(f"no room for {label.words}; draw it wider")


def put_clear(paper: Paper, label: _Label, font: str, way: int = 0) -> bool:
    """Sets a label at the nearest place that no word and no line crosses; whether it found one."""
    length, size = face(font, label.size_px).getlength(label.words), label.size_px
    left = label.x - length * {"l": 0.0, "m": 0.5, "r": 1.0}[label.anchor[0]]
    top = label.y - size * {"a": 0.0, "m": 0.5, "s": 0.8}[label.anchor[1]]
    wide, high = (length, size) if way == 0 else (size, length)
    left, top = left + (length - wide) / 2, top + (size - high) / 2
    for dx, dy in _NUDGES:
        box = (left + dx * size, top + dy * size)
        place = (box[0] - 5, box[1] - 3, box[0] + wide + 5, box[1] + high + 3)
        if not paper.free(*place) or paper.ink(*place) > _CLEAR:
            continue
        if way:
            paper.put(box[0] + size / 2, box[1] + high, label.words, font, size, "lm", way=way)
            return True
        paper.put(box[0], box[1] + size / 2, label.words, font, size, "lm")
        if label.tube and paper.rng.random() < _WIRE_ABOVE:
            ends = (box[0] - 0.5 * size, box[0] + length + 2 * size)
            if paper.free(ends[0], place[1] - 12, ends[1], place[1] - 1):
                paper.rule(ends[0], place[1] - 4, ends[1], place[1] - 4, 3)
        return True
    return False


def put_label(
    paper: Paper, x: float, y: float, words: str, font: str, size_px: int, way: int = 0
) -> bool:
    """Sets a label about its middle where it stands clear; whether there was a place."""
    return put_clear(paper, _Label(x, y, words, size_px, "mm", tube=True), font, way)
