"""The bound annual: title, index of listings, and ten sets, in printed page order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from . import sets_annual as s
from .compose import Block, flow
from .front_matter import advertisement, index_page, running_header, title_page
from .listings import LISTINGS
from .sheet import Sheet

FILE = "Wrenfield annual vol 4.pdf"
PUBLICATION = "Service Annual of the Wrenfield Trade Press"
FIRST = 201
CONT = {"continued": True}

PAGES: dict[int, list[Block]] = {
    201: [
        (s.T5D10, "masthead"),
        (s.T5D10, "schematic"),
        (s.T5D10, "voltage"),
        (s.T5D10, "resistance"),
    ],
    202: [
        (s.T5D10, "masthead", CONT),
        (s.T5D10, "parts", {"with_tubes": True}),
        (s.T5D10, "alignment"),
        (s.T5D10, "notes"),
    ],
    203: [
        (s.T5D10, "masthead", CONT),
        (s.T5D10, "layout+dial"),
        (s.Q60, "masthead"),
        (s.Q60, "specifications"),
        (s.Q60, "chassis"),
    ],
    204: [
        (s.Q60, "masthead", CONT),
        (s.Q60, "schematic"),
        (s.Q60, "voltage"),
        (s.Q60, "resistance"),
    ],
    205: [
        (s.Q60, "masthead", CONT),
        (s.Q60, "parts"),
        (s.Q60, "alignment"),
        (s.Q60, "layout"),
        (s.Q60, "notes"),
    ],
    206: [(s.O84, "masthead"), (s.O84, "schematic"), (s.O84, "voltage"), (s.O84, "notes")],
    207: [
        (s.O84, "masthead", CONT),
        (s.O84, "parts", {"with_tubes": True}),
        (s.O84, "alignment"),
        (s.O84, "layout+chassis"),
    ],
    208: [(s.VC700, "masthead"), (s.VC700, "schematic", {"height_px": 2620})],
    209: [
        (s.VC700, "masthead", CONT),
        (s.VC700, "voltage"),
        (s.VC700, "parts"),
        (s.VC700, "notes"),
    ],
    211: [
        (s.VC700, "masthead", CONT),
        (s.VC700, "alignment"),
        (s.VC700, "layout", {"high": 760}),
        (s.VC700, "dial"),
    ],
    212: [
        (s.VC700, "masthead", CONT),
        (s.VC700, "resistance"),
        (s.LF41, "masthead"),
        (s.LF41, "notes"),
        (s.LF41, "chassis"),
    ],
    213: [
        (s.LF41, "masthead", CONT),
        (s.LF41, "schematic"),
        (s.LF41, "voltage"),
        (s.LF41, "resistance"),
    ],
    214: [
        (s.LF41, "masthead", CONT),
        (s.LF41, "parts", {"with_tubes": True}),
        (s.LF41, "alignment"),
        (s.LF41, "layout"),
    ],
    215: [(s.T67, "masthead"), (s.T67, "schematic", {"height_px": 1900}), (s.T67, "layout")],
    216: [
        (s.T67, "masthead", CONT),
        (s.T67, "parts", {"with_tubes": True}),
        (s.T67, "voltage"),
        (s.T67, "alignment"),
    ],
    217: [
        (s.T67, "masthead", CONT),
        (s.T67, "notes"),
        (s.L62, "masthead"),
        (s.L62, "specifications"),
        (s.L62, "layout"),
    ],
    218: [(s.L62, "masthead", CONT), (s.L62, "schematic"), (s.L62, "voltage"), (s.L62, "notes")],
    219: [(s.L62, "masthead", CONT), (s.L62, "parts"), (s.L62, "alignment"), (s.L62, "dial")],
    220: [(s.QFM, "masthead"), (s.QFM, "schematic", {"height_px": 2620})],
    221: [(s.QFM, "masthead", CONT), (s.QFM, "voltage"), (s.QFM, "parts", {"with_tubes": True})],
    222: [
        (s.QFM, "masthead", CONT),
        (s.QFM, "alignment"),
        (s.QFM, "layout", {"high": 760}),
        (s.QFM, "resistance"),
    ],
    223: [(s.QFM, "masthead", CONT), (s.QFM, "notes"), (s.QFM, "chassis"), (s.QFM, "dial")],
    224: [(s.O207, "masthead"), (s.O207, "schematic"), (s.O207, "voltage"), (s.O207, "notes")],
    225: [
        (s.O207, "masthead", CONT),
        (s.O207, "parts", {"with_tubes": True}),
        (s.O207, "alignment"),
        (s.O207, "layout"),
    ],
    226: [(s.V3W4, "masthead"), (s.V3W4, "schematic"), (s.V3W4, "voltage"), (s.V3W4, "notes")],
    227: [
        (s.V3W4, "masthead", CONT),
        (s.V3W4, "parts", {"with_tubes": True}),
        (s.V3W4, "alignment"),
        (s.V3W4, "layout"),
    ],
}


@dataclass(frozen=True)
class Leaf:
    """A page yet to be drawn: what is printed as its number, and how to draw it."""

    printed: str
    draw: Callable[[], Sheet]


def _leaf(number: int) -> Sheet:
    if number == 210:
        return advertisement()
    sheet = Sheet(f"annual {number}")
    sheet.page_label = str(number)
    flow(sheet, running_header(sheet, str(number)), PAGES[number])
    return sheet


def leaves() -> list[Leaf]:
    """Every page of the annual in file order."""
    half = 46
    out = [
        Leaf("i", title_page),
        Leaf("ii", lambda: index_page("ii", LISTINGS[:half])),
        Leaf("iii", lambda: index_page("iii", LISTINGS[half:])),
    ]
    return out + [Leaf(str(n), lambda n=n: _leaf(n)) for n in range(FIRST, 228)]
