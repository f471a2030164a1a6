"""Where a picture goes on paper: fitted to one sheet, or tiled over several. Pure geometry.

Everything is in points (1/72 inch) with the origin at the bottom left, as PDF has it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from indexer.limits import MAX_TILES

PAPER_PT = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}  # ISO 216; ANSI/ASME Y14.1
FOLDOUTS = ("tile", "fit")
MARGIN_PT = 24.0  # what desk printers can't reach, with room for the cut marks
FOOT_PT = 42.0  # kept free below the picture for the source line
OVERLAP_PT = 28.0  # 10 mm
_FOLDOUT_BELOW = 0.75  # fitted smaller than this, the lettering of a fold-out is too small
_LEAST_TILE_SCALE = 0.85  # shrunk this far when it saves sheets
_WIDE_GAIN = 1.05  # how much larger a picture must get before the sheet is laid sideways

Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Window:
    """A picture, or a part of it, on one sheet.

    `x`, `y` is where the picture's own bottom left corner falls, `clip` the part of the sheet
    that shows (left, bottom, width, height). Rows and columns count from 0 at the top left.
    """

    sheet_width: float
    sheet_height: float
    scale: float
    x: float
    y: float
    clip: tuple[float, float, float, float]
    row: int = 0
    column: int = 0
    rows: int = 1
    columns: int = 1

    @property
    def is_tile(self) -> bool:
        return self.rows * self.columns > 1

    @property
    def matrix(self) -> Matrix:
        """From the picture's points to the sheet's."""
        return (self.scale, 0.0, 0.0, self.scale, self.x, self.y)


def place(
    width_pt: float, height_pt: float, paper: str, foldouts: str = "tile", *, measured: bool = True
) -> tuple[Window, ...]:
    """The sheets for a picture of that upright size, in the order they are laid out.

    One window fits the whole sheet; a fold-out (smaller than three quarters when fitted) gives
    several at nearly its own size when `foldouts` is "tile". `measured` is false where the file
    gives no believable size: such a picture is always fitted.
    """
    fitted = max(
        (_fitted(width_pt, height_pt, *sheet) for sheet in _sheets(paper)),
        key=lambda w: w.scale / (_WIDE_GAIN if w.sheet_width > w.sheet_height else 1.0),
    )
    if foldouts != "tile" or not measured or fitted.scale >= _FOLDOUT_BELOW:
        return (fitted,)
    return tuple(_tiles(width_pt, height_pt, paper))


def _sheets(paper: str) -> tuple[tuple[float, float], tuple[float, float]]:
    width, height = PAPER_PT[paper]
    return (width, height), (height, width)


def _room(sheet_width: float, sheet_height: float) -> tuple[float, float]:
    return sheet_width - 2 * MARGIN_PT, sheet_height - MARGIN_PT - FOOT_PT


def _fitted(width: float, height: float, sheet_width: float, sheet_height: float) -> Window:
    room_x, room_y = _room(sheet_width, sheet_height)
    scale = min(room_x / width, room_y / height)
    x = MARGIN_PT + (room_x - width * scale) / 2
    y = FOOT_PT + (room_y - height * scale) / 2
    clip = (x, y, width * scale, height * scale)
    return Window(sheet_width, sheet_height, scale, x, y, clip)


def _tiles(width: float, height: float, paper: str) -> Iterator[Window]:
    """The grid with the fewest sheets among those that keep the size; else the largest."""
    grids = [
        (sheet, columns, rows, _grid_scale(width, height, sheet, columns, rows))
        for sheet in _sheets(paper)
        for columns in range(1, MAX_TILES + 1)
        for rows in range(1, MAX_TILES // columns + 1)
    ]
    full_size = [grid for grid in grids if grid[3] >= _LEAST_TILE_SCALE]
    if full_size:
        sheet, columns, rows, scale = min(full_size, key=lambda g: (g[1] * g[2], -g[3]))
    else:
        sheet, columns, rows, scale = max(grids, key=lambda g: (g[3], -g[1] * g[2]))
    shown_x, shown_y = width * scale, height * scale
    tile_x = (shown_x + (columns - 1) * OVERLAP_PT) / columns
    tile_y = (shown_y + (rows - 1) * OVERLAP_PT) / rows
    room_x, room_y = _room(*sheet)
    left = MARGIN_PT + (room_x - tile_x) / 2
    bottom = FOOT_PT + (room_y - tile_y) / 2
    for row in range(rows):
        for column in range(columns):
            x = left - column * (tile_x - OVERLAP_PT)
            y = bottom - (shown_y - tile_y - row * (tile_y - OVERLAP_PT))
            clip = (left, bottom, tile_x, tile_y)
            yield Window(*sheet, scale, x, y, clip, row, column, rows, columns)


def _grid_scale(
    width: float, height: float, sheet: tuple[float, float], columns: int, rows: int
) -> float:
    """The largest scale, at most 1, at which a grid of sheets holds the picture."""
    room_x, room_y = _room(*sheet)
    across = columns * (room_x - OVERLAP_PT) + OVERLAP_PT
    down = rows * (room_y - OVERLAP_PT) + OVERLAP_PT
    return min(1.0, across / width, down / height)


def times(first: Matrix, then: Matrix) -> Matrix:
    """The matrix that does `first`, then `then`."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def moved(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    """Where a matrix puts a point."""
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def turned(clockwise_deg: int, width: float, height: float) -> Matrix:
    """The matrix that turns a picture of that size by quarter turns, its corner back at (0, 0)."""
    return {
        0: (1.0, 0.0, 0.0, 1.0, 0.0, 0.0),
        90: (0.0, -1.0, 1.0, 0.0, 0.0, width),
        180: (-1.0, 0.0, 0.0, -1.0, width, height),
        270: (0.0, 1.0, -1.0, 0.0, height, 0.0),
    }[clockwise_deg % 360]
