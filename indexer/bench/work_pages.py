"""The work sheets of a job, set in type: power-up, parts to replace, readings, tubes."""

import re
from collections.abc import Sequence

from indexer.bench.paper import SMALL, TITLE, Sheets
from indexer.bench.reading_pages import write_readings
from indexer.bench.sheet_types import (
    DrawerLine,
    PowerUpSheet,
    ReplacementLine,
    ShoppingLine,
    WorkSheets,
)
from indexer.trade.cautions import DEFER

_BOX = "☐"
_LINE_PT = 15.0  # of a table's row, on one line


def write_work_sheets(sheets: Sheets, work: WorkSheets) -> dict[str, int]:
    """Adds the sheets that have something to say; title -> sheet (from 0), in order."""
    found: dict[str, int] = {}

    def begin(title: str, lines: int = 0) -> None:
        """On the sheet in hand where so many lines fit there, else on a new one."""
        if lines and sheets.get_y() + 70 + lines * _LINE_PT < sheets.page_break_trigger:
            sheets.heading(title)
        else:
            sheets.typed_sheet()
            sheets.para(title, TITLE, "B", gap=6)
        found[title] = sheets.page_no() - 1

    begin("Power-up sheet")
    _power_up(sheets, work.power_up)
    if work.replacements:
        begin("Replacement list", 2 * len(work.replacements))
        _replacements(sheets, work.replacements)
    if work.shopping:
        begin("Shopping list", len(work.shopping) + 1)
        _shopping(sheets, work.shopping)
    if work.readings:
        begin("Readings", len(work.readings) + 1 if len(work.readings) < 12 else 0)
        write_readings(sheets, work.readings)
    if work.drawer:
        begin("Tubes and spares", len(work.drawer) + 1)
        _drawer(sheets, work.drawer)
    if work.doubts:
        sheets.heading("To check against the pages")
        for doubt in work.doubts:
            sheets.para(f"•  {doubt}", gap=1)
    return found


def _power_up(sheets: Sheets, sheet: PowerUpSheet) -> None:
    reasons = " ".join(sheet.live_reasons)
    words = {"likely": "Live chassis: likely", "no": "Live chassis: no, by what was read"}
    title = words.get(sheet.live_chassis, "Live chassis: not known, so take it as live")
    sheets.boxed(title, " ".join(part for part in (reasons, sheet.isolation, DEFER) if part))
    sheets.heading("Supply")
    sheets.para(f"{sheet.supply}. {sheet.supply_note}".strip(), gap=1)
    for line in (sheet.string, *sheet.string_notes):
        if line:
            sheets.para(line, gap=1)
    sheets.heading("Series lamp")
    sheets.para(f"Lamp: {sheet.lamp or 'none'}", style="B", gap=1)
    for line in sheet.lamp_behaviour:
        sheets.para(f"•  {line}", gap=1)
    sheets.heading("Order of checks")
    for number, line in enumerate(sheet.checks, 1):
        sheets.para(f"{_BOX}  {number}.  {line}", gap=2)
    if sheet.cautions:
        sheets.heading("Cautions")
        for caution in sheet.cautions:
            text = caution.text.removesuffix(DEFER).strip()
            sheets.para(f"{caution.title}. {text}", SMALL, gap=2)
        sheets.para(DEFER, SMALL, "B", gap=1)
    for table in sheet.alignment:
        sheets.heading(f"Alignment, from {table.source}", room=120)
        if sheet.if_khz:
            sheets.para(f"I.F. {sheet.if_khz:g} kc", style="B", gap=1)
        for paragraph in table.words:
            sheets.para(paragraph, SMALL, gap=2)
        if table.rows:
            columns = max(len(row) for row in table.rows)
            rows = [(*row, *[""] * (columns - len(row))) for row in table.rows]
            sheets.rows(rows, _widths(rows), SMALL)


def _widths(rows: Sequence[Sequence[str]]) -> list[float]:
    """Column widths by their longest cell, none too narrow for a word or wider than a phrase."""
    longest = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    return [float(min(max(length, 6), 24)) for length in longest]


def _replacements(sheets: Sheets, lines: tuple[ReplacementLine, ...]) -> None:
    sources = list(dict.fromkeys(line.source for line in lines if line.source))
    one_source = len(sources) == 1
    if one_source:
        sheets.para(f"From {sources[0]}.", SMALL)
    shared = _shared_sentences(lines)
    head = ("", "Part", "Printed", "Fit today", "Volts at least", "Do", "Note", "Page")
    rows = [head[:-1] if one_source else head]
    for line in lines:
        tick = {"": _BOX, "done": "✓", "struck": "–"}.get(line.state, line.state)
        volts = f"{line.working_v_at_least:g}" if line.working_v_at_least else ""
        fit = " or ".join(line.fit[:2])
        if line.type:
            fit = f"{fit}, {line.type}" if fit else line.type
        said = [one for one in _sentences(line.note) if one not in shared]
        numbers = dict.fromkeys(shared[one] for one in _sentences(line.note) if one in shared)
        marks = ", ".join(map(str, numbers))
        note = " ".join((*said, f"Notes {marks}." if "," in marks else f"Note {marks}."))
        row = (
            tick, line.reference, line.printed, fit, volts, line.to_do,
            note if marks else " ".join(said), line.source,
        )  # fmt: skip
        rows.append(row[:-1] if one_source else row)
    widths = (5, 12, 26, 42, 13, 21, 42, 24)
    sheets.rows(rows, widths[:-1] if one_source else widths, SMALL)
    for number in sorted(set(shared.values())):
        text = " ".join(one for one, mark in shared.items() if mark == number)
        sheets.para(f"{number}.  {text}", SMALL, gap=0)
    sheets.ln(4)


def _sentences(note: str) -> list[str]:
    return [one for one in re.split(r"(?<=[.])\s+(?=[A-Z])", note) if one]


def _shared_sentences(lines: Sequence[ReplacementLine]) -> dict[str, int]:
    """What several lines have to say, each with the number under which it stands below; what is
    always said together has one number."""
    said: dict[str, list[int]] = {}
    for at, line in enumerate(lines):
        for one in dict.fromkeys(_sentences(line.note)):
            said.setdefault(one, []).append(at)
    groups: dict[tuple[int, ...], int] = {}
    return {
        one: groups.setdefault(tuple(at), len(groups) + 1)
        for one, at in said.items()
        if len(at) > 1
    }


def _shopping(sheets: Sheets, lines: tuple[ShoppingLine, ...]) -> None:
    rows = [("", "Count", "Part", "Kind", "For")]
    rows += [
        (_BOX, str(line.count), line.part, line.type, ", ".join(line.references)) for line in lines
    ]
    sheets.rows(rows, (5, 10, 34, 44, 44), SMALL)


def _drawer(sheets: Sheets, lines: tuple[DrawerLine, ...]) -> None:
    rows = [("", "Tube", "Role", "Drawer", "Take", "Lie there", "Mind")]
    for line in lines:
        tick = "✓" if line.used else _BOX
        left = str(line.left) if line.use else ""
        relation = "" if line.relation == "same" else line.relation
        note = "; ".join(part for part in (relation, line.note) if part)
        state = "taken out" if line.used else line.state
        rows.append((tick, line.tube, line.role, state, line.use, left, note))
    sheets.rows(rows, (5, 18, 32, 28, 18, 14, 44), SMALL)
