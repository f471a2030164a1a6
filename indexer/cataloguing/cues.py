"""What speaks for a page's kind besides its headings: phrases, the shape of rows, lone labels.

Each function gives evidence in log-odds by kind; the weights are set by hand.
"""

import re
from collections.abc import Sequence
from statistics import median

from indexer.cataloguing.index_row import is_column_head, row_of
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.listings import IndexPage, listed_share
from indexer.cataloguing.region import Line, Region, pieces
from indexer.cataloguing.ways import Way, way_of
from indexer.model import PageKind
from indexer.trade.language import of_trade
from indexer.trade.numbering import registered
from indexer.trade.tubes import lookup

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
_LINES = 0.05  # share of the ink in long strokes; of 120 drawn pages without a drawing, none has it
_FEW_REFERENCES = 2  # R1, C4: more, and it is a schematic
_FEW_TUBES = 3
_READ = 0.5  # confidence of a word that was read
_LITTLE = 0.04  # share of a page that words cover; a schematic's cover 0.06 to 0.09
_AROUND = 1.9  # times the area of its words: what lettering seems to cover
_UNREAD = 0.08  # share of a page that looks lettered where no word was read
_PHOTO = 0.25  # share of middling tones
_DRAWN = 3.6  # log-odds: a ruled table that was not read looks alike
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
_REFERENCE = re.compile(r"^[RCLTV]\d{1,3}[A-D]?$")
# What stands beside the symbols of a drawing: references, values, rails.
_LABEL = re.compile(
    r"^([RCLTVS]\d{1,3}[A-D]?|\.\d{1,5}|\d{1,3}(\.\d)?[KM]|\d[\d,]{2,6}|\d{1,4}|B[+-]|MEG|MFD|MMF|LS\d)$"
)
# The same without bare numbers, and the units of values.
_MARK = re.compile(
    r"^(#?[RCLTV]\d{1,3}[A-D]?|[.#]\d{1,5}|#?\d{1,3}(\.\d)?[KM]|M?MEG|MM?FD?|[NP\u00b5\u03bc]F|[KM]?\u03a9"
    r"|[KM]\u2126)$",
    re.IGNORECASE,
)
_FEW_MARKS = 4
_OHMS = re.compile(r"^\d*\.?\d+(?:K|M|MEG)$", re.IGNORECASE)
_ELECTRODES = re.compile(
    r"\b(TUBES?|VALVES?|TYPE)\b.*\b(PLATE|SCREEN|ANODE|CATHODE|VA|PIN)\b|\bPIN ?1\b|\b1 2 3 4\b",
    re.IGNORECASE,
)
_DRAWING = 0.09  # share of the ink in long strokes, where a drawing fills part of a page
_CIRCUIT = 3.3  # log-odds: likelier than not, where nothing speaks against it
_DRAWINGS = frozenset({PageKind.TUBE_LAYOUT, PageKind.CHASSIS_VIEW, PageKind.DIAL_STRINGING})
_PAGE_AT_END = re.compile(r"(?:\.{3}|(?:\. ){2}|…|\s)\s*\d{1,4}\W{0,2}$")
_PIN_ROW = re.compile(r"(?:(?:\s|^)(?:-?\d{1,3}(?:\.\d)?|0|NC|AC|N\.C\.|\d+\.?\d*[KM]|INF)){4,}")


_STEP = re.compile(r"\b\d[\d.,]{1,6} ?(?:KC|MC|KHZ|MHZ|K\.C|M\.C)\b", re.IGNORECASE)  # a frequency


Evidence = dict[PageKind, float]


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


def drawn(region: Region, headings: Sequence[tuple[float, PageKind]]) -> Evidence:
    """Labels that stand alone, outside lists and charts, are those of a drawing. `headings` are
    the heights at which sections begin, top to bottom, with their kinds."""
    loose = []
    for line in region.lines:
        above = [kind for top, kind in headings if top <= line.box.middle[1]]
        if len(line.words) <= _LOOSE_WORDS and not (above and above[-1] in _TABLES):
            loose.append(line)
    loose = _without_columns(loose)
    references = sum(bool(_REFERENCE.match(w.text)) for line in loose for w in line.words)
    labels = sum(bool(_LABEL.match(w.text)) for line in loose for w in line.words)
    found = {PageKind.SCHEMATIC: min(4.5, 0.35 * references + 0.06 * labels)}
    circuit = region.page.picture.long_lines >= _DRAWING and _of_a_circuit(loose, headings)
    if circuit:
        found[PageKind.SCHEMATIC] = max(found[PageKind.SCHEMATIC], _CIRCUIT)
    circuit |= any(kind is PageKind.SCHEMATIC for _, kind in headings)
    if not circuit and references <= _FEW_REFERENCES and region.page.picture.long_lines >= _LINES:
        found[PageKind.TUBE_LAYOUT] = max(_placed_tubes(loose), _placed_tubes(_apart(region)))
    return found


