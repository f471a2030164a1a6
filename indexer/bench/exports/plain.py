"""What the XML forms share: text that XML can hold, whole-pixel boxes."""

import re
from collections.abc import Sequence

from indexer.model import Box, PageReading, Word

# XML 1.0, production 2: everything else may not stand in a document at all.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def plain(text: str) -> str:
    """Text without the characters that XML forbids."""
    return _NOT_XML.sub("", text)


def row_box(row: Sequence[Word]) -> Box:
    """The box around the words of a line."""
    box = row[0].box
    for word in row[1:]:
        box = box.union(word.box)
    return box


def rounded(box: Box, reading: PageReading) -> tuple[int, int, int, int]:
    """Whole pixels within the page: left, top, right, bottom."""
    width, height = reading.width_px, reading.height_px
    left, top = min(max(round(box.left), 0), width), min(max(round(box.top), 0), height)
    right, bottom = min(max(round(box.right), left), width), max(round(box.bottom), top)
    return left, top, right, min(bottom, height)
