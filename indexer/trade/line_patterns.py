"""The patterns by which tube types, their counts and what stands between them are found in text."""

import re

from indexer.trade.late_patterns import late
from indexer.trade.tube_names import DASHES

TAIL = (
    r"(?:[\-‑–]?(?:W?GT\s?/\s?GT?|G\s?/\s?GT|W?GT[ABXY]?|W?G[ABCPTXY]?"
    r"|MG|LM|LT|M|S|Y|W[ABC]?)?[A-F]?)"
)
CANDIDATE = late(
    rf"""
    (?P<rma>(?:\d{{1,3}}|(?<![A-Z0-9])O)[ ]?[A-Z]{{1,2}}[ ]?\d{{1,2}}{TAIL})
  | (?P<euro>[A-Z]{{2,4}}[ ]?\d{{1,4}}[A-Z]?
      |VT[{DASHES} ]?\d{{1,3}}[A-Z]?|VR[{DASHES} ]?\d{{2,3}}(?:/30)?
      |KT[{DASHES} ]?\d\d)
  | (?P<maker>[BDHNUWXZ]\d\d\d?)
  | (?P<old>(?:U[XYV]|C[XY])[{DASHES} ]?\d{{2,3}}[A-Z]?|\d{{2,4}}[AV]?(?:[{DASHES}][ASV])?)
    """,
    re.VERBOSE,
)
OWN = r"(?<![\w.\-‑/])"  # the 5 of "chassis CP-5" and of "1.5" counts nothing
COUNT_BEFORE = late(
    rf"(?:\((\d{{1,2}})\)|{OWN}(\d)\s*[X×*]|{OWN}(\d)\s*[{DASHES}]"
    rf"|\b(ONE|TWO|PAIR OF|PAIR|THREE|FOUR|FIVE|SIX)\b|{OWN}([1-9])\s)"
    r"\s*(?:OF\s+)?(?:TYPES?\s+)?['’]?$"
)
COUNT_AFTER = late(r"\s*(?:\(\s*[X×]?\s*(\d{1,2})\s*[X×]?\s*\)|[X×]\s*(\d)\b)")
SYMBOL = late(rf"\b([VT]{{1}}[{DASHES} ]?\d{{1,3}}[A-D]?)\s*[:={DASHES}.]?\s*\(?$")
HALF = late(r"(?:½|\b1/2|HALF(?: OF)?)\s*(?:AN?\s+)?$")
BETWEEN = late(
    r"(?:['’]S\b|[\s,;:+&/()\[\].'’#]|[-‑–—]|\b(?:AND|UND|ET|OG|OCH|EN)\b|\bOR\b|\bTYPES?\b)*"
)
PLURAL = late(r"['’]S\b")
IN_PAIR = late(r"(?:\bP\.?P\.?|\bPUSH[- ]?PULL)\s*$")
OLD_HUNDREDS = re.compile(r"[12]\d\d")
NOT_TUBE = late(
    r"(?:\b(?:MODELS?|CHASSIS|CH\.?|SERIAL|PART|PARTS|PAGE|PAGES|VOL\.?|STOCK|DWG\.?|FORM)\b[\s.:#]*"
    r"(?:NO\.?|NUMBERS?|NOS\.?)?[\s.:#]*|[$£])$"
)
STAMP = late(r"\b[A-Z]{1,3}[\-‑]$")  # "CH-41A" is a chassis, "TYPE-45" a tube
UNIT_AFTER = late(
    r"\s?(?:KC|MC|CPS|KHZ|MHZ|HZ|MFD?|MMF|UF|PF|OHMS?|MEG|WATTS?|VOLTS?|AMPS?|MA|V\b|W\b|M\b|K\b|%|°|Ω|\"|”)"
)
TUBES_WORD = late(
    r"\b(?:TUBES?|TYPES?|VALVES?|R[ÖO]E?HREN\w*|LAMPES?|BUIZEN|RÖR|COMPLEMENT"
    rf"|LINE[{DASHES} ]?UP)\b(?: USED)?(?: ARE)?[\s:.#'’{DASHES}]*$"
)
WORDS = {"ONE": 1, "TWO": 2, "PAIR OF": 2, "PAIR": 2, "THREE": 3, "FOUR": 4, "FIVE": 5, "SIX": 6}


def is_value_and_part(printed: str, upper: str, start: int) -> bool:
    """`.1 C7`: a value and the part beside it, where other parts of that letter stand by."""
    part = re.fullmatch(r"\d+ ([RCLT])\d{1,2}", printed)
    if part is None:
        return False
    words = upper.split()
    return upper[start - 1 : start] == "." or any(
        re.fullmatch(rf"{part[1]}\d{{1,3}}", word) and not (n and words[n - 1].isdigit())
        for n, word in enumerate(words)
    )


def looks_like_units(printed: str) -> bool:
    """`6 V 6`, `35 W 4`: a figure, its unit and another figure, not a type."""
    return bool(re.match(r"\d+ ?[VAWKM] \d", printed))
