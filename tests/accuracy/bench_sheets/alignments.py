"""Alignment tables and numbered steps as several houses printed them."""

from tests.accuracy.bench_sheets.sheet import LEFT, Sheet, set_table, title

_WHERE = ("Converter grid", "Antenna lead", "Loop, by two turns", "Rear section of gang")
_DUMMY = (".1 mfd", "200 mmf", "400 ohms", "none", ".05 mfd")
_DIAL = ("Open", "High end", "1400 kc", "600 kc", "Quiet point")
_TRIM = ("T2, both cores", "T1, both cores", "C1B oscillator", "C1A antenna", "L2 core, rock gang")
_KC = ("455 kc", "455 kc", "1620 kc", "1400 kc", "600 kc")

_HEADS = (
    ["Step", "Connect Generator to", "Dummy Antenna", "Generator Frequency", "Dial Setting",
     "Adjust"],
    ["STEP", "GENERATOR", "FREQUENCY", "DIAL", "ADJUST"],
    ["No.", "Signal Generator", "Frequency", "Dial at", "Trimmer"],
    ["Operation", "Generator Connected to", "Generator Set at", "Dial", "Adjust for Maximum"],
)  # fmt: skip


def draw(sheet: Sheet, y: float) -> float:
    """One table or list of steps in the sheet's style; returns the height below it."""
    rng, style = sheet.rng, sheet.style % 5
    size = rng.randrange(32, 38)
    heading = ("ALIGNMENT", "ALIGNMENT PROCEDURE", "ALIGNMENT CHART", "ALIGNMENT TABLE")[style % 4]
    y = title(sheet, heading, y, size)
    steps = [
        (str(n), rng.choice(_WHERE), rng.choice(_DUMMY), _KC[n - 1], rng.choice(_DIAL),
         _TRIM[n - 1])
        for n in range(1, 6)
    ]  # fmt: skip
    if style == 4:
        return _prose(sheet, steps, y, size)
    wanted = {0: (0, 1, 2, 3, 4, 5), 1: (0, 1, 3, 4, 5), 2: (0, 1, 3, 4, 5), 3: (0, 1, 3, 4, 5)}
    columns = wanted[style]
    rows = [_HEADS[style], *([step[k] for k in columns] for step in steps)]
    for row in rows[1:]:
        sheet.steps += [(row[0], k, plain(cell)) for k, cell in enumerate(row)]
    return set_table(sheet, rows, y, size, ruled=rng.random() < 0.5, centred=rng.random() < 0.5)


def _prose(sheet: Sheet, steps: list[tuple[str, ...]], y: float, size: int) -> float:
    """Numbered sentences instead of a table; each counts as one cell."""
    for number, where, dummy, kc, dial, trim in steps:
        words = f"{number}. Connect the generator to {where.lower()} through {dummy}, set at {kc},"
        sheet.paper.put(LEFT, y, words, sheet.kind.body, size)
        y += size * 1.4
        rest = f"dial {dial.lower()}. Adjust {trim} for maximum."
        sheet.paper.put(LEFT + 50, y, rest, sheet.kind.body, size)
        y += size * 1.7
        text = f"{words.partition(' ')[2]} {rest}"
        sheet.steps.append((number, 1, plain(text)))
    return y


def plain(text: str) -> str:
    """Letters and figures alone, so that a dot or a dash lost on the way doesn't count."""
    return "".join(c for c in text.lower() if c.isalnum())
