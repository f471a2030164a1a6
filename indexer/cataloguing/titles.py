"""Titles that name a set without the word MODEL: a known maker, then its numbers."""

import re
from collections.abc import Sequence
from statistics import median

from indexer.cataloguing.headings import BEFORE_NAMES, name_words, named_first
from indexer.cataloguing.labelled import MODEL_WORD, codes_after, is_code, until_next_label
from indexer.cataloguing.maker_words import NOT_MAKERS
from indexer.cataloguing.makers import said_in_title
from indexer.cataloguing.region import Line, make_line, pieces
from indexer.trade.numbering import parse_line_up


def after_maker(line: Line, printed: str, known: Sequence[str]) -> tuple[str, ...]:
    """Models that stand with nothing but a known maker before them, "TILLBROOK 5D10 - 5D11", and
    nothing behind but what is said of them: "TILLBROOK 514 Circuit diagram"."""
    maker = named_first(line, known)
    if not maker:
        return ()
    words = printed.split()
    rest = " ".join(words[len(maker.split()) + (words[0].upper() in BEFORE_NAMES) :])
    rest = until_next_label(re.sub(r"[(|\[]", " CHASSIS ", rest, count=1)
                            if "CHASSIS" not in rest.upper() else rest)  # fmt: skip
    plain = _described(rest) or rest
    if lettered := _LETTERED.match(plain):
        return (lettered[1],)
    return alone(rest) or alone(_described(rest)) or _named_number(rest)


def before_maker(line: Line, known: Sequence[str]) -> tuple[str, ...]:
    """The models that begin a heading and that a known maker follows: "WX-3 and WX-4 Tillbrook,
    portables"; none of a row of an index, which ends in a place."""
    words = [word.text.strip(".,:") for word in line.words]
    if _PLACE.fullmatch(words[-1]):
        return ()
    for n in range(1, min(_BEFORE_MAKER, len(words))):
        if named_first(make_line(line.words[n:]), known):
            codes = [word for word in words[:n] if word.upper() not in _JOINERS]
            fit = all(is_code(c) and any(map(str.isalpha, c)) for c in codes)
            return tuple(codes) if fit and codes and not parse_line_up(" ".join(codes)) else ()
    return ()


_PLACE = re.compile(r"(?:\d{1,2}-)?\d{1,4}")
_BEFORE_MAKER = 5  # words of a heading, in which its maker begins


def named_alone(line: Line, printed: str) -> tuple[str, ...]:
    """A set's name and number before the chassis on a heading: "Serenata 58W  Chassis K58"."""
    stop = _CHASSIS.search(printed)
    return _named_number(printed[: stop.start()]) if stop and len(line.words) <= _TITLE else ()


def named_too(text: str, models: Sequence[str]) -> tuple[str, ...]:
    """The models of a line that goes on with the heading above it, "and 514RG radiogram": those
    that begin as one of `models` does, or whose sort of set is said."""
    match = _GOES_ON.match(text)
    if not match or not is_code(match["code"]):
        return ()
    stems = [digits[0] for code in models if (digits := _DIGITS.search(code))]
    kin = any(stem in match["code"] for stem in stems if len(stem) >= _STEM)
    return (match["code"],) if kin or match["sort"] else ()


def _described(text: str) -> str:
    """The part of a title before the words that say what the page or the set is; "" where
    anything else follows, since a number before any word may be anything."""
    match = _MATTER.search(text)
    if not match or not any(c.isdigit() for c in text[: match.start()]):
        return ""
    behind = _RATING.sub("", text[match.start() :]).split()
    counted = [word for word in behind if any(c.isdigit() for c in word)]
    if len(behind) > _SAID or any(not _SEASON.fullmatch(word) for word in counted):
        return ""
    return text[: match.start()]


