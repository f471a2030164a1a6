"""What the lettering and the strokes of a drawing say of a page's kind."""

import re
from collections.abc import Sequence
from statistics import median

from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.region import Line, Region, pieces
from indexer.model import PageKind
from indexer.trade.numbering import registered
from indexer.trade.tubes import lookup

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
FEW_TUBES = 3
_READ = 0.5  # confidence of a word that was read
_LITTLE = 0.04  # share of a page that words cover; a schematic's cover 0.06 to 0.09
_AROUND = 1.9  # times the area of its words: what lettering seems to cover
_UNREAD = 0.08  # share of a page that looks lettered where no word was read
_PHOTO = 0.25  # share of middling tones
_DRAWN = 3.6  # log-odds: a ruled table that was not read looks alike
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
_DRAWING = 0.09  # share of the ink in long strokes, where a drawing fills part of a page
CIRCUIT = 3.3  # log-odds: likelier than not, where nothing speaks against it
_DRAWINGS = frozenset({PageKind.TUBE_LAYOUT, PageKind.CHASSIS_VIEW, PageKind.DIAL_STRINGING})

Evidence = dict[PageKind, float]


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
        found[PageKind.SCHEMATIC] = max(found[PageKind.SCHEMATIC], CIRCUIT)
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
    if len(tubes) < FEW_TUBES:
        return 0.0
    reach = 2 * median(word.box.height for word in tubes)
    columns: list[float] = []
    for left in sorted(word.box.left for word in tubes):
        if not columns or left - columns[-1] > reach:
            columns.append(left)
    return 3.5 if len(columns) >= max(FEW_TUBES, 0.6 * len(tubes)) else 0.0


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


def _is_plate(region: Region) -> bool:
    """Whether what was read is a maker's plate: model, serial number, rating, and little else."""
    text = plain_words(region.text)
    words = [word for line in region.lines for word in line.words]
    rated = {match[1] for match in _PLATE.finditer(text)}
    named = re.search(r"\b(MODEL|TYPE|CHASSIS)\b", text)
    marks = any(_REFERENCE.match(word.text) for word in words)
    return bool(named) and len(rated) >= 2 and len(words) <= _PLATE_WORDS and not marks


_PLATE = re.compile(
    r"\b(SERIAL|SER\.? NO|PATENTS?|LICEN[SC]ED|WATTS|VOLTS|CYCLES|AMPS?|AMPERES|MADE IN)\b"
)
_PLATE_WORDS = 40
