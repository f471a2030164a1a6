"""What a stretch of a page prints: schematic, parts list, alignment … each with a probability.

Each kind has cues: phrases (worth more in a heading than in running text), shapes of rows, and
what the picture shows. Cues add up to evidence in log-odds; the weights are set by hand.
"""

import math
import re
from collections.abc import Sequence
from statistics import median

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

# Root words of a heading, in any order and wording; the first kind that fits is meant.
_HEADINGS: dict[PageKind, tuple[str, float]] = {
    PageKind.INDEX_PAGE: (r"\bINDEX\b|\bCONTENTS\b", 3.6),
    PageKind.SCHEMATIC: (
        r"\bSCHEMATIC\b|\b(CIRCUIT|WIRING|CONNECTIONS?)\b.*?\b(DIAGRAM|DRAWING)\b"
        r"|\b(DIAGRAM|DRAWING) OF (THE )?(CIRCUIT|CONNECTIONS?)\b|^\W*CIRCUIT\W*$",
        4.5,
    ),
    PageKind.TUBE_LAYOUT: (
        r"\b(TUBES?|VALVES?)\b.*?\b(LAYOUT|LOCATIONS?|PLACEMENT|POSITIONS?|ARRANGEMENT|DIAGRAM"
        r"|ON (THE )?CHASSIS|SOCKETS? LOCATIONS?)\b"
        r"|\b(LOCATIONS?|LAYOUT|PLACEMENT|POSITIONS?|ARRANGEMENT|WHERE)\b.*?\b(TUBES|VALVES)\b",
        4.5,
    ),
    PageKind.DIAL_STRINGING: (
        r"\b(DIAL|DRIVE|POINTER|TUNING)\b.*?\b(CORDS?|CABLE|STRING(ING)?|DRIVE|MECHANISM|BELT)\b"
        r"|\bSTRINGING\b|\b(CORD|CABLE) (DRIVE|REPLACEMENT)\b",
        4.5,
    ),
    PageKind.CHASSIS_VIEW: (
        r"\bCHASSIS\b.*?\b(LAYOUT|VIEWS?|TOP|BOTTOM|REAR|UNDERSIDE|ABOVE|BELOW|DRAWING|SEEN)\b"
        r"|\b(VIEWS?|LAYOUT|TOP|BOTTOM|REAR|UNDERSIDE|UNDERNEATH)\b.*?\bCHASSIS\b",
        4.5,
    ),
    PageKind.ALIGNMENT: (
        r"\b(RE-?)?ALIGN(MENT|ING)?\b|\bTRIMMERS?\b.*?\bADJUST|\bADJUST(MENTS?|ING)\b",
        4.5,
    ),
    PageKind.VOLTAGE_CHART: (
        r"\bVOLTAGES?\b(?! (ON|ARE|IS|MEASURED|SHOWN|TAKEN|MAY|WITH|GIVEN|RATING|DROP|OF THE)\b)",
        4.5,
    ),
    PageKind.RESISTANCE_CHART: (
        r"(?<!COIL )\bRESISTANCES?\b(?! (VALUES? )?(ARE )?(IN|NOT|CORD|WIRE|LINE)\b)"
        r"|\bOHMMETER\b|\bOHMS? READINGS\b",
        4.5,
    ),
    PageKind.PARTS_LIST: (
        r"\b(PARTS?|COMPONENTS?)\b(?! OF\b)|\bREPLACEMENTS\b",
        4.5,
    ),
    PageKind.SERVICE_NOTES: (
        r"\bNOTES?\b|\bSERVICE\b.*?\b(DATA|HINTS?|INFORMATION|SUGGESTIONS?|BULLETIN|POINTERS?)\b"
        r"|^\W*(CIRCUIT |SET )?DESCRIPTION\b(?=\W*$| OF)|\bSPECIFICATIONS?\b"
        r"|\bGENERAL (DESCRIPTION|INFORMATION|DATA|SERVICE)\b"
        r"|\b(CIRCUIT|PRODUCTION|RUN|CHASSIS|MODEL) CHANGES?\b|^\W*CHANGES\b|\bMODIFICATIONS?\b"
        r"|\bREMOV(AL|ING)\b|\bHINTS\b|\bINSTALLATION\b|\bTROUBLE",
        3.6,
    ),
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
    usual_px = median(w.box.height for line in region.lines for w in line.words) if rows else 0.0
    for kind, (_, weight) in _HEADINGS.items():
        odds[kind] += weight * _heading_strength(region.lines, kind, usual_px)
    body = plain_words(region.text)
    for kind, phrases in _PHRASES.items():
        odds[kind] += sum(weight for pattern, weight in phrases if re.search(pattern, body))
    _add_row_evidence(odds, rows)
    _add_drawing_evidence(odds, region)
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


def headings_in(region: Region) -> list[tuple[Line, PageKind | None]]:
    """The headings over a region's sections, top to bottom, each with the kind it announces;
    None for a large heading that announces something else."""
    heights = [word.box.height for line in region.lines for word in line.words]
    usual = median(heights) if heights else 0.0
    found: list[tuple[Line, PageKind | None]] = []
    for line in region.lines:
        kind = section_kind(line, usual)
        large = median(word.box.height for word in line.words) >= _LARGE * usual
        letters = sum(c.isalpha() for c in line.text)
        if kind is PageKind.SERVICE_NOTES and _is_cell(line, region.lines):
            continue
        if kind is not None or (large and letters >= _LETTERS and _may_head(line, usual)):
            found.append((line, kind))
    return sorted(found, key=lambda pair: pair[0].box.top)


_LARGE = 1.25  # times the page's usual lettering
_LETTERS = 8


def section_kind(line: Line, usual_px: float = 0.0) -> PageKind | None:
    """The kind that a line announces as a heading, or None. `usual_px` is the page's usual
    height of lettering: a heading in small letters is set larger."""
    if not _may_head(line, usual_px):
        return None
    text = plain_words(line.text)
    return next((kind for kind, (cue, _) in _HEADINGS.items() if re.search(cue, text)), None)


def _may_head(line: Line, usual_px: float) -> bool:
    if _ITEM_ROW.match(line.text) or len(line.words) > _HEADING_WORDS:
        return False
    if _NOT_HEADING.search(line.text):
        return False
    letters = sum(c.isalpha() for c in line.text)
    if letters < 0.6 * len(line.text.replace(" ", "")):
        return False
    if line.is_capitals:
        return True
    first = line.words[0].text.lstrip("(\"'")
    small = [w.text for w in line.words if w.text[:1].islower() and w.text.lower() not in _SMALL]
    weighty = sum(word.text.lower() not in _SMALL for word in line.words)
    larger = usual_px and max(w.box.height for w in line.words) >= 1.12 * usual_px
    return (
        first[:1].isupper()
        and (not small or bool(larger))
        and (bool(larger) or weighty <= _TITLE_WORDS)
    )


_HEADING_WORDS = 8
_NOT_HEADING = re.compile(
    r"[a-z]{2}[.,;:]$|\d\s*(V|VOLTS?|OHMS?|K|KC|MFD|MEG|INS?|INCH(ES)?|FT)\b|, ?\d+\b"
)
_CELL_WORDS = 2  # a column's head in a table, with other heads beside it
_SMALL = frozenset(
    {"a", "an", "and", "at", "for", "from", "in", "of", "on", "or", "the", "to", "with", "by"}
)


def _is_cell(line: Line, lines: Sequence[Line]) -> bool:
    """Whether one or two words are the head of a table's column: others stand beside them."""
    if len(line.words) > _CELL_WORDS:
        return False
    reach = 0.6 * line.box.height
    beside = [
        other
        for other in lines
        if other is not line
        and len(other.words) <= 2 * _CELL_WORDS
        and abs(other.box.middle[1] - line.box.middle[1]) <= reach
    ]
    return len(beside) >= 1


def _heading_strength(lines: Sequence[Line], kind: PageKind, usual_px: float) -> float:
    """1 when a heading announces the kind, a third when only running text has its words."""
    pattern = _HEADINGS[kind][0]
    strength = 0.0
    for line in lines:
        first = section_kind(line, usual_px)
        if first is kind and not _is_cell(line, lines):
            return 1.0
        if first is not None and first is not kind:  # "TUBE LAYOUT     DIAL STRINGING"
            rest = re.sub(_HEADINGS[first][0], " ", plain_words(line.text), count=1)
            if re.search(pattern, rest):
                return 1.0
        if kind in _LOOSE_IN_TEXT or _ITEM_ROW.match(line.text):
            continue
        if re.search(pattern, plain_words(line.text)):
            strength = 0.34
    return strength


# Words so common in running text that they announce nothing there.
_LOOSE_IN_TEXT = frozenset(
    {
        PageKind.ALIGNMENT,
        PageKind.SERVICE_NOTES,
        PageKind.PARTS_LIST,
        PageKind.VOLTAGE_CHART,
        PageKind.RESISTANCE_CHART,
    }
)


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


def _add_drawing_evidence(odds: dict[PageKind, float], region: Region) -> None:
    """Labels that stand alone, outside lists and charts, are those of a drawing."""
    headings = [(line.box.top, kind) for line, kind in headings_in(region) if kind]
    loose = []
    for line in region.lines:
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
