"""The printed matter of a service page: mastheads, tables, lists and prose."""

from __future__ import annotations

import random
import re

from .draft import Parts
from .fonts import face
from .receivers import Receiver, jobs
from .sheet import Sheet

Table = list[list[str]]


def masthead(sheet: Sheet, rx: Receiver, y: float, continued: bool = False) -> float:
    """Maker, models and chassis across the page; returns the y below it."""
    left, right, style = sheet.left, sheet.right, rx.style
    sheet.printed.add("models", list(rx.models))
    sheet.printed.add("chassis", list(rx.chassis))
    sheet.printed.add("sets", [rx.id])
    if continued:
        tail = "  ".join(x for x in (rx.heading, rx.chassis_heading, "(Continued)") if x)
        size = 46
        while face(style.head, size).getlength(rx.firm + "    " + tail) > right - left:
            size -= 1
        sheet.text(left, y, f"{rx.firm}", style.head, size)
        sheet.text(right, y, tail, style.head, size, "ra")
        sheet.rule(left, y + 62, right, 4)
        return y + 82
    y += 40 if y > 400 else 0
    sheet.rule(left, y, right, 8)
    sheet.rule(left, y + 14, right, 3)
    size = 92
    while face(style.head, size).getlength(rx.firm) > (right - left) * 0.9:
        size -= 2
    sheet.spaced((left + right) / 2, y + 30, rx.firm, style.head, size, 4)
    y += 36 + size * 1.22
    sheet.text(left + 10, y, rx.heading, style.head, 58)
    sheet.text(right - 10, y, rx.chassis_heading, style.head, 58, "ra")
    y += 76
    if rx.year:
        supply = {
            "series string": "A.C. - D.C.",
            "transformer": "60 CYCLE A.C.",
            "battery": "BATTERY",
            "battery and line": "3-WAY PORTABLE",
            "vibrator": "6 VOLT AUTO",
        }[rx.supply]
        sheet.text(
            (left + right) / 2,
            y,
            f"{len(rx.tubes)} TUBE {supply} RECEIVER      ISSUED {rx.year}",
            style.bold,
            38,
            "ma",
        )
        y += 54
    sheet.rule(left, y, right, 4)
    return y + 24


def heading(sheet: Sheet, words: str, font: str, x0: float, x1: float, y: float) -> float:
    """A centred section heading with a short rule."""
    sheet.text((x0 + x1) / 2, y, words, font, 46, "ma")
    width = face(font, 46).getlength(words)
    sheet.rule((x0 + x1 - width) / 2, y + 54, (x0 + x1 + width) / 2, 3)
    return y + 74


def table(
    sheet: Sheet,
    rows: Table,
    shares: list[float],
    font: str,
    bold: str,
    x0: float,
    x1: float,
    y: float,
    size: int = 40,
) -> float:
    """A ruled table, first row as headings, cells wrapped; returns the y below it."""
    total = sum(shares)
    edges = [x0]
    for share in shares:
        edges.append(edges[-1] + (x1 - x0) * share / total)
    top = y
    for n, row in enumerate(rows):
        used = bold if n == 0 else font
        cells = [
            sheet.wrap(cell, used, size, edges[i + 1] - edges[i] - 22) for i, cell in enumerate(row)
        ]
        high = max(len(c) for c in cells) * size * 1.16 + 18
        for i, lines in enumerate(cells):
            for k, line in enumerate(lines):
                at = y + 9 + k * size * 1.16 + (high - 18 - len(lines) * size * 1.16) / 2
                sheet.text((edges[i] + edges[i + 1]) / 2, at, line, used, size, "ma")
        sheet.rule(x0, y, x1, 4 if n < 2 else 2)
        y += high
    sheet.rule(x0, y, x1, 4)
    for x in edges:
        sheet.pen.line([(x, top), (x, y)], fill=0, width=3)
    return y + 26


