"""Whose set a stretch of a page is about: maker, models, chassis, year, IF, and where it's printed.

Names and codes count where the trade prints them: after the words MODEL and CHASSIS, in mastheads
and running headers. A number in running text is not a model.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from indexer.cataloguing.region import Line, as_printed, squeeze
from indexer.trade.codes import CodeClass, classify, fold, normal, parse_codes

_MODEL_WORD = re.compile(r"\bM[O0]DELS?\b(?:\s*N[O0]S?\b\.?)?\s*[:.\-]?\s*", re.IGNORECASE)
_CHASSIS_WORD = re.compile(
    r"\bCHASSIS\b(?:\s*(?:N[O0]S?|TYPES?|STAMP(?:ED)?|READS|IS)\b\.?)*\s*[:.\-]?\s*|\bCH\.\s*(?:N[O0]\.?\s*)?(?=[\w])",
    re.IGNORECASE,
)
_CORPORATE = re.compile(
    r"^\W*([A-Z][A-Z'&.\- ]{2,40}?)\s+(?:RADIO|TELEVISION|WIRELESS|ELECTRIC(?:AL)?|MFG|"
    r"MANUFACTURING|CORP(?:ORATION)?|COMPANY|CO|INC|LTD|LABORATORIES|PRODUCTS|WORKS|RECEIVERS?)\b",
)
_NOT_MAKERS = frozenset(
    {"THE", "SERVICE", "ANNUAL", "PRESS", "MODEL", "CHASSIS", "TRADE", "VOLUME", "PARTS", "TUBE"}
    | {"SCHEMATIC", "ALIGNMENT", "INDEX", "VOLTAGE", "AC", "DC", "FM", "AM", "PORTABLE", "AUTO"}
    | {"CAR", "FARM", "HOME", "TABLE"}
)
_FILLERS = frozenset({"THIS", "THESE", "WITH", "FROM", "EVERY", "YOUR", "FINE", "RADIO"})
_YEAR = re.compile(r"\b(19[2-6]\d)\b(?!\s*(?:K[CH]|CYCLES|VOLTS|OHMS|MMF|M?FD))")
_IF = re.compile(
    r"\bI\.?\s?F\.?\b[^0-9]{0,25}(\d{2,3}(?:\.\d)?)\s*K\.?(?:C|H)"
    r"|\b(\d{3}(?:\.\d)?)\s*K\.?(?:C|HZ)[^0-9]{0,12}\bI\.?\s?F\.?\b"
    r"|\bINTERMEDIATE FREQ\w*[^0-9]{0,25}(\d{2,3}(?:\.\d)?)",
    re.IGNORECASE,
)
_VOLUME = re.compile(r"\bVOL(?:UME|\.)?\s*([IVXL]{1,6}|\d{1,3})\b", re.IGNORECASE)
_PAGE_WORD = re.compile(r"\b(?:PAGE|P\.)\s*(\d{1,4})\b", re.IGNORECASE)
_LONE_NUMBER = re.compile(r"^\W{0,3}(\d{1,4})\W{0,3}$")
_PUBLICATION = re.compile(r"\b(?:ANNUAL|MANUAL|YEARBOOK|HANDBOOK)\b", re.IGNORECASE)
_NOT_TITLE = re.compile(r"\bVOL(?:UME|\.)?\s*\w{1,6}\b.*|^\W*\d+\W+|\W+\d*\W*$", re.IGNORECASE)
_NOT_CODES = frozenset(
    {CodeClass.FREQUENCY, CodeClass.VALUE, CodeClass.DATE, CodeClass.TUBE, CodeClass.WORD}
)
_HEADER_WORDS = 16  # a running header may hold maker, models and chassis in one line
_RUNNING_WORDS = 2  # lower-case words in a line that is still a heading: "through", "and"
_MASTHEAD_SHARE = 0.12  # of the page's height: how far a masthead reaches
_MASTHEAD_LINES = 4  # between the lines of one masthead
_GAP = 5  # characters between two codes of one list: "and", "thru"
_EDGE_SHARE = 0.07  # page numbers and running headers stand in this share of the height

SUPPLY_WORDS: tuple[tuple[str, str], ...] = (
    (r"\bVIBRATOR\b", "vibrator"),
    (
        r"\bA\.?C\.?[ ,/-]*D\.?C\.?[ ,/-]*(OR |AND |/)? ?BATTERY\b|\b(THREE|3)[ -]?WAY\b"
        r"|\bBATTERY (OR|AND) (LINE|A\.?C)\b",
        "battery and line",
    ),
    (r"\bA\.?C\.?[ /-]+(OR )?D\.?C\b", "series string"),
    (r"\bPOWER TRANS(FORMER|\.)", "transformer"),
    (
        r"\bBATTERY (OPERATED|POWERED|SET|RECEIVER)\b|\bFARM (RADIO|SET|RECEIVER)\b"
        r"|[\"“]A[\"”] BATTERY\b",
        "battery",
    ),
)


@dataclass(frozen=True, slots=True)
class Masthead:
    """A heading that names a set: where it stands (0 to 1 of the height) and what it says."""

    top: float
    maker: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]


def codes_after(pattern: re.Pattern[str], text: str) -> tuple[str, ...]:
    """Model or chassis numbers printed right after a word, in full: "5D10, -11" gives 5D10 and
    5D11, a range stays one ("40-120 through 40-125")."""
    found: list[str] = []
    for match in pattern.finditer(text):
        tail = match[0] + _until_next_label(text[match.end() :])
        expected = len(match[0])
        for span in parse_codes(tail):
            if len(tail[expected : span.start].strip(" ,;&:/()-")) > _GAP:
                break
            if span.range is not None:
                found.append(f"{span.range.first} through {span.range.last}")
            found += [code for code in span.codes if _is_code(code)]
            expected = span.end
    return tuple(dict.fromkeys(found))


def models_in(text: str) -> tuple[str, ...]:
    """Models printed after the word MODEL or MODELS."""
    return codes_after(_MODEL_WORD, text)


def chassis_in(text: str) -> tuple[str, ...]:
    """Chassis numbers printed after the word CHASSIS."""
    return codes_after(_CHASSIS_WORD, text)


def maker_in(lines: Iterable[Line], known: Sequence[str] = ()) -> str:
    """The maker named by corporate wording ("TILLBROOK RADIO MFG. CO."), or a known one named
    in a heading; as a person writes it ("Tillbrook"); "" when none is."""
    kept = list(lines)
    headings = [squeeze(line.text) for line in kept if line.is_heading]
    for text in (*headings, *map(" ".join, pairwise(headings))):  # a name may take two lines
        match = _CORPORATE.match(text)
        if match:
            name = " ".join(w for w in match[1].split() if w.strip(".") not in _NOT_MAKERS)
            first = name.split(" ")[0]
            if len(first) >= 4 and name.replace(" ", "").isalpha() and first not in _FILLERS:
                return _as_known(name, known)
    folded = {fold(name): name for name in known if name}
    for line in kept:
        if line.is_heading or len(line.words) <= 6:
            for word in line.words:
                known_as = folded.get(fold(word.text.strip(".,;:()\"'")))
                if known_as:
                    return known_as
    return ""


def mastheads(
    lines: Sequence[Line], height_px: float, known: Sequence[str], *, typed: bool = False
) -> list[Masthead]:
    """Headings that name a set, top to bottom; neighbouring lines make one masthead.

    In typed notes any line that begins with MODEL or CHASSIS counts, and so does a title of
    maker and number ("# Tillbrook 5D11").
    """
    heads: list[Masthead] = []
    last_line = 0
    for i, line in enumerate(lines):
        models, chassis = _codes_in_heading(line, typed, known)
        if not (models or chassis):
            continue
        near = [
            other
            for other in lines[max(0, i - _MASTHEAD_LINES) : i + _MASTHEAD_LINES]
            if typed or abs(other.box.top - line.box.top) < _MASTHEAD_SHARE * height_px
        ]
        maker = maker_in(near, known) or (_named_first(line, known) if typed else "")
        above = [
            other.box.top
            for other in near
            if other.box.top < line.box.top and maker and maker_in([other], known) == maker
        ]
        start = min([line.box.top, *above]) / max(1.0, height_px)
        head = Masthead(start, maker, models, chassis)
        if heads and i - last_line <= _MASTHEAD_LINES and _may_join(heads[-1], head):
            last = heads.pop()
            head = Masthead(
                last.top,
                last.maker or maker,
                tuple(dict.fromkeys(last.models + models)),
                tuple(dict.fromkeys(last.chassis + chassis)),
            )
        heads.append(head)
        last_line = i
    return heads


def year_in(text: str) -> int | None:
    """The year most often printed (1920 to 1969), or None."""
    years = [int(y) for y in _YEAR.findall(text)]
    return max(years, key=lambda y: (years.count(y), -years.index(y))) if years else None


def if_khz_in(text: str) -> float | None:
    """The intermediate frequency in kilohertz, where one is named as such (100 to 2,000)."""
    for match in _IF.finditer(text.replace("\n", " ")):
        value = float(next(group for group in match.groups() if group))
        if 100 <= value <= 2000:
            return value
    return None


def supply_in(text: str) -> str:
    """The supply as the words name it, or ""."""
    body = squeeze(text)
    for pattern, supply in SUPPLY_WORDS:
        if re.search(pattern, body):
            return supply
    return ""


def printed_page(lines: Sequence[Line], height_px: float) -> str:
    """The page number printed at the head or foot, or ""."""
    edges = [
        line
        for line in lines
        if line.box.middle[1] < _EDGE_SHARE * height_px
        or line.box.middle[1] > (1 - _EDGE_SHARE) * height_px
    ]
    for line in edges:
        match = _LONE_NUMBER.match(line.text) or _PAGE_WORD.search(line.text)
        if match:
            return match[1]
    for line in edges:  # a running header with the number at its outer end
        for word in (line.words[0], line.words[-1]):
            match = _LONE_NUMBER.match(word.text)
            if match and len(line.words) >= 2 and not _MODEL_WORD.search(line.text):
                return match[1]
    return ""


def publication_in(lines: Sequence[Line], height_px: float) -> tuple[str, str]:
    """(publication, volume) as a running header or title page names them; "" for each unknown."""
    for line in lines:
        if line.box.middle[1] > 2 * _EDGE_SHARE * height_px and len(lines) > 14:
            continue
        if _PUBLICATION.search(line.text):
            title = _NOT_TITLE.sub("", _NOT_TITLE.sub("", line.text))
            return _title_case(title), volume_in(line.text)
    return "", ""


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


def _is_code(text: str) -> bool:
    flat = normal(text)
    return (
        any(c.isdigit() for c in flat)
        and 2 <= len(flat) <= 40
        and classify(text, before="MODEL") not in _NOT_CODES
    )


def _until_next_label(tail: str) -> str:
    stop = re.search(
        r"\b(CHASSIS|CH\.|MODELS?|TUBES?|YEAR|PAGE|VOL|SERIES|RUN|USES?|WITH)\b",
        tail,
        re.IGNORECASE,
    )
    return tail[: stop.start()] if stop else tail


def _codes_in_heading(
    line: Line, typed: bool, known: Sequence[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(models, chassis) of a line that heads a set; both empty for any other line."""
    line = as_printed(line)
    text = squeeze(line.text)
    if re.search(r"\b(SAME AS|SIMILAR TO|SEE|REFER|REPLACES|USED IN|ALSO)\b", text):
        return (), ()
    if typed:
        return models_in(line.text) or _titled(line, known), chassis_in(line.text)
    running = sum(w.text.islower() and w.text.isalpha() for w in line.words)
    labelled = re.match(r"^\W{0,3}(MODELS?|CHASSIS)\b", text) and running <= _RUNNING_WORDS
    header = line.is_capitals and len(line.words) <= _HEADER_WORDS
    if header or labelled:
        return models_in(line.text), chassis_in(line.text)
    return (), ()


def _titled(line: Line, known: Sequence[str]) -> tuple[str, ...]:
    """The number after a known maker at the start of a typed title."""
    words = _plain_words(line)
    if _named_first(line, known) and len(words) >= 2 and _is_code(words[1]):
        return (words[1],)
    return ()


def _named_first(line: Line, known: Sequence[str]) -> str:
    """The known maker that a line begins with, or ""."""
    words = _plain_words(line)
    return next((name for name in known if words and fold(name) == fold(words[0])), "")


def _plain_words(line: Line) -> list[str]:
    return [text for word in line.words if (text := word.text.strip("#*_:,"))]


def _may_join(a: Masthead, b: Masthead) -> bool:
    """Two headings close together are one masthead unless each names other models."""
    return not (a.models and b.models and not set(map(fold, a.models)) & set(map(fold, b.models)))


def _as_known(name: str, known: Sequence[str]) -> str:
    for maker in known:
        if fold(maker) == fold(name):
            return maker
    return name.title()
