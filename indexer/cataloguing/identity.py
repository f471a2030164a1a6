"""Whose set a stretch of a page is about: maker, models, chassis.

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
    r"\bCHASSIS\b(?:\s*(?:N[O0]S?|TYPES?|STAMP(?:ED)?|READS|IS)\b\.?)*\s*[:.\-]?\s*"
    r"|\bCH\.\s*(?:N[O0]\.?\s*)?(?=[\w])",
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
_NOT_CODES = frozenset(
    {CodeClass.FREQUENCY, CodeClass.VALUE, CodeClass.DATE, CodeClass.TUBE, CodeClass.WORD}
)
_HEADER_WORDS = 16  # a running header may hold maker, models and chassis in one line
_RUNNING_WORDS = 2  # lower-case words in a line that is still a heading: "through", "and"
_MASTHEAD_SHARE = 0.12  # of the page's height: how far a masthead reaches
_MASTHEAD_LINES = 4  # between the lines of one masthead
_GAP = 5  # characters between two codes of one list: "and", "thru"


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
