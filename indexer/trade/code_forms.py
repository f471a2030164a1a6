"""The forms of one model or chassis number: normal, folded, base and suffix, series.

All rules here are common practice, no source, unless a docstring says otherwise.
"""

import re
import unicodedata

from indexer.trade.late_patterns import late

# Each group holds exactly one digit, so that folding never makes two plain digits equal.
_FOLD = str.maketrans(
    {"O": "0", "Q": "0", "I": "1", "L": "1", "S": "5", "B": "8", "Z": "2", "G": "6"}
)

_LETTER_TAIL = late(r"(?P<base>.*\d)(?P<suffix>[A-Z]{1,3})")
_DASHED_NUMBER = late(
    r"\s*(?P<base>[A-Z0-9][A-Z0-9 .]*?)\s*[-/]\s*(?P<suffix>\d|0\d)\s*", re.IGNORECASE
)


def normal(code: str) -> str:
    """Upper case letters and digits only: "CH 41A", "ch-41a" and "CH.41A" all give "CH41A".

    Accents are dropped. Look-alikes stay apart (0 is not O). Empty when nothing is left.
    Applying it twice changes nothing.
    """
    if code.isascii():
        return "".join(c for c in code.upper() if c.isalnum())
    split = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", code).upper())
    return "".join(c for c in split if c.isalnum())


def fold(code: str) -> str:
    """The key under which a code is looked up in scans: equal for codes that look alike.

    Works on the normal form: O and Q become 0, I and L (for l) 1, S 5, B 8, Z 2, G 6. Two
    plain digits never fall together. Applying it twice changes nothing.
    """
    return normal(code).translate(_FOLD)


def split_suffix(code: str) -> tuple[str, str]:
    """Base and suffix of a code in normal form; the suffix is "" when there is none.

    A suffix is one to three letters after the last digit ("5D10A", "410-A"), or a single digit
    (or 01 to 09) set off by a hyphen or slash from a base that holds a letter or three digits
    ("5D10-1"). The base keeps at least two characters.
    """
    flat = normal(code)
    letters = _LETTER_TAIL().fullmatch(flat)
    if letters and len(letters["base"]) >= 2:
        return letters["base"], letters["suffix"]
    dashed = _DASHED_NUMBER().fullmatch(code)
    if dashed:
        base_form = normal(dashed["base"])
        digits = sum(c.isdigit() for c in base_form)
        if digits >= 3 or (digits and digits < len(base_form)):
            return base_form, dashed["suffix"]
    return flat, ""


def base(code: str) -> str:
    """The code without its suffix, in normal form: "5D10-A" gives "5D10"."""
    return split_suffix(code)[0]


def suffix(code: str) -> str:
    """The suffix alone, in normal form: "5D10-A" gives "A", "5D10" gives ""."""
    return split_suffix(code)[1]


def split_number(code: str) -> tuple[str, str, str]:
    """Head, last run of digits and tail of a code in normal form: "CH41A" -> ("CH", "41", "A").

    The run is "" when the code holds no digit; then the whole code is the head.
    """
    flat = normal(code)
    start = end = -1
    for found in re.finditer(r"\d+", flat):
        start, end = found.span()
    if start < 0:
        return flat, "", ""
    return flat[:start], flat[start:end], flat[end:]


def series(code: str) -> str:
    """The pattern that a series of sets shares, with # for each digit that runs within it.

    "5D10" and "5D11A" give "5D##"; "40-120" and "40-125" give "401##"; "CH41A" gives "CH##".
    Two figures run, one where the whole code is two digits. "" when the code holds no digit
    or is a single character.
    """
    head, digits, _ = split_number(base(code))
    if not digits or len(head) + len(digits) < 2:
        return ""
    running = min(2, len(digits))
    if not head and len(digits) == 2:
        running = 1
    return head + digits[: len(digits) - running] + "#" * running
