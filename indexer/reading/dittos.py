"""Ditto marks of a list, whatever they were read as: small and raised, one below another.

That they stand so is common practice, no source.
"""

import re
from collections.abc import Sequence
from statistics import median

from indexer.model import Word
from indexer.reading.repair import changed

_MARK = '"'
_READ_AS = re.compile(
    r"^(?:[\"“”„'’‘`´,″*°«»^]{1,3}|[1lIi|!]{1,3}|[tr]{1,2}|[nuvwWMHN]|[a-z]{1,2}['’\"])$"
)
_SURELY = re.compile(
    r"^(?:[\"“”„″=二]|''|’’|,,)$"
)  # at any height: the second reader's boxes are tall
_LOW = 0.6  # of the height of its row's lettering, at most
_RAISED = 0.35  # of the row's height: its foot stands so far above the row's
_ASIDE = 1.5  # heights of lettering between the edges of one column's marks
_LEAST = 3  # marks in a column


def with_dittos(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with ditto marks as such; each keeps what it was read as."""
    rows: dict[int, list[int]] = {}
    for n, word in enumerate(words):
        rows.setdefault(word.line, []).append(n)
    found: list[tuple[float, float, int]] = []  # left edge, height of the row, which word
    for row in rows.values():
        small = [n for n in row if _READ_AS.fullmatch(words[n].text) or _is_sure(words[n])]
        tall = [words[n].box for n in row if n not in small and words[n].text[-1:].isalnum()]
        if not small or not tall:
            continue
        height = median(box.height for box in tall)
        foot = median(box.bottom for box in tall)
        found += [
            (words[n].box.left, height, n)
            for n in small
            if _is_sure(words[n])
            or (
                words[n].box.height <= _LOW * height
                and foot - words[n].box.bottom >= _RAISED * height
            )
        ]
    out = list(words)
    for left, height, n in found:
        column = sum(abs(other - left) <= _ASIDE * height for other, _, _ in found)
        if column >= _LEAST and words[n].text != _MARK:
            out[n] = changed(words[n], _MARK, "ditto marks, by their height")
    return tuple(out)


def _is_sure(word: Word) -> bool:
    return bool(_SURELY.fullmatch(word.text))