def _named_number(text: str) -> tuple[str, ...]:
    """A set's name with its number, at the start of a text: "Serenata 58W Schematic"."""
    text = text.strip(" (|:.,-")
    match = _NAMED.match(_described(text) or text)
    if not match or match["name"].upper() in NOT_MAKERS or not is_code(match["code"]):
        return ()
    if YEARS.match(match["code"]) or _SYMBOLS.fullmatch(match["code"]):
        return ()
    if parse_line_up(match["code"], bare_numbers=False):
        return ()
    return (f"{match['name']} {match['code']}",)


_LETTERED = re.compile(r"^\W*(\d{3,4} [A-UX-Z])\W*$")  # 738 A, but volts and watts
_TITLE = 10  # words of a heading
_SAID = 5  # words behind the numbers of a title
_STEM = 2  # figures that two numbers of one heading share
_DIGITS = re.compile(r"\d+")
_CHASSIS = re.compile(r"\bCHASSIS\b|\bCH(?:AS)?[.,] ?(?=\w*\d)", re.IGNORECASE)
_SORT = (
    r"(?:RADIO-?GRAMS?|AUTO-?RADIOGRAMS?|CONSOLES?|CONSOLETTES?|PORTABLES?|PHONOGRAPHS?|TABLE"
    r"|COMBINATIONS?|RECEIVERS?|SETS?|RADIOS?|MODELS?|CABINETS?)"
)
_GOES_ON = re.compile(
    rf"^\W*(?:AND|&|ALSO|OR)\s+(?:MODELS?\s+)?(?P<code>(?=\S*\d)[A-Z0-9][A-Z0-9\-./]{{1,11}})"
    rf"(?:\s+(?P<sort>{_SORT}))?(?:\s+{_SORT})*\W*$",
    re.IGNORECASE,
)
# What the page shows or what sort of set it is, in the trade's tongues: root words.
_MATTER = re.compile(
    rf"\b(?:CIRCUITS?|SCHEMATIC|WIRING|DIAGRAMS?|SERVICE|ALIGNMENT|PARTS|VOLTAGES?|{_SORT}|AM|FM"
    r"|A\.?M\.?|PHONO|SUPER(?:HET)?\w*|COMPONENTS?|LAYOUT|TRIMM\w+|DIAL|NOTES|CONTINUED|AMPLIFIER"
    r"|SCHALT\w+|ABGLEICH\w*|STÜCKLISTE|EMPF\w+|SCH[EÉ]MA\w*|R[EÉ]CEPTEUR|ESQUEMA|KOPPLING\w*"
    r"|A\.?C\.?[-/ ]?D\.?C\.?|\d+ VOLTS?"
    r"|(?:WECHSEL|ALL|GLEICH)STROM\w*|BATTERIE\w*|KOFFER\w*|BATTERY|MAINS)\b",
    re.IGNORECASE,
)
_RATING = re.compile(r"\b\d[\d/-]* ?(?:VOLTS?|WATTS?|CYCLES)\b", re.IGNORECASE)
_SEASON = re.compile(r"19[2-6]\d\W*(?:(?:19)?[2-6]\d)?\W*")  # 1957/58
_NAMED = re.compile(
    r"^(?P<name>[A-Z][A-Za-zÄÖÜäöüé]{3,14}) (?P<code>(?=\S*\d)[A-Z0-9][A-Z0-9\-/]{1,7})\W*$"
)


def alone(text: str) -> tuple[str, ...]:
    """The codes of a text that holds nothing but codes."""
    rest = _DESCRIBES.sub("", text.strip(" (|:.,-"))
    others = [w for w in re.split(r"[\s,;&/()]+", rest) if w and not any(c.isdigit() for c in w)]
    if any(w.upper() not in _JOINERS for w in others) or YEARS.match(rest):
        return ()
    if (" " in rest and _SYMBOLS.search(rest)) or len(parse_line_up(rest, bare_numbers=False)) > 1:
        return ()  # labels of a drawing
    return codes_after(MODEL_WORD, f"MODEL {rest}") if rest else ()


