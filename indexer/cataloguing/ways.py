"""How a printed row shows tubes: in a sentence that gives the line-up, as a row of a list, as a row
of a chart, as labels of a drawing, or named in passing.

What the ways show of one set is the same tubes over again, so each is a place of its own.
"""

import re
from collections.abc import Sequence
from enum import Enum
from itertools import pairwise

from indexer.cataloguing.in_list import BETWEEN, in_a_list
from indexer.cataloguing.region import Line, make_line, squeeze
from indexer.model import Word
from indexer.trade.numbering import parse_line_up, registered
from indexer.trade.tubes import lookup

COMPLEMENT = re.compile(
    r"\b(TUBES?|VALVES?|COMPLEMENT|LINE[ -]?UP)\b\W*(?:\(?\d|:|ARE\b|USED\b|[A-Z]{2,4}\d)"
    r"|\b(?:ONE|TWO|THREE|A) (?:OF )?TYPE (?=\S*\d)"
)
_OPENS = re.compile(r"\b(TUBES?|VALVES?|COMPLEMENT|LINE[ -]?UP)\b\W*:")
# What a tube does in a set, as it stands beside its type.
ROLE = re.compile(
    r"^[\W_]{0,16}(?:(?:THE|IN|AS|A|TYPE|G|GT)\W+)?"
    r"(RECT|OUTPUT|POWER|MAINS"
    r"|INTERMEDIATE|RADIO F|HIGH F|LOW F|FM\b|AM\b|DET|OSC|MIX|CONV|AMP|AUDIO|1ST|2ND"
    r"|3RD|IST|FIRST|SECOND|THIRD|DRIVER|CLASS|PUSH|PENTODE|TRIODE|DIODE|PHASE|A\.?F\b|[I|L]\.? ?F"
    r"|R\.? ?F|A\.?V\.?C|EYE|FULL.WAVE|HALF.WAVE|TUNING|INDICATOR|TRANSLATOR|MODULATOR|INVERTER"
    r"|BUFFER|SQUELCH)",
    re.IGNORECASE,
)
_READING = re.compile(
    r"^[-–—+]?\d*\.?\d+[KM]?(?:A\.?C\.?|V|~)?$|^(NC|INF|AC)\W?$|^P\.?\d$", re.IGNORECASE
)
_BLANK = re.compile(r"^(?:[-–—一._=]+|V~?)$")  # a cell without a reading
_SOME_READINGS = 2
_HEAD_WORDS = 3  # of a row, before its type: a symbol, a position, a stray mark
_ROLE_WORDS = 5
_LETTERED = re.compile(r"^(?:\d{1,3}[A-Z]{1,2}\d|[A-Z]{2,4}\d)", re.IGNORECASE)
_ITEM = re.compile(r"^(?:\d{1,2}[.):]?|[-–]|[Vv]-?\d{1,2}[A-D]?[.:]?)$")
_OLD = re.compile(r"\d{2}-?[A-Z]?", re.IGNORECASE)
_BARE = re.compile(r"(?<![\w.\-/])\d{2}-?A?\b(?![.\-/]\d)", re.IGNORECASE)
_CHART_WORDS = 5  # a row of a chart has a tube, its job and a few readings
_LIST_WORDS = 3
_PROSE_WORDS = 9
_PROSE_SMALL = 3  # words in small letters, from which a row is prose
_CHART_HEAD = re.compile(r"^\W*(?:TUBES?|VALVES?|TYPE|SYMBOL|POS)\b", re.IGNORECASE)
_TOLD_TYPES = 3
_APART = 1.2  # heights of lettering between two columns
_BESIDE = 3.0  # the same before a column of prose
_ALIGNED = 2.0  # heights of lettering
_COLUMN = 3  # rows one below another, from which they are a list
_PITCH = 2.6  # heights of lettering, between two rows of one sentence


class Way(Enum):
    """How tubes are shown."""

    SENTENCE = "sentence"
    LIST = "list"
    CHART = "chart"
    DRAWN = "drawn"
    PASSING = "passing"


def way_of(row: Line) -> Way:
    """The way of one printed row, by itself."""
    return _way_of(row, head_type(row))


def _way_of(row: Line, at: int | None) -> Way:
    """The same of a row whose `head_type` is known."""
    if COMPLEMENT.search(squeeze(row.text)) or in_a_list(row):
        return Way.SENTENCE
    words = row.words
    if at is not None:
        rest = [word.text for word in words[at + 1 :]]
        # the readings, of which some are blank
        shown = sum(bool(_READING.match(word)) for word in rest)
        blank = sum(bool(_BLANK.match(word)) for word in rest)
        does = ROLE.match(_after(row, at))
        share = 2 * (shown + blank) - bool(does)
        beside = bool(rest) and bool(_LETTERED.match(rest[0]))  # one of a row of types
        if shown + blank >= _SOME_READINGS and shown and share >= len(rest) and not beside:
            return Way.CHART
        if does or (0 < at == len(words) - 1 and ROLE.match(row.text)):
            return Way.LIST
    small = sum(_is_word(word) and word.text.islower() for word in words)  # "22n" is a value
    if len(words) >= _PROSE_WORDS and small >= _PROSE_SMALL:
        return Way.SENTENCE if _tells_of(row.text) else Way.PASSING
    return Way.DRAWN


