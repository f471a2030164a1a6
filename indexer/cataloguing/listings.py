"""Index pages: lines that say which publication, volume and page prints a set."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.cataloguing.imprint import roman
from indexer.cataloguing.region import Line, Region, as_printed, make_line, page_lines, printed_rows
from indexer.model import Listing

_LEADER = re.compile(r"(?:[.·•…_~-]\s?){3,}|\s{3,}")
# Ditto marks, and what readers make of them.
_DITTO = re.compile(r"^(?:[\"”“„'’`″,]{1,3}|DO\.?|DITTO|[1Il]{2}|[t1]{1,2}|rr|ii)$", re.IGNORECASE)
_TITLE = re.compile(r"\bINDEX\b|\bCONTENTS\b|\bVOLUMES?\b.*\bTO\b", re.IGNORECASE)
_MOST_DITTOS = 3
_COLUMN_GAP = 0.04  # of the page's width, between two columns of an index
_TAIL = re.compile(
    r"(?:\b(?:VOL\.?\s*)?(?P<volume>[IVXL]{1,6}|\d{1,2})\s*[-–,:]?\s+)?(?:P(?:AGE|P|\.)?\s*)?"
    r"(?P<page>\d{1,4})\W{0,3}$",
    re.IGNORECASE,
)


def listings_in(region: Region, publication: str, volume: str) -> tuple[Listing, ...]:
    """The rows of an index page. A row without a maker (or with ditto marks) takes the maker
    above it; one without a volume takes `volume`, the book's own, unless a ditto stands for it.
    """
    found: list[Listing] = []
    maker, last_volume = "", volume
    width = region.page.reading.width_px
    for line in (
        part
        for row in printed_rows(map(as_printed, page_lines(region.page)))
        for part in _cut(row, width)
    ):
        row = _row(line)
        if row is None:
            maker = _maker_heading(line) or maker
            continue
        maker = row.maker.title() or maker
        last_volume = row.volume or last_volume
        found.append(
            Listing(
                region.page.ref, maker, row.model, publication, row.volume or last_volume, row.page
            )
        )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Row:
    maker: str  # "" under a ditto mark or where none is printed
    model: str
    volume: str
    page: str


def _cut(row: Line, width_px: int) -> list[Line]:
    """A printed row as one listing, or as two where it runs over two columns of the index."""
    for i in range(2, len(row.words) - 1):
        gap = row.words[i].box.left - row.words[i - 1].box.right
        if gap >= _COLUMN_GAP * width_px:
            left, right = (make_line(part) for part in (row.words[:i], row.words[i:]))
            if _row(left) and _row(right):
                return [left, *_cut(right, width_px)]
    return [row]


def _row(line: Line) -> _Row | None:
    """One index line taken apart; None when it isn't one."""
    plain = " ".join(_LEADER.sub("  ", line.text).split())
    tail = _TAIL.search(plain)
    if tail is None or _TITLE.search(plain):
        return None
    words = plain[: tail.start()].strip(" .,-").split()
    dittos = 0
    while len(words) > 1 and dittos < _MOST_DITTOS and _DITTO.match(words[0]):
        words.pop(0)
        dittos += 1
    makers: list[str] = []
    while not dittos and len(words) > 1 and words[0].isalpha() and len(words[0]) > 2:
        makers.append(words.pop(0))
    model = " ".join(words).strip(' .,"”“')
    if not any(c.isdigit() for c in model) or len(words) > 6 or len(makers) > 4:
        return None
    volume = roman(tail["volume"]) if tail["volume"] else ""
    return _Row(" ".join(makers).strip(" .,"), model, volume, tail["page"])


def _maker_heading(line: Line) -> str:
    words = [word.text.strip(".,:;") for word in line.words]
    if 1 <= len(words) <= 3 and all(w.isalpha() and w.isupper() and len(w) > 3 for w in words):
        name = " ".join(words)
        return "" if name in _COLUMN_HEADS or "INDEX" in name else name.title()
    return ""


_COLUMN_HEADS = frozenset({"MAKER", "MODEL", "MODELS", "VOLUME", "PAGE", "MAKER MODEL", "CONTENTS"})


def merge_listings(rows: Sequence[Listing]) -> tuple[Listing, ...]:
    """Rows printed twice (an index continued, or scanned twice) once."""
    return tuple({(r.maker, r.model, r.volume, r.page): r for r in reversed(rows)}.values())[::-1]
