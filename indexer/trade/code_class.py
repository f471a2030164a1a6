"""What a printed token is: a model or chassis number, or one of the things taken for one.

The word just before a token says most, then a unit after it, then its own shape. All rules are
common practice, no source.
"""

import re
from collections.abc import Callable
from enum import Enum

from indexer.trade.code_forms import normal
from indexer.trade.late_patterns import late


class CodeClass(str, Enum):
    """What a token is, in the trade's words."""

    TUBE = "tube"
    PART = "part number"
    DATE = "date/year"
    FREQUENCY = "frequency"
    PAGE = "page"  # also volume, figure, sheet, section
    VALUE = "value"  # also a bare number that nothing explains
    DESIGNATOR = "reference designator"
    MODEL = "model-like"
    CHASSIS = "chassis-like"
    WORD = "word"


def _all(pattern: str) -> Callable[[], re.Pattern[str]]:
    return late(rf"(?:{pattern})\Z", re.IGNORECASE)


_NO = r"(?:\s*(?:numbers?|nos?)\b\.?)?\s*[:#.=]?\s*"
# What the words just before the token say it is.
_LABELS = (
    (CodeClass.CHASSIS, _all(rf"\b(?:chassis|chas|ch\.){_NO}")),
    (CodeClass.MODEL, _all(rf"\b(?:models?|mod\.){_NO}")),
    (
        CodeClass.PART,
        _all(
            r"(?:\b(?:part|stock|cat(?:alog(?:ue)?)?\.?|drawing|dwg\.?|piece|order|serial|patent|"
            rf"form|diagram)\b\.?{_NO}|\bP/N\s*[:#.]?\s*)"
        ),
    ),
    (
        CodeClass.PAGE,
        _all(
            r"\b(?:pages?|pp?\.|pgs?\.?|volumes?|vols?\.?|fig(?:ure)?s?\.?|plate|sheet|section|"
            rf"sect?\.|chapter|table|bulletin|step){_NO}"
        ),
    ),
)
_WORDS = late(r"[,;&()]|[^\s,;&()]+")
_LIST_WORDS = frozenset([",", ";", "&", "-", "/", "and", "or", "to", "thru", "through"])
_NEAR_CHARS = 80  # a label further back than a line's half says nothing of this token
_DATE_BEFORE = _all(
    r"(?:\b(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?,?(?:\s*\d{1,2},)?|"
    r"\b(?:dated?|copyright|year|since|season)\b|©)\s*[:']?\s*"
)
_FREQUENCY_BEFORE = _all(
    r"(?:\bi\.?\s?-?f\.?(?:\s*(?:peak|frequency|is|at))?|\bintermediate frequency|\bpeak(?:ed)? at|"
    r"\balign(?:ed|ment)? at|\bset (?:generator|oscillator) to|\bfrequency)\s*[:=]?\s*"
)
_TUBE_BEFORE = _all(r"\b(?:tubes?|valves?|rectifier|output|detector|socket|type|V\d{1,3})\b\W*")
_TUBE_AFTER = late(r"\W*(?:tube|valve|rect|output|det|osc|mixer|conv|amp(?:lifier)?\b)", re.I)
_DESIGNATOR_BEFORE = _all(r"\b(?:[RCLTS]|SW|LS|SP|RFC|VC|VR)-?\d{1,3}[A-Z]?\b\W*")
_FREQUENCY_UNIT = r"(?:k\.?c\.?s?|m\.?c\.?s?|khz|mhz|hz|kilocycles?|megacycles?|cycles?|cps|~|c/s)"
_VALUE_UNIT = (
    r"(?:m?mfds?|mmf|mf|uu?f|[uµμ]fd?|pf|nf|ohms?|Ω|Ω|k|meg(?:s|ohms?)?|volts?|v|vdc|wv(?:dc)?|"
    r"watts?|w|amp(?:s|eres?)?|ma|a|mh|uh|hy|henr(?:y|ies)|%|per cent|db|turns|inch(?:es)?|in\.|"
    r"mm|met(?:er|re)s?|lbs?|rpm|deg(?:rees)?)"
)
_AFTER_FREQUENCY = late(rf"\s*[-.]?\s*{_FREQUENCY_UNIT}(?![A-Za-z])", re.IGNORECASE)
_AFTER_VALUE = late(rf"\s*[-.]?\s*{_VALUE_UNIT}(?![A-Za-z])", re.IGNORECASE)
_NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?|\.\d+)"
_IS_FREQUENCY = late(rf"{_NUMBER}(?:-{_NUMBER})?{_FREQUENCY_UNIT}\.?", re.IGNORECASE)
_IS_VALUE = late(
    rf"(?:{_NUMBER}|\d/\d)(?:[-/x]{_NUMBER}){{0,3}}-?(?:(?!A\b){_VALUE_UNIT})\.?"
    r"|(?:\d{1,2}|\d?\.\d+|\d/\d+)A"  # a radio draws a few amperes; 101A is a model
    r"|\d*\.\d+|\d{1,3}(?:,\d{3})+|[±+-]\d+%?|\d/\d{1,2}|[1-9]\d{0,2}[kKM]\d{0,2}|\d{1,3}[pnu]\d{0,2}"
    r"|\d{1,3}R\d{1,2}",
    re.IGNORECASE,
)
# A unit of two letters or more, or a count in words, is believed even after the word MODEL.
_SURE_VALUE = late(
    rf"(?:{_NUMBER}|\d/\d)(?:[-/x]{_NUMBER}){{0,3}}[- ]?(?:(?![A-Z]\b){_VALUE_UNIT})\.?",
    re.IGNORECASE,
)
_PLAIN_NUMBER = late(rf"{_NUMBER}")
_IS_YEAR = late(r"19[2-7]\d(?:-(?:19)?[2-7]\d)?|'[2-7]\d")
_IS_DATE = late(r"\d{1,2}[-/]\d{1,2}[-/](?:19)?\d{2}|\d{1,2}[-/]19[2-7]\d")
_IS_DESIGNATOR = late(
    r"(?:[RCLTVSJPXMFQDKBEY]|SW|PL|CR|LS|SP|RFC|VC|VR|TC|IFT|CH)-?(?:\d{1,2}|[1-4]\d\d)[A-E]?",
    re.IGNORECASE,
)
# Those that no tube type or model is likely to share.
_SURE_DESIGNATOR = late(
    r"(?:[RCV]-?\d{1,3}|T-?(?:\d{1,2}|[1-4]\d\d)|[LS]-?[1-4]?\d)[A-E]?", re.IGNORECASE
)
_IS_PART = late(r"\d{1,3}-\d{3,5}-\d{1,3}|\d{2,3}[-.]\d{4,6}|\d{5,}|[A-Z]{0,2}-?\d{6,}[A-Z]?")
_IS_CHASSIS = late(r"CH(?:AS)?[-. ]?\d{1,4}[A-Z]{0,2}")
_IS_MODEL = late(
    r"(?:[A-Z]{1,4}[-./ ]?\d{2,5}|\d{1,3}-\d{2,4}|\d{1,4}[-/]?[A-Z]{1,3}[-/]?\d{1,4}|"
    r"[A-Z]{1,3}[-./]?\d{1,3}[-./]?[A-Z]{1,3}[-./]?\d{1,4}|\d{2,5})"
    r"(?:[-./ ]?[A-Z]{1,3}|[-/]\d{1,3})?"
)
_COUNT_WORD = late(r"\d+(?:st|nd|rd|th)|\d+-?[A-Za-z]{4,}|\d+-(?:pin|way|bd)", re.IGNORECASE)
_LETTER_MODEL = late(r"[A-Z]{1,3}")
_LABEL_WORDS = frozenset(["NO", "NOS", "AND", "OR", "THE", "IS", "IN", "ON", "FOR", "TO"])
# Old types with no letter but a revision: only words beside them tell them from other numbers.
_PLAIN_TUBE_NUMBER = late(r"[1-9]\d{1,3}[AB]?")


