"""What a stretch of a page prints: schematic, parts list, alignment … each with a probability.

Each kind has cues: phrases (worth more in a heading than in running text), shapes of rows, and
what the picture shows. Cues add up to evidence in log-odds; the weights are set by hand.
"""

import math
import re
from collections.abc import Sequence

from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.listings import listed_share
from indexer.cataloguing.region import Line, Region, printed_rows
from indexer.model import PageKind

_PRIOR = -3.0  # log-odds of a kind before any cue
_ENOUGH = 0.5
_TITLE_WORDS = 4
_FEW_LISTED = 6  # rows of an index, at the least, for a page to be one without saying so
_TABLES = frozenset(
    {
        PageKind.PARTS_LIST,
        PageKind.VOLTAGE_CHART,
        PageKind.RESISTANCE_CHART,
        PageKind.ALIGNMENT,
    }
)
_LOOSE_WORDS = 3

_HEADINGS: dict[PageKind, tuple[str, float]] = {
    PageKind.SCHEMATIC: (r"\bSCHEMATIC\b|\b(CIRCUIT|WIRING) DIAGRAM\b", 4.5),
    PageKind.PARTS_LIST: (
        r"\b(PARTS?|COMPONENTS?) (LIST|INFORMATION)\b|\bLIST OF PARTS\b"
        r"|\b(REPLACEMENT|SERVICE) PARTS\b|\bPARTS\b$",
        4.5,
    ),
    PageKind.ALIGNMENT: (r"\bALIGN(MENT|ING)\b", 4.5),
    PageKind.VOLTAGE_CHART: (
        r"\b(SOCKET )?VOLTAGES?( CHART| READINGS| MEASUREMENTS| TABLE|$)"
        r"|\bVOLTAGES? AT SOCKET",
        4.5,
    ),
    PageKind.RESISTANCE_CHART: (r"\bRESISTANCES? (CHART|READINGS|MEASUREMENTS|TABLE)\b", 4.5),
    PageKind.TUBE_LAYOUT: (
        r"\bTUBE (LAYOUT|LOCATIONS?|PLACEMENT|POSITIONS?|COMPLEMENT LAYOUT)\b"
        r"|\b(LOCATION|LAYOUT|PLACEMENT|POSITION) OF TUBES\b",
        4.5,
    ),
    PageKind.CHASSIS_VIEW: (
        r"\bCHASSIS\W+(LAYOUT|(TOP |BOTTOM |REAR |UNDERSIDE )?VIEW)\b"
        r"|\b(TOP|BOTTOM|REAR|UNDERSIDE) VIEW( OF)? CHASSIS\b",
        4.5,
    ),
    PageKind.DIAL_STRINGING: (
        r"\b(DIAL|DRIVE|POINTER) (CORD |CABLE )?(STRINGING|DRIVE|REPLACEMENT)\b|\bSTRINGING\b",
        4.5,
    ),
    PageKind.SERVICE_NOTES: (
        r"\bSERVICE (NOTES?|DATA|HINTS|INFORMATION)\b|\bGENERAL (NOTES?|"
        r"DESCRIPTION|INFORMATION|DATA)\b|\bSPECIFICATIONS?\b"
        r"|\b(PRODUCTION|RUN) CHANGES?\b|\bREMOV(AL|ING)\b",
        3.6,
    ),
    PageKind.INDEX_PAGE: (r"\b(MODEL |GENERAL |CUMULATIVE )?INDEX\b|\bCONTENTS\b", 3.6),
}
_PHRASES: dict[PageKind, tuple[tuple[str, float], ...]] = {
    PageKind.SCHEMATIC: (
        (r"\b(RESISTANCES?|RESISTORS?|ALL RESISTORS?)( VALUES)?( ARE)? IN OHMS\b", 1.5),
        (r"\b(CAPACITANCES?|CAPACITORS?)( VALUES)?( ARE)? IN M", 1.5),
        (r"\bHEATERS IN SERIES\b|\b(FILAMENTS|HEATERS) IN PARALLEL\b", 0.7),
        (r"\bA\.?V\.?C\.?\b", 0.3),
    ),
    PageKind.PARTS_LIST: ((r"\bPART N(O|UMBER)\b", 1.2), (r"\bDESCRIPTION\b", 0.8)),
    PageKind.ALIGNMENT: (
        (r"\bDUMMY\b", 1.5),
        (r"\bSIGNAL GENERATOR\b|\bTEST OSCILLATOR\b|\bGENERATOR\b", 1.0),
        (r"\bTRIMMERS?\b|\bPADDER\b|\bADJUST\b", 0.7),
        (r"\bMAX(IMUM)?\.? OUTPUT\b|\bOUTPUT METER\b", 0.7),
    ),
    PageKind.VOLTAGE_CHART: (
        (r"\bPIN ?1\b", 0.8),
        (r"\bVOLTS?\b|\bD\.?C\.? VOLT", 0.5),
        (r"\bOHMS PER VOLT\b|\bVTVM\b|\bVACUUM TUBE VOLTMETER\b", 0.8),
    ),
    PageKind.RESISTANCE_CHART: ((r"\bPIN ?1\b", 0.6), (r"\bOHMS TO (CHASSIS|B-)", 1.2)),
    PageKind.INDEX_PAGE: ((r"\bVOL(UME|\.)?\b", 0.4), (r"\bPAGE\b", 0.4), (r"\bMODEL\b", 0.2)),
}
_DESIGNATOR_ROW = re.compile(r"^\W{0,2}[RCLTVSMJPF][-\s]?\d{1,3}[A-D]?\b\W*\S+")
_ITEM_ROW = re.compile(r"^\W{0,2}([RCLTVSMJPF]\d{1,3}[A-D]?|\d{1,3})\s+\S*\d")
_REFERENCE = re.compile(r"^[RCLTV]\d{1,3}[A-D]?$")
# What stands beside the symbols of a drawing: references, values, rails.
_LABEL = re.compile(
    r"^([RCLTVS]\d{1,3}[A-D]?|\.\d{1,5}|\d{1,3}(\.\d)?[KM]|\d[\d,]{2,6}|\d{1,4}|B[+-]|MEG|MFD|MMF|LS\d)$"
)
_LISTING_ROW = re.compile(r"\w.*?(?:\.{3,}|(?:\. ){2,}|…|\s)\s*\d{1,4}\W{0,2}$")
_PIN_ROW = re.compile(r"(?:(?:\s|^)(?:-?\d{1,3}(?:\.\d)?|0|NC|AC|N\.C\.|\d+\.?\d*[KM]|INF)){4,}")