def specifications(sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float) -> float:
    """Tube complement and ratings, set with leader dots."""
    y = heading(sheet, "SPECIFICATIONS", rx.style.bold, x0, x1, y)
    lines = [
        (f"V{i + 1}  {t}", job.title().replace("1St", "1st"))
        for i, (t, job) in enumerate(zip(rx.tubes, jobs(rx), strict=True))
    ]
    if rx.if_khz:
        lines.append(("Intermediate Frequency", f"{rx.if_khz} kc"))
    lines.append(("Tuning Range", "540 - 1620 kc" if (rx.year or 0) > 1940 else "540 - 1500 kc"))
    for left, right in lines:
        width = sheet.text(x0, y, left, rx.style.body, 44)
        far = face(rx.style.body, 44).getlength(right)
        sheet.leader(x0 + width + 8, x1 - far - 12, y, rx.style.body, 44)
        sheet.text(x1, y, right, rx.style.body, 44, "ra")
        y += 57
    sheet.printed.tubes(rx.id, list(rx.tubes))
    return y + 20


def part_number(rng: random.Random, rx: Receiver) -> str:
    """A part number in the maker's own shape."""
    return rx.style.number.format(
        rng.choice("ABCDEH"), rng.randrange(1100, 9899), rng.randrange(11, 97)
    )


def parts_list(
    sheet: Sheet,
    rx: Receiver,
    parts: Parts,
    x0: float,
    x1: float,
    y: float,
    columns: int = 2,
    size: int = 42,
    with_tubes: bool = False,
) -> float:
    """Reference, part number and description in one or two columns."""
    sheet.printed.kind("parts list", rx.id)
    rng = random.Random(rx.id)
    y = heading(sheet, "PARTS LIST", rx.style.bold, x0, x1, y)
    lines = sorted(parts.lines, key=lambda p: ("CRLTVF".find(p[0][0]), int(p[0].strip("CRLTSVBF"))))
    rows = [(ref, part_number(rng, rx), words) for ref, words in lines]
    if with_tubes:
        rows += [
            (f"V{i + 1}", part_number(rng, rx), f"TUBE, {t}  {job}")
            for i, (t, job) in enumerate(zip(rx.tubes, jobs(rx), strict=True))
        ]
        sheet.printed.tubes(rx.id, list(rx.tubes))
    rows += [
        (str(40 + i), part_number(rng, rx), words)
        for i, words in enumerate(
            ("DIAL POINTER", "KNOB, VOLUME", "KNOB, TUNING", "DIAL CORD, 42 IN")
        )
    ]
    per = -(-len(rows) // columns)
    gap = 50
    width = (x1 - x0 - gap * (columns - 1)) / columns
    for c in range(columns):
        left = x0 + c * (width + gap)
        for words, at in (("REF.", 0.0), ("PART NO.", 0.13), ("DESCRIPTION", 0.36)):
            sheet.text(left + at * width, y, words, rx.style.bold, size - 2)
        for i, (ref, number, words) in enumerate(rows[c * per : (c + 1) * per]):
            at = y + (i + 1.25) * size * 1.27
            sheet.text(left, at, ref, rx.style.body, size)
            sheet.text(left + 0.13 * width, at, number, rx.style.body, size)
            used = size
            while face(rx.style.body, used).getlength(words) > width * 0.635:
                used -= 1
            sheet.text(left + 0.36 * width, at, words, rx.style.body, used)
    return y + (per + 1.6) * size * 1.27 + 20


def service_notes(
    sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float, columns: int = 2
) -> float:
    """Prose in columns."""
    sheet.printed.kind("service notes", rx.id)
    words = re.findall(r"[0-9A-Z]+", rx.notes)
    sheet.printed.some_tubes(rx.id, {i: t for i, t in enumerate(rx.tubes) if t in words})
    y = heading(sheet, "SERVICE NOTES", rx.style.bold, x0, x1, y)
    width = (x1 - x0 - 50 * (columns - 1)) / columns
    paragraphs = [p for p in rx.notes.split("|") if p]
    lowest = y
    for c in range(columns):
        at = y
        for paragraph in paragraphs[c::columns]:
            at = sheet.prose(x0 + c * (width + 50), at, paragraph.strip(), rx.style.body, 44, width)
            at += 14
        lowest = max(lowest, at)
    return lowest + 20
