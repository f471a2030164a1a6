"""Voltage and resistance charts read from a page: tube rows by pin or electrode columns."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf

from indexer.bench.chart_heads import Column, head_columns
from indexer.bench.chart_units import MILLIAMPS, is_unit_row, unit_columns
from indexer.bench.tables import in_columns, section_rows
from indexer.cataloguing.region import Line, make_line, printed_rows
from indexer.model import PageKind, PageReading, PageRef, Word
from indexer.trade.numbering import parse_line_up, registered
from indexer.trade.tubes import lookup
from indexer.trade.value_parse import parse_value

VOLTS, OHMS, MILLIAMPERES = "volts", "ohms", "milliamperes"
USUAL_PERCENT = 20.0  # where the chart states nothing: common practice, no source

_VOLTAGE = re.compile(r"([-–—~=]?)\s?(\d*\.?\d+)\.?\s?(?:V\s?)?(A\.?C\.?)?", re.I)
_PERCENT = re.compile(
    r"(?:±|\+/?-|within|plus or minus|tolerance|vary)\D{0,30}?(\d{1,2})\s?(?:%|per ?cent)", re.I
)
_MOST_PINS = 9
_HEAD = re.compile(r"\W*(TUBES?|VALVES?|TYPE)\b", re.I)
_ROWS_ABOVE = 4  # where a table's title may stand
_APART = 1.2  # in lettering heights, between the columns of a page
_GAP = 2.5  # in lettering heights, between rows of one table
_SYMBOL = re.compile(r"V\d{1,2}", re.I)


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One pin or electrode of one tube, with what the chart states there.

    `nominal` is in volts (signed), milliamperes or ohms, infinite for an open pin; `unit` is VOLTS,
    MILLIAMPERES or OHMS.
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
        above = ["", *(row.text for row in rows)]
        columns = [_columns(rows, n, above[n], unit) for n in range(len(rows))]
        heads = [n for n, found_there in enumerate(columns) if found_there]
        for n, below in zip(heads, [*heads[1:], len(rows)], strict=False):
            chart = _Chart(columns[n], unit, " ".join(above[: n + 1]), page)
            found += _points(chart, rows[n + 1 : below], line_up)
    return tuple(dict.fromkeys(found or _without_heading(reading, page, line_up)))


def _columns(rows: Sequence[Line], n: int, above: str, unit: str) -> list[Column]:
    """The columns of the head that a row is, with milliamperes of their own where printed."""
    below = rows[n + 1] if n + 1 < len(rows) else None
    units = unit_columns(rows[n], below) if unit == VOLTS else []
    return units or head_columns(rows[n], above)


def _without_heading(
    reading: PageReading, page: PageRef | None, line_up: Sequence[str]
) -> list[ChartPoint]:
    """The points of tables that begin with TUBE (VALVE, TYPE) and columns, under no heading that
    is known ("Voltages at sockets, line 115 volts") or under none."""
    rows = printed_rows([make_line(line) for line in reading.lines if line])
    found: list[ChartPoint] = []
    for n, row in enumerate(rows):
        for left in _head_lefts(row):
            table = _right_of(rows[max(0, n - _ROWS_ABOVE) :], left)
            at = next((k for k, one in enumerate(table) if one.box.top >= row.box.top), 0)
            above = " ".join(one.text for one in table[:at])
            columns = _columns(table, at, above, VOLTS) if _HEAD.match(table[at].text) else []
            if columns:
                unit = OHMS if re.search(r"\bOHMS TO\b|RESISTANCE", above, re.I) else VOLTS
                chart = _Chart(columns, unit, above, page)
                found += _points(chart, _body(table[at + 1 :]), line_up)
    return found


def _head_lefts(row: Line) -> list[float]:
    """Where a table's head may begin in a row: at TUBE, VALVE, TYPE that begins it or stands well
    apart from what is before (the next column of the page)."""
    return [
        word.box.left - word.box.height
        for n, word in enumerate(row.words)
        if _HEAD.fullmatch(word.text.strip(".,:;|[]"))
        and (not n or word.box.left - row.words[n - 1].box.right > _APART * word.box.height)
    ]


def _right_of(rows: Sequence[Line], left: float) -> list[Line]:
    """The rows without what stands left of a table."""
    cut = [[word for word in row.words if word.box.left >= left] for row in rows]
    return [make_line(words) for words in cut if words]


def _body(rows: Sequence[Line]) -> list[Line]:
    """The rows of a table down to the next head or a gap."""
    kept: list[Line] = []
    for row in rows:
        gap = row.box.top - kept[-1].box.bottom if kept else 0.0
        if not kept and is_unit_row(row):
            continue
        if _HEAD.match(row.text) or gap > _GAP * row.box.height:
            break
        kept.append(row)
    return kept


@dataclass(frozen=True, slots=True)
class _Chart:
    """What holds for a whole chart."""

    columns: list[Column]
    unit: str
    prose: str  # what stands above it
    page: PageRef | None


def _points(chart: _Chart, body: Sequence[Line], line_up: Sequence[str]) -> list[ChartPoint]:
    columns = _with_last_pins(chart.columns, body)
    spans = [(left, right) for _, left, right in columns]
    pitch = (spans[-1][0] - spans[0][0]) / (len(spans) - 1)
    valves = any(name.endswith(MILLIAMPS) for name, _, _ in columns)
    if valves:  # set closer than their electrodes
        pitch = min(b[0] - a[0] for a, b in pairwise(spans))
    beyond = spans[-1][1] + pitch  # a drawing may stand there
    edge = (spans[0][0] + spans[0][1] - pitch) / 2  # left of it stand the tube and its job
    rows: list[tuple[Line, list[str]]] = []
    for row in body:
        inside = [word for word in row.words if edge < word.box.middle[0] < beyond]
        cells = in_columns(inside, spans)
        understood = sum(_understood(cell, chart.unit) is not None for cell in cells)
        head = [word for word in row.words if word.box.middle[0] <= edge]
        if valves and not head:  # the second section of the valve above
            continue
        if understood >= 2 or (understood and len(head) > 1 and _SYMBOL.fullmatch(head[0].text)):
            rows.append((row, cells))
    types = [_tube([w for w in row.words if w.box.middle[0] <= edge]) for row, _ in rows]
    stated = _PERCENT.search(chart.prose)
    percent = float(stated[1]) if stated and int(stated[1]) else USUAL_PERCENT
    found = []
    counted: dict[str, int] = {}
    for (row, cells), tube in zip(rows, _named(types, line_up), strict=True):
        if not tube:
            continue
        counted[tube] = counted.get(tube, 0) + 1
        marks = [w.text.upper() for w in row.words[:2] if _SYMBOL.fullmatch(w.text)]
        again = f"/{counted[tube]}" if counted[tube] > 1 else ""
        symbol = marks[0] if marks else tube + again
        for (pin, _, _), cell in zip(columns, cells, strict=True):
            unit = MILLIAMPERES if pin.endswith(MILLIAMPS) else chart.unit
            nominal = _understood(cell, unit)
            if nominal is None:
                continue
            ac = unit == VOLTS and bool(re.search(r"A\.?C", cell, re.I))
            found.append(
                ChartPoint(
                    tube, symbol, pin, unit, nominal, cell, ac, percent,
                    stated is not None, chart.page,
                )
            )  # fmt: skip
    return found


def _with_last_pins(columns: Sequence[Column], body: Sequence[Line]) -> list[Column]:
    """The columns, and those to the right of the last pin whose figure the reader missed."""
    found = list(columns)
    if [name for name, _, _ in found] != [f"pin {n}" for n in range(1, len(found) + 1)]:
        return found
    while len(found) < _MOST_PINS:
        _, left, right = found[-1]
        pitch = (left - found[0][1]) / (len(found) - 1)
        beyond = [
            row for row in body if any(w.box.middle[0] > right + pitch / 2 for w in row.words)
        ]
        if 2 * len(beyond) <= len(body):
            break
        found.append((f"pin {len(found) + 1}", left + pitch, right + pitch))
    return found


def _named(types: Sequence[str], line_up: Sequence[str]) -> list[str]:
    """The tube of each row; "" for rows of another set, and where it can't be told.

    A row whose type was not read, or was read as one that the set has not, takes the line-up's
    own where the rows follow it one by one, or else the only type that no row shows.
    """
    if not line_up:
        return list(types)
    left = Counter(line_up) - Counter(types)
    lost = [n for n, read in enumerate(types) if read not in line_up]
    named = [read if read in line_up else "" for read in types]
    in_order = len(types) == len(line_up)
    for n in lost:
        if in_order and left[line_up[n]]:
            named[n] = line_up[n]
        elif len(lost) == 1 and left.total() == 1:
            named[n] = next(left.elements())
    return named


def _tube(words: Sequence[Word]) -> str:
    """The type at a row's head; bare figures ("45 Output") count there when the table has them."""
    named = parse_line_up(" ".join(word.text for word in words))
    if named or not words:
        return named[0].type if named else ""
    first = registered(words[0].text)
    return first if lookup(first) else ""


def _understood(cell: str, unit: str) -> float | None:
    """What a cell states, in volts or ohms; None for NC, a dash and what can't be read."""
    text = cell.strip(" *\"'°,;:|").rstrip(" -–—一")  # a dash of the next column
    text = "0" if text in ("O", "o", "Q") else text
    if unit in (VOLTS, MILLIAMPERES):
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
