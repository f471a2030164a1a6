"""Model and chassis numbers where a page announces them: after the words MODEL, CHASSIS, TYPE."""

import re

from indexer.cataloguing.labels import plain_words
from indexer.trade.codes import CodeClass, classify, normal, parse_codes
from indexer.trade.numbering import parse_line_up

MODEL_WORD = re.compile(
    r"\bM[O0]D(?:ELS?\b|\.)(?:\s*(?:N[O0]S?|NUMBERS?)\b\.?)?\s*[:.\-]?\s*", re.IGNORECASE
)
# Other words that announce a set's number, on a heading only.
SET_WORD = re.compile(
    r"\b(?:TYPES?|TYP|RECEIVERS?|SERIES|STYLES?|RADIOS?|SETS?|SUPER(?:HET(?:ERODYNE)?)?|CAT(?:ALOGUE?|\.)?)\b"
    r"(?:\s*N[O0]S?\b\.?)?\s*[:.\-]?\s*(?!OF\b|FOR\b)(?=[A-Z]{0,4}[\-/ .]?\d)",
    re.IGNORECASE,
)
LETTERED = re.compile(r"\b(?:TYPE?|SUPER)\W+(\d{2,4} [A-UW-Z])\W*$", re.IGNORECASE)
CHASSIS_WORD = re.compile(
    r"\bCHASSIS\b(?:\s*(?:N[O0]S?|NUMBERS?|USED|TYPES?|STAMP(?:ED)?|READS|IS)\b\.?)*\s*[:.\-]?\s*"
    r"|\bCH(?:AS)?[.,]\s*(?:N[O0]\.?\s*)?(?=[\w])",  # a full stop is read as a comma
    re.IGNORECASE,
)
_NOT_CODES = frozenset(
    {CodeClass.FREQUENCY, CodeClass.VALUE, CodeClass.DATE, CodeClass.TUBE, CodeClass.WORD}
)
_OF_A_TABLE = re.compile(r"(?:PINS?|STEPS?|FIGS?)\b|PIN ?\d", re.IGNORECASE)
_ONE_FIGURE = re.compile(r"\bM[Oo0][Dd][Ee][Ll](?: N[Oo]\.?)?:? ([1-9])(?![\w.,/-])")
_YEAR = re.compile(r"19[2-6]\d")
_SAID_OF_IT = re.compile(r"\([A-Za-z. ]{3,20}\)")  # 41-F (table), 41-FC (console)
_GAP = 5  # characters between two codes of one list: "and", "thru"


def codes_after(pattern: re.Pattern[str], text: str) -> tuple[str, ...]:
    """Model or chassis numbers printed right after a word, in full: "5D10, -11" gives 5D10 and
    5D11, a range stays one ("40-120 through 40-125")."""
    found: list[str] = []
    for match in pattern.finditer(text):
        tail = match[0] + until_next_label(text[match.end() :])
        expected = len(match[0])
        for span in parse_codes(tail):
            gap = _SAID_OF_IT.sub("", tail[expected : span.start])
            if len(gap.strip(" ,;&:/()-")) > _GAP:
                break
            if span.range is not None:
                found.append(f"{span.range.first} through {span.range.last}")
            found += [code for code in span.codes if is_code(code)]
            expected = span.end
    years = [code for code in found[1:] if _YEAR.fullmatch(code)]  # CHASSIS K58  1957/58
    return tuple(code for code in dict.fromkeys(found) if code not in years)


def models_in(text: str) -> tuple[str, ...]:
    """Models printed after the word MODEL or MODELS; early ones may have one figure."""
    return codes_after(MODEL_WORD, text) or tuple(_ONE_FIGURE.findall(text))


def chassis_in(text: str) -> tuple[str, ...]:
    """Chassis numbers printed after the word CHASSIS."""
    return codes_after(CHASSIS_WORD, text)


def chassis_said(text: str) -> tuple[str, ...]:
    """Chassis numbers that running text names: "Chassis RU-8 is used with …"; those that it only
    compares with are none. A number there has letters and figures."""
    found = [match[1] for match in _BEFORE_CHASSIS.finditer(text) if _may_be_said(match[1])]
    for match in CHASSIS_WORD.finditer(text):
        if not _COMPARED.search(text[max(0, match.start() - _COMPARED_CHARS) : match.start()]):
            said = text[match.start() : match.end() + _SAID_CHARS]
            found += filter(_may_be_said, chassis_in(said))
    return tuple(dict.fromkeys(found))


def _may_be_said(code: str) -> bool:
    if len(code) < _SAID_LEAST or not any(map(str.isalpha, code)) or _SYMBOL.fullmatch(code):
        return False
    return not parse_line_up(code)


_BEFORE_CHASSIS = re.compile(r"(?<![\w-])((?=\w*-?\w*\d)[A-Z]{1,3}-?\d{1,4}[A-Z]?) chassis\b")
_SAID_LEAST = 3
_SYMBOL = re.compile(r"[RCLTVSMJPF]\d{1,3}[A-D]?|\d+(?:\.\d+)?[KM]")
_COMPARED = re.compile(
    r"\b(?:SAME AS|SIMILAR TO|LIKE|SEE|REFER TO|REPLACES|UNLIKE|INSTEAD OF|OF|EXCEPT|FOR)\W+"
    r"(?:THE\W+)?(?:\w+\W+)?$",
    re.IGNORECASE,
)
_SAID_CHARS, _COMPARED_CHARS = 14, 40


def is_code(text: str) -> bool:
    """Whether what stands after MODEL can be a set's number."""
    flat = normal(text)
    return (
        any(c.isdigit() for c in flat)
        and 2 <= len(flat) <= 40
        and not plain_words(text).isalpha()  # LAY0UT
        and not _OF_A_TABLE.match(text)
        and classify(text, before="MODEL") not in _NOT_CODES
    )


def until_next_label(tail: str) -> str:
    """A text up to the next word that announces something else."""
    stop = re.search(
        r"\b(CHASSIS|CHAS|MODELS?|TUBES?|YEAR|PAGE|VOL|SERIES|RUN|USES?|WITH)\b|\bCH[.,]\s",
        tail,
        re.IGNORECASE,
    )
    return tail[: stop.start()] if stop else tail