def _tells_of(text: str) -> bool:
    """Whether prose names three tubes or more, and says what most do or names them in a row."""
    tokens = parse_line_up(text, bare_numbers=False)
    told = sum(bool(ROLE.match(text[token.end :])) for token in tokens)
    told += sum(bool(BETWEEN.fullmatch(text[a.end : b.start])) for a, b in pairwise(tokens))
    return len(tokens) >= _TOLD_TYPES and 2 * told >= len(tokens)


def head_type(row: Line) -> int | None:
    """Which word of a row is the type that it begins with, or None: "V2 6SK7 0 6.3 0"."""
    if ROLE.match(row.text) and (at := _type_after_role(row)):
        return at
    for n, word in enumerate(row.words[:_HEAD_WORDS]):
        text = word.text.strip(".,;:()|[]")
        if len(text) > 2 and (text.isalpha() or (n and _READING.match(text))):
            return None
        if _is_type(text) and (not _OLD.fullmatch(text) or _may_be_old(row, n)):
            return n
    return None


def _type_after_role(row: Line) -> int | None:
    """Which word is the first type of a row that begins with what the tube does, and ends with the
    type or goes on with readings alone: "Converter   6A7", "Converter   6A7   250   100   3"."""
    texts = [word.text for word in row.words]
    last = len(texts) - 1
    ends = 0 < last < _ROLE_WORDS and _is_type(texts[last].strip(".,;:()|[]"))
    if ends and not any(map(_is_type, texts[:last])):
        return last
    for n in range(1, min(_ROLE_WORDS, len(texts) - _LIST_WORDS)):
        if _is_type(texts[n]) and all(map(_is_cell, texts[n + 1 :])):
            return None if any(map(_is_type, texts[:n])) else n
    return None


def _is_cell(text: str) -> bool:
    return bool(_READING.match(text) or _BLANK.match(text))


def old_type_at_head(row: Line) -> str:
    """The registered type of a row that begins with an early type's bare number, and then says
    what the tube does or gives readings; else ""."""
    at = head_type(row)
    text = row.words[at or 0].text.strip(".,;:()|[]")
    return registered(text) if at is not None and _OLD.fullmatch(text) else ""


def old_types_in(text: str) -> list[tuple[int, str, str]]:
    """Early types of a sentence that says what each does, or calls it a type: "75 second detector,
    42 output", "one type 58". (place, printed, registered type) of each."""
    found = []
    for match in _BARE.finditer(text):
        said = ROLE.match(text[match.end() :]) or re.search(
            r"\b(?:TYPE|ONE|TWO)\W+$", text[: match.start()], re.I
        )
        if said and lookup(registered(match[0])) is not None:
            two = re.search(r"\bTWO (?:TYPE )?$", text[: match.start()], re.I)
            found += [(match.start(), match[0], registered(match[0]))] * (2 if two else 1)
    return found


def _may_be_old(row: Line, n: int) -> bool:
    """Whether word n, a bare number, is an early type: it says what the tube does or gives its
    readings, and nothing stands before it but the item's number."""
    if len(row.words) == n + 1 and n > 1 and all(_ITEM.match(w.text) for w in row.words[:n]):
        return True  # "1 - 75"
    if len(row.words) < n + 2 or not all(_ITEM.match(word.text) for word in row.words[:n]):
        return False
    if ROLE.match(_after(row, n)):
        return True
    rest = [word.text for word in row.words[n + 1 :]]
    return n == 0 and len(rest) >= _LIST_WORDS and all(map(_is_cell, rest))


def _after(row: Line, n: int) -> str:
    """What stands after word n, a blank before it."""
    return "".join(f" {word.text}" for word in row.words[n + 1 :])


def _is_type(text: str) -> bool:
    return bool(text) and any(c.isdigit() for c in text) and lookup(registered(text)) is not None


