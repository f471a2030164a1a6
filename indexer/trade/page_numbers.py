"""Page numbers as books print them: a plain one, or one with a volume's or section's part.

How numbers are printed is common practice, no source.
"""

import re
from dataclasses import dataclass

NUMBER = (
    r"(?:(?:[IVXL]{1,6}|[A-Z]|\d{1,2})\s?[-\u2010-\u2014/]\s?)?"  # 7-31, VII-31, 7/31, A-12
    r"\d{1,4}[A-H]?"  # 31A, a leaf put in between
)
_TAKEN_APART = re.compile(
    r"(?:(?P<part>[A-Z]+|\d+)\s?[-\u2010-\u2014/]\s?)?(?P<number>\d{1,4})(?P<leaf>[A-H]?)",
    re.IGNORECASE,
)
_ROMAN = re.compile(r"(?=[IVXL])(?:XL|L?X{0,3})(?:IX|IV|V?I{0,3})")
_VALUES = {"I": 1, "V": 5, "X": 10, "L": 50}


@dataclass(frozen=True, slots=True)
class PageNumber:
    """A page number taken apart: `part` is the volume or section in plain figures, or a section's
    letter, "" without one; `leaf` the letter of a leaf put in between."""

    part: str
    number: int
    leaf: str = ""

    @property
    def in_part(self) -> str:
        """The number within its part: "31", "31A"."""
        return f"{self.number}{self.leaf}"


def page_number(printed: str) -> PageNumber | None:
    """A printed number taken apart ("VII-31" is page 31 of part 7), or None for anything else."""
    match = _TAKEN_APART.fullmatch(printed.strip())
    if not match:
        return None
    part = (match["part"] or "").upper()
    if part.isdigit() or _ROMAN.fullmatch(part):
        part = roman(part)
    elif len(part) > 1:
        return None
    return PageNumber(part, int(match["number"]), match["leaf"].upper())


def roman(text: str) -> str:
    """A volume number in plain figures: "IV" and "4" both give "4", "" gives ""."""
    if not text:
        return ""
    if text.isdecimal():
        return str(int(text))
    digits = [_VALUES[c] for c in text.upper()]
    total = 0
    for value, following in zip(digits, [*digits[1:], 0], strict=True):
        total += -value if value < following else value
    return str(total)
