"""A table that gives the chassis of many models: each row is a set of its own, and none of them is
the set of the page.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.cataloguing.identity import Masthead
from indexer.cataloguing.region import Line, Region, squeeze
from indexer.trade.codes import CodeClass, classify
from indexer.trade.numbering import parse_line_up

_HEAD = re.compile(r"^\W*(?:MAKER?\W+)?MODELS?\b(?: NOS?\.?)?\W+CHASSIS\b(?: NOS?\.?)?[^0-9]*$")
_ROWS = 3  # from which it is a table
_UNDER = 4.0  # heights of the head's lettering, each way of where it begins, rows begin
_CODE_WORDS = 2
_SHARE = 0.6  # of the rows below the head are sets


@dataclass(frozen=True, slots=True)
class SetRow:
    """One row: what it names, and where it stands."""

    masthead: Masthead
    region: Region


def sets_in(region: Region, maker: str) -> tuple[SetRow, ...]:
    """The sets that a table of models and their chassis names, top to bottom; empty when the region
    holds no such table. `maker` made them all."""
    rows = region.rows
    start = next((n for n, row in enumerate(rows) if _HEAD.match(squeeze(row.text))), None)
    if start is None:
        return ()
    head = rows[start].box
    reach = _UNDER * head.height
    below = [row for row in rows[start + 1 :] if abs(row.box.left - head.left) <= reach]
    found = [set_row for row in below if (set_row := _set_row(row, region, maker))]
    return tuple(found) if len(found) >= max(_ROWS, _SHARE * len(below)) else ()


def _set_row(row: Line, region: Region, maker: str) -> SetRow | None:
    codes = _codes(row)
    if len(codes) != _CODE_WORDS:
        return None
    height = max(1.0, float(region.page.reading.height_px))
    head = Masthead(row.box.top / height, maker, codes[:1], codes[1:])
    part = Region(region.page, (row,), row.box.top, row.box.bottom)
    return SetRow(head, part)


def _codes(row: Line) -> tuple[str, ...]:
    """The two codes that a row begins with: a model and its chassis."""
    words: Sequence[str] = [word.text.strip(".,;|") for word in row.words[:_CODE_WORDS]]
    if len(words) < _CODE_WORDS or not all(any(c.isdigit() for c in word) for word in words):
        return ()
    model, chassis = words
    if classify(model, before="MODEL") in _OTHER or classify(chassis, before="CHASSIS") in _OTHER:
        return ()
    if parse_line_up(f"{model} {chassis}", bare_numbers=False):
        return ()  # a list of tubes
    return model, chassis


_OTHER = frozenset({CodeClass.FREQUENCY, CodeClass.VALUE, CodeClass.DATE, CodeClass.WORD})