def _registered(token: str) -> bool:
    from indexer.trade.tubes import lookup  # late: its table is loaded once, when first asked

    return lookup(token) is not None


def _without_list(before: str) -> str:
    """The words before a list that the token goes on with: "Models 101, 101A &" gives "Models"."""
    words = _WORDS().findall(before[-_NEAR_CHARS:])
    while len(words) > 2 and words[-1].lower() in _LIST_WORDS:
        while words and words[-1].lower() in _LIST_WORDS:
            words.pop()
        if not words or not any(c.isdigit() for c in words[-1]):
            break
        words.pop()
    return " ".join(words) + " "


def _by_label(token: str, before: str) -> CodeClass | None:
    near = _without_list(before)
    digits = any(c.isdigit() for c in token)
    for found, pattern in _LABELS:
        if not pattern().search(near):
            continue
        if digits:
            return found
        named = found in (CodeClass.MODEL, CodeClass.CHASSIS)
        if named and _LETTER_MODEL().fullmatch(token) and token not in _LABEL_WORDS:
            return found
    return None


def _unless_plain(token: str, labelled: CodeClass) -> CodeClass:
    """A token after a label: what the label says, unless the token itself says otherwise."""
    if labelled in (CodeClass.MODEL, CodeClass.CHASSIS):
        if _IS_FREQUENCY().fullmatch(token):
            return CodeClass.FREQUENCY
        if _SURE_VALUE().fullmatch(token):
            return CodeClass.VALUE
        if _COUNT_WORD().fullmatch(token):
            return CodeClass.WORD
    return labelled


