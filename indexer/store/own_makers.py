"""The person's own list of makers and their other names: `makers.csv` in the home folder.

Two columns, `maker` and `alias`; a maker without an alias may stand alone, one with several has a
row for each. The list wins over what was learned from the pages.
"""

import csv
import zlib
from dataclasses import dataclass, field
from pathlib import Path

from indexer.trade.codes import fold

FILE_NAME = "makers.csv"
_MOST_BYTES = 1_000_000  # some ten thousand rows; more is no list of makers


@dataclass(frozen=True)
class OwnMakers:
    """`names` are all names of the list; `aliases` the maker for each, by folded name; `stamp`
    changes with the file (0 without one)."""

    names: tuple[str, ...] = ()
    aliases: dict[str, str] = field(default_factory=dict)
    stamp: int = 0


def own_makers(home: Path) -> OwnMakers:
    """The list in a home folder; an empty one when there is none or it can't be read as text."""
    path = home / FILE_NAME
    try:
        if path.stat().st_size > _MOST_BYTES:
            return OwnMakers()
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return OwnMakers()
    names: dict[str, None] = {}
    aliases: dict[str, str] = {}
    for row in csv.reader(text.splitlines()):
        cells = [" ".join(cell.split()) for cell in row]
        if not cells or not cells[0] or [cell.lower() for cell in cells[:2]] == ["maker", "alias"]:
            continue
        for name in cells[:2]:
            if name:
                names.setdefault(name)
                aliases[fold(name)] = cells[0]
    return OwnMakers(tuple(names), aliases, zlib.crc32(text.encode()) + 1)
