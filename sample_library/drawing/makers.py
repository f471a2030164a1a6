"""The invented makers: firm wording, printer's faces, shape of part numbers."""

from __future__ import annotations

from typing import Any

from .receivers import Receiver, Style

FIRMS = {
    "Tillbrook": ("TILLBROOK RADIO MFG. CO.", Style("narrow bold", "roman", "roman bold", "sans")),
    "Quarrydale": (
        "QUARRYDALE RADIO CORPORATION",
        Style("century bold", "century", "century bold", "drafting", "{2}-{1}"),
    ),
    "Oxbarrow": (
        "OXBARROW ELECTRIC CO., INC.",
        Style("bookman bold", "bookman", "bookman bold", "drafting", "{1}-{0}"),
    ),
    "Vantrice": (
        "VANTRICE RADIO AND PHONOGRAPH CORP.",
        Style("geometric bold", "sans", "sans bold", "sans", "{0}{1}"),
    ),
    "Larkmoor": (
        "LARKMOOR MFG. COMPANY",
        Style("roman bold", "typewriter", "typewriter bold", "drafting", "{0}{0}-{2}"),
    ),
    "Halvorne": (
        "HALVORNE RADIO WORKS LTD.",
        Style("sans bold", "sans", "sans bold", "drafting", "{1}/{2}"),
    ),
}


def make(
    maker: str,
    set_id: str,
    heading: str,
    models: str,
    chassis: str,
    tubes: str,
    supply: str,
    circuit: Any,
    **more: Any,
) -> Receiver:
    """A receiver of one of the makers; models, chassis and tubes parted by spaces or commas."""
    firm, style = FIRMS[maker]
    split = [m.strip() for m in models.split(",")]
    return Receiver(
        id=set_id,
        maker=maker,
        firm=firm,
        heading=heading,
        models=tuple(split),
        chassis=tuple(c.strip() for c in chassis.split(",") if c.strip()),
        tubes=tuple(tubes.split()),
        supply=supply,
        circuit=circuit,
        style=style,
        **more,
    )