# What sort of set it is, between maker and number: "TILLBROOK Radio-Phonograph 5D10".
_DESCRIBES = re.compile(
    r"^(?:(?:RADIO|PHONOGRAPH|RADIO[- ]PHONOGRAPH|COMBINATION|PORTABLE|CONSOLE|TABLE|AUTO|CAR|FARM"
    r"|SUPER(?:HET(?:ERODYNE)?)?|RECEIVER|TELEVISION|TUNER|MIDGET)S?\b[\s:,-]*)+",
    re.IGNORECASE,
)
_SYMBOLS = re.compile(r"\b[RCLTV]\d{1,2}\b")
YEARS = re.compile(r"^19[2-6]\d(\W+19[2-6]\d)*$")
_JOINERS = frozenset({"-", "AND", "TO", "THROUGH", "THRU", "&", "RADIO", "CORP", "CO", "CO."})


def typed_title(line: Line, known: Sequence[str]) -> tuple[str, ...]:
    """The number after a known maker at the start of a typed title."""
    words = name_words(line)
    named = named_first(line, known) or said_in_title(line)
    if named and len(words) >= 2 and is_code(words[1]):
        return (words[1],)
    return ()


def standing_large(lines: Sequence[Line], height_px: float) -> list[tuple[Line, tuple[str, ...]]]:
    """The numbers set largest at a page's head with nothing to announce them, "EP-27", "J-204,
    J-205", "Universal receiver, type PU7", "H.535 TILLBROOK"; each with the piece that holds
    them. A number has letters and figures."""
    parts = [part for line in lines for part in pieces(line)]
    if len(parts) < _SOME_PARTS:
        return []
    usual_px = median(word.box.height for part in parts for word in part.words)
    head = [part for part in parts if part.box.top < _LARGE_HEAD * height_px]
    sizes = [max(word.box.height for word in part.words) for part in head]
    largest = max(sizes, default=0.0)
    if largest < _LARGE * usual_px:
        return []
    found = []
    for part, size in zip(head, sizes, strict=True):
        codes = codes_alone(part) if size >= _NEARLY * largest else ()
        typed = _TYPE_LAST.search(part.text) if size >= _LARGE * usual_px else None
        codes = codes or ((typed[1],) if typed and is_code(typed[1]) else ())
        figures = part.words[0].text if len(part.words) == 1 else ""
        if size >= _HUGE * usual_px and _FIGURES.fullmatch(figures):
            codes = (figures,)
        if codes:
            found.append((part, codes))
    return found


def codes_alone(part: Line) -> tuple[str, ...]:
    """The codes of a heading without what is said of them in brackets, or after the first where a
    name in capitals follows."""
    if not any(map(str.isdigit, part.words[0].text)):
        return ()  # it goes on from something
    text = _IN_BRACKETS.sub("", part.text)
    named = _BEFORE_NAME.match(text)
    codes = alone(named[1] if named else _OF_CHASSIS.sub("", text))
    return codes if all(any(map(str.isalpha, code)) for code in codes) else ()


_SOME_PARTS = 6  # of a page that says anything
_LARGE, _NEARLY = 1.5, 0.85  # times the usual lettering; of the largest
_HUGE, _FIGURES = 2.2, re.compile(r"(?!19[2-6]\d$)\d{3,4}")  # figures alone are mostly no model
_LARGE_HEAD = 0.13  # of the page's height
_IN_BRACKETS = re.compile(r"\([A-Za-z ]{3,20}\)")
_TYPE_LAST = re.compile(r", type ((?=\S*\d)[A-Z][\w.\-/]{1,9})$", re.IGNORECASE)
_OF_CHASSIS = re.compile(r"[\s,]+\S*\d\S* chassis$", re.IGNORECASE)
_BEFORE_NAME = re.compile(r"^((?=\S*\d)[A-Z][\w.\-/]{1,9}) [A-Z]{4,}\b")
