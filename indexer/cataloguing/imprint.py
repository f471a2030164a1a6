"""Where a page says it is printed: publication, volume, page number."""

import re
from collections.abc import Sequence
from itertools import pairwise

from indexer.cataloguing.identity import models_in
from indexer.cataloguing.region import Line

_VOLUME = re.compile(r"\bVOL(?:UME|\.)?\s*([IVXL]{1,6}|\d{1,3})\b", re.IGNORECASE)
_PAGE_WORD = re.compile(r"\b(?:PAGE|P\.)\s*(\d{1,4})\b", re.IGNORECASE)
_LONE_NUMBER = re.compile(r"^\W{0,3}(\d{1,4})\W{0,3}$")
_IN_VOLUME = re.compile(r"\bVOL\b.*?\b(\d{1,2})[-–](\d{1,4})\W*$", re.IGNORECASE)
_OTHER_NUMBER = re.compile(
    r"\b(?:TYPES?|BULLETINS?|SHEETS?|NOTES?|CHASSIS|SERIES|RECEIVERS?|NO|FORM|SUPER)\b\W*"
    r"(?:NOS?\b\W*)?(?:[A-Z]{1,3} )?\d",
    re.IGNORECASE,
)
_PUBLICATION = re.compile(r"\b(?:ANNUAL|MANUAL|YEARBOOK|HANDBOOK)\b", re.IGNORECASE)
_NOT_TITLE = re.compile(r"\bVOL(?:UME|\.)?\s*\w{1,6}\b.*|^\W*\d+\W+|\W+\d*\W*$", re.IGNORECASE)
_TITLE_PAGE = 14  # lines, at most, on a title page
_PART_GAP = 2.0  # lettering heights between the parts of a running header
_NEAR = 6  # pages each way that must bear out a number
_EDGE_SHARE = 0.07  # page numbers and running headers stand in this share of the height


def printed_page(lines: Sequence[Line], height_px: float) -> str:
    """The page number printed at the head or foot, or ""."""
    edges = [
        line
        for line in lines
        if line.box.middle[1] < _EDGE_SHARE * height_px
        or line.box.middle[1] > (1 - _EDGE_SHARE) * height_px
    ]
    for line in edges:  # "VOL. III   3-42": the volume, and the page in it
        match = _IN_VOLUME.search(line.text)
        if match:
            volume = volume_in(line.text)
            return match[2] if match[1] == volume or not volume else f"{match[1]}-{match[2]}"
    for line in edges:
        match = _LONE_NUMBER.match(line.text) or _PAGE_WORD.search(line.text)
        if match:
            return match[1]
    for line in edges:  # a running header with the number at its outer end
        for word in (line.words[0], line.words[-1]):
            match = _LONE_NUMBER.match(word.text)
            if match and len(line.words) >= 2 and not _names_a_number(line.text):
                return match[1]
    return ""


def _names_a_number(text: str) -> bool:
    """Whether a line gives a set's or a bulletin's number, which is no page's."""
    return bool(models_in(text) or _OTHER_NUMBER.search(text))


def run_of_numbers(read: Sequence[str]) -> tuple[str, ...]:
    """Page numbers of consecutive pages put right by each other, and filled in where none was
    read between two that agree. Fewer than four agreeing numbers are left as they are."""
    offsets = [int(text) - n if text.isdecimal() else None for n, text in enumerate(read)]
    sure: list[int | None] = []
    for n, offset in enumerate(offsets):
        near = offsets[max(0, n - _NEAR) : n] + offsets[n + 1 : n + 1 + _NEAR]
        sure.append(offset if offset is not None and near.count(offset) >= 2 else None)
    if sum(offset is not None for offset in sure) < 4:
        return tuple(read)
    run = []
    for n, text in enumerate(read):
        before = next((o for o in reversed(sure[:n]) if o is not None), None)
        after = next((o for o in sure[n + 1 :] if o is not None), None)
        offset = sure[n]
        if offset is None and before is not None and before == after:
            offset = before
        if offset is None and not text and after is None and before in sure[max(0, n - 2) : n]:
            offset = before  # the last pages; before the first there is a cover
        run.append(str(n + offset) if offset is not None and n + offset > 0 else text)
    return tuple(run)


def publication_in(lines: Sequence[Line], height_px: float) -> tuple[str, str]:
    """(publication, volume) as a running header or title page names them; "" for each unknown."""
    for line in lines:
        if line.box.middle[1] > 2 * _EDGE_SHARE * height_px and len(lines) > _TITLE_PAGE:
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
        if _EDGE_SHARE * height_px <= middle <= (1 - _EDGE_SHARE) * height_px:
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


def roman(text: str) -> str:
    """A volume number in plain figures: "IV" and "4" both give "4"."""
    if text.isdigit():
        return str(int(text))
    values = {"I": 1, "V": 5, "X": 10, "L": 50}
    total = 0
    digits = [values[c] for c in text.upper()]
    for value, following in zip(digits, [*digits[1:], 0], strict=True):
        total += -value if value < following else value
    return str(total)
