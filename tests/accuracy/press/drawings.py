"""Schematics: the sample library's drafting with other lettering, other labels and clutter."""

import math

from sample_library.drawing import schematic
from tests.accuracy.press.faces import drafting, face
from tests.accuracy.press.lettering import STYLES, LetteredSheet, put_label
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.sets import EXTRAS, FAMILIES, Set, make_set

_TWIN = ("6SN7", "12AX7", "12AU7", "6SC7")
_CROSSED = 0.15  # share of the clutter that a line may touch


def schematic_page(seed: str, split: str, number: int) -> Page:
    """The schematic of that number, 4 to 12 tubes, some in halves, notes and clutter around."""
    paper = Paper(seed, 3300, 2550) if number % 3 else Paper(seed)
    rng = paper.rng
    one = make_set(rng, split, FAMILIES[(number * 4 + rng.randrange(2)) % len(FAMILIES)])
    font = drafting(split)[number % len(drafting(split))]
    width, height = paper.image.size
    naming = "MODEL" if len(one.models) == 1 else "MODELS"
    title = f"SCHEMATIC DIAGRAM {naming} {', '.join(one.models)} CHASSIS {one.chassis}"
    size = min(64, int(64 * (width - 400) / face(font, 64).getlength(title)))
    paper.put(width / 2, 90, title, font, size, "ma")
    paper.codes.update([*one.models, one.chassis])
    sheet = LetteredSheet(paper, font, one, rng.choice(STYLES))
    drawn = list(one.family.drawn)
    circuit = schematic.superhet(drawn, one.family.supply)
    room = height - 700 if number % 3 else height - 1500
    bottom, _ = schematic.draw(sheet, circuit, drawn, 170, 230, width - 360, room)
    sheet.letter()
    unit = max(15.0, min(22.0, width / 150))
    y = bottom + 80
    stages = _stages(rng.sample(EXTRAS, rng.randrange(0, 13 - len(one.tubes))), rng.random() < 0.8)
    while stages:
        done = _extra_row(paper, font, y, unit, stages)
        if not done:
            break
        stages, y = stages[done:], y + 46 * unit / 2.9
    _notes(paper, font, one, y + 50, unit)
    _clutter(paper, font, unit)
    return paper.page("schematic", f"{width}px wide")


def _stages(tubes: list[str], in_halves: bool) -> list[tuple[str, str]]:
    """(label, symbol) of each stage drawn beside the set's own: twin tubes in two halves."""
    stages = []
    for n, tube in enumerate(tubes, 21):
        if in_halves and tube in _TWIN:
            stages += [(f"1/2 {tube}", f"V{n}A"), (f"1/2 {tube}", f"V{n}B")]
        else:
            stages.append((tube, f"V{n}"))
    return stages


def _extra_row(
    paper: Paper, font: str, y: float, unit: float, stages: list[tuple[str, str]]
) -> int:
    """Draws as many stages as one row holds; how many that were, 0 when the page is full."""
    rng, radius = paper.rng, unit * 3.6
    if y + 4.2 * radius > paper.image.height - 150:
        return 0
    room = int((paper.image.width - 380) // (4.4 * radius))
    for n, (label, symbol) in enumerate(stages[:room]):
        x, middle = 240 + (4.4 * n + 1) * radius, y + 2.3 * radius
        box = [x - radius, middle - radius, x + radius, middle + radius]
        paper.pen.ellipse(box, outline=0, width=5)
        for k in range(3):
            at = middle - radius * (0.5 - 0.4 * k)
            paper.rule(x - radius * 0.5, at, x + radius * 0.5, at, 4)
        paper.rule(x, middle - 0.5 * radius, x, middle - 1.5 * radius, 4)
        paper.rule(x + radius, middle, x + 2.4 * radius, middle, 4)
        _resistor(paper, x + 2.4 * radius, middle, radius)
        size = int(unit * 1.7)
        sideways = rng.random() < 0.25
        if not (sideways and put_label(paper, x - 1.45 * radius, middle, label, font, size, 270)):
            put_label(paper, x - 1.0 * radius, middle - 1.35 * radius, label, font, size)
        put_label(paper, x + 0.2 * radius, middle + 1.35 * radius, symbol, font, int(unit * 1.4))
    return min(room, len(stages))


def _resistor(paper: Paper, x: float, y: float, radius: float) -> None:
    """A resistor that hangs down from a wire's end to earth."""
    points = [(x, y)]
    for k in range(7):
        side = 0.16 * radius * math.copysign(1, (k % 2) - 0.5) * (0 < k < 6)
        points.append((x + side, y + radius * (0.35 + 0.13 * k)))
    paper.pen.line([*points, (x, y + 1.45 * radius)], fill=0, width=4)
    for k in range(3):
        half = radius * (0.3 - 0.1 * k)
        at = y + radius * (1.45 + 0.1 * k)
        paper.rule(x - half, at, x + half, at, 3)


def _clutter(paper: Paper, font: str, unit: float) -> None:
    """Voltages, pin numbers and colours about the drawing, now and then over a line."""
    rng = paper.rng
    size, near = int(unit * 1.25), 90
    for _ in range(200):
        x, y = rng.randrange(150, paper.image.width - 300), rng.randrange(260, 2300)
        if paper.ink(x - near, y - near, x + near, y + near) < 0.03:
            continue
        words = rng.choice((f"{rng.randrange(2, 240)}V", str(rng.randrange(1, 9)), "BLUE", "RED",
                            "GRN", f"P{rng.randrange(1, 9)}", "-.8V", "YEL"))  # fmt: skip
        length = face(font, size).getlength(words)
        place = (x - 12, y - size, x + length + 12, y + size)
        most = 0.12 if rng.random() < _CROSSED else 0.0
        if paper.free(*place) and paper.ink(*place) <= most:
            paper.put(x, y, words, font, size, "lm")


def _notes(paper: Paper, font: str, one: Set, y: float, unit: float) -> None:
    size = int(unit * 1.8)
    notes = (
        f"I.F. {one.if_khz} KC",
        "VOLTAGES MEASURED TO COMMON NEGATIVE, LINE AT 117 V",
        "CAPACITORS IN MFD UNLESS MARKED MMF",
    )
    for note in notes:
        if y > paper.image.height - 140:
            return
        paper.put(200, y, note, font, size)
        y += size * 1.5
