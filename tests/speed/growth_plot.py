"""The curves of growth drawn to a picture: one panel a measure, both axes logarithmic."""

import math
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

PANEL_W, PANEL_H = 620, 400
LEFT, RIGHT, TOP, FOOT = 90, 40, 60, 60
COLUMNS = 2
INK, GRID, LINE, PROPORTIONAL = "#222222", "#dddddd", "#1f5f9f", "#bb8855"

Rows = Sequence[Mapping[str, float]]


def draw(
    rows: Rows,
    measures: Mapping[str, str],
    slope: Callable[[Sequence[dict[str, float]], str], float],
    target: Path,
) -> None:
    """Draws a panel for each measure over the pages, with its slope, and saves the picture."""
    lines = math.ceil(len(measures) / COLUMNS)
    sheet = Image.new("RGB", (COLUMNS * PANEL_W, lines * PANEL_H + 30), "white")
    pen = ImageDraw.Draw(sheet)
    for n, (name, called) in enumerate(measures.items()):
        corner = (n % COLUMNS * PANEL_W, n // COLUMNS * PANEL_H)
        steep = slope([dict(row) for row in rows], name)
        _panel(pen, corner, rows, name, f"{called}   slope {steep:.2f}")
    pen.text(
        (LEFT, lines * PANEL_H + 4),
        "pages along the foot; dashed: growth in proportion to the pages; slope: between the last"
        " two sizes",
        INK,
        _font(14),
    )
    sheet.save(target, optimize=True)


def _panel(
    pen: ImageDraw.ImageDraw, corner: tuple[int, int], rows: Rows, name: str, title: str
) -> None:
    x0, y0 = corner[0] + LEFT, corner[1] + TOP
    wide, high = PANEL_W - LEFT - RIGHT, PANEL_H - TOP - FOOT
    across = [math.log10(row["pages"]) for row in rows]
    up = [math.log10(max(row[name], 1e-4)) for row in rows]
    low_x, high_x = math.floor(min(across)), math.ceil(max(across))
    high_x = max(high_x, low_x + 1)
    low_y, high_y = math.floor(min(up)), math.ceil(max(up) + 1e-9)
    high_y = max(high_y, low_y + 1)

    def at(x: float, y: float) -> tuple[float, float]:
        return (
            x0 + (x - low_x) / (high_x - low_x) * wide,
            y0 + high - (y - low_y) / (high_y - low_y) * high,
        )

    pen.text((x0, corner[1] + 24), title, INK, _font(17))
    for power in range(low_x, high_x + 1):
        pen.line([at(power, low_y), at(power, high_y)], GRID)
        foot, below = at(power, low_y)
        pen.text((foot, below + 8), f"{10**power:,}", INK, _font(14), anchor="ma")
    for power in range(low_y, high_y + 1):
        pen.line([at(low_x, power), at(high_x, power)], GRID)
        left, middle = at(low_x, power)
        pen.text((left - 8, middle), f"{10.0**power:,.10g}", INK, _font(14), anchor="rm")
    _dashed(pen, at, across[0], up[0], high_x, high_y)
    points = [at(x, y) for x, y in zip(across, up, strict=True)]
    pen.line(points, LINE, 3)
    for (x, y), row in zip(points, rows, strict=True):
        pen.ellipse((x - 5, y - 5, x + 5, y + 5), LINE)
        said = f"{row[name]:,.0f}" if row[name] >= 100 else f"{row[name]:.3g}"
        anchor = "lb" if x == points[0][0] else "mb"  # clear of the scale
        pen.text((x + 6 * (anchor == "lb"), y - 8), said, INK, _font(14), anchor=anchor)


def _dashed(
    pen: ImageDraw.ImageDraw,
    at: Callable[[float, float], tuple[float, float]],
    x: float,
    y: float,
    high_x: float,
    high_y: float,
) -> None:
    end = min(high_x - x, high_y - y)
    for step in range(0, 40, 2):
        a, b = end * step / 40, end * (step + 1) / 40
        pen.line([at(x + a, y + a), at(x + b, y + b)], PROPORTIONAL, 2)


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)
