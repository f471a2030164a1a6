"""The value in the words of a parts list, with the slips of a scan put right.

A scan loses the dot of .05, reads it as a dash, and takes 0 for O or Q. The unit that follows
tells which token is a number, so only that one is touched.
"""

import re

from indexer.trade.preferred import is_preferred
from indexer.trade.value_parse import parse_value
from indexer.trade.value_units import Value, number_of

_LIKE = str.maketrans("OoQDUlILi|!]ZzSsGBfq", "00000111111122556819")
_DIGITISH = r"[0-9OoQDUlIi|!\]ZzSsGBf]"
_UNIT_SLIPS = (
    (re.compile(r"\bM[FPE][DOB]\b(?!\w)", re.I), "MFD"),
    (re.compile(r"\bM[MN][FEP]D?\b", re.I), "MMF"),
    (re.compile(r"\bM[FE]0\b", re.I), "MFD"),
    (re.compile(r"\bM[EF]G\b", re.I), "MEG"),
    (re.compile(r"(?<=[\dOl] )M[TIFL][DA]\b", re.I), "MFD"),
    (re.compile(r"(?<=[\dO] )(?:IN|NU|RN|M)MF?[DAFT]{0,2}\b", re.I), "MMF"),
    (re.compile(r"(?<=[\dO] )M(?:M|IM|IN|NM|RN)[FTI{]{0,3}[DT]?(?![\w])", re.I), "MMF"),
    (re.compile(r"(?<![\w.])[lI|!](?=\s?MEG\b)", re.I), "1"),
    (re.compile(r"(?<=\d)(?=(?:MMF|MFD|MEG)\b)", re.I), " "),
    (re.compile(r"\b1/2\W{0,2}(?:W|]|\]W)?(?= |$)"), "1/2 W"),
    (re.compile(r"(\d) ?W W\b"), r"\1 W"),
    (re.compile(r"\bV[-_ .]+V\b|\bV[-_.]+(?=\s|$)"), "V"),
    (re.compile(r"(?<=\d)V\b"), " V"),
    (re.compile(r"(?<=\d)\. ?(?=(?:MMF|MFD|MEG|OHMS?)\b)", re.I), " "),  # 250. MMF
    (re.compile(r"\bOH ?[MN][SU]?S\b", re.I), "OHMS"),
    (re.compile(r"(?<![\d.,/-])(\d) (\d\d)(?= (?:OHMS?|MMF)\b)", re.I), r"\1\2"),  # 1 00 MMF
    (re.compile(r",\d{3} ,(?=\d{3}\b)"), ","),  # 47,000 ,000
    (re.compile(r"(?<=\d)( ?)(?:[jl/|]?[uyvwµμ]|[jl/|][pu])\s?F\b"), r"\1uF"),  # yF, juF for µF
    (re.compile(r"(?<=\d)\s?-?\s?V[O0CQ][LI1|!TJ]{1,2}[T7]?[SE5]{0,2}\b", re.I), " VOLTS"),  # voit
)
_GROUPED = re.compile(
    r"(?<![\w.,/-])(\d{1,3}) ([05]00)(?=\s?(?:[pn]F|uuF|MMFD?)\b)", re.I
)  # 5 000 pF
_THOUSAND_PF = re.compile(r"(?<=\d)\s?[TK]\s?pF\b", re.I)  # TpF, kpF
_OLD_UNIT = re.compile(r"(?<![\w.,])(\d[\d.,]*)\s?(cm|jars?)\b\.?", re.I)
_OLD_FARADS = {"cm": 1e-9 / 900, "ja": 1e-6 / 900}  # electrostatic units: common use, from memory
_TAIL = re.compile(r"(?<![\w.,/-])((?:\d{1,3} \d{3}|\d+[.,]\d+|[.,]\d+|\d+))\W{0,2}$")
_LEAST_BARE = 3
_COUNTED = re.compile(r"\W*(?:GANG|SECTION|POLE|WAY|PLATE|OFF\b)", re.I)  # "2 gang condenser"
_WATTS_AFTER = re.compile(r"^(\W*\d[\d.,]*) (?=(?:1/\d|\d{1,2})\s?W\b)")
_BEFORE_UNIT = re.compile(
    rf"(?<![\w/])([-~_—–:'`,.]{{0,3}})((?:{_DIGITISH}|[-–—.,/])*{_DIGITISH})(?=\s*(?:MFD|MMF|MEG)\b)"
)
_COMMA = re.compile(
    r"(?<![\d.])(\d{1,3})\.(\d00)(?=\s*(?:OHMS?|\d/\d ?W|\d{1,2} ?W)\b)", re.I
)  # 22,000 read as 22.000
_KILO = re.compile(rf"(?<![\w.])((?:L|{_DIGITISH}){{1,3}}(?:\.\d)?)[KM](?![A-Za-z])")
_OHM_SIGN = re.compile(r"(?<=\d)( ?[kKM]?)[ΩQ](?![\w])")  # 220 kΩ is read 220 kQ
_AFTER_KILO = re.compile(r"(?<=\d)([KM])(?=[1-9]/[2-8]\b)")  # 22K1/2 W
_THOUSANDS = re.compile(r"(?<![\d.,/-])(\d{1,3}) (\d{3})(?= +OHMS?\b)", re.I)  # 47 000 ohms
_TWICE = re.compile(r"(?<![\w.])(\d[\d.]*[KM]?) \1(?= )")  # seen by both readers, joined once
_HEAD = re.compile(r"^[^A-Za-z]*[\d.][\d.,/]*(?:[-–][\d.,/]+)*")
_KINDS = {"C": "farads", "R": "ohms", "RV": "ohms", "VR": "ohms", "L": "henries", "F": "amperes"}
_MOST_WORDS = 14
_THOUSAND_FROM_OHMS = 30e6  # no receiver uses a resistor as large: then M is a thousand