def grouped(rows: Sequence[Line], *, charted: bool = False) -> list[tuple[Way, list[Line]]]:
    """The rows by the places in which they show tubes: a sentence with the rows it runs on over,
    each chart by itself, the list, the drawing, and what is named in passing. Under a chart's
    heading (`charted`) a row whose readings are lost is still a chart's."""
    headed = [part for row in rows for part in _side_by_side(row)]
    column = _column(headed)
    places: list[tuple[Way, list[Line]]] = []
    shared: dict[Way, list[Line]] = {}
    said: list[Line] = []  # the rows of the sentence in hand, while it has not ended
    chart: list[Line] | None = None
    for row, at in headed:
        way = _way_of(row, at)
        if charted and way is not Way.SENTENCE and at is not None:
            way = Way.CHART
        if way in (Way.DRAWN, Way.LIST):  # a label of a drawing may say what the tube does, too
            way = Way.LIST if id(row) in column else Way.DRAWN
        if way is Way.CHART:
            if chart is None:
                chart = []
                places.append((way, chart))
            chart.append(row)
        elif said and _runs_on(said[-1], row, way):
            said.append(row)
            said = [] if _ends(row) else said
        elif way is Way.SENTENCE:
            said = [row]
            places.append((way, said))
            said = [] if _ends(row) else said
        else:
            said = []
            if _CHART_HEAD.match(row.text):
                chart = None  # the head of a further chart
            if way not in shared:
                shared[way] = []
                places.append((way, shared[way]))
            shared[way].append(row)
    return places


def _side_by_side(row: Line) -> list[tuple[Line, int | None]]:
    """What stands in two columns apart, where the right one begins with a type of its own: a chart
    or list beside prose; each with its `head_type`."""
    at = head_type(row)
    if at is not None:
        beside = _prose_beside(row, at)
        return [(row, at)] if not beside else [(make_line(row.words[:beside]), at)]
    for n in range(1, len(row.words) - 1):
        word, before = row.words[n], row.words[n - 1]
        if word.box.left - before.box.right < _APART * word.box.height:
            continue
        right = make_line(row.words[n:])
        if _OLD.fullmatch(right.words[0].text) and sum(map(_is_word, row.words[:n])) < _LIST_WORDS:
            continue  # a reading, where the type of the row was not read
        if _LETTERED.match(row.words[n - 1].text):
            continue  # within a row of types
        if head_type(right) == 0 and _way_of(right, 0) in (Way.CHART, Way.LIST):
            left = make_line(row.words[:n])
            return [(left, head_type(left)), (right, 0)]
    return [(row, None)]


def _prose_beside(row: Line, at: int) -> int:
    """Where prose begins that stands beside a row of a list, by number of words; 0 for none."""
    for n in range(at + 1, len(row.words) - _LIST_WORDS):
        gap = row.words[n].box.left - row.words[n - 1].box.right
        if gap >= _BESIDE * row.words[n].box.height:
            small = sum(_is_word(word) and word.text.islower() for word in row.words[n:])
            return n if small >= _LIST_WORDS else 0
    return 0


def _column(rows: Sequence[tuple[Line, int | None]]) -> frozenset[int]:
    """The rows, by their identity, that begin with a type and a word, one below another: a list.
    Each is given with its `head_type`."""
    headed: list[tuple[Line, float]] = []
    for row, at in rows:
        if at is None:
            continue
        if 0 < at == len(row.words) - 1 and ROLE.match(row.text):
            headed.append((row, row.words[at].box.left))
        if not all(_ITEM.match(word.text) for word in row.words[:at]):
            continue
        alone = 0 < at == len(row.words) - 1  # "1 - 6A7"
        if alone or any(map(_is_word, row.words[at + 1 : at + 3])) or ROLE.match(_after(row, at)):
            headed.append((row, row.words[at].box.left))
    in_line = [
        row
        for row, left in headed
        if sum(abs(other - left) <= _ALIGNED * row.box.height for _, other in headed) >= _COLUMN
    ]
    return frozenset(map(id, in_line))


def _is_word(word: Word) -> bool:
    letters = word.text.strip(".,;:()").replace(".", "")
    return len(letters) > 1 and letters.isalpha()


def _runs_on(last: Line, row: Line, way: Way) -> bool:
    """Whether a sentence goes on in the row below."""
    if row.box.top - last.box.top > _PITCH * row.box.height:
        return False
    if re.search(r"[,;:&–-]\W*$|\b(?:and|AND|type|TYPE)$", last.text):
        return True
    level = abs(row.box.left - last.box.left) <= _ALIGNED * row.box.height
    if level and row.text[:2].islower() and row.text[:2].isalpha():
        return True  # "75 second / detector; 42 output"
    if way is Way.DRAWN:  # types alone, in a line with those above
        words = [word.text.strip(".,;:") for word in (*last.words[-2:], *row.words)]
        return row.box.left - last.box.left <= row.box.height * 12 and all(map(_is_type, words))
    return not _OPENS.search(squeeze(row.text))


def _ends(row: Line) -> bool:
    return row.text.rstrip(" '\"|").endswith(".")
