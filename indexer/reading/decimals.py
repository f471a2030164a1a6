"""Prices of a column that lost their point: 385 among 3.85 and .60 is 3.85.

That a list's prices stand in a column and have two decimals is common practice, no source.
"""

import re
from collections.abc import Sequence

from indexer.model import Word
from indexer.reading.repair import changed

_PRICE = re.compile(r"^\d{0,3}\.\d\d$")
_BARE = re.compile(r"^(\d{0,2})(\d\d)$")
_EDGE = 0.5  # of the lettering's height: how far right edges of one column differ
_LEAST, _MOSTLY = 4, 0.6  # prices with a point; their share of the column


def with_points(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with the points of prices put back; each keeps what it was read as."""
    figures = [n for n, w in enumerate(words) if _PRICE.match(w.text) or _BARE.match(w.text)]
    out = list(words)
    for n in figures:
        bare = _BARE.match(words[n].text)
        if bare is None or not _ends_row(words, n):
            continue
        box = words[n].box
        column = [m for m in figures if abs(words[m].box.right - box.right) <= _EDGE * box.height]
        priced = sum(bool(_PRICE.match(words[m].text)) for m in column)
        if priced >= max(_LEAST, _MOSTLY * len(column)):
            out[n] = changed(words[n], f"{bare[1]}.{bare[2]}", "a price's point")
    return tuple(out)


def _ends_row(words: Sequence[Word], n: int) -> bool:
    return n + 1 == len(words) or words[n + 1].line != words[n].line
