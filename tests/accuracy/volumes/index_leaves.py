"""Index pages of a generated volume: in columns, with ditto marks, leaders and continuation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from indexer.model import PageKind
from tests.accuracy.press.faces import face
from tests.accuracy.press.paper import Paper
from tests.accuracy.volumes.conventions import INDEX
from tests.accuracy.volumes.matter import BOTTOM, LEFT, RIGHT

if TYPE_CHECKING:
    from tests.accuracy.volumes.binding import Leaf, Volume


def set_index(volume: Volume, rows: list[tuple[str, str, str, str]]) -> None:
    """Index pages in two columns; rows are (maker, model, volume, page), sorted by maker."""
    left, first = list(rows), True
    while left:
        leaf = volume.leaf()
        leaf.kinds.add(PageKind.INDEX_PAGE)
        title = INDEX[volume.split][volume.number % 2]
        shown = title if first else f"{title} {volume.house.continued}"
        leaf.paper.put(1275, 190, shown, volume.font.bold, 64, "ma")
        first = False
        columns = 1 if volume.house.index == "leaders" else 2
        for column in range(columns):
            left = _index_column(volume, leaf, left, column, columns)


def _index_column(
    volume: Volume, leaf: Leaf, rows: list[tuple[str, str, str, str]], column: int, columns: int
) -> list[tuple[str, str, str, str]]:
    paper, style, body = leaf.paper, volume.house.index, volume.font.body
    width = (RIGHT - LEFT) / columns - (80 if columns > 1 else 0)
    x, y, above = LEFT + column * (RIGHT - LEFT) / columns, 400.0, ""
    heads = {"leaders": (0, 0.25, 0.72, 0.9), "columns": (0, 0.42, 0.78, 0.9)}.get(style)
    if heads:
        for n, (share, head) in enumerate(zip(heads, ("Maker", "Model", "Vol.", "Page"),
                                              strict=True)):  # fmt: skip
            paper.put(x + share * width, y - 60, head, volume.font.bold, 38, same_line=n > 0)
    while rows and y < BOTTOM:
        maker, model, number, page = rows[0]
        if style in ("headed", "dashed") and maker != above:
            if y > BOTTOM - 120:
                break
            paper.put(x, y, maker.upper(), volume.font.bold, 42)
            y += 60
        if style == "leaders":
            paper.put(x, y, maker if maker != above else '"', body, 40)
            paper.put(x + 0.25 * width, y, model, body, 40, same_line=True)
            _dots(volume, paper, x + 0.25 * width, x + 0.7 * width, y, model)
            paper.put(x + 0.75 * width, y, number, body, 40, same_line=True)
            _dots(volume, paper, x + 0.76 * width, x + 0.88 * width, y, number)
            paper.put(x + width, y, page, body, 40, "ra", same_line=True)
        elif style == "columns":
            paper.put(x, y, maker if maker != above else '"', body, 38)
            paper.put(x + 0.42 * width, y, model, body, 38, same_line=True)
            paper.put(x + 0.8 * width, y, number, body, 38, same_line=True)
            paper.put(x + width, y, page, body, 38, "ra", same_line=True)
        else:
            paper.put(x + 30, y, model, body, 40)
            place = f"{number}-{page}" if style == "dashed" else f"{number}  {page}"
            if style == "headed":
                _dots(volume, paper, x + 30, x + width - 200, y, model)
            paper.put(x + width, y, place, body, 40, "ra", same_line=True)
        leaf.listed.append(rows[0])
        rows, above, y = rows[1:], maker, y + 58
    return rows


def _dots(volume: Volume, paper: Paper, start: float, end: float, y: float, text: str) -> None:
    dots = face(volume.font.body, 40)
    x = start + dots.getlength(text) + 30
    while x < end:
        paper.pen.text((x, y), ".", fill=0, font=dots)
        x += 28
