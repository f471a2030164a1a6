"""Schematics: the sample library's drafting with other lettering, other labels and clutter."""

import re

from sample_library.drawing import schematic
from sample_library.drawing.sheet import Sheet
from tests.accuracy.press.faces import drafting, face
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.sets import EXTRAS, FAMILIES, Set, make_set

_TUBE_LABEL = re.compile(r"V(\d+)  (\S+)")
_STYLES = ("{v}  {t}", "{t}", "{v} {t}", "{t}  {v}", "{v}-{t}")


class _Lettered(Sheet):
    """A sheet whose lettering goes to a paper that remembers it, tube labels in a page's style."""

    def __init__(self, paper: Paper, font: str, one: Set, style: str) -> None:
        super().__init__("press", *paper.image.size)
        self.paper, self.face_path, self.one, self.style = paper, font, one, style
        self.image, self.pen = paper.image, paper.pen
        self.sideways = 0.12

    def text(
        self,
        x: float,
        y: float,
        words: str,
        font: str,
        size_px: int,
        anchor: str = "la",
        ink: int = 0,
    ) -> float:
        """Letters one label, as the paper's truth; a tube's in the page's own style."""
        del font
        found = _TUBE_LABEL.fullmatch(words)
        if not found:
            way = (
                270 if self.paper.rng.random() < self.sideways and re.match(r"[.\d]", words) else 0
            )
            if way and len(words) < 6:
                return self.paper.put(x, y, words, self.face_path, size_px, "mm", way=way, ink=ink)
            return self.paper.put(x, y, words, self.face_path, size_px, anchor, ink=ink)
        number = int(found[1])
        tube = self.one.tubes[number - 1] if number <= len(self.one.tubes) else found[2]
        label = self.style.format(v=f"V{number}", t=tube)
        length = self.paper.put(x, y, label, self.face_path, size_px, anchor, ink=ink)
        if self.paper.rng.random() < 0.3:  # a wire that runs close under the label
            y_px = y + size_px * 0.56
            self.paper.rule(x - length * 1.1, y_px, x + length * 0.2, y_px, 4)
        return length


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
    sheet = _Lettered(paper, font, one, rng.choice(_STYLES))
    drawn = list(one.family.drawn)
    circuit = schematic.superhet(drawn, one.family.supply)
    room = height - 700 if number % 3 else height - 1500
    bottom, _ = schematic.draw(sheet, circuit, drawn, 150, 230, width - 330, room)
    unit = max(15.0, min(22.0, width / 150))
    y = _extra_stages(paper, font, bottom + 120, unit, rng.randrange(0, 5))
    _clutter(paper, font, unit)
    _notes(paper, font, one, max(y, bottom) + 60, unit)
    return paper.page("schematic", f"{paper.image.width}px wide")


def _extra_stages(paper: Paper, font: str, y: float, unit: float, count: int) -> float:
    """Tubes beside the set's own: an audio amplifier in halves, a tuning eye, a detector."""
    rng, width = paper.rng, paper.image.width
    radius = unit * 4
    if not count or y + 5 * radius > paper.image.height - 150:
        return y
    x = 260.0
    symbol = 20
    for tube in rng.sample(EXTRAS, count):
        halves = 2 if tube in ("6SN7", "12AX7", "12AU7", "6SC7") and rng.random() < 0.8 else 1
        symbol += 1
        for half in range(halves):
            if x + 3 * radius > width - 200:
                return y + 4 * radius
            label = f"1/2 {tube}" if halves == 2 else tube
            where = (x + radius, y + 2 * radius)
            paper.pen.ellipse(
                [where[0] - radius, where[1] - radius, where[0] + radius, where[1] + radius],
                outline=0, width=5,
            )  # fmt: skip
            for n in range(3):
                at = where[1] - radius * (0.5 - 0.4 * n)
                paper.rule(where[0] - radius * 0.5, at, where[0] + radius * 0.5, at, 4)
            paper.rule(where[0], where[1] - radius, where[0], where[1] - 1.9 * radius, 4)
            paper.rule(where[0] + radius, where[1], where[0] + 2.6 * radius, where[1], 4)
            if rng.random() < 0.25:
                paper.put(where[0] - 1.5 * radius, where[1] + radius, label, font,
                          int(unit * 1.7), "lm", way=270)  # fmt: skip
            else:
                paper.put(where[0] - 0.2 * radius, where[1] - 1.35 * radius, label, font,
                          int(unit * 1.7), "rm")  # fmt: skip
            suffix = "AB"[half] if halves == 2 else ""
            paper.put(where[0] + 0.3 * radius, where[1] + 1.4 * radius, f"V{symbol}{suffix}", font,
                      int(unit * 1.4), "lm")  # fmt: skip
            x += 4.2 * radius
    return y + 4 * radius


def _clutter(paper: Paper, font: str, unit: float) -> None:
    """Voltages, pin numbers and colours where no word stands yet."""
    rng = paper.rng
    size = int(unit * 1.25)
    for _ in range(40):
        x, y = rng.randrange(150, paper.image.width - 300), rng.randrange(260, 2300)
        words = rng.choice((f"{rng.randrange(2, 240)}V", str(rng.randrange(1, 9)), "BLUE", "RED",
                            "GRN", f"P{rng.randrange(1, 9)}", "-.8V", "YEL"))  # fmt: skip
        length = face(font, size).getlength(words)
        if paper.free(x - 20, y - size, x + length + 20, y + size):
            paper.put(x, y, words, font, size, "lm")


def _notes(paper: Paper, font: str, one: Set, y: float, unit: float) -> None:
    size = int(unit * 1.8)
    notes = (
        f"I.F. {one.if_khz} KC",
        "VOLTAGES MEASURED TO COMMON NEGATIVE, LINE AT 117 V",
        "CAPACITORS IN MFD UNLESS MARKED MMF",
    )
    for note in notes:
        if y > paper.image.height - 120:
            return
        paper.put(180, y, note, font, size)
        y += size * 1.5
