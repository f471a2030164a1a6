"""Voltage and resistance charts read from a page: tube rows by pin or electrode columns."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from indexer.bench.tables import in_columns, section_rows
from indexer.cataloguing.region import Line
from indexer.model import PageKind, PageReading, PageRef, Word
from indexer.trade.numbering import parse_line_up
from indexer.trade.value_parse import parse_value

VOLTS, OHMS = "volts", "ohms"
USUAL_PERCENT = 20.0  # where the chart states nothing: common practice, no source

_ELECTRODES = ("PLATE", "SCREEN", "GRID", "CATHODE", "HEATER", "FILAMENT", "SUPPRESSOR")
_VOLTAGE = re.compile(r"([-–—]?)\s?(\d*\.?\d+)\.?\s?(?:V\s?)?(A\.?C\.?)?", re.I)
_PERCENT = re.compile(
    r"(?:±|\+/?-|within|plus or minus|tolerance|vary)\D{0,30}?(\d{1,2})\s?(?:%|per ?cent)", re.I
)
_SYMBOL = re.compile(r"V\d{1,2}", re.I)


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One pin or electrode of one tube, with what the chart states there.

    `nominal` is in volts (signed) or ohms, infinite for an open pin; `unit` is VOLTS or OHMS.
    `percent` is the chart's own tolerance, else 20.
    """

    tube: str
    symbol: str  # as printed, else the type ("12SK7", "12SK7/2" for the second of them)
    pin: str  # "pin 5", "plate"
    unit: str
    nominal: float
    printed: str
    ac: bool = False
    percent: float = USUAL_PERCENT
    stated: bool = False  # whether the chart states the tolerance
    page: PageRef | None = None

    @property
    def name(self) -> str:
        """The point as a person types it: "12BA6 pin 5", "V1 pin 5 ohms"."""
        return f"{self.symbol} {self.pin}" + (" ohms" if self.unit == OHMS else "")


def read_charts(
    reading: PageReading, page: PageRef | None = None, line_up: Sequence[str] = ()
) -> tuple[ChartPoint, ...]:
    """Every point of the page's charts, row by row; () on a page without one.

    Pins that the chart marks NC and cells that were not understood are left out. `line_up` (in
    chassis order) names a row whose own type was not read, where the count of rows agrees, and
    keeps out the rows of another set on the same page.
    """
    found: list[ChartPoint] = []
    for kind, unit in ((PageKind.VOLTAGE_CHART, VOLTS), (PageKind.RESISTANCE_CHART, OHMS)):
        rows = section_rows(reading, kind)
        head = next((n for n, row in enumerate(rows) if len(_columns(row)) >= 3), None)
        if head is not None:
            prose = " ".join(row.text for row in rows[:head])
            found += _points(rows[head], rows[head + 1 :], unit, prose, page, line_up)
    return tuple(found)


def _columns(row: Line) -> list[tuple[str, float, float]]:
    """Name, left and right of each column that a head row names."""
    found: list[tuple[str, float, float]] = []
    words = row.words
    for n, word in enumerate(words):
        text = word.text.strip("|.,:").upper()
        after = words[n + 1].text.strip("|.,:") if n + 1 < len(words) else ""
        joined = re.fullmatch(r"PIN(\d{1,2})", text)
        if text == "PIN" and after.isdigit():
            found.append((f"pin {after}", word.box.left, words[n + 1].box.right))
        elif joined:
            found.append((f"pin {joined[1]}", word.box.left, word.box.right))
        elif text in _ELECTRODES:
            found.append((text.lower(), word.box.left, word.box.right))
    return found


def _points(
    head: Line,
    body: Sequence[Line],
    unit: str,
    prose: str,
    page: PageRef | None,
    line_up: Sequence[str],
) -> list[ChartPoint]:
    columns = _columns(head)
    spans = [(left, right) for _, left, right in columns]
    pitch = (spans[-1][0] - spans[0][0]) / (len(spans) - 1)
    edge = (spans[0][0] + spans[0][1] - pitch) / 2  # left of it stand the tube and its job
    rows: list[tuple[Line, list[str]]] = []
    for row in body:
        inside = [word for word in row.words if word.box.middle[0] > edge]
        cells = in_columns(inside, spans)
        if sum(_understood(cell, unit) is not None for cell in cells) >= 2:
            rows.append((row, cells))
    types = [_tube([w for w in row.words if w.box.middle[0] <= edge]) for row, _ in rows]
    if len(types) == len(line_up):
        types = [read or given for read, given in zip(types, line_up, strict=True)]
    stated = _PERCENT.search(prose)
    percent = float(stated[1]) if stated and int(stated[1]) else USUAL_PERCENT
    found = []
    counted: dict[str, int] = {}
    for (row, cells), tube in zip(rows, types, strict=True):
        if not tube or (line_up and tube not in line_up):
            continue
        counted[tube] = counted.get(tube, 0) + 1
        marks = [w.text.upper() for w in row.words[:2] if _SYMBOL.fullmatch(w.text)]
        again = f"/{counted[tube]}" if counted[tube] > 1 else ""
        symbol = marks[0] if marks else tube + again
        for (pin, _, _), cell in zip(columns, cells, strict=True):
            nominal = _understood(cell, unit)
            if nominal is None:
                continue
            ac = unit == VOLTS and bool(re.search(r"A\.?C", cell, re.I))
            found.append(
                ChartPoint(
                    tube, symbol, pin, unit, nominal, cell, ac, percent, stated is not None, page
                )
            )
    return found


def _tube(words: Sequence[Word]) -> str:
    named = parse_line_up(" ".join(word.text for word in words))
    return named[0].type if named else ""


def _understood(cell: str, unit: str) -> float | None:
    """What a cell states, in volts or ohms; None for NC, a dash and what can't be read."""
    text = cell.strip(" *\"'°,;:|")
    if unit == VOLTS:
        found = _VOLTAGE.fullmatch(text)
        return float(found[2]) * (-1 if found[1] else 1) if found else None
    if re.fullmatch(r"INF\.?|INFINITE|INFINITY|OPEN|∞", text, re.I):
        return inf
    if text == "0":
        return 0.0
    if not text[:1].isdigit() and not text.startswith("."):
        return None
    text = re.sub(r"^(\d{1,3})\.(\d{3})$", r"\1\2", text)  # the comma of 1,200 read as a dot
    values = [value.number for value in parse_value(text, OHMS) if value.kind == OHMS]
    return values[0] if len(values) == 1 else None
