"""Whether a printed row names a set's tubes in list form, whatever word in whatever tongue stands
before them."""

import re
from collections.abc import Sequence
from itertools import pairwise

from indexer.cataloguing.region import Line
from indexer.model import Word
from indexer.trade.line_text import TubeToken
from indexer.trade.numbering import parse_line_up
from indexer.trade.tubes import lookup

_LISTED_APART = 1.7  # heights of lettering between two types of one list, at the most
_LISTED_TYPES = 4
_LISTED_JOBS = 3
# What may stand between two types of a list: stops, counts, tube symbols, a word that joins.
BETWEEN = re.compile(
    r"(?:[\s,;:+&/().#'’*=~-]|[–—]|\b(?:and|und|et|og|och|en|e|type)\b|['’]s\b"
    r"|\b\d{1,2}[A-Z0][A-Z]\d\w{0,3}\b"  # a type misread: 5OL6GT
    r"|\b(?:one|two|three|four)\b|\b\d ?[x×-]|\(\d\)|\b\d\b|\b[VT]-?\d{1,2}[A-D]?\b)*",
    re.IGNORECASE,
)


def in_a_list(row: Line) -> bool:
    """Whether a row names a set's tubes one after another with nothing but commas, strokes and the
    like between, close together: "Bestückung: ECH81, EF89 …", "HEATERS: 35Z5-50L6-12SK7 …". Labels
    of a drawing stand apart; types that all do one job are told of as substitutes."""
    runs: list[list[Word]] = [[]]
    for word in row.words:
        gap = word.box.left - runs[-1][-1].box.right if runs[-1] else 0.0
        if gap > _LISTED_APART * word.box.height:
            runs.append([])
        runs[-1].append(word)
    return any(_lists_a_set(" ".join(word.text for word in run)) for run in runs)


def _lists_a_set(text: str) -> bool:
    if sum(map(str.isdigit, text)) < _LISTED_TYPES:
        return False  # every type has a figure
    tokens = [t for t in parse_line_up(text) if lookup(t.type) is not None]
    for first in range(len(tokens) - _LISTED_TYPES + 1):
        some = tokens[first : first + _LISTED_TYPES]
        between = (text[a.end : b.start] for a, b in pairwise(some))
        if all(BETWEEN.fullmatch(part) for part in between) and _jobs_of(some) >= _LISTED_JOBS:
            return True
    return False


def _jobs_of(tokens: Sequence[TubeToken]) -> int:
    """How many sorts of tubes they are, by what is in the envelope."""
    return len({tube.functions for token in tokens if (tube := lookup(token.type))})
