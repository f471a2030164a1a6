"""Reads printed values, old and new. How they are printed is common practice, no source; the
letter code (4K7, 2n2, with F G J K M for the tolerance) is that of IEC 60062, from memory."""

import re
from dataclasses import replace

from indexer.trade.late_patterns import late
from indexer.trade.value_units import NUMBER, UNIT, Value, number_of, scaled, tidy, unit_of

_JOIN = r"\s*(?:[-/x×+&]|and\b|,(?=\s))\s*"
# Cans of more than six sections were not made; the bound also keeps odd text from costing time.
_LIST = rf"(?<![\d.,]){NUMBER}(?:{_JOIN}{NUMBER}){{0,5}}"
_MAIN = late(rf"(?P<list>{_LIST})\s*-?\s?(?P<unit>{UNIT})", re.IGNORECASE)
_CODED = late(r"(?<![\w.])(\d+)([RKMpnu])(\d+)([FGJKM]?)(?![\w.])")
_CODED_TOLERANCE = late(r"(?<![\w.])(\d+[RKMpnu])([FGJ])(?![\w.])")
_CODE_FACTOR = {
    "R": ("ohms", 1.0),
    "K": ("ohms", 1e3),
    "M": ("ohms", 1e6),
    "p": ("farads", 1e-12),
    "n": ("farads", 1e-9),
    "u": ("farads", 1e-6),
}
_LETTER_PERCENT = {"F": 1.0, "G": 2.0, "J": 5.0, "K": 10.0, "M": 20.0}
_PERCENT = r"(?:%|per ?cent)"
_BOTH_WAYS = late(
    rf"(?:\+\s*(\d+)\s*{_PERCENT}?\s*[-,/]*\s*-\s*(\d+)|-\s*(\d+)\s*{_PERCENT}?\s*[,/]?\s*\+\s*(\d+))"
    rf"\s*{_PERCENT}",
    re.IGNORECASE,
)
_TOLERANCE = late(rf"(?:±|\+\s?/?\s?-)?\s*(\d+(?:\.\d+)?)\s*{_PERCENT}", re.IGNORECASE)
_TOLERANCE_WORD = late(r"\b(gold|silver)\b", re.IGNORECASE)
_UNMARKED = late(
    rf"(?P<list>{_LIST})(?P<join>\s*[-/@]\s*|\s+)(?P<volts>\d+)\s*(?:v|wv|wvdc|volts)\b",
    re.IGNORECASE,
)
_NO_UNITS = late(r"\s*(0?\.\d+)\s*[-/]\s*(\d{2,4})\s*")  # .05/600
_FRACTION = late(r"(?:\d+\s)?[1357]/(?:2|3|4|5|8|10|16|20)")
_HIGH_TO_LOW = 2.5  # 115/230 V is two voltages; 16/450 V a capacitor and its voltage
_MOST_CHARS = 200  # a printed value with all its marks is under 60


def _numbers(printed: str) -> list[float]:
    """The numbers of a list in print; "2 x 50" counts twice, "1/2" is one number."""
    if _FRACTION().fullmatch(printed):
        return [number_of(printed)]
    pieces = re.split(_JOIN, printed)
    numbers = [number_of(piece) for piece in pieces if re.fullmatch(NUMBER, piece)]
    times = re.fullmatch(r"([2-4])\s*[x×]\s*(\S+)", printed)
    if times and len(numbers) == 2:
        return [numbers[1]] * int(times[1])
    return numbers


def parse_tolerance(text: str) -> tuple[float | None, float | None]:
    """Tolerance in percent and, where it differs, the lower limit: "+50 -10%" gives (50, 10).

    Reads "5%", "±10 %", "gold", "silver". (None, None) when the text gives none.
    """
    both = _BOTH_WAYS().search(text)
    if both:
        plus, minus = both[1] or both[4], both[2] or both[3]
        return float(plus), float(minus)
    one = _TOLERANCE().search(text)
    if one:
        return float(one[1]), None
    word = _TOLERANCE_WORD().search(text)
    if word:
        return (5.0 if word[1].lower() == "gold" else 10.0), None
    return None, None


