"""Voltage and resistance charts as several houses printed them."""

from math import inf

from tests.accuracy.bench_sheets.sheet import Sheet, set_table, title

VOLTS, OHMS = "volts", "ohms"
_JOBS = (
    "Converter",
    "I.F. Amp.",
    "Det. - AVC - 1st Audio",
    "Power Output",
    "Rectifier",
    "Inverter",
)
_OHM_CELLS = (
    ("0", 0.0), ("470K", 470e3), ("2.2 MEG", 2.2e6), ("150", 150.0), ("1200", 1200.0),
    ("INF.", inf), ("100K", 100e3), ("10 MEG", 10e6), ("18", 18.0), ("NC", None), ("220K", 220e3),
)  # fmt: skip


def _volts(sheet: Sheet) -> tuple[str, float | None]:
    rng = sheet.rng
    shape = rng.randrange(7)
    if shape == 0:
        return "0", 0.0
    if shape == 1:
        return "NC", None
    if shape == 2:
        number = rng.choice((0.6, 0.8, 1.2, 6.5, 9.0))
        return f"-{number:g}", -number
    if shape == 3:
        number = rng.choice((6.3, 12.6, 25, 37, 50, 117))
        return f"{number:g} AC", float(number)
    if shape == 4:
        number = rng.choice((1.1, 4.5, 5.8, 7.2))
        return f"{number:g}", float(number)
    number = rng.randrange(40, 260)
    return str(number), float(number)


def _ohms(sheet: Sheet) -> tuple[str, float | None]:
    text, value = sheet.rng.choice(_OHM_CELLS)
    return text, value


def draw(sheet: Sheet, y: float, unit: str) -> float:
    """One chart in the sheet's style; returns the height below it."""
    rng, style, one = sheet.rng, sheet.style % 5, sheet.one
    size = rng.randrange(32, 39)
    word = "VOLTAGE" if unit == VOLTS else "RESISTANCE"
    y = title(sheet, f"{word} {('CHART', 'READINGS', 'MEASUREMENTS')[style % 3]}", y, size)
    if rng.random() < 0.5:
        percent = rng.choice((10, 15, 20))
        words = f"Readings may vary within {percent} per cent. Line 117 volts, volume at maximum."
        sheet.paper.put(200, y, words, sheet.kind.body, size - 2)
        y += size * 1.8
    cell = _volts if unit == VOLTS else _ohms
    seen: dict[str, int] = {}
    pins = 8 if one.family.octal else 7
    heads = {
        0: [f"Pin {n}" for n in range(1, pins + 1)],
        1: [str(n) for n in range(1, pins + 1)],
        2: ["Plate", "Screen", "Cathode", "Grid", "Heater"],
        3: [f"PIN{n}" for n in range(1, pins + 1)],
        4: ["Plate", "Scr. Grid", "Cath.", "Cont. Grid", "Fil."],
    }[style]
    names = (
        [f"pin {n}" for n in range(1, pins + 1)]
        if style in (0, 1, 3)
        else ["plate", "screen", "cathode", "grid", "heater" if style == 2 else "filament"]
    )
    first = {
        0: ["Symbol", "Tube"], 1: ["TUBE"], 2: ["Tube", "Function"], 3: ["Item", "Tube"],
        4: ["Type"],
    }[style]  # fmt: skip
    rows = []
    if style == 1:
        sheet.paper.put(1300, y + 10, "PIN NUMBERS", sheet.kind.bold, size)
        y += size * 1.6
    rows.append([*first, *heads])
    for n, tube in enumerate(one.tubes):
        lead = {0: [f"V{n + 1}", tube], 1: [tube], 2: [tube, _JOBS[min(n, 5)]],
                3: [f"V{n + 1}", tube], 4: [tube]}[style]  # fmt: skip
        cells = []
        seen[tube] = seen.get(tube, 0) + 1
        for name in names:
            text, value = cell(sheet)
            cells.append(text)
            if value is not None:
                sheet.points.append((tube, seen[tube], name, unit, value))
        rows.append([*lead, *cells])
    ruled = rng.random() < 0.5
    return set_table(sheet, rows, y, size, ruled=ruled, centred=True, pitch=1.7)
