"""Whose set a stretch of a page is about: maker, models, chassis.

Names and codes count where the trade prints them: after the words MODEL and CHASSIS, in mastheads
and running headers. A number in running text is not a model.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.cataloguing.headings import (
    first_sentence,
    labels_completed,
    name_words,
    named_first,
    sides_joined,
    without_paper,
)  # fmt: skip
from indexer.cataloguing.labels import plain_labels, plain_words
from indexer.cataloguing.makers import maker_in, named_before_code, said_in_title
from indexer.cataloguing.region import Line, as_printed, squeeze
from indexer.trade.codes import CodeClass, classify, fold, normal, parse_codes
from indexer.trade.numbering import parse_line_up

_MODEL_WORD = re.compile(
    r"\bM[O0]D(?:ELS?\b|\.)(?:\s*(?:N[O0]S?|NUMBERS?)\b\.?)?\s*[:.\-]?\s*", re.IGNORECASE
)
# Other words that announce a set's number, on a heading only.
_SET_WORD = re.compile(
    r"\b(?:TYPES?|RECEIVERS?|SERIES|STYLES?|RADIOS?|SETS?|SUPER|CAT(?:ALOGUE?|\.)?)\b"
    r"(?:\s*N[O0]S?\b\.?)?\s*[:.\-]?\s*(?!OF\b|FOR\b)(?=[A-Z]{0,4}[\-/ .]?\d)",
    re.IGNORECASE,
)
_LETTERED = re.compile(r"\b(?:TYPE|SUPER)\W+(\d{2,4} [A-UW-Z])\W*$", re.IGNORECASE)
_CHASSIS_WORD = re.compile(
    r"\bCHASSIS\b(?:\s*(?:N[O0]S?|NUMBERS?|USED|TYPES?|STAMP(?:ED)?|READS|IS)\b\.?)*\s*[:.\-]?\s*"
    r"|\bCH(?:AS)?[.,]\s*(?:N[O0]\.?\s*)?(?=[\w])",  # a full stop is read as a comma
    re.IGNORECASE,
)
_NOT_CODES = frozenset(
    {CodeClass.FREQUENCY, CodeClass.VALUE, CodeClass.DATE, CodeClass.TUBE, CodeClass.WORD}
)
_HEADER_WORDS = 16  # a running header may hold maker, models and chassis in one line
_RUNNING_WORDS = 2  # lower-case words in a line that is still a heading: "through", "and"
_MASTHEAD_SHARE = 0.12  # of the page's height: how far a masthead reaches
_JOIN_SHARE = 0.06  # of the height, from the top of one line of a masthead to that of the next
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


def mastheads(
    lines: Sequence[Line], height_px: float, known: Sequence[str], *, typed: bool = False
) -> list[Masthead]:
    """Headings that name a set, top to bottom; lines that stand close together, in whatever order
    they were read, make one masthead.

    In typed notes any line that begins with MODEL or CHASSIS counts, and so does a title of
    maker and number ("# Tillbrook 5D11").
    """
    heads: list[Masthead] = []
    last_line = 0
    if not typed:
        lines = labels_completed(sides_joined(lines, known), height_px)
    for i, line in enumerate(lines):
        models, chassis = _codes_in_heading(line, typed, known)
        if not (models or chassis) and line.box.top < _USED_IN_SHARE * height_px:
            models = _used_in(line)
        if not (models or chassis):
            continue
        near = [
            other
            for other in lines[max(0, i - _MASTHEAD_LINES) : i + _MASTHEAD_LINES]
            if typed or abs(other.box.top - line.box.top) < _MASTHEAD_SHARE * height_px
        ]
        maker = maker_in(near, known) or _before_it(line, typed, known)
        above = [
            other.box.top
            for other in near
            if other.box.top < line.box.top and maker and maker_in([other], known) == maker
        ]
        start = min([line.box.top, *above]) / max(1.0, height_px)
        head = Masthead(start, maker, models, chassis)
        if heads and i - last_line <= _MASTHEAD_LINES and _may_join(heads[-1], head):
            head = _joined(heads.pop(), head)
        heads.append(head)
        last_line = i
    return heads if typed else _close_joined(heads)


def _used_in(line: Line) -> tuple[str, ...]:
    """The models that the head of a chassis's page names: "used in models 215 and 220"."""
    match = _USED_IN.match(line.text)
    return models_in(as_printed(line).text) if match and len(line.words) <= _TITLE_WORDS else ()


