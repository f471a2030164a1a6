"""Labels glued inside cabinets, photographed: sockets with their tubes, lists, rating plates."""

import math

from tests.accuracy.press.faces import face, families
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.photo import photographed
from tests.accuracy.press.sets import EXTRA_JOBS, EXTRAS, make_set

_W, _H = 1560, 1060
_ROOM_PX = _W - 140  # between the frame's sides
_LAYOUTS = ("sockets", "list", "rating", "sockets")


def label_photo(seed: str, split: str, number: int) -> Page:
    """The photo of that number: a layout, a list or a rating label in perspective."""
    paper = Paper(seed, _W, _H)
    kind = families(split)[(number * 2 + 1) % len(families(split))]
    layout = _LAYOUTS[number % len(_LAYOUTS)]
    one = make_set(paper.rng, split)
    paper.pen.rectangle([20, 20, _W - 20, _H - 20], outline=0, width=6)
    _centred(paper, 90, f"{one.maker.upper()} RADIO CORP.", kind.bold, 58)
    paper.codes.update([one.models[0], one.chassis])
    _centred(paper, 176, f"MODEL {one.models[0]}   CHASSIS {one.chassis}", kind.bold, 54)
    extra = paper.rng.sample(EXTRAS, paper.rng.randrange(0, 4))
    tubes = [*zip(one.tubes, one.family.jobs, strict=True), *((t, EXTRA_JOBS[t]) for t in extra)]
    if layout == "rating":
        types = [tube for tube, _ in tubes]
        rows = [types[n : n + 4] for n in range(0, len(types), 4)]
        for n, row in enumerate(rows):
            _centred(paper, 370 + 110 * n, "   ".join(row), kind.bold, 64)
        power = f"105-125 VOLTS  {paper.rng.randrange(4, 13) * 5} WATTS"
        _centred(paper, 460 + 110 * len(rows), power, kind.body, 52)
    elif layout == "list":
        step = min(90, 640 // len(tubes))
        for n, (tube, job) in enumerate(tubes):
            y = 290 + step * n
            paper.put(200, y, f"V{n + 1}", kind.body, 44, "lm")
            paper.put(330, y, tube, kind.bold, 48, "lm", same_line=True)
            paper.put(720, y, job.upper(), kind.body, 40, "lm", same_line=True)
    else:
        _sockets(paper, kind.bold, kind.body, tubes)
    _centred(paper, _H - 70, "REPLACE TUBES ONLY WITH THE SAME TYPES", kind.body, 40)
    return photographed(paper, split, layout)


def _centred(paper: Paper, y: float, words: str, font: str, size_px: int) -> None:
    """A line in the middle, set smaller when the label is too narrow for it."""
    paper.put(_W / 2, y, words, font, _fitting(words, font, size_px, _ROOM_PX), "mm")


def _fitting(words: str, font: str, size_px: int, room_px: float) -> int:
    """The largest size up to `size_px` at which the words take at most `room_px`."""
    while face(font, size_px).getlength(words) > room_px:
        size_px -= 1
    return size_px


def _sockets(paper: Paper, bold: str, body: str, tubes: list[tuple[str, str]]) -> None:
    across = min(4, -(-len(tubes) // 2))
    rows = -(-len(tubes) // across)
    step, radius = (300, 104) if rows < 3 else (236, 80)
    for n, (tube, job) in enumerate(tubes):
        row, column = divmod(n, across)
        x = _W * (column + 0.5) / across + paper.rng.randrange(-25, 25)
        y = (370 if rows < 3 else 320) + row * step
        paper.pen.ellipse([x - radius, y - radius, x + radius, y + radius], outline=0, width=6)
        for k in range(8):
            a = 2 * math.pi * (k + 0.5) / 8
            dx, dy = x + math.cos(a) * (radius - 18), y + math.sin(a) * (radius - 18)
            paper.pen.ellipse([dx - 6, dy - 6, dx + 6, dy + 6], fill=0)
        paper.put(x, y, tube, bold, _fitting(tube, bold, 46, 1.35 * radius), "mm")
        words = job.upper()
        size = _fitting(words, body, 30, _W / across - 60)
        paper.put(x, y + radius + 26, words, body, size, "mm")
