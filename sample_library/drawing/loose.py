"""The booklet, the multi-frame scan and the loose sheets."""

from __future__ import annotations

from . import sets_loose as s
from .compose import Block, flow
from .receivers import Receiver
from .sheet import Sheet

BOOKLET_FILE = "Larkmoor booklet.djvu"
TIFF_FILE = "loose/halvorne.tif"
CONT = {"continued": True}


def cover() -> Sheet:
    """The booklet's cover."""
    sheet = Sheet("booklet cover")
    sheet.printed.kind("cover or other")
    mid = (sheet.left + sheet.right) / 2
    sheet.pen.rectangle([260, 260, 2290, 3040], outline=0, width=14)
    sheet.spaced(mid, 640, "LARKMOOR", "roman bold", 260, 20)
    sheet.text(mid, 1040, "Service Booklet", "roman italic", 130, "ma")
    sheet.rule(mid - 500, 1260, mid + 500, 8)
    sheet.text(mid, 1360, "RECEIVERS OF 1948", "roman bold", 100, "ma")
    for i in range(9):
        sheet.pen.arc(
            [mid - 120 - i * 55, 1900 - i * 55, mid + 120 + i * 55, 2140 + i * 55],
            300,
            60,
            fill=0,
            width=8,
        )
    sheet.text(mid, 2720, "LARKMOOR MFG. COMPANY", "roman bold", 84, "ma")
    return sheet


BOOKLET_PAGES: list[list[Block]] = [
    [(s.L7L, "masthead"), (s.L7L, "schematic"), (s.L7L, "voltage")],
    [(s.L7L, "masthead", CONT), (s.L7L, "parts", {"with_tubes": True}), (s.L7L, "alignment")],
    [
        (s.L7L, "masthead", CONT),
        (s.L7L, "layout+dial"),
        (s.L7L, "notes"),
        (s.L48K, "masthead"),
        (s.L48K, "specifications"),
        (s.L48K, "notes"),
    ],
    [
        (s.L48K, "masthead", CONT),
        (s.L48K, "schematic"),
        (s.L48K, "voltage"),
        (s.L48K, "resistance"),
    ],
    [(s.L48K, "masthead", CONT), (s.L48K, "parts"), (s.L48K, "alignment")],
    [(s.L48K, "masthead", CONT), (s.L48K, "layout"), (s.L48K, "chassis"), (s.L48K, "dial")],
]
TIFF_PAGES: list[list[Block]] = [
    [(s.HU510, "masthead"), (s.HU510, "schematic"), (s.HU510, "specifications")],
    [
        (s.HU510, "masthead", CONT),
        (s.HU510, "voltage"),
        (s.HU510, "resistance"),
        (s.HU510, "notes"),
        (s.HU510, "chassis"),
    ],
    [(s.HU510, "masthead", CONT), (s.HU510, "parts", {"with_tubes": True}), (s.HU510, "alignment")],
    [(s.HU510, "masthead", CONT), (s.HU510, "layout"), (s.HU510, "dial")],
]


def _sheet(seed: str, blocks: list[Block], foot: str = "") -> Sheet:
    sheet = Sheet(seed)
    sheet.page_label = seed
    sheet.bottom -= 60 if foot else 0
    flow(sheet, 150, blocks)
    if foot:
        sheet.text((sheet.left + sheet.right) / 2, 3190, foot, "roman", 44, "mm")
    return sheet


def booklet() -> list[tuple[str | None, Sheet]]:
    """Printed number and sheet of each booklet page."""
    pages: list[tuple[str | None, Sheet]] = [(None, cover())]
    for n, blocks in enumerate(BOOKLET_PAGES, 2):
        pages.append((str(n), _sheet(f"booklet {n}", blocks, f"- {n} -")))
    return pages


def frames() -> list[Sheet]:
    """The four frames of the TIFF."""
    return [_sheet(f"frame {n}", blocks) for n, blocks in enumerate(TIFF_PAGES, 1)]


def whole(rx: Receiver, seed: str, *names: str, first: bool = True) -> Sheet:
    """One loose sheet of a set with the named blocks; "schematic:1900" limits its height."""
    head: Block = (rx, "masthead") if first else (rx, "masthead", CONT)
    blocks: list[Block] = [head]
    for name in names:
        block, _, height_px = name.partition(":")
        blocks.append((rx, block, {"height_px": int(height_px)}) if height_px else (rx, block))
    return _sheet(seed, blocks)