_USED_IN = re.compile(r"^\W*(?:AS )?(?:USED|EMPLOYED|FITTED) IN (?:THE )?MODELS?\b", re.IGNORECASE)
_USED_IN_SHARE = 0.2  # of the page's height


def _before_it(line: Line, typed: bool, known: Sequence[str]) -> str:
    """The maker that stands before the number in a heading itself."""
    if typed:
        return named_first(line, known) or said_in_title(line)
    return next(iter(named_before_code([line])), "") if line.words[0].text.isupper() else ""


def _close_joined(heads: Sequence[Masthead]) -> list[Masthead]:
    """Heads top to bottom; those that stand close together, though the reader took them far apart,
    are one."""
    joined: list[Masthead] = []
    for head in sorted(heads, key=lambda head: head.top):
        close = joined and head.top - joined[-1].top <= _JOIN_SHARE
        if close and _may_join(joined[-1], head):
            head = _joined(joined.pop(), head)
        joined.append(head)
    return joined


def with_same_set(heads: Sequence[Masthead]) -> Masthead | None:
    """The first masthead with what later ones that share a code with it add; None without any."""
    if not heads:
        return None
    first = heads[0]
    for other in heads[1:]:
        if set(map(fold, first.models)) & set(map(fold, other.models)):
            first = _joined(first, other)
    return first


def _joined(a: Masthead, b: Masthead) -> Masthead:
    return Masthead(
        a.top,
        a.maker or b.maker,
        tuple(dict.fromkeys(a.models + b.models)),
        tuple(dict.fromkeys(a.chassis + b.chassis)),
    )


def _is_code(text: str) -> bool:
    flat = normal(text)
    return (
        any(c.isdigit() for c in flat)
        and 2 <= len(flat) <= 40
        and not plain_words(text).isalpha()  # LAY0UT
        and classify(text, before="MODEL") not in _NOT_CODES
    )


def _until_next_label(tail: str) -> str:
    stop = re.search(
        r"\b(CHASSIS|CHAS|MODELS?|TUBES?|YEAR|PAGE|VOL|SERIES|RUN|USES?|WITH)\b|\bCH[.,]\s",
        tail,
        re.IGNORECASE,
    )
    return tail[: stop.start()] if stop else tail


