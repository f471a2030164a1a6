"""Where a page says it is printed: publication and volume."""

import re
from collections.abc import Sequence
from itertools import pairwise

from indexer.cataloguing.page_number import EDGE_SHARE, printed_page, run_of_numbers
from indexer.cataloguing.region import Line
from indexer.trade.page_numbers import roman

__all__ = ["printed_page", "publication_in", "roman", "run_of_numbers", "volume_in"]

_VOLUME = re.compile(r"\bVOL(?:UME|\.)?\s*([IVXL]{1,6}|\d{1,3})\b", re.IGNORECASE)
_IN_VOLUME = re.compile(r"\bVOL\b.*?\b(\d{1,2})[-–](\d{1,4})\W*$", re.IGNORECASE)
_PUBLICATION = re.compile(r"\b(?:ANNUAL|MANUAL|YEARBOOK|HANDBOOK)\b", re.IGNORECASE)
_NOT_TITLE = re.compile(r"\bVOL(?:UME|\.)?\s*\w{1,6}\b.*|^\W*\d+\W+|\W+\d*\W*$", re.IGNORECASE)
_TITLE_PAGE = 14  # lines, at most, on a title page
_PART_GAP = 2.0  # lettering heights between the parts of a running header


def publication_in(lines: Sequence[Line], height_px: float) -> tuple[str, str]:
    """(publication, volume) as a running header or title page names them; "" for each unknown."""
    for line in lines:
        if line.box.middle[1] > 2 * EDGE_SHARE * height_px and len(lines) > _TITLE_PAGE:
            continue
        if _PUBLICATION.search(line.text):
            title = _NOT_TITLE.sub("", _NOT_TITLE.sub("", _title_part(line)))
            volume = volume_in(line.text)
            if not volume and len(lines) <= _TITLE_PAGE:
                volume = next((v for other in lines if (v := volume_in(other.text))), "")
            return _title_case(title), volume or _volume_at_edges(lines, height_px)
    return "", ""


def _title_part(line: Line) -> str:
    """The part of a running header that names the publication: a maker's name may stand on its
    left, models on its right, each well apart."""
    parts = [[line.words[0].text]]
    for left, right in pairwise(line.words):
        if right.box.left - left.box.right > _PART_GAP * right.box.height:
            parts.append([])
        parts[-1].append(right.text)
    return next((t for part in parts if _PUBLICATION.search(t := " ".join(part))), line.text)


def _volume_at_edges(lines: Sequence[Line], height_px: float) -> str:
    """The volume that a foot or head gives with the page: "VOL. III   3-42"."""
    for line in lines:
        middle = line.box.middle[1]
        if EDGE_SHARE * height_px <= middle <= (1 - EDGE_SHARE) * height_px:
            continue
        if match := _IN_VOLUME.search(line.text):
            return match[1]
        if volume := volume_in(line.text):
            return volume
    return ""


def _title_case(text: str) -> str:
    """ "SERVICE ANNUAL of the WRENFIELD PRESS" as "Service Annual of the Wrenfield Press"."""
    words = " ".join(text.split()).split(" ")
    return " ".join(word if word.islower() else word.capitalize() for word in words)


def volume_in(text: str) -> str:
    """The volume number named in a text, in plain figures, or ""."""
    match = _VOLUME.search(text)
    return roman(match[1]) if match else ""
