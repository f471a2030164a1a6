"""A blank page that remembers each word put on it: its text, its four corners and its line."""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageChops, ImageDraw

from tests.accuracy.press.faces import face
from tests.accuracy.press.sets import type_of

Points = NDArray[np.float64]


@dataclass(frozen=True)
class Printed:
    """One word as printed: corners clockwise from its own top left, in pixels of the picture.

    `line` numbers the printed line; `way` is how the word reads: 0 upright, 90 or 270 clockwise.
    """

    text: str
    corners: Points
    line: int
    way: int = 0


@dataclass(frozen=True)
class Page:
    """A page picture with its truth. `turned_deg` is the clockwise turn that makes it upright.

    `group` is "text", "schematic" or "photo"; `codes` are the model and chassis codes printed as
    such; `listed` those that only a list of sets prints.
    """

    picture: Image.Image
    words: tuple[Printed, ...]
    group: str
    layout: str
    codes: frozenset[str]
    listed: frozenset[str] = frozenset()
    wear: str = "none"
    turned_deg: int = 0
    dpi: int = 300

    def moved(self, picture: Image.Image, by: Callable[[Points], Points]) -> "Page":
        """The same page as another picture, each word's corners moved along."""
        words = tuple(replace(word, corners=by(word.corners)) for word in self.words)
        return replace(self, picture=picture, words=words)

    @property
    def tubes(self) -> list[str]:
        """Every tube type printed, sideways ones too, as often as it is printed."""
        return [kind for word in self.words if (kind := type_of(word.text))]

    @property
    def code_words(self) -> list[tuple[str, Printed]]:
        """Every model and chassis code printed as such, with the word that prints it."""
        all_codes = self.codes | self.listed
        stripped = ((word.text.strip(",;"), word) for word in self.words)
        return [(code, word) for code, word in stripped if code in all_codes]

    @property
    def lines(self) -> list[str]:
        """The printed lines of upright words, as text."""
        lines: dict[int, list[str]] = {}
        for word in self.words:
            if word.way == 0:
                lines.setdefault(word.line, []).append(word.text)
        return [" ".join(words) for words in lines.values()]


class Paper:
    """A white page of grey tones with a pen; positions and sizes in pixels."""

    def __init__(self, seed: str, width_px: int = 2550, height_px: int = 3300) -> None:
        self.image = Image.new("L", (width_px, height_px), 255)
        self.pen = ImageDraw.Draw(self.image)
        self.rng = random.Random(seed)
        self.words: list[Printed] = []
        self.codes: set[str] = set()
        self.listed: set[str] = set()
        self.line = 0

    def put(
        self,
        x: float,
        y: float,
        text: str,
        font: str,
        size_px: int,
        anchor: str = "la",
        *,
        same_line: bool = False,
        way: int = 0,
        ink: int = 0,
    ) -> float:
        """Sets one piece of text and returns its length in pixels. `same_line` continues the
        line begun by the piece before; `way` 90 or 270 sets it sideways about its left end."""
        if not text.strip():
            return 0.0
        if not same_line:
            self.line += 1
        type_face = face(font, size_px)
        length = type_face.getlength(text)
        left = -length * {"l": 0.0, "m": 0.5, "r": 1.0}[anchor[0]]
        if way == 0:
            self.pen.text((x, y), text, fill=ink, font=type_face, anchor=anchor)
        else:
            self._sideways(x, y, text, font, size_px, anchor, way, left, ink)
        at = 0
        for part in text.split():
            at = text.index(part, at)
            box = _inked(part, font, size_px, "l" + anchor[1])
            start = left + type_face.getlength(text[:at])
            corners = np.array(
                [(start + box[i], box[j]) for i, j in ((0, 1), (2, 1), (2, 3), (0, 3))]
            )
            corners = np.add(_turned(corners, way), (x, y))
            self.words.append(Printed(part, corners, self.line, way))
            at += len(part)
        return length

    def _sideways(
        self,
        x: float,
        y: float,
        text: str,
        font: str,
        size_px: int,
        anchor: str,
        way: int,
        left: float,
        ink: int,
    ) -> None:
        type_face = face(font, size_px)
        reach = int(type_face.getlength(text)) + 2 * size_px
        patch = Image.new("L", (2 * reach, 2 * reach), 255)
        place = (reach + left, reach)
        ImageDraw.Draw(patch).text(place, text, fill=ink, font=type_face, anchor="l" + anchor[1])
        turn = Image.Transpose.ROTATE_270 if way == 90 else Image.Transpose.ROTATE_90
        patch = patch.transpose(turn)
        corner = (round(x) - reach, round(y) - reach)
        below = self.image.crop((*corner, corner[0] + 2 * reach, corner[1] + 2 * reach))
        self.image.paste(ImageChops.darker(below, patch), corner)

    def free(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Whether no word stands in a place yet."""
        for word in self.words:
            (x0, y0), (x1, y1) = word.corners.min(axis=0), word.corners.max(axis=0)
            if x0 < right and x1 > left and y0 < bottom and y1 > top:
                return False
        return True

    def ink(self, left: float, top: float, right: float, bottom: float) -> float:
        """The share (0 to 1) of a place that is inked; 1 beyond the paper's edge."""
        width, height = self.image.size
        if left < 0 or top < 0 or right > width or bottom > height:
            return 1.0
        place = (
            int(left),
            int(top),
            max(int(left) + 1, int(right)),
            max(int(top) + 1, int(bottom)),
        )
        return 1 - float(np.asarray(self.image.crop(place)).mean()) / 255

    def rule(self, x0: float, y0: float, x1: float, y1: float, width_px: int = 3) -> None:
        """A straight line."""
        self.pen.line([(x0, y0), (x1, y1)], fill=0, width=width_px)

    def page(self, group: str, layout: str) -> Page:
        """The page as printed, not worn yet."""
        return Page(
            self.image, tuple(self.words), group, layout,
            frozenset(self.codes), frozenset(self.listed),
        )  # fmt: skip


@lru_cache(maxsize=4096)
def _inked(part: str, font: str, size_px: int, anchor: str) -> tuple[float, ...]:
    """Left, top, right and bottom of a word's ink, seen from its anchor."""
    mask, offset = face(font, size_px).getmask2(part, anchor=anchor)
    left, top, right, bottom = mask.getbbox() or (0, 0, *mask.size)
    return left + offset[0], top + offset[1], right + offset[0], bottom + offset[1]


def _turned(corners: Points, way: int) -> Points:
    if way == 90:
        return np.stack([-corners[:, 1], corners[:, 0]], axis=1)
    if way == 270:
        return np.stack([corners[:, 1], -corners[:, 0]], axis=1)
    return corners
