"""Tables of a service page: alignment, voltages, resistances."""

from __future__ import annotations

from .receivers import Receiver, jobs, ohms, volts
from .sections import Table, heading, table
from .sheet import Sheet
from .tubes import TUBES


def alignment(sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float) -> float:
    """Alignment procedure: a paragraph and the table of steps."""
    sheet.printed.kind("alignment", rx.id)
    y = heading(sheet, "ALIGNMENT PROCEDURE", rx.style.bold, x0, x1, y)
    y = sheet.prose(
        x0,
        y,
        "Set the volume control at maximum. Connect an output meter across the "
        "voice coil. Keep the signal generator output as low as will give a reading, "
        "so that the automatic volume control does not act.",
        rx.style.body,
        44,
        x1 - x0,
    )
    grid = "CONVERTER GRID" if rx.if_khz else "ANTENNA LEAD"
    rows = [
        [
            "STEP",
            "CONNECT GENERATOR TO",
            "DUMMY ANTENNA",
            "GENERATOR FREQUENCY",
            "DIAL SETTING",
            "ADJUST FOR MAXIMUM",
        ]
    ]
    if rx.if_khz:
        rows.append(
            ["1", grid, ".1 MFD", f"{rx.if_khz} KC", "GANG OPEN", "T2 AND T1 TOP AND BOTTOM"]
        )
    end = "1620 KC" if (rx.year or 0) > 1940 else "1500 KC"
    rows += [
        [str(len(rows)), "ANTENNA LEAD", "200 MMF", end, "GANG OPEN", "OSCILLATOR TRIMMER"],
        [
            str(len(rows) + 1),
            "ANTENNA LEAD",
            "200 MMF",
            "1400 KC",
            "TUNE TO SIGNAL",
            "ANTENNA TRIMMER",
        ],
        [
            str(len(rows) + 2),
            "ANTENNA LEAD",
            "200 MMF",
            "600 KC",
            "ROCK GANG",
            "OSCILLATOR PADDER OR SLUG",
        ],
    ]
    if "6AL5" in rx.tubes:
        rows.append(
            [
                str(len(rows)),
                "1ST F.M. GRID",
                ".01 MFD",
                "10.7 MC",
                "F.M. HIGH END",
                "RATIO DETECTOR PRIMARY, THEN SECONDARY FOR ZERO",
            ]
        )
    return table(
        sheet, rows, [0.5, 1.5, 1.1, 1.4, 1.3, 1.9], rx.style.body, rx.style.bold, x0, x1, y + 16
    )


def _chart(sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float, resistance: bool) -> float:
    by_pin = all(TUBES[t].pins for t in rx.tubes)
    names = {"p": "PLATE", "s": "SCREEN", "g1": "GRID", "k": "CATHODE"}
    most = max(len(TUBES[t].pins) for t in rx.tubes) if by_pin else 4
    head = [f"PIN {n + 1}" for n in range(most)] if by_pin else list(names.values())
    rows: Table = [["TUBE", "FUNCTION", *head]]
    for tube, job in zip(rx.tubes, jobs(rx), strict=True):
        has = TUBES[tube].pins if by_pin else tuple(names)
        cells = [ohms(rx, job, e) if resistance else volts(rx, tube, job, e) for e in has]
        rows.append([tube, job, *cells, *["-"] * (most - len(cells))])
    sheet.printed.tubes(rx.id, list(rx.tubes))
    return table(
        sheet, rows, [1.0, 2.1, *[0.95] * most], rx.style.body, rx.style.bold, x0, x1, y, 38
    )


def voltage_chart(sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float) -> float:
    """Readings pin by pin, or by electrode where the base has other terminals."""
    sheet.printed.kind("voltage chart", rx.id)
    y = heading(sheet, "VOLTAGE CHART", rx.style.bold, x0, x1, y)
    line = {"battery": "fresh batteries", "vibrator": "6.3 volts at the A lead"}.get(
        rx.supply, "117 volts on the line"
    )
    to = "common negative" if rx.supply == "series string" else "chassis"
    y = sheet.prose(
        x0,
        y,
        f"Readings to {to} with a 20,000 ohms per volt meter, {line}, no signal, "
        "volume at maximum.",
        rx.style.body,
        42,
        x1 - x0,
    )
    return _chart(sheet, rx, x0, x1, y + 14, False)


def resistance_chart(sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float) -> float:
    """Resistance from each pin with the set disconnected."""
    sheet.printed.kind("resistance chart", rx.id)
    y = heading(sheet, "RESISTANCE CHART", rx.style.bold, x0, x1, y)
    y = sheet.prose(
        x0,
        y,
        "Ohms with the set disconnected and the capacitors discharged. Readings "
        "marked * are to the rectifier cathode.",
        rx.style.body,
        42,
        x1 - x0,
    )
    return _chart(sheet, rx, x0, x1, y + 14, True)
