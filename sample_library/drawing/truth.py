"""Collects the ground truth of the shelf while its pages are drawn."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .annual import FILE, FIRST, PUBLICATION
from .listings import LISTINGS
from .receivers import Receiver
from .sheet import Printed

KINDS = (
    "schematic",
    "parts list",
    "alignment",
    "voltage chart",
    "resistance chart",
    "tube layout",
    "chassis view",
    "dial stringing",
    "service notes",
    "index page",
    "cover or other",
)


@dataclass
class Truth:
    """Sets and pages, as dictionaries ready to be written."""

    sets: dict[str, dict[str, Any]] = field(default_factory=dict)
    pages: list[dict[str, Any]] = field(default_factory=list)

    def receiver(self, rx: Receiver) -> None:
        """Enter a drawn set, its pages still to come."""
        self.enter(
            rx.id,
            rx.maker,
            list(rx.models),
            list(rx.chassis),
            list(rx.tubes),
            rx.year,
            rx.if_khz or None,
            rx.supply,
            list(rx.printed_models),
        )

    def enter(
        self,
        set_id: str,
        maker: str,
        models: list[str],
        chassis: list[str],
        tubes: list[str],
        year: int | None,
        if_khz: int | None,
        supply: str,
        printed_models: list[str] | None = None,
    ) -> None:
        """Enter a set by its facts."""
        self.sets[set_id] = {
            "id": set_id,
            "maker": maker,
            "models": models,
            "models_printed": printed_models or models,
            "chassis": chassis,
            "tubes": tubes,
            "year": year,
            "if_khz": if_khz,
            "supply": supply,
            "pages": [],
        }

    def page(
        self, file: str, number: int, printed: str | None, what: Printed, rotation_deg: int = 0
    ) -> None:
        """Enter a page and add it to each set it serves."""
        if not set(what.kinds) <= set(KINDS) or not what.kinds:
            raise ValueError(f"{file} page {number}: kinds {what.kinds}")
        tubes = [t for _, t in sorted(what.sockets.items())]
        self.pages.append(
            {
                "file": file,
                "page": number,
                "printed": printed,
                "kinds": what.kinds,
                "rotation_deg": rotation_deg,
                "models": what.models,
                "chassis": what.chassis,
                "tubes": tubes,
                "sets": what.sets,
            }
        )
        for set_id in what.sets:
            self.sets[set_id]["pages"].append(
                {
                    "file": file,
                    "page": number,
                    "printed": printed,
                    "kinds": what.set_kinds.get(set_id, []),
                }
            )

    def write(self, path: Path) -> None:
        """Write truth.json."""
        listings = []
        for item in LISTINGS:
            here = (
                {"file": FILE, "page": int(item.page) - FIRST + 4} if item.volume == "4" else None
            )
            listings.append(
                {
                    "maker": item.maker,
                    "model": item.model,
                    "publication": PUBLICATION,
                    "volume": item.volume,
                    "page": item.page,
                    "here": here,
                }
            )
        whole = {
            "about": "Ground truth of sample_library/shelf. Models are written out singly; "
            "models_printed keeps ranges as printed. The models of index pages "
            "stand under listings only.",
            "sets": list(self.sets.values()),
            "pages": self.pages,
            "listings": listings,
        }
        path.write_text(json.dumps(whole, indent=1) + "\n", encoding="utf-8")
