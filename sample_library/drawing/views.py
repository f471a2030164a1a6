"""Drawings of the set itself: tube layout, chassis from below, dial stringing."""

from __future__ import annotations

import math

from .receivers import Receiver, jobs
from .sections import heading
from .sheet import Sheet


def _ring(sheet: Sheet, x: float, y: float, r: float, width: int = 5) -> None:
    sheet.pen.ellipse([x - r, y - r, x + r, y + r], outline=0, width=width)


def _box(
    sheet: Sheet, x: float, y: float, w: float, h: float, words: str, font: str, size: int = 32
) -> None:
    sheet.pen.rectangle([x - w / 2, y - h / 2, x + w / 2, y + h / 2], outline=0, width=4)
    lines = words.split("|")
    for i, line in enumerate(lines):
        sheet.text(x, y + (i - (len(lines) - 1) / 2) * size * 1.1, line, font, size, "mm")


def tube_layout(
    sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float, high: float = 620
) -> float:
    """Top view of the chassis: sockets in two rows with types, cans, gang and transformer."""
    sheet.printed.kind("tube layout", rx.id)
    sheet.printed.tubes(rx.id, list(rx.tubes))
    font = rx.style.drawing
    y = heading(sheet, "TUBE LAYOUT - TOP VIEW", rx.style.bold, x0, x1, y)
    sheet.pen.rectangle([x0, y, x1, y + high], outline=0, width=6)
    wide = x1 - x0
    n = len(rx.tubes)
    power = rx.supply in ("transformer", "vibrator")
    back = -(-n // 2)
    per = max(back, n - back)
    r = min(96.0, wide / (per + 2.2) / 2.5, high / 6.4)
    named = jobs(rx)
    order = list(range(n))
    for i in order:
        row, col = (0, i) if i < back else (1, n - 1 - i)
        x = (
            x0 + wide * (0.2 + 0.78 * (col + 0.5) / per)
            if row
            else x0 + wide * (0.02 + 0.8 * (col + 0.5) / per)
        )
        cy = y + high * (0.26 if row == 0 else 0.66)
        _ring(sheet, x, cy, r)
        _ring(sheet, x, cy, r * 0.86, 2)
        for k in range(8):
            a = math.pi * 2 * k / 8 + 0.4
            sheet.pen.ellipse(
                [
                    x + math.cos(a) * r * 0.7 - 4,
                    cy + math.sin(a) * r * 0.7 - 4,
                    x + math.cos(a) * r * 0.7 + 4,
                    cy + math.sin(a) * r * 0.7 + 4,
                ],
                fill=0,
            )
        sheet.text(x, cy, rx.tubes[i], font, round(r * 0.42), "mm")
        label = named[i].split(" - ")[0]
        sheet.text(x, cy + r + 28, f"V{i + 1} {label}", font, 30, "mm")
    if power:
        _box(
            sheet, x1 - wide * 0.09, y + high * 0.22, wide * 0.13, high * 0.3, "POWER|TRANS.", font
        )
    else:
        _box(
            sheet, x1 - wide * 0.09, y + high * 0.2, wide * 0.12, high * 0.24, "ELECT.|COND.", font
        )
    _box(sheet, x0 + wide * 0.1, y + high * 0.68, wide * 0.15, high * 0.3, "TUNING|GANG", font)
    sheet.text((x0 + x1) / 2, y + high - 34, "FRONT OF CHASSIS", font, 34, "mm")
    return y + high + 36


def chassis_view(
    sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float, high: float = 620
) -> float:
    """Chassis from below: sockets by V number, terminal strips and trimmer call-outs."""
    sheet.printed.kind("chassis view", rx.id)
    font = rx.style.drawing
    y = heading(sheet, "CHASSIS - BOTTOM VIEW", rx.style.bold, x0, x1, y)
    inner = (x0 + 150, y + 70, x1 - 150, y + high - 70)
    sheet.pen.rectangle(inner, outline=0, width=6)
    wide = inner[2] - inner[0]
    n = len(rx.tubes)
    for i in range(n):
        x = inner[0] + wide * (i + 0.5) / n
        cy = inner[1] + (inner[3] - inner[1]) * (0.42 if i % 2 else 0.68)
        r = min(78.0, wide / n / 2.6)
        _ring(sheet, x, cy, r)
        _ring(sheet, x, cy, r * 0.24, 4)
        for k in range(7):
            a = math.pi * 2 * (k + 0.5) / 8 + math.pi / 2
            px, py = x + math.cos(a) * r * 0.68, cy + math.sin(a) * r * 0.68
            sheet.pen.line(
                [(px, py), (px + math.cos(a) * 22, py + math.sin(a) * 22)], fill=0, width=5
            )
        sheet.text(x, cy - r - 42, f"V{i + 1}", font, 34, "mm")
    for k, (fx, words) in enumerate(
        ((0.1, "T1 BOTTOM"), (0.56, "T2 BOTTOM"), (0.83, "OSC. TRIMMER"))
    ):
        x = inner[0] + wide * fx
        cy = inner[1] + 46
        _box(sheet, x, cy, 60, 50, "", font)
        sheet.pen.line([(x, cy - 25), (x + 60, y + 26)], fill=0, width=3)
        sheet.text(x + 70, y + 20, words, font, 32, "lm")
        strip = inner[0] + wide * (0.2 + 0.3 * k)
        for t in range(4):
            _ring(sheet, strip + 34 * t, inner[3] - 26, 9, 3)
        sheet.pen.line([(strip - 16, inner[3] - 8), (strip + 118, inner[3] - 8)], fill=0, width=6)
    return y + high + 16


def dial_stringing(
    sheet: Sheet, rx: Receiver, x0: float, x1: float, y: float, high: float = 560
) -> float:
    """Drum, pulleys, shaft and pointer with the cord's path."""
    sheet.printed.kind("dial stringing", rx.id)
    font = rx.style.drawing
    y = heading(sheet, "DIAL STRINGING", rx.style.bold, x0, x1, y)
    wide = x1 - x0
    drum, r = (x0 + wide * 0.24, y + high * 0.6), high * 0.24
    _ring(sheet, *drum, r, 6)
    _ring(sheet, *drum, r * 0.88, 3)
    _ring(sheet, *drum, 14, 4)
    pulleys = [
        (x0 + wide * 0.08, y + 90),
        (x1 - wide * 0.08, y + 90),
        (x1 - wide * 0.08, y + high * 0.74),
    ]
    for p in pulleys:
        _ring(sheet, *p, 30)
        _ring(sheet, *p, 8, 3)
    shaft = (x0 + wide * 0.6, y + high * 0.8)
    _ring(sheet, *shaft, 34, 5)
    cord = 4
    path = [(drum[0] - r, drum[1]), (pulleys[0][0] - 30, pulleys[0][1])]
    sheet.pen.line(path, fill=0, width=cord)
    sheet.pen.line([(pulleys[0][0], 60 + y), (pulleys[1][0], y + 60)], fill=0, width=cord)
    sheet.pen.line(
        [(pulleys[1][0] + 30, y + 90), (pulleys[2][0] + 30, pulleys[2][1])], fill=0, width=cord
    )
    sheet.pen.line(
        [(pulleys[2][0], pulleys[2][1] + 30), (shaft[0], shaft[1] + 34)], fill=0, width=cord
    )
    sheet.pen.line(
        [(shaft[0], shaft[1] - 34), (drum[0] + r * 0.5, drum[1] + r * 0.86)], fill=0, width=cord
    )
    spring = [(drum[0] - 6 + 9 * i, drum[1] + 40 + (16 if i % 2 else -16)) for i in range(8)]
    sheet.pen.line(spring, fill=0, width=4)
    pointer = x0 + wide * 0.52
    sheet.pen.line([(pointer, y + 40), (pointer, y + 190)], fill=0, width=8)
    for words, at in (
        ("POINTER", (pointer + 20, y + 160)),
        ("SPRING", (drum[0] - 50, drum[1] - 40)),
        ("DRUM", (drum[0] - 44, drum[1] + r + 34)),
        ("TUNING SHAFT, 3 TURNS", (shaft[0] - 150, shaft[1] + 66)),
    ):
        sheet.text(*at, words, font, 34, "lm")
    sheet.text(x0 + wide * 0.44, y + 240, "GANG CLOSED, POINTER AT 540", font, 32, "lm")
    return y + high + 24