def _mains(text: str, old_m: bool) -> tuple[list[Value], str]:
    """All numbers with units in printed order, and the text without them."""
    found: list[tuple[int, Value]] = []

    def coded(match: re.Match[str]) -> str:
        kind, factor = _CODE_FACTOR[match[2]]
        number = scaled(float(f"{match[1]}.{match[3]}"), factor)
        percent = _LETTER_PERCENT.get(match[4])
        found.append((match.start(), Value(kind, number, percent)))
        return " " * len(match[0])

    def plain(match: re.Match[str]) -> str:
        kind, factor = unit_of(match["unit"], old_m)
        numbers = _numbers(match["list"])
        found.extend((match.start(), Value(kind, scaled(n, factor))) for n in numbers)
        return " " * len(match[0])

    text = _CODED().sub(coded, text)
    text = _MAIN().sub(plain, text)
    return [value for _, value in sorted(found, key=lambda pair: pair[0])], text


def _unmarked(text: str, kind: str) -> list[Value]:
    """Values whose unit is left out: "20-20/150V", ".05-600V", ".0001"."""
    short = _NO_UNITS().fullmatch(text)
    if short and kind in ("", "farads"):
        return [Value("farads", scaled(float(short[1]), 1e-6), working_v=float(short[2]))]
    match = _UNMARKED().search(text)
    if match and kind in ("", "farads"):
        sections, volts = _numbers(match["list"]), float(match["volts"])
        mark = match["join"].strip()
        inner = re.findall(r"[-/]", match["list"])
        if not sections:  # "2X25-3v": a count without its values
            return []
        if len(sections) > 1:
            capacitor = mark not in inner or max(sections) * _HIGH_TO_LOW < volts
        else:
            capacitor = sections[0] < 1 or (bool(mark) and sections[0] * _HIGH_TO_LOW < volts)
        if capacitor:
            return [Value("farads", scaled(n, 1e-6), working_v=volts) for n in sections]
    return []


def _bare(text: str, kind: str) -> list[Value]:
    text = _TOLERANCE_WORD().sub(" ", _TOLERANCE().sub(" ", _BOTH_WAYS().sub(" ", text)))
    match = re.search(rf"(?<![\w.]){_LIST}(?![\w.])", text)
    if not match:
        return []
    numbers = _numbers(match[0])
    if kind:
        factor = 1e-6 if kind == "farads" else 1.0
        return [Value(kind, scaled(number, factor)) for number in numbers]
    if numbers and all(0 < number < 1 for number in numbers) and "/" not in match[0]:
        return [Value("farads", scaled(number, 1e-6)) for number in numbers]
    return []


def _attach(values: list[Value], text: str) -> tuple[Value, ...]:
    """Gives working volts to capacitors, watts to resistors, and the tolerance to all sections."""
    main = {value.kind for value in values}
    volts = [v.number for v in values if v.kind == "volts"] if "farads" in main else []
    watts = [v.number for v in values if v.kind == "watts"] if "ohms" in main else []
    percent, minus = parse_tolerance(text)
    kept: list[Value] = []
    sections = [v for v in values if v.kind == "farads"]
    for value in values:
        if (value.kind == "volts" and volts) or (value.kind == "watts" and watts):
            continue
        if value.kind == "farads" and volts:
            place = len([v for v in kept if v.kind == "farads"])
            own = volts[place] if len(volts) == len(sections) else volts[0]
            value = replace(value, working_v=own)
        if value.kind == "ohms" and watts:
            value = replace(value, watts=watts[0])
        if percent is not None and value.tolerance_percent is None:
            value = replace(value, tolerance_percent=percent, minus_percent=minus)
        kept.append(value)
    return tuple(kept)


def parse_value(text: str, kind: str = "", old_m: bool = False) -> tuple[Value, ...]:
    """The values printed in a short text, one for each section, in order; () when there are none.

    Reads .05 mfd, 250 MMFD, 50-30 mfd 150 V, 20-20/150V, 470K, 2.2 meg, 1/2 meg, 4K7, 47n,
    0.5 W, 5 %. A bare decimal below one (".0001") is a capacitor in microfarads, as old lists
    print it. Any other bare number needs `kind`, one of `value_units.KINDS` (farads are then
    microfarads). `old_m` reads M before ohms as a thousand, as lists of the 1920s and 1930s do;
    without it M is a million. "meg" is always a million. Never raises on odd text.
    """
    text = tidy(text[:_MOST_CHARS])
    tolerance_letter = _CODED_TOLERANCE().search(text)
    if tolerance_letter:
        percent = _LETTER_PERCENT[tolerance_letter[2]]
        text = text.replace(tolerance_letter[0], f"{tolerance_letter[1]} {percent:g}%")
    marks = text
    values = _unmarked(text, kind)
    if values:
        return _attach(values, marks)
    values, rest = _mains(text, old_m)
    if not [v for v in values if v.kind not in ("volts", "watts")]:
        values = _bare(rest, kind) + values
    return _attach(values, marks)
