"""Where on a page a doubt is to be looked at: a part of it that a person can judge. Pure."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from indexer.model import PageReading, Word
from indexer.trade.codes import fold
from indexer.trade.numbering import registered


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a page in shares (0 to 1) of the upright page's width and height."""

    left: float
    top: float
    right: float
    bottom: float


WHOLE = Part(0.0, 0.0, 1.0, 1.0)
HEAD = Part(0.0, 0.0, 1.0, 0.3)
_LEAST_WIDTH, _LEAST_HEIGHT = 0.4, 0.12  # less shows a word without what stands around it
_EDGE = 0.02
_BANDS = 9  # heights at which a third of the page may begin


def around(boxes: Iterable[tuple[float, float, float, float]]) -> Part:
    """The part that holds all boxes (shares: left, top, right, bottom), with some room about."""
    kept = list(boxes)
    if not kept:
        return WHOLE
    left, right = _roomy(min(b[0] for b in kept), max(b[2] for b in kept), _LEAST_WIDTH)
    top, bottom = _roomy(min(b[1] for b in kept), max(b[3] for b in kept), _LEAST_HEIGHT)
    return Part(left, top, right, bottom)


def _roomy(low: float, high: float, least: float) -> tuple[float, float]:
    low, high = low - _EDGE, high + _EDGE
    if high - low < least:
        middle = (low + high) / 2
        low, high = middle - least / 2, middle + least / 2
        low, high = low - min(0.0, low), high - min(0.0, low)
        low, high = low - max(0.0, high - 1.0), high - max(0.0, high - 1.0)
    return round(max(0.0, low), 4), round(min(1.0, high), 4)


def of_codes(reading: PageReading, codes: Collection[str]) -> Part:
    """The part where words name one of the codes or types; the whole page when none does."""
    wanted = set(map(fold, codes))
    found = [w for w in reading.words if any(form in wanted for form in _forms(w.text))]
    return around(_share(word, reading) for word in found)


def faintest(reading: PageReading) -> Part:
    """The third of the page that was read with the least confidence."""
    height = max(1, reading.height_px)
    best, lowest = WHOLE, 2.0
    for n in range(_BANDS):
        top = n * (2 / 3) / (_BANDS - 1)
        inside = [w for w in reading.words if top <= w.box.middle[1] / height < top + 1 / 3]
        letters = sum(len(word.text) for word in inside)
        if letters:
            mean = sum(word.confidence * len(word.text) for word in inside) / letters
            if mean < lowest:
                best, lowest = Part(0.0, round(top, 4), 1.0, round(top + 1 / 3, 4)), mean
    return best


def _forms(text: str) -> set[str]:
    plain = text.strip(".,;:()[]|")
    return {fold(plain), fold(registered(plain))} if plain else set()


def _share(word: Word, reading: PageReading) -> tuple[float, float, float, float]:
    width, height = max(1, reading.width_px), max(1, reading.height_px)
    box = word.box
    return box.left / width, box.top / height, box.right / width, box.bottom / height
