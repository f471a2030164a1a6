"""What a stretch of a page prints: schematic, parts list, alignment … each with a probability.

Each kind has cues: phrases (worth more in a heading than in running text), shapes of rows, and
what the picture shows. Cues add up to evidence in log-odds; the weights are set by hand.
"""

import math
import re
from collections.abc import Sequence
from statistics import median

from indexer.cataloguing.cues import charted, is_left_blank, listed, phrases, rows_of, told
from indexer.cataloguing.cues_drawn import drawn, named_layout, unread
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.listings import IndexPage
from indexer.cataloguing.region import Line, Region, pieces
from indexer.model import PageKind

_PRIOR = -3.0  # log-odds of a kind before any cue
_ENOUGH = 0.5
_MOST = 0.7  # of the page's height, for the picture of the whole to tell of a part
_TITLE_WORDS = 4
# Root words of a heading, in any order and wording; the first kind that fits is meant.
_HEADINGS: dict[PageKind, tuple[str, float]] = {
    PageKind.INDEX_PAGE: (r"\bINDEX\b|\bCONTENTS\b", 3.6),
    PageKind.SCHEMATIC: (
        r"\bSCHEMATIC\b|\b(CIRCUIT|WIRING|CONNECTIONS?)\b.*?\b(DIAGRAM|DRAWING)\b"
        r"|\b(DIAGRAM|DRAWING) OF (THE )?(CIRCUIT|CONNECTIONS?)\b|^\W*CIRCUIT\W*$"
        r"|\b(SCHALT(BILD|PLAN|UNG)|STROMLAUFPLAN|(PRINCIPE)?SCHEMA)\b",
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
        r"\b(RE-?)?ALIGN(MENT|ING)?\b|\bTRIMMERS?\b.*?\bADJUST|\bADJUST(MENTS?|ING)\b"
        r"|\bABGLEICH\w*|\bALIGNEMENT\b|\bTRIMNING\b",
        4.5,
    ),
    PageKind.VOLTAGE_CHART: (
        r"\b(VALVE|TUBE)S? (ANALYSIS|READINGS|MEASUREMENTS)\b|\bSPANNUNG(EN|S\w+)\b"
        r"|\bVOLTAGES?\b(?! (ON|ARE|IS|MEASURED|SHOWN|TAKEN|MAY|WITH|GIVEN|RATING|DROP|OF THE)\b)",
        4.5,
    ),
    PageKind.RESISTANCE_CHART: (
        r"(?<!COIL )\bRESISTANCES?\b(?! (VALUES? )?(ARE )?(IN|NOT|CORD|WIRE|LINE)\b)"
        r"|\bOHMMETER\b|\bOHMS? READINGS\b",
        4.5,
    ),
    PageKind.PARTS_LIST: (
        r"\b(PARTS?|COMPONENTS?)\b(?! OF\b)|\bREPLACEMENTS\b"
        r"|^\W*(FIXED |VARIABLE )?(CONDENSERS|CAPACITORS|RESISTORS)\W*$"
        r"|\b(STÜCKLISTE|STUCKLISTE|ERSATZTEILE|EINZELTEILE)\b",
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
_ITEM_ROW = re.compile(r"^\W{0,2}([RCLTVSMJPF]\d{1,3}[A-D]?|\d{1,3})\s+\S*\d")


def kinds_of(region: Region, index: IndexPage | None = None) -> dict[PageKind, float]:
    """Every kind at least as likely as not, with its probability; "cover or other" when none.
    `index` is the region's page taken as an index, where it is in hand."""
    rows = region.rows
    odds = dict.fromkeys(_HEADINGS, _PRIOR)
    usual_px = median(w.box.height for line in region.lines for w in line.words) if rows else 0.0
    for kind, strength in _announced(region.lines, usual_px).items():
        odds[kind] += strength * _HEADINGS[kind][1]
    parted = [(line.box.top, kind) for line, kind in headings_in(region)]
    headings = [(top, kind) for top, kind in parted if kind]
    for cue in (
        phrases(region),
        rows_of(rows),
        drawn(region, headings),
        told(region, parted),
        listed(region, index or IndexPage(region.page)),
        named_layout(region),
    ):
        for kind, weight in cue.items():
            odds[kind] += weight
    if max(odds[PageKind.VOLTAGE_CHART], odds[PageKind.RESISTANCE_CHART]) < 0.0:
        for kind, weight in charted(rows).items():  # under no heading
            odds[kind] = _PRIOR + weight
    if region.page.reading.reader == "typed":  # the owner's own words
        odds[PageKind.SERVICE_NOTES] -= _PRIOR - 1.0
    if is_left_blank(region):
        odds[PageKind.SERVICE_NOTES] = _PRIOR
    found = {kind: _probability(value) for kind, value in odds.items()}
    kept = {kind: p for kind, p in found.items() if p >= _ENOUGH}
    if not kept and region.bottom - region.top >= _MOST * region.page.reading.height_px:
        for kind, weight in unread(region).items():  # the words tell nothing
            kept[kind] = _probability(_PRIOR + weight)
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
        coded = sum(any(c.isdigit() for c in word.text) for word in line.words)
        large &= 2 * coded < len(line.words)  # "35Z5 50L6 SPEAKER" stands in a drawing
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
    text = _apart(line)
    return next((kind for kind, (cue, _) in _HEADINGS.items() if re.search(cue, text)), None)


def _apart(line: Line) -> str:
    """The words for matching, with a line break where a wide space parts them."""
    return "\n".join(plain_words(part.text) for part in pieces(line))


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


def _announced(lines: Sequence[Line], usual_px: float) -> dict[PageKind, float]:
    """How strongly words announce each kind: 1 when a heading does, a third when only running
    text has its words."""
    strength: dict[PageKind, float] = {}
    for line in lines:
        text = _apart(line)
        first = section_kind(line, usual_px)
        heads = first is not None and not _is_cell(line, lines)
        # "TUBE LAYOUT     DIAL STRINGING": what is left of a heading may announce another
        rest = re.sub(_HEADINGS[first][0], " X ", text, count=1) if first is not None else ""
        item = bool(_ITEM_ROW.match(line.text))
        for kind, (pattern, _) in _HEADINGS.items():
            if strength.get(kind) == 1.0:
                continue
            if (kind is first and heads) or (kind is not first and re.search(pattern, rest)):
                strength[kind] = 1.0
            elif kind not in _LOOSE_IN_TEXT and not item and re.search(pattern, text):
                strength[kind] = _IN_TEXT
    return strength


_IN_TEXT = 0.34

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


def _probability(log_odds: float) -> float:
    return round(1 / (1 + math.exp(-log_odds)), 3)