def repaired(text: str, prefix: str) -> str:
    """The words of one line with the number before its unit put right."""
    for pattern, better in _UNIT_SLIPS:
        text = pattern.sub(better, text)
    text = _BEFORE_UNIT.sub(lambda found: _number(found, prefix), text)
    if prefix == "C":
        text = _GROUPED.sub(r"\1\2", text)
        text = _THOUSAND_PF.sub(" nF", text)
    if prefix.startswith("R"):
        text = _OHM_SIGN.sub(r"\1 OHMS", text)
        text = _COMMA.sub(r"\1,\2", text)
        text = _THOUSANDS.sub(_thousands, text)
        text = _AFTER_KILO.sub(r"\1 ", text)
        text = _KILO.sub(lambda found: found[1].translate(_LIKE) + found[0][-1], text)
        text = _TWICE.sub(r"\1", text)
        text = _WATTS_AFTER.sub(r"\1 ohms ", text)  # else 220 1/2 W is one mixed number
    return re.sub(r"\s+", " ", text).strip()


def _thousands(found: "re.Match[str]") -> str:
    """47 000 as one number, where that is a value resistors have; "2 100 ohms" is two of 100."""
    joined = int(found[1] + found[2])
    return str(joined) if found[2] == "000" or is_preferred(joined, "E12") else found[0]


def _number(found: "re.Match[str]", prefix: str) -> str:
    marks, digits = found[1], found[2].translate(_LIKE)
    digits = re.sub(r"[–—]", "-", digits)
    small = found.string[found.end() :].lstrip()[:3].upper() == "MFD" and prefix == "C"
    if small and "-" not in digits and "." not in digits:
        if "." in marks or re.search(r"[-~_—–:'`,]", marks) or re.fullmatch(r"0\d{1,3}", digits):
            return "." + digits
        return digits
    if re.fullmatch(r"\d0", digits):  # .10 is not how .1 is printed: the dot is a speck
        return digits
    return ("." if marks.endswith(".") and not digits.startswith(".") else "") + digits