def kinds_of(region: Region) -> dict[PageKind, float]:
    """Every kind at least as likely as not, with its probability; "cover or other" when none."""
    rows = printed_rows(region.lines)
    odds = dict.fromkeys(_HEADINGS, _PRIOR)
    for kind, (pattern, weight) in _HEADINGS.items():
        odds[kind] += weight * _heading_strength(region.lines, pattern)
    body = plain_words(region.text)
    for kind, phrases in _PHRASES.items():
        odds[kind] += sum(weight for pattern, weight in phrases if re.search(pattern, body))
    _add_row_evidence(odds, rows)
    _add_drawing_evidence(odds, region.lines)
    listed, share = listed_share(region)
    if listed >= _FEW_LISTED:
        odds[PageKind.INDEX_PAGE] += 5.0 * max(0.0, share - 0.3)
    if region.page.reading.reader == "typed":  # the owner's own words
        odds[PageKind.SERVICE_NOTES] -= _PRIOR - 1.0
    found = {kind: _probability(value) for kind, value in odds.items()}
    kept = {kind: p for kind, p in found.items() if p >= _ENOUGH}
    if PageKind.INDEX_PAGE in kept and kept[PageKind.INDEX_PAGE] >= 0.8:
        kept = {PageKind.INDEX_PAGE: kept[PageKind.INDEX_PAGE]}
    return kept or {PageKind.OTHER: 1.0 - max(found.values())}


def is_index(region: Region) -> bool:
    """Whether a region is an index of sets."""
    return PageKind.INDEX_PAGE in kinds_of(region)


def section_kind(line: Line) -> PageKind | None:
    """The kind that a line announces as a heading, or None."""
    if _ITEM_ROW.match(line.text):
        return None
    if line.is_heading or len(line.words) <= _TITLE_WORDS:
        text = plain_words(line.text)
        for kind, (pattern, _) in _HEADINGS.items():
            if re.search(pattern, text):
                return kind
    return None


def _heading_strength(lines: Sequence[Line], pattern: str) -> float:
    """1 when a heading has the phrase, a third when only running text has it, else 0."""
    strength = 0.0
    for line in lines:
        if re.search(pattern, plain_words(line.text)) and not _ITEM_ROW.match(line.text):
            if line.is_heading or len(line.words) <= _TITLE_WORDS:
                return 1.0
            strength = 0.34
    return strength


def _add_row_evidence(odds: dict[PageKind, float], rows: Sequence[Line]) -> None:
    if not rows:
        return
    parts = sum(_is_part(row) for row in rows)
    odds[PageKind.PARTS_LIST] += min(3.5, 0.35 * parts)
    listed = sum(bool(_LISTING_ROW.search(row.text)) for row in rows)
    leaders = sum("..." in row.text or ". . ." in row.text or "…" in row.text for row in rows)
    odds[PageKind.INDEX_PAGE] += min(2.5, 0.25 * leaders)
    odds[PageKind.INDEX_PAGE] += 1.5 * (listed / len(rows)) if len(rows) >= 8 else 0.0
    odds[PageKind.INDEX_PAGE] -= 0.5 * parts
    pins = sum(bool(_PIN_ROW.search(row.text)) for row in rows)
    for kind in (PageKind.VOLTAGE_CHART, PageKind.RESISTANCE_CHART):
        odds[kind] += min(1.5, 0.3 * pins)
    prose = sum(len(row.words) >= 8 and _mostly_words(row) for row in rows)
    odds[PageKind.SERVICE_NOTES] += min(2.0, 0.12 * prose)


def _add_drawing_evidence(odds: dict[PageKind, float], lines: Sequence[Line]) -> None:
    """Labels that stand alone, outside lists and charts, are those of a drawing."""
    headings = sorted((line.box.top, kind) for line in lines if (kind := section_kind(line)))
    loose = []
    for line in lines:
        above = [kind for top, kind in headings if top <= line.box.middle[1]]
        if len(line.words) <= _LOOSE_WORDS and not (above and above[-1] in _TABLES):
            loose.append(line)
    references = sum(bool(_REFERENCE.match(w.text)) for line in loose for w in line.words)
    labels = sum(bool(_LABEL.match(w.text)) for line in loose for w in line.words)
    odds[PageKind.SCHEMATIC] += min(4.5, 0.35 * references + 0.06 * labels)


def _is_part(row: Line) -> bool:
    """Reference, number, description: a row of a parts list."""
    described = any(word.text.isalpha() and len(word.text) >= 4 for word in row.words[1:])
    return bool(_DESIGNATOR_ROW.match(row.text)) and len(row.words) >= 3 and described


def _mostly_words(row: Line) -> bool:
    plain = sum(word.text.strip(".,;:()").isalpha() for word in row.words)
    return plain >= 0.7 * len(row.words)


def _probability(log_odds: float) -> float:
    return round(1 / (1 + math.exp(-log_odds)), 3)
