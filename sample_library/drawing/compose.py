"""Puts blocks on a sheet one under another, or side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from . import charts, sections, views
from .draft import Parts
from .receivers import Receiver
from .schematic import draw
from .sheet import Sheet

Block = tuple[Any, ...]
BLOCKS = {
    "specifications": sections.specifications,
    "alignment": charts.alignment,
    "voltage": charts.voltage_chart,
    "resistance": charts.resistance_chart,
    "notes": sections.service_notes,
    "layout": views.tube_layout,
    "chassis": views.chassis_view,
    "dial": views.dial_stringing,
}


def parts_of(rx: Receiver) -> Parts:
    """The parts a set's schematic uses, learnt by drawing it on scrap."""
    return draw(Sheet("scrap", 60, 60), rx.circuit, list(rx.tubes), 0, 0, 2200)[1]


def schematic(
    sheet: Sheet,
    rx: Receiver,
    y: float,
    height_px: float = 2900,
    x0: float | None = None,
    x1: float | None = None,
) -> float:
    """The set's circuit diagram across the page; returns the y below it."""
    sheet.printed.kind("schematic", rx.id)
    sheet.printed.tubes(rx.id, list(rx.tubes))
    left = (sheet.left if x0 is None else x0) + 10
    right = sheet.right if x1 is None else x1
    notes = [
        f"RESISTANCE IN OHMS, {'M' if rx.circuit.values['load'] == '250M' else 'K'} = 1,000",
        "CAPACITANCE IN MFD BELOW 1, IN MMF ABOVE",
        "COIL RESISTANCE NOT SHOWN IS UNDER 1 OHM",
        "VOLTAGES ON THE CHART",
    ]
    if rx.if_khz:
        notes.insert(0, f"I.F. {rx.if_khz} KC")
    return draw(
        sheet,
        rx.circuit,
        list(rx.tubes),
        left,
        y,
        right - left,
        height_px,
        tuple(notes),
        rx.style.drawing,
    )[0]


def block(
    sheet: Sheet, rx: Receiver, name: str, x0: float, x1: float, y: float, **more: Any
) -> float:
    """One named block between x0 and x1; returns the y below it."""
    if name == "masthead":
        return sections.masthead(sheet, rx, y, **more)
    if name == "schematic":
        return schematic(sheet, rx, y, x0=x0, x1=x1, **more)
    if name == "parts":
        return sections.parts_list(sheet, rx, parts_of(rx), x0, x1, y, **more)
    return BLOCKS[name](sheet, rx, x0, x1, y, **more)


def _run(sheet: Sheet, y: float, blocks: Sequence[Block], gap_px: float) -> float:
    for n, (rx, name, *rest) in enumerate(blocks):
        more = rest[0] if rest else {}
        y += gap_px if n > 1 else 0
        if "+" in name:
            one, two = name.split("+")
            mid = (sheet.left + sheet.right) / 2
            y = max(
                block(sheet, rx, one, sheet.left, mid - 30, y, **more),
                block(sheet, rx, two, mid + 30, sheet.right, y, **more),
            )
        else:
            y = block(sheet, rx, name, sheet.left, sheet.right, y, **more)
    return y


def flow(sheet: Sheet, y: float, blocks: Sequence[Block]) -> float:
    """Set blocks (set, name, options) downward; a name like 'layout+dial' sets two abreast.

    Room left at the foot is shared out between the blocks. ValueError if they do not fit.
    """
    size = sheet.image.size
    trial = _run(Sheet("trial", *size), y, blocks, 0)
    spare = sheet.bottom + 40 - trial
    if spare < 0:
        raise ValueError(f"page {sheet.page_label or '?'} runs {-spare:.0f} px over")
    return _run(sheet, y, blocks, min(90.0, spare / max(1, len(blocks) - 1)))
