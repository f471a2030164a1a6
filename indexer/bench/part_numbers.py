"""The stock numbers of a parts list: which words they are, in whatever column they stand."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from indexer.bench.part_refs import clean_token
from indexer.model import Word

_STOCK = re.compile(
    r"[A-Z£$°~<>(|_-]{0,3}\d[\dA-Zl£$°|]{1,6}(?:[-/.~—_°]{1,2}[\dA-Zl|\]]{0,6}){0,3}", re.I
)
_VALUE = re.compile(r"\.\d+|[\d,.]+[KMVW]?|\d/\d\W?W?|[\d.,]+(?:-[\d.,]+){1,3}", re.I)
_UNIT = re.compile(r"M?MFD?|UF|UUF|PF|MEG|OHMS?|V|W|VOLTS?|WATTS?|K|M|KC|MC|IN|FT|%", re.I)
_LETTERS = re.compile(r"[A-Za-z]{3}")
_SHORTEST_BARE = 5  # figures of a stock number that has neither letter nor dash
_SPLIT = 0.7  # of the lettering's height
_NUMBERED = 0.4  # share of the rows that show a stock number where a list has a column of them


@dataclass(frozen=True, slots=True)
class NumberPlace:
    """Where the stock numbers stand: their left or their right edges, in pixels."""

    edge: float
    is_left: bool
    tolerance: float

    def holds(self, word: Word) -> bool:
        """Whether a word begins (or ends) there."""
        at = word.box.left if self.is_left else word.box.right
        return abs(at - self.edge) <= self.tolerance


def number_place(
    lines: Sequence[tuple[Word, ...]], references_x: float, tolerance: float
) -> NumberPlace | None:
    """The column of stock numbers, wherever in the row it stands; None without one."""
    stocks = [
        word
        for line in lines
        for n, word in enumerate(line)
        if word.box.left > references_x + 2 * tolerance and is_stock_number(line, n)
    ]
    best, most = None, max(2.0, _NUMBERED * len(lines))
    for is_left in (True, False):
        edges = sorted(w.box.left if is_left else w.box.right for w in stocks)
        for edge in edges:
            near = [other for other in edges if abs(other - edge) <= tolerance]
            if len(near) > most or (best is None and len(near) >= most):
                best, most = NumberPlace(median(near), is_left, 1.5 * tolerance), len(near)
    return best


def is_stock_number(line: Sequence[Word], n: int) -> bool:
    """Whether a word of a row may be a stock number and is no value."""
    text = clean_token(line[n].text)
    after = clean_token(line[n + 1].text) if n + 1 < len(line) else ""
    if sum(c.isdigit() for c in text) < 2 or not _STOCK.fullmatch(text):
        return False
    if _UNIT.fullmatch(after):
        return False
    return not (_VALUE.fullmatch(line[n].text.strip(" ;:|")) and len(text) < _SHORTEST_BARE)


def part_number(rest: list[Word], place: NumberPlace | None) -> tuple[str, list[Word]]:
    """What stands in the stock numbers' column, and the other words."""
    at = [n for n, word in enumerate(rest) if place and place.holds(word)]
    at = [n for n in at if any(c.isdigit() for c in rest[n].text)]
    if not at:
        return "", rest
    first = last = at[0]
    gap = _SPLIT * rest[first].box.height
    while last + 1 < len(rest) and place and place.is_left:
        after = rest[last + 1]
        if after.box.left - rest[last].box.right > gap or not _goes_on(after.text):
            break
        last += 1
    while first > 0 and place and not place.is_left:
        before = rest[first - 1]
        if rest[first].box.left - before.box.right > gap or not _goes_on(before.text):
            break
        first -= 1
    number = "".join(clean_token(word.text) for word in rest[first : last + 1])
    return number, [*rest[:first], *rest[last + 1 :]]


def _goes_on(text: str) -> bool:
    """Whether a word may be the rest of a stock number that the reader broke in two."""
    return any(c.isdigit() for c in text) and not _LETTERS.search(text) and "." not in text
