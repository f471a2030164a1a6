"""Heads of valve tables that print volts and milliamperes below or beside each electrode.

"Anode V mA  Screen V mA  Cath. V" and the same in two rows, as European service sheets set them.
Common practice, no source.
"""

import re
from collections.abc import Sequence

from indexer.bench.chart_heads import Column, electrode_columns
from indexer.cataloguing.region import Line
from indexer.model import Word

MILLIAMPS = " mA"
"""What the name of a column of milliamperes ends in."""

_VOLTS = re.compile(r"\(?V(?:OLTS?)?\)?", re.I)
_MILLIAMPS = re.compile(r"\(?(?:[mnrw]{1,2}\.?A|M\.?A)S?\)?", re.I)
_BOTH = re.compile(r"\(?V[mn/]{1,2}A\)?", re.I)  # "V mA" read without its space
_MARKS = "|.,:;'\"[]{} "
_REACH = 8  # lettering heights between an electrode and its unit, at most
_LEAST_SHARE = 0.7  # of a second row's words are units


def unit_columns(head: Line, below: Line | None = None) -> list[Column]:
    """The columns of a head that gives volts and milliamperes, "plate" and "plate mA", left to
    right; [] where it names no electrode or no milliamperes.

    `below` is the row under it: it counts where it holds units and little else.
    """
    electrodes = electrode_columns(head.words)
    if not electrodes:
        return []
    own = _units(head.words)
    under = _units(below.words) if below is not None else []
    if below is not None and len(under) < _LEAST_SHARE * len(below.words):
        under = []
    columns = _beside(electrodes, own, head.box.height) if own else _under(electrodes, under)
    return columns if any(name.endswith(MILLIAMPS) for name, _, _ in columns) else []


def is_unit_row(row: Line) -> bool:
    """Whether a row holds the units of a head and little else."""
    return len(_units(row.words)) >= _LEAST_SHARE * len(row.words)


def _units(words: Sequence[Word]) -> list[Column]:
    """ "" for volts, " mA" for milliamperes, each with left and right."""
    found: list[Column] = []
    for word in words:
        text, box = word.text.strip(_MARKS), word.box
        if _BOTH.fullmatch(text):
            middle = box.left + box.width / 3
            found += [("", box.left, middle), (MILLIAMPS, middle, box.right)]
        elif _VOLTS.fullmatch(text):
            found.append(("", box.left, box.right))
        elif _MILLIAMPS.fullmatch(text):
            found.append((MILLIAMPS, box.left, box.right))
    return found


def _beside(electrodes: list[Column], units: list[Column], height: float) -> list[Column]:
    """Units that follow their electrode in one row; an electrode without one has volts."""
    found: list[Column] = []
    ends = [left for _, left, _ in electrodes[1:]] + [float("inf")]
    for (name, left, right), end in zip(electrodes, ends, strict=True):
        reach = right + _REACH * height
        own = [u for u in units if left < u[1] < min(end, reach)]
        if own:
            first = (name + own[0][0], left, own[0][2])  # figures stand below the name as well
            found += [first, *((name + unit, a, b) for unit, a, b in own[1:])]
        else:
            found.append((name, left, right))
    return found


def _under(electrodes: list[Column], units: list[Column]) -> list[Column]:
    """Units in the row below, each of the electrode that it stands nearest to."""
    found: list[Column] = []
    for unit, left, right in units:
        middle = (left + right) / 2
        nearest = min(electrodes, key=lambda e: abs((e[1] + e[2]) / 2 - middle))
        found.append((nearest[0] + unit, left, right))
    return found