def values_in(text: str, prefix: str, old_m: bool = False) -> tuple[Value, ...]:
    """The sections' values in a line's words (repaired), () when it states none.

    Units decide; a bare number counts only where it opens the words of a resistor ("1,200 2 W")
    or a capacitor.
    """
    kind = _KINDS.get(prefix, "")
    short = " ".join(text.split()[:_MOST_WORDS])
    old = _OLD_UNIT.search(short) if prefix == "C" else None
    if old:
        farads = number_of(old[1].strip(".,")) * _OLD_FARADS[old[2][:2].lower()]
        return (Value("farads", float(f"{farads:.3g}")),) if farads else ()
    found = tuple(v for v in parse_value(short, old_m=old_m) if v.number > 0)
    right = tuple(v for v in found if v.kind == kind)
    if prefix == "L" and not right:  # a choke or field coil is given by its resistance
        right = tuple(v for v in found if v.kind == "ohms")
    if right or kind not in ("ohms", "farads"):
        return right
    head = _HEAD.match(short)
    if not head or _COUNTED.match(short[head.end() :]):
        return ()
    return tuple(v for v in parse_value(short, kind, old_m) if v.kind == kind and v.number > 0)


def bare_lists(texts: list[str], kinds: list[str], page: str) -> list[str]:
    """The rows, with the unit of their column put behind values that end them without one.

    A list whose capacitors (or resistors) mostly end in a bare number gives its unit once, over
    the column: microfarads where the page does not name another, ohms. Common practice, no source.
    """
    found = list(texts)
    for prefix in ("C", "R"):
        own = [n for n, kind in enumerate(kinds) if kind == prefix]
        tailed = [n for n in own if _TAIL.search(texts[n])]
        if len(tailed) < _LEAST_BARE or 2 * len(tailed) <= len(own):
            continue
        for n in tailed:
            tail = _TAIL.search(texts[n])
            if tail and not values_in(texts[n], prefix):
                number = tail[1].replace(" ", "")
                unit = "OHMS" if prefix == "R" else _unit_over(page)
                found[n] = f"{texts[n][: tail.start()]}{number} {unit}"
    return found


def _unit_over(page: str) -> str:
    """The unit that a column of capacitors is headed with: uF, or pF where only that is named."""
    micro = re.search(r"(?<![uµμm])[uµμ]\.?F\b|\bM\.?FD|MICROFARAD", page, re.I)
    pico = re.search(r"\bp\.?F\b|\b[uµμ]{2}\.?F\b|\bMM\.?FD?\b", page, re.I)
    return "pF" if pico and not micro else "uF"


def m_is_thousand(texts: list[str]) -> bool:
    """Whether a list prints M for a thousand ohms, as lists of the 1920s and 1930s do.

    It does when it writes MEG for millions beside it, or when M as a million would be absurd.
    Common practice, no source.
    """
    with_m = [t for t in texts if re.search(r"\d\s?M\b(?!\s?M?F)", t)]
    if not with_m:
        return False
    if any(re.search(r"\bMEG", t, re.I) for t in texts):
        return True
    return any(
        value.kind == "ohms" and value.number >= _THOUSAND_FROM_OHMS
        for text in with_m
        for value in parse_value(text)
    )


def hint_of(text: str) -> str:
    """The prefix that a line's words suggest, or ""."""
    words = text.upper()
    for prefix, pattern in (
        ("V", r"\bTUBE\b"),
        ("LS", r"\bSPEAKER \d|\bP\.?M\.? SPEAKER|\bDYNAMIC SPEAKER"),
        ("T", r"\bTRANSF"),
        ("L", r"\bCOIL\b|\bCHOKE\b|\bFIELD\b|\bLOOP\b"),
        ("C", r"\bM?MFD?\b|\bGANG\b|\bPAPER\b|\bMICA\b|\bELECTROLYTIC\b|\bTRIMMER\b"),
        ("R", r"\bCARBON\b|\bWIRE ?WOUND\b|\bCONTROL\b|\bOHMS?\b|\dK\b|\bMEG|\b1/2 W\b"),
    ):
        if re.search(pattern, words):
            return prefix
    return ""
