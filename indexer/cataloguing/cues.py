"""What speaks for a page's kind besides its headings: phrases, the shape of rows, lone labels.

Each function gives evidence in log-odds by kind; the weights are set by hand.
"""

import re
from collections.abc import Sequence

from indexer.cataloguing.cues_drawn import CIRCUIT, FEW_TUBES, Evidence
from indexer.cataloguing.index_heads import is_column_head
from indexer.cataloguing.index_row import row_of
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.listings import IndexPage, listed_share
from indexer.cataloguing.region import Line, Region
from indexer.cataloguing.ways import Way, way_of
from indexer.model import PageKind
from indexer.trade.language import of_trade

_FEW_LISTED = 6  # rows of an index, at the least, for a page to be one without saying so
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
        (r"\bPEAK\b|\bFOR MAXIMUM\b", 0.6),
        (r"\b(GANG|PLATES|TUNING CONDENSER)\b.{0,20}\b(OPEN|CLOSED|MESH\w*|OUT|IN)\b", 0.5),
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
_OHMS = re.compile(r"^\d*\.?\d+(?:K|M|MEG)$", re.IGNORECASE)
_ELECTRODES = re.compile(
    r"\b(TUBES?|VALVES?|TYPE)\b.*\b(PLATE|SCREEN|ANODE|CATHODE|VA|PIN)\b|\bPIN ?1\b|\b1 2 3 4\b",
    re.IGNORECASE,
)
_PAGE_AT_END = re.compile(r"(?:\.{3}|(?:\. ){2}|…|\s)\s*\d{1,4}\W{0,2}$")
_PIN_ROW = re.compile(r"(?:(?:\s|^)(?:-?\d{1,3}(?:\.\d)?|0|NC|AC|N\.C\.|\d+\.?\d*[KM]|INF)){4,}")


_STEP = re.compile(r"\b\d[\d.,]{1,6} ?(?:KC|MC|KHZ|MHZ|K\.C|M\.C)\b", re.IGNORECASE)  # a frequency


def phrases(region: Region) -> Evidence:
    """What the trade's set phrases say."""
    body = plain_words(region.text)
    return {
        kind: sum(weight for pattern, weight in cues if re.search(pattern, body))
        for kind, cues in _PHRASES.items()
    }


def _is_listing(text: str) -> bool:
    """Whether a row is words, a space or dots, and a page."""
    page = _PAGE_AT_END.search(text)
    return page is not None and any(map(str.isalnum, text[: page.start()]))


def rows_of(rows: Sequence[Line]) -> Evidence:
    """What the shape of the printed rows says."""
    if not rows:
        return {}
    parts = sum(_is_part(row) for row in rows)
    listed = sum(_is_listing(row.text) for row in rows)
    leaders = sum("..." in row.text or ". . ." in row.text or "…" in row.text for row in rows)
    index = min(2.5, 0.25 * leaders) - 0.5 * parts
    index += 1.5 * (listed / len(rows)) if len(rows) >= 8 else 0.0
    steps = sum(bool(_STEP.search(row.text)) for row in rows)
    pins = min(1.5, 0.3 * sum(bool(_PIN_ROW.search(row.text)) for row in rows))
    prose = sum(len(row.words) >= 8 and _mostly_words(row) for row in rows)
    return {
        PageKind.PARTS_LIST: min(3.5, 0.35 * parts),
        PageKind.INDEX_PAGE: index,
        PageKind.ALIGNMENT: min(2.4, 0.6 * max(0, steps - 1)),
        PageKind.VOLTAGE_CHART: pins,
        PageKind.RESISTANCE_CHART: pins,
        PageKind.SERVICE_NOTES: min(2.0, 0.12 * prose),
    }


def told(region: Region, headings: Sequence[tuple[float, PageKind | None]]) -> Evidence:
    """Lines of running text that speak of the set, under no heading of another matter, are service
    notes, whatever stands over them."""
    spoken = 0
    for line in region.lines:
        above = [kind for top, kind in headings if top <= line.box.middle[1]]
        if above and above[-1] not in (None, PageKind.SERVICE_NOTES):
            continue
        words = [word.text.strip(".,;:()").lower() for word in line.words]
        if len(words) < _TOLD_WORDS or not _mostly_words(line):
            continue
        spoken += any(map(of_trade, words)) and any(word in _RUNNING for word in words)
    return {PageKind.SERVICE_NOTES: min(4.0, _TOLD * spoken)}


_TOLD_WORDS = 5
_TOLD = 0.5  # log-odds for each line
_JOINING = (
    "a an the is are of to and in with from for or on be has der die das ist und mit zu von ein le"
    " la les est et des avec de het een van"
)
_RUNNING = frozenset(_JOINING.split())  # words that join others in running text


def is_left_blank(region: Region) -> bool:
    """Whether a page says that it is left for the owner to write on, and says nothing else."""
    text = plain_words(region.text)
    words = sum(len(line.words) for line in region.lines)
    return words <= _BLANK_WORDS and bool(_BLANK.search(text))


_BLANK_WORDS = 16
_BLANK = re.compile(
    r"\b(LEFT|IS|PURPOSELY|INTENTIONALLY) BLANK\b|\bBLANK PAGE\b|\bMEMORANDA\b"
    r"|\b(OWNER\W?S|YOUR|SERVICEMAN\W?S) (OWN )?(NOTES|REMARKS)\b|^\W*(NOTES|REMARKS|MEMO)\W*$"
)


def charted(rows: Sequence[Line]) -> Evidence:
    """Rows of readings under a head that names electrodes or pins, whatever is said over them."""
    shown = [row for row in rows if way_of(row) is Way.CHART]
    headed = any(_ELECTRODES.search(row.text) for row in rows)
    if len(shown) < FEW_TUBES or not headed:
        return {}
    ohms = sum(any(_OHMS.match(word.text) for word in row.words[1:]) for row in shown)
    resistance = 2 * ohms > len(shown)
    return {PageKind.RESISTANCE_CHART if resistance else PageKind.VOLTAGE_CHART: CIRCUIT}


def listed(region: Region, index: IndexPage) -> Evidence:
    """Rows that name maker, model, volume and page make an index; `index` is the region's page
    taken as one."""
    if any(map(_heads_listings, region.lines)) and any(map(row_of, region.rows)):
        return {PageKind.INDEX_PAGE: 4.0}
    rows, share = listed_share(region, index)
    return {PageKind.INDEX_PAGE: 5.0 * max(0.0, share - 0.3)} if rows >= _FEW_LISTED else {}


def _heads_listings(line: Line) -> bool:
    """Whether a line heads the columns of an index: "Model", "Page" and little else."""
    if not is_column_head(line):
        return False
    words = {plain_words(word.text.strip(".,:;")) for word in line.words}
    return bool(words & {"MODEL", "MODELS"} and words & {"PAGE", "PAGES"})


def _is_part(row: Line) -> bool:
    """Reference, number, description: a row of a parts list."""
    described = any(word.text.isalpha() and len(word.text) >= 4 for word in row.words[1:])
    return bool(_DESIGNATOR_ROW.match(row.text)) and len(row.words) >= 3 and described


def _mostly_words(row: Line) -> bool:
    plain = sum(word.text.strip(".,;:()").isalpha() for word in row.words)
    return plain >= 0.7 * len(row.words)
