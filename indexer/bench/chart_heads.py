"""The head row of a voltage or resistance chart: which pin or electrode each column is for."""

import re
from collections.abc import Sequence
from itertools import pairwise
from statistics import mode

from indexer.cataloguing.region import Line
from indexer.model import Word

Column = tuple[str, float, float]
"""Name ("pin 5", "plate"), left and right in pixels."""

_LEAST = 3  # columns that make a head
_LEAST_BARE = 4  # the same where the head prints bare figures
_MOST_PINS = 9
_ELECTRODES = {
    "PLATE": "plate", "ANODE": "plate", "PL": "plate", "SCREEN": "screen", "SCR": "screen",
    "SG": "screen", "GRID": "grid", "CG": "grid", "CATHODE": "cathode", "CATH": "cathode",
    "HEATER": "heater", "HTR": "heater", "FILAMENT": "filament", "FIL": "filament",
    "SUPPRESSOR": "suppressor", "SUPP": "suppressor", "TARGET": "target",
    "BIAS": "bias", "VA": "plate", "VG2": "screen", "VK": "cathode", "ANODES": "plate",
    "ANODEN": "plate", "KATHODE": "cathode", "SCHIRMGITTER": "screen", "CATHODES": "cathode",
}  # fmt: skip
_GRIDS = {
    "SCREEN": "screen", "SCR": "screen", "SER": "screen", "CONTROL": "grid", "CONT": "grid",
    "SUPPRESSOR": "suppressor", "SUPP": "suppressor", "OSC": "oscillator grid",
    "OSCILLATOR": "oscillator grid",
}  # fmt: skip
_FIGURES = str.maketrans("lIi|!SBZGT", "1111158267")
_MARKS = "|.,:;()[]{}'\"‘’“”°*-–—~_ "


def head_columns(row: Line, above: str = "") -> list[Column]:
    """The columns that a row names, left to right; [] when it is no chart's head.

    `above` is the row over it: bare figures 1, 2, 3 … count as pins under a word like PINS, or
    at the right of a word like TUBE. A figure that was misread is found by its place.
    """
    pins = _pins(row.words)
    if len(pins) >= _LEAST:
        return pins
    named = electrode_columns(row.words)
    if len(named) >= _LEAST:
        return named
    if re.search(r"\bPINS?\b|\bTERMINALS?\b", f"{above} {row.text}", re.I) or re.match(
        r"\W*(TUBE|TYPE|SYMBOL|ITEM)\b", row.text, re.I
    ):
        return _bare(row.words)
    return []


def _plain(word: Word) -> str:
    return word.text.strip(_MARKS).upper()


def _pins(words: Sequence[Word]) -> list[Column]:
    """Columns headed "Pin 1" or "PIN1"; a figure misread takes the number of its turn."""
    found: list[tuple[int | None, float, float]] = []
    for n, word in enumerate(words):
        text = _plain(word)
        if not re.fullmatch(r"P[I1L]N.{0,2}", text):
            continue
        after = words[n + 1] if n + 1 < len(words) else None
        right, figure = word.box.right, _figure(text[3:])
        if after and len(_plain(after)) <= 1 and after.box.left - right < 2 * word.box.height:
            figure, right = _figure(after.text), after.box.right
        found.append((figure, word.box.left, right))
    figures = [number for number, _, _ in found if number is not None]
    if len(figures) == len(found) and all(a < b for a, b in pairwise(figures)):
        return [(f"pin {number}", left, right) for number, left, right in found]
    offsets = [number - n for n, (number, _, _) in enumerate(found) if number is not None]
    first = mode(offsets) if offsets else 0
    if 2 * offsets.count(first) < len(found):
        return []
    return [(f"pin {first + n}", left, right) for n, (_, left, right) in enumerate(found)]


def _figure(text: str) -> int | None:
    digits = text.strip(_MARKS).translate(_FIGURES)
    return int(digits) if digits.isdecimal() and 1 <= int(digits) <= _MOST_PINS else None


def electrode_columns(words: Sequence[Word]) -> list[Column]:
    """The electrodes that a row names, each once, left to right."""
    found: list[Column] = []
    taken = -1
    for n, word in enumerate(words):
        if n <= taken:
            continue
        text = _plain(word)
        after = _plain(words[n + 1]) if n + 1 < len(words) else ""
        if after == "GRID" and text in _GRIDS:
            found.append((_GRIDS[text], word.box.left, words[n + 1].box.right))
            taken = n + 1
        elif after == "PLATE" and text in ("OSC", "OSCILLATOR"):
            found.append(("oscillator plate", word.box.left, words[n + 1].box.right))
            taken = n + 1
        elif text in _ELECTRODES:
            found.append((_ELECTRODES[text], word.box.left, word.box.right))
    return found


def _bare(words: Sequence[Word]) -> list[Column]:
    """Pins headed by bare figures at even distances; those between and before are filled in."""
    read = [
        (number, word.box.middle[0], word.box.width)
        for word in words
        if (number := _figure(word.text)) is not None and len(_plain(word)) == 1
    ]
    read = [one for n, one in enumerate(read) if all(one[0] > other[0] for other in read[:n])]
    if len(read) < _LEAST_BARE:
        return []
    steps = sorted((b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(read))
    step = steps[len(steps) // 2]
    if step <= 0 or any(not 0.6 * step <= one <= 1.5 * step for one in steps):
        return []
    width = max(one[2] for one in read)
    placed = {number: x for number, x, _ in read}
    number, x, _ = read[0]
    columns: list[Column] = []
    for pin in range(1, read[-1][0] + 1):
        middle = placed.get(pin, x + (pin - number) * step)
        columns.append((f"pin {pin}", middle - width / 2, middle + width / 2))
    return columns