def _by_number(token: str, before: str, after: str) -> CodeClass | None:
    if _IS_FREQUENCY().fullmatch(token):
        return CodeClass.FREQUENCY
    numeric = _PLAIN_NUMBER().fullmatch(token) or re.fullmatch(r"\d+(?:[-/]\d+)+", token)
    if numeric and _AFTER_FREQUENCY().match(after):
        return CodeClass.FREQUENCY
    if numeric and _AFTER_VALUE().match(after):
        return CodeClass.VALUE
    if _IS_DATE().fullmatch(token) or _IS_YEAR().fullmatch(token):
        return CodeClass.DATE
    if numeric and _DATE_BEFORE().search(before[-_NEAR_CHARS:].rstrip() + " "):
        return CodeClass.DATE
    if numeric and _FREQUENCY_BEFORE().search(before[-_NEAR_CHARS:].rstrip() + " "):
        return CodeClass.FREQUENCY
    return None


def classify(
    token: str,
    before: str = "",
    after: str = "",
    is_tube: Callable[[str], bool] | None = None,
) -> CodeClass:
    """What one printed token is, given the words before and after it on its line.

    A token under the word MODEL or CHASSIS is taken at that word, even when a tube type is
    spelt the same, unless it carries its own unit (455kc, 115volts) or counts (5-tube). Without
    such a word, tubes, values, dates, frequencies, part numbers and designators come first;
    what remains with letters and figures is model-like. A bare number of up to four figures
    with nothing to explain it is a value. `is_tube` says whether a printed token is a
    registered type; by default the packaged table does.
    """
    token = token.strip().strip(',;:()[]"').rstrip(".")
    digits = any(c.isdigit() for c in token)
    if not (digits or _LETTER_MODEL().fullmatch(token)):
        return CodeClass.WORD
    labelled = _by_label(token, before)
    if labelled:
        return _unless_plain(token, labelled)
    if not digits:
        return CodeClass.WORD
    number = _by_number(token, before, after)
    if number:
        return number
    if _SURE_VALUE().fullmatch(token):
        return CodeClass.VALUE
    if _COUNT_WORD().fullmatch(token):
        return CodeClass.WORD
    if _SURE_DESIGNATOR().fullmatch(token):
        return CodeClass.DESIGNATOR
    tube = (is_tube or _registered)(token)
    if tube and not _PLAIN_TUBE_NUMBER().fullmatch(token):
        return CodeClass.TUBE
    if tube and (_TUBE_BEFORE().search(before[-_NEAR_CHARS:]) or _TUBE_AFTER().match(after)):
        return CodeClass.TUBE
    if _IS_DESIGNATOR().fullmatch(token) and not _IS_CHASSIS().fullmatch(token.upper()):
        return CodeClass.DESIGNATOR
    return _by_shape(token, before)


def _by_shape(token: str, before: str) -> CodeClass:
    if _IS_VALUE().fullmatch(token):
        return CodeClass.VALUE
    high = token.upper()
    if _IS_PART().fullmatch(high):
        return CodeClass.PART
    if token.isdigit():
        return CodeClass.VALUE
    if _IS_CHASSIS().fullmatch(high):
        return CodeClass.CHASSIS
    if _IS_MODEL().fullmatch(high) and len(normal(token)) >= 3:
        # In a parts list the number after a designator is the maker's part number.
        return (
            CodeClass.PART
            if _DESIGNATOR_BEFORE().search(before[-_NEAR_CHARS:])
            else CodeClass.MODEL
        )
    return CodeClass.WORD
