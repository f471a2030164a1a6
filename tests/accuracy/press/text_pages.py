"""Printed pages: bulletins, notes in columns, parts lists, charts and index pages."""

import random

from tests.accuracy.press import wording
from tests.accuracy.press.faces import Family, face, families
from tests.accuracy.press.paper import Page, Paper
from tests.accuracy.press.sets import Set, make_set

_LEFT, _RIGHT, _BOTTOM = 170, 2380, 3140


def text_page(seed: str, split: str, number: int) -> Page:
    """The text page of that number; layouts and faces take turns."""
    paper = Paper(seed)
    rng = paper.rng
    kind = families(split)[number % len(families(split))]
    layout = LAYOUTS[number % len(LAYOUTS)]
    one = make_set(rng, split)
    size = rng.randrange(36, 47)
    if layout == "index":
        _index(paper, rng, split, kind, size - 2)
        return paper.page("text", layout)
    y = _masthead(paper, one, kind)
    if layout in ("notes", "parts"):
        y = _line_up(paper, one, kind, size, y)
    if layout == "parts":
        _parts(paper, one, kind, size, y, rng.choice((1, 2)))
    elif layout == "charts":
        y = _table(paper, wording.voltage_rows(rng, one), kind, size, y, "VOLTAGE CHART")
        y = _table(paper, wording.alignment_rows(rng, one), kind, size - 2, y + 50, "ALIGNMENT")
        _columns(paper, one, kind, size, y + 60, 2)
    else:
        _columns(paper, one, kind, size, y, 2 if layout == "notes" else 1)
    return paper.page("text", layout)


LAYOUTS = ("notes", "charts", "parts", "bulletin", "index")


def _masthead(paper: Paper, one: Set, kind: Family) -> float:
    middle = (_LEFT + _RIGHT) / 2
    paper.put(middle, 150, f"{one.maker.upper()} RADIO", kind.bold, 84, "ma")
    naming = "MODEL" if len(one.models) == 1 else "MODELS"
    paper.put(_LEFT, 270, f"{naming} {', '.join(one.models)}", kind.bold, 58)
    paper.put(_RIGHT, 270, f"CHASSIS {one.chassis}", kind.bold, 58, "ra", same_line=True)
    paper.put(middle, 356, f"{len(one.tubes)} TUBE RECEIVER ISSUED {one.year}", kind.body, 40, "ma")
    paper.rule(_LEFT, 424, _RIGHT, 424, 5)
    paper.codes.update([*one.models, one.chassis])
    return 460


def _line_up(paper: Paper, one: Set, kind: Family, size: int, y: float) -> float:
    for n, tube in enumerate(one.tubes):
        paper.put(_LEFT, y, f"V{n + 1} {tube}", kind.body, size)
        job = one.family.jobs[n]
        length = face(kind.body, size).getlength(job)
        for x in range(_LEFT + 420, int(_RIGHT - 1000 - length), 26):
            paper.pen.text((x, y), ".", fill=0, font=face(kind.body, size))
        paper.put(_RIGHT - 980, y, job, kind.body, size, "ra", same_line=True)
        y += size * 1.35
    return y + 40


def _columns(paper: Paper, one: Set, kind: Family, size: int, y: float, count: int) -> None:
    gap = 70
    width = (_RIGHT - _LEFT - gap * (count - 1)) / count
    for column in range(count):
        at, x = y, _LEFT + column * (width + gap)
        while at < _BOTTOM - 6 * size:
            if paper.rng.random() < 0.3:
                head = paper.rng.choice(("SERVICE NOTES", "ALIGNMENT", "REMOVAL OF CHASSIS"))
                paper.put(x + width / 2, at, head, kind.bold, size + 2, "ma")
                at += size * 1.6
            text = wording.paragraph(paper.rng, one, paper.rng.randrange(2, 5))
            for line in wrapped(text, kind.body, size, width):
                if at > _BOTTOM:
                    break
                paper.put(x, at, line, kind.body, size)
                at += size * 1.28
            at += size * 0.5


