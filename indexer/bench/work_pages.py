"""The work sheets of a job, set in type: power-up, parts to replace, readings, tubes."""

from indexer.bench.paper import SMALL, TITLE, Sheets
from indexer.bench.sheet_types import (
    DrawerLine,
    PowerUpSheet,
    ReadingLine,
    ReplacementLine,
    ShoppingLine,
    WorkSheets,
)
from indexer.trade.cautions import DEFER

_BOX = "☐"


def write_work_sheets(sheets: Sheets, work: WorkSheets) -> dict[str, int]:
    """Adds the sheets that have something to say; title -> sheet (from 0), in order."""
    found: dict[str, int] = {}

    def begin(title: str) -> None:
        sheets.typed_sheet()
        found[title] = sheets.page_no() - 1
        sheets.para(title, TITLE, "B", gap=6)

    begin("Power-up sheet")
    _power_up(sheets, work.power_up)
    if work.replacements:
        begin("Replacement list")
        _replacements(sheets, work.replacements)
    if work.shopping:
        if not work.replacements:
            begin("Shopping list")
        _shopping(sheets, work.shopping)
    if work.readings:
        begin("Readings")
        _readings(sheets, work.readings)
    if work.drawer:
        begin("Tubes and spares")
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
    sheets.para(sheet.supply, gap=1)
    for line in (sheet.string, *sheet.string_notes):
        if line:
            sheets.para(line, gap=1)
    sheets.heading("Series lamp")
    sheets.para(f"Lamp: {sheet.lamp}", style="B", gap=1)
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
            sheets.rows(rows, [1.0] * columns, SMALL)


def _replacements(sheets: Sheets, lines: tuple[ReplacementLine, ...]) -> None:
    rows = [("", "Part", "Printed", "Fit today", "Volts at least", "Do", "Note", "Page")]
    for line in lines:
        tick = {"": _BOX, "done": "✓", "struck": "–"}.get(line.state, line.state)
        volts = f"{line.working_v_at_least:g}" if line.working_v_at_least else ""
        fit = " or ".join(line.fit[:2]) + (f" ({line.type})" if line.type else "")
        rows.append(
            (
                tick, line.reference, line.printed, fit.strip(), volts, line.action,
                line.note, line.source,
            )
        )  # fmt: skip
    sheets.rows(rows, (5, 12, 22, 30, 12, 18, 40, 24), SMALL)


def _shopping(sheets: Sheets, lines: tuple[ShoppingLine, ...]) -> None:
    sheets.heading("Shopping list")
    rows = [("", "Count", "Part", "Kind", "For")]
    rows += [
        (_BOX, str(line.count), line.part, line.type, ", ".join(line.references)) for line in lines
    ]
    sheets.rows(rows, (5, 10, 34, 44, 44), SMALL)


def _readings(sheets: Sheets, lines: tuple[ReadingLine, ...]) -> None:
    rows = [("Point", "What", "Nominal", "From", "To", "Reads", "Verdict", "Note")]
    for line in lines:
        reads = line.reads or "............"
        rows.append(
            (
                line.point, line.what, line.nominal, line.low, line.high, reads,
                line.verdict, line.note,
            )
        )  # fmt: skip
    sheets.rows(rows, (20, 20, 20, 18, 18, 22, 16, 34), SMALL)


def _drawer(sheets: Sheets, lines: tuple[DrawerLine, ...]) -> None:
    rows = [("", "Tube", "Role", "Drawer", "Take", "Left", "Mind")]
    for line in lines:
        tick = "✓" if line.used else _BOX
        left = str(line.left) if line.use else ""
        note = "; ".join(part for part in (line.relation, line.note) if part)
        rows.append((tick, line.tube, line.role, line.state, line.use, left, note))
    sheets.rows(rows, (5, 16, 32, 28, 18, 9, 44), SMALL)
