"""The text layer of a DjVu page, as djvu-rs hands it out, turned into words with boxes."""

from collections.abc import Iterator, Mapping
from typing import Any

from indexer import limits
from indexer.intake.shape import LAYER_CONFIDENCE
from indexer.model import Box, Word

_Size = tuple[int, int]


def layer_words(
    layer: Mapping[str, Any], stored: _Size, turn_deg: int, drawn: _Size
) -> tuple[Word, ...]:
    """Words in the layer's own order, with boxes in pixels of a drawing of size `drawn`.

    `stored` is the page's size before its clockwise turn of `turn_deg`; zones are measured in
    it from the top left corner. A line that the layer does not divide is divided evenly by
    letters. Raises ValueError when there are more than MAX_PAGE_WORDS.
    """
    upright = (stored[1], stored[0]) if turn_deg in (90, 270) else stored
    across, down = drawn[0] / upright[0], drawn[1] / upright[1]
    words = []
    for line, text, rect in _pieces(layer.get("zones") or (), [0]):
        box = _turned(rect, stored, turn_deg)
        box = Box(
            max(0.0, box.left * across), max(0.0, box.top * down),
            min(float(drawn[0]), box.right * across), min(float(drawn[1]), box.bottom * down),
        )  # fmt: skip
        if box.width <= 0 or box.height <= 0:
            continue
        words.append(Word(text, box, LAYER_CONFIDENCE, line))
        if len(words) > limits.MAX_PAGE_WORDS:
            raise ValueError("more words than a page can hold")
    return tuple(words)


def _pieces(zones: Any, line: list[int]) -> Iterator[tuple[int, str, Box]]:
    """Each word with the number of its line; `line[0]` is the line in hand."""
    for zone in zones:
        children = zone["children"]
        kind = zone["kind"]
        if kind in ("Word", "Character") or not children:
            yield from _divided(zone, line[0])
        else:
            yield from _pieces(children, line)
        if kind not in ("Word", "Character"):
            line[0] += 1  # numbers may skip; they only have to rise


def _divided(zone: Mapping[str, Any], line: int) -> Iterator[tuple[int, str, Box]]:
    text = "".join(char if char.isprintable() else " " for char in str(zone["text"]))
    rect = zone["rect"]
    left, top, height = float(rect["x"]), float(rect["y"]), float(rect["height"])
    plain = " ".join(text.split())
    letter = float(rect["width"]) / len(plain) if plain else 0.0
    at = 0
    for word in plain.split(" ") if plain else ():
        start = left + at * letter
        yield line, word, Box(start, top, start + len(word) * letter, top + height)
        at += len(word) + 1


def _turned(box: Box, stored: _Size, turn_deg: int) -> Box:
    """`box` after the page's clockwise turn."""
    width, height = stored
    if turn_deg == 90:
        return Box(height - box.bottom, box.left, height - box.top, box.right)
    if turn_deg == 180:
        return Box(width - box.right, height - box.bottom, width - box.left, height - box.top)
    if turn_deg == 270:
        return Box(box.top, width - box.right, box.bottom, width - box.left)
    return box
