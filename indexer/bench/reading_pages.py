"""The readings of a job set in type: parts as a list, pins as charts with room to write."""

import re
from collections.abc import Sequence

from indexer.bench.paper import SMALL, Sheets
from indexer.bench.sheet_types import ReadingLine

_PIN = re.compile(r"(\S+) (.+?)(?: ohms| mA)?")
_BLANK = ". . . . . ."
_MOST_COLUMNS = 9  # pins beside each other on an upright sheet
_PREFIX = {"m": 1e-3, "": 1.0, "k": 1e3, "M": 1e6}
_TITLES = {"voltage": "Voltages", "current": "Currents", "resistance": "Resistances"}


def write_readings(sheets: Sheets, lines: Sequence[ReadingLine]) -> None:
    """Parts and points of one's own first, then a chart for each page and quantity."""
    listed = [line for line in lines if not _in_chart(line)]
    if listed:
        rows = [("Point", "Nominal", "From", "To", "Reads", "Verdict", "Note")]
        rows += [
            (n.point, n.nominal, n.low, n.high, n.reads or _BLANK, n.verdict, n.note)
            for n in listed
        ]
        sheets.rows(rows, (20, 26, 18, 18, 24, 16, 50), SMALL)
    charted = [line for line in lines if _in_chart(line)]
    groups: dict[tuple[str, str], list[ReadingLine]] = {}
    for line in charted:
        groups.setdefault((line.source, line.what), []).append(line)
    for (source, what), group in groups.items():
        _write_chart(sheets, f"{_TITLES[what]}, from {source}", group)


def _in_chart(line: ReadingLine) -> bool:
    return bool(line.source and line.what in _TITLES and _PIN.fullmatch(line.point))


def _write_chart(sheets: Sheets, title: str, lines: Sequence[ReadingLine]) -> None:
    places: dict[tuple[str, str], ReadingLine] = {}
    for line in lines:
        found = _PIN.fullmatch(line.point)
        assert found is not None
        places[found[1], found[2]] = line
    tubes = list(dict.fromkeys(tube for tube, _ in places))
    pins = sorted(dict.fromkeys(pin for _, pin in places), key=_pin_order)
    notes = _marks(lines)
    for first in range(0, len(pins), _MOST_COLUMNS):
        shown = pins[first : first + _MOST_COLUMNS]
        sheets.heading(title, room=min(560, 70 + 46 * len(tubes)))
        sheets.para("In each field: the page's value, from and to, what the meter says.", SMALL)
        rows = [("", *(pin.capitalize() for pin in shown))]
        rows += [
            (_head(tube, lines), *(_field(places.get((tube, pin)), notes) for pin in shown))
            for tube in tubes
        ]
        sheets.rows(rows, (10, *[10] * len(shown)), SMALL, gap_pt=4, foot_pt=4)
    for note, number in notes.items():
        said = f"({number})  {note}." if number else f"Where nothing is marked: {note}."
        sheets.para(said, SMALL, gap=0)


def _head(symbol: str, lines: Sequence[ReadingLine]) -> str:
    """What stands at the head of a tube's row: its number and its type below it."""
    kinds = [line.tube for line in lines if line.tube and line.point.startswith(f"{symbol} ")]
    return f"{symbol}\n{kinds[0]}" if kinds else symbol


def _note(line: ReadingLine) -> str:
    """What is to be said of a point, without the type that stands at the row's head."""
    return line.note.removeprefix(line.tube).removeprefix("; ") if line.tube else line.note


def _pin_order(pin: str) -> tuple[int, str]:
    number = re.search(r"\d+", pin)
    return (int(number[0]), pin) if number else (100, "")


def _marks(lines: Sequence[ReadingLine]) -> dict[str, int]:
    """The notes that no reading brought by number; the commonest holds for all and has 0."""
    counts: dict[str, int] = {}
    for line in lines:
        if _note(line) and not line.reads:
            counts[_note(line)] = counts.get(_note(line), 0) + 1
    by_count = sorted(counts, key=lambda note: -counts[note])
    return {note: number for number, note in enumerate(by_count)}


def _field(line: ReadingLine | None, notes: dict[str, int]) -> str:
    if line is None:
        return ""
    number = notes.get(_note(line), 0)
    mark = f" ({number})" if number else ""
    span = "" if line.low == line.high else _span(line.low, line.high)
    reads = f"{line.reads} {line.verdict}" if line.reads else _BLANK
    return "\n".join((f"{line.nominal}{mark}", span, reads))


def _span(low: str, high: str) -> str:
    """`10.08 V`, `15.12 V` -> `10.1 to 15.1`; `960 Ω`, `1.44 kΩ` -> `0.96 to 1.44`, in the unit
    of the second."""
    if high == "open":
        return f"over {low}"
    one, two = (re.fullmatch(r"(-?[\d.]+) ([kMm]?)(\S+)", text) for text in (low, high))
    if one is None or two is None or one[3] != two[3]:
        return f"{low} to {high}"
    first = float(one[1]) * _PREFIX[one[2]] / _PREFIX[two[2]]
    return f"{first:.3g} to {float(two[1]):.3g}"