def _without_columns(loose: Sequence[Line]) -> list[Line]:
    """Lines without references that stand one below the other: a list's, torn from its rows."""
    heads = [line for line in loose if _REFERENCE.match(line.words[0].text)]
    listed: set[int] = set()
    for line in heads:
        reach = _SAME_EDGE * line.box.height
        below = [other for other in heads if abs(other.box.left - line.box.left) <= reach]
        if len(below) >= _COLUMN:
            listed |= {id(other) for other in below}
    return [line for line in loose if id(line) not in listed]


_SAME_EDGE, _COLUMN = 0.3, 6  # of the lettering's height; references in a column


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


def _of_a_circuit(loose: Sequence[Line], headings: Sequence[tuple[float, PageKind]]) -> bool:
    """Whether the few labels read of a drawing are references and values of parts, and no heading
    says that another sort of drawing is shown."""
    if not _DRAWINGS.isdisjoint(kind for _, kind in headings):
        return False
    marks = {w.text for line in loose for w in line.words if _MARK.match(w.text)}
    return sum(not mark.startswith("V") for mark in marks) >= _FEW_MARKS  # lists number tubes too


def _apart(region: Region) -> list[Line]:
    """What stands by itself on a page without readings, though other labels stand level with it."""
    parts = [part for line in region.lines for part in pieces(line)]
    words = [word.text for part in parts for word in part.words]
    readings = sum(word.replace(".", "").isdecimal() for word in words)
    return [part for part in parts if len(part.words) == 1] if readings <= _FEW_READINGS else []


_FEW_READINGS = 6


def _placed_tubes(loose: Sequence[Line]) -> float:
    """Types that stand here and there in a drawing, each at its place on the chassis: a list of
    tubes stands in a column."""
    tubes = [word for line in loose for word in line.words if lookup(registered(word.text))]
    if len(tubes) < _FEW_TUBES:
        return 0.0
    reach = 2 * median(word.box.height for word in tubes)
    columns: list[float] = []
    for left in sorted(word.box.left for word in tubes):
        if not columns or left - columns[-1] > reach:
            columns.append(left)
    return 3.5 if len(columns) >= max(_FEW_TUBES, 0.6 * len(tubes)) else 0.0


def named_layout(region: Region) -> Evidence:
    """A label that says where its tubes stand, though more stands on the same line."""
    for line in region.lines:
        text = plain_words(line.text)
        if line.is_capitals and _LAYOUT.search(text) and not _ELSEWHERE.search(text):
            return {PageKind.TUBE_LAYOUT: _NAMED_LAYOUT}
    return {}


_LAYOUT = re.compile(
    r"\b(TUBE|VALVE)S? (LOCATIONS?|LAYOUT|PLACEMENT|POSITIONS?|ARRANGEMENT)\b|\bRÖHRENANORDNUNG\b"
)
_ELSEWHERE = re.compile(r"\b(SEE|REFER|FIG|PAGE|OVERLEAF)\b")
_NAMED_LAYOUT = 1.8  # log-odds, beside the words themselves


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
_PLATE = re.compile(
    r"\b(SERIAL|SER\.? NO|PATENTS?|LICEN[SC]ED|WATTS|VOLTS|CYCLES|AMPS?|AMPERES|MADE IN)\b"
)
_PLATE_WORDS = 40


def _is_plate(region: Region) -> bool:
    """Whether what was read is a maker's plate: model, serial number, rating, and little else."""
    text = plain_words(region.text)
    words = [word for line in region.lines for word in line.words]
    rated = {match[1] for match in _PLATE.finditer(text)}
    named = re.search(r"\b(MODEL|TYPE|CHASSIS)\b", text)
    marks = any(_REFERENCE.match(word.text) for word in words)
    return bool(named) and len(rated) >= 2 and len(words) <= _PLATE_WORDS and not marks


def unread(region: Region) -> Evidence:
    """What the picture tells of a page on which hardly a word was read: long strokes and much ink
    like lettering where no word stands are a drawing's, and no cover's or advertisement's."""
    picture, reading = region.page.picture, region.page.reading
    area = max(1, reading.width_px * reading.height_px)
    read = sum(w.box.width * w.box.height for w in reading.words if w.confidence >= _READ) / area
    drawing = picture.long_lines >= 2 * _LINES and picture.photo_like < _PHOTO
    drawing &= not _is_plate(region)
    if drawing and read <= _LITTLE and picture.text_like - _AROUND * read >= _UNREAD:
        return {PageKind.SCHEMATIC: _DRAWN}
    return {}


def charted(rows: Sequence[Line]) -> Evidence:
    """Rows of readings under a head that names electrodes or pins, whatever is said over them."""
    shown = [row for row in rows if way_of(row) is Way.CHART]
    headed = any(_ELECTRODES.search(row.text) for row in rows)
    if len(shown) < _FEW_TUBES or not headed:
        return {}
    ohms = sum(any(_OHMS.match(word.text) for word in row.words[1:]) for row in shown)
    resistance = 2 * ohms > len(shown)
    return {PageKind.RESISTANCE_CHART if resistance else PageKind.VOLTAGE_CHART: _CIRCUIT}


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
