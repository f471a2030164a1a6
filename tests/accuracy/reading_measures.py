"""How right a reading of a press page is: tube types, codes, printed lines, order, way up."""

import re
from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from indexer.model import Box, Word
from indexer.trade.codes import normal
from indexer.trade.numbering import parse_line_up
from tests.accuracy.measures import Score, Share, edits
from tests.accuracy.press.paper import Page, Points, Printed
from tests.accuracy.reading_readers import Result

_NAMING = frozenset({"MODEL", "MODELS", "CHASSIS", "CH"})
_CODE = re.compile(r"[A-Z0-9][A-Z0-9./-]*")
_APART = re.compile(r"[.,:;()]")
HARD = ("photocopied twice", "bitonal 150")  # wears that are reported apart
_SAME_ROW, _SAME_PLACE = 0.4, 0.3  # shared height and width, of the smaller of two words


@dataclass
class Figures:
    """All that is measured, added up over pages. `missed` are (what, printed, read) to look at."""

    tubes: Score = field(default_factory=Score)
    distinct_tubes: Score = field(default_factory=Score)
    codes: Score = field(default_factory=Score)
    letters: Share = field(default_factory=Share)
    lines: Share = field(default_factory=Share)
    order: Share = field(default_factory=Share)
    seconds: Share = field(default_factory=Share)
    missed: list[tuple[str, str, str]] = field(default_factory=list)

    def __iadd__(self, other: "Figures") -> "Figures":
        for name in ("tubes", "distinct_tubes", "codes", "letters", "lines", "order", "seconds"):
            setattr(self, name, getattr(self, name).__iadd__(getattr(other, name)))
        self.missed += other.missed
        return self


def page_class(page: Page) -> str:
    """The row a page is reported in: its group, or a hard wear of its own."""
    return page.wear if page.wear in HARD else page.group


def tubes_read(result: Result) -> list[str]:
    """Every registered type that the reading's lines name, once a mention. Old types that are
    bare numbers are left out: on charts nobody can tell them from volts."""
    types = []
    for line in result.lines:
        text = " ".join(word.text for word in line)
        found = parse_line_up(text, bare_numbers=False)
        types += [token.type.removesuffix("Y") for token in found]
    return types


def measured(page: Page, result: Result) -> Figures:
    """One reading against the page's truth."""
    figures = Figures()
    printed, read = page.tubes, tubes_read(result)
    figures.tubes.add(printed, read)
    figures.distinct_tubes.add(set(printed), set(read))
    lost, extra = Counter(printed) - Counter(read), Counter(read) - Counter(printed)
    if lost or extra:
        figures.missed.append(("tubes", _listed(lost), _listed(extra)))
    places = [_box(result.placed(word.corners, page.picture.size)) for word in page.words]
    _codes(page, result, places, figures)
    if page.group == "text":
        _lines(page, result, places, figures)
    figures.seconds.add(result.seconds, 1)
    return figures


def _listed(types: Counter[str]) -> str:
    return " ".join(sorted(types.elements()))


def _codes(page: Page, result: Result, places: list[Box], figures: Figures) -> None:
    """Each printed code against what was read in its place; then codes read where none stands."""
    by_word = {id(word): place for word, place in zip(page.words, places, strict=True)}
    at = [(code, by_word[id(word)]) for code, word in page.code_words]
    for code, place in at:
        near = [w for w in result.words if _meet(place, w.box)]
        near.sort(key=lambda word: word.box.left)
        texts = [word.printed or word.text for word in near]
        parts = [part for text in texts for part in _APART.split(text)]  # Ch.7K5S holds 7K5S
        forms = {normal(text) for text in (*texts, *parts)}
        right = normal(code) in forms
        figures.codes += Score(int(right), 1, int(bool(near)))
        if not right:
            figures.missed.append(("code", code, " ".join(texts)))
    for word in _named_codes(result):
        if not any(_meet(place, word.box) for _, place in at):
            figures.codes += Score(0, 0, 1)
            figures.missed.append(("code", "", word.text))


def _named_codes(result: Result) -> list[Word]:
    """Words that a reading shows as codes: after MODEL or CHASSIS, and on after commas."""
    found = []
    for line in result.lines:
        open_ = False
        for word in line:
            text = (word.printed or word.text).upper()
            if text.strip(".:,") in _NAMING:
                open_ = True
                continue
            core = text.strip(".,;:")
            if open_ and _CODE.fullmatch(core) and any(c.isdigit() for c in core):
                found.append(word)
                open_ = text.endswith(",")
            else:
                open_ = False
    return found


def _lines(page: Page, result: Result, places: list[Box], figures: Figures) -> None:
    """Printed lines against the words read in their places, and whether they come in order."""
    truth: dict[int, list[Printed]] = {}
    for word in page.words:
        truth.setdefault(word.line, []).append(word)
    read: dict[int, list[tuple[int, Word]]] = {}
    sides = np.array([(b.left, b.top, b.right, b.bottom) for b in places])
    for n, word in enumerate(result.words):
        best = _best_place(word.box, sides)
        if best is not None:
            read.setdefault(page.words[best].line, []).append((n, word))
    before = -1.0
    for number, words in truth.items():
        printed = " ".join(word.text for word in words)
        found = read.get(number, [])
        text = " ".join(w.text for _, w in sorted(found, key=lambda item: item[1].box.left))
        figures.letters.add(edits(printed, text), len(printed))
        figures.lines.add(printed != text, 1)
        if found:
            middle = float(np.median([n for n, _ in found]))
            if before >= 0:
                figures.order.add(middle > before, 1)
            before = middle


def _best_place(box: Box, sides: Points) -> int | None:
    """The printed word that a read word covers most, None when it covers none."""
    width = np.minimum(sides[:, 2], box.right) - np.maximum(sides[:, 0], box.left)
    height = np.minimum(sides[:, 3], box.bottom) - np.maximum(sides[:, 1], box.top)
    shared = np.clip(width, 0, None) * np.clip(height, 0, None)
    best = int(shared.argmax())
    return best if shared[best] > 0.1 * max(1.0, box.width * box.height) else None


def _meet(one: Box, other: Box) -> bool:
    height = min(one.bottom, other.bottom) - max(one.top, other.top)
    width = min(one.right, other.right) - max(one.left, other.left)
    return height >= _SAME_ROW * min(one.height, other.height) and width >= _SAME_PLACE * min(
        one.width, other.width
    )


def _box(corners: Points) -> Box:
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    return Box(float(left), float(top), float(right), float(bottom))