def _codes_in_heading(
    line: Line, typed: bool, known: Sequence[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(models, chassis) of a line that heads a set; both empty for any other line."""
    if typed:
        line = as_printed(line)
        if _ASIDE.search(squeeze(plain_labels(line.text))):
            return (), ()
        return models_in(line.text) or _titled(line, known), chassis_in(line.text)
    line = first_sentence(as_printed(line))
    printed = without_paper(plain_labels(line.text))
    text = squeeze(printed)
    if _ASIDE.search(text):
        return (), ()
    running = sum(
        w.text.islower() and w.text.isalpha() and w.text not in _LINKS for w in line.words
    )
    labelled = _LABELLED.search(text)
    header = (
        line.is_capitals
        or bool(_SET_TITLE.match(text))
        or (running <= _RUNNING_WORDS and bool(named_first(line, known)))
    )
    titled = running == 0 and len(line.words) <= _TITLE_WORDS
    if len(line.words) > _HEADER_WORDS or running > _RUNNING_WORDS:
        return (), ()
    if not (header or labelled or titled):
        return (), ()
    chassis = chassis_in(printed)
    models = models_in(printed)
    if not models and (header or titled):
        models = codes_after(_SET_WORD, printed) if header else ()
        if header and not models and (plain := _LETTERED.search(printed)):
            models = (plain[1],)  # "56 W" is no rating here
        models = tuple(code for code in models if not _YEARS.match(code))
        models = models or _after_maker(line, printed, known)
        if header and chassis and not models:  # "5D10, 5D11   CHASSIS CH-41A"
            models = _alone(_until_next_label(printed))
    return models, tuple(code for code in chassis if code not in models)


# What is said of another set, or in an advertisement, heads nothing.
_ASIDE = re.compile(
    r"\b(SAME AS|SIMILAR TO|SEE|REFER|REPLACES|SUPERSEDES|USED IN|ALSO|PRICES?|ORDER|OUR)\b|[$]"
)
_TITLE_WORDS = 12
_LINKS = frozenset({"and", "to", "thru", "through", "or"})
_SET_TITLE = re.compile(
    r"^\W*(?:RADIO )?(?:RECEIVERS?|SETS?|RADIOS?)\W+(?:TYPES?|NOS?\.?)?\W*\S*\d\S*$"
)
_LABELLED = re.compile(
    r"^\W{0,3}(?:MODELS?|MOD\.|CHASSIS|CH(?:AS)?\.)|\b(?:MODELS?|CHASSIS)(?: NOS?\.?)? ?:"
)


def _after_maker(line: Line, printed: str, known: Sequence[str]) -> tuple[str, ...]:
    """Models that stand with nothing but a known maker before them: "TILLBROOK 5D10 - 5D11"."""
    maker = named_first(line, known)
    if not maker:
        return ()
    words = printed.split()
    rest = " ".join(words[len(maker.split()) :])
    rest = _until_next_label(re.sub(r"[(|\[]", " CHASSIS ", rest, count=1)
                             if "CHASSIS" not in rest.upper() else rest)  # fmt: skip
    return _alone(rest)


def _alone(text: str) -> tuple[str, ...]:
    """The codes of a text that holds nothing but codes."""
    rest = _DESCRIBES.sub("", text.strip(" (|:.,-"))
    others = [w for w in re.split(r"[\s,;&/()]+", rest) if w and not any(c.isdigit() for c in w)]
    if any(w.upper() not in _JOINERS for w in others) or _YEARS.match(rest):
        return ()
    if _SYMBOLS.search(rest) or len(parse_line_up(rest, bare_numbers=False)) > 1:
        return ()  # labels of a drawing
    return codes_after(_MODEL_WORD, f"MODEL {rest}") if rest else ()


# What sort of set it is, between maker and number: "TILLBROOK Radio-Phonograph 5D10".
_DESCRIBES = re.compile(
    r"^(?:(?:RADIO|PHONOGRAPH|RADIO[- ]PHONOGRAPH|COMBINATION|PORTABLE|CONSOLE|TABLE|AUTO|CAR|FARM"
    r"|SUPER(?:HET(?:ERODYNE)?)?|RECEIVER|TELEVISION|TUNER|MIDGET)S?\b[\s:,-]*)+",
    re.IGNORECASE,
)
_SYMBOLS = re.compile(r"\b[RCLTV]\d{1,2}\b")
_YEARS = re.compile(r"^19[2-6]\d(\W+19[2-6]\d)*$")
_JOINERS = frozenset({"-", "AND", "TO", "THROUGH", "THRU", "&", "RADIO", "CORP", "CO", "CO."})


def _titled(line: Line, known: Sequence[str]) -> tuple[str, ...]:
    """The number after a known maker at the start of a typed title."""
    words = name_words(line)
    named = named_first(line, known) or said_in_title(line)
    if named and len(words) >= 2 and _is_code(words[1]):
        return (words[1],)
    return ()


def _may_join(a: Masthead, b: Masthead) -> bool:
    """Two headings close together are one masthead unless each names other models."""
    return not (a.models and b.models and not set(map(fold, a.models)) & set(map(fold, b.models)))