def wrapped(text: str, font: str, size: int, width: float) -> list[str]:
    """Text broken into lines no wider than `width` pixels."""
    lines, line = [], ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and face(font, size).getlength(longer) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line]


def _parts(paper: Paper, one: Set, kind: Family, size: int, y: float, columns: int) -> None:
    paper.put((_LEFT + _RIGHT) / 2, y, "REPLACEMENT PARTS LIST", kind.bold, size + 6, "ma")
    y += 90
    size = size if columns == 1 else min(size, 36)
    step = size * 1.4
    per = int((_BOTTOM - y) / step) - 1
    width = (_RIGHT - _LEFT) / columns
    rows = wording.parts_rows(paper.rng, one, min(per * columns, 60))
    per = -(-len(rows) // columns)
    shares = (0.0, 0.11, 0.34)
    for column in range(columns):
        x = _LEFT + column * width
        for share, head in zip(shares, ("Ref.", "Part No.", "Description"), strict=True):
            paper.put(x + share * width, y, head, kind.bold, size, same_line=share > 0)
        for n, row in enumerate(rows[column * per : (column + 1) * per], 1):
            for share, cell in zip(shares, row, strict=True):
                place = (x + share * width, y + n * step)
                paper.put(*place, cell, kind.body, size, same_line=share > 0)


def _table(
    paper: Paper, rows: list[list[str]], kind: Family, size: int, y: float, title: str
) -> float:
    paper.put((_LEFT + _RIGHT) / 2, y, title, kind.bold, size + 8, "ma")
    y += size * 2
    ruled = paper.rng.random() < 0.6
    widest = [
        max(face(kind.bold, size).getlength(row[n]) for row in rows) for n in range(len(rows[0]))
    ]
    scale = min(1.0, (_RIGHT - _LEFT - 20 * len(widest)) / sum(widest))
    size = int(size * scale)
    spare = (_RIGHT - _LEFT - sum(widest) * scale) / len(widest)
    edges = [float(_LEFT)]
    for width in widest:
        edges.append(edges[-1] + width * scale + spare)
    step = size * 1.7
    for n, row in enumerate(rows):
        for k, cell in enumerate(row):
            middle = (edges[k] + edges[k + 1]) / 2
            font = kind.bold if n == 0 else kind.body
            place = (middle, y + (n + 0.5) * step)
            paper.put(*place, cell, font, size, "mm", same_line=k > 0)
        if ruled or n < 2:
            paper.rule(_LEFT, y + n * step, _RIGHT, y + n * step, 3)
    bottom = y + len(rows) * step
    paper.rule(_LEFT, bottom, _RIGHT, bottom, 3)
    if ruled:
        for x in edges:
            paper.rule(x, y, x, bottom, 3)
    return bottom


def _index(paper: Paper, rng: random.Random, split: str, kind: Family, size: int) -> None:
    paper.put((_LEFT + _RIGHT) / 2, 150, "INDEX OF SETS", kind.bold, 80, "ma")
    columns = rng.choice((2, 3))
    size = min(size, 40 if columns == 2 else 31)
    width, y = (_RIGHT - _LEFT) / columns, 300.0
    step = size * 1.38
    for column in range(columns):
        at, x = y, _LEFT + column * width
        while at < _BOTTOM:
            one = make_set(rng, split)
            paper.put(x, at, one.maker.upper(), kind.bold, size + 4)
            at += step * 1.2
            for _ in range(rng.randrange(3, 8)):
                if at > _BOTTOM:
                    break
                other = make_set(rng, split)
                paper.listed.add(other.models[0])
                paper.put(x + 20, at, other.models[0], kind.body, size)
                if rng.random() < 0.4:
                    words = f"Ch. {other.chassis}"
                    paper.put(x + width * 0.32, at, words, kind.body, size, same_line=True)
                    paper.listed.add(other.chassis)
                place = f"{rng.randrange(1, 19)}-{rng.randrange(1, 180)}"
                paper.put(x + width - 60, at, place, kind.body, size, "ra", same_line=True)
                at += step
            at += step * 0.4
