"""Printed lists and ranges of model and chassis numbers.

How lists are shortened in print is common practice, no source.
"""

import re
from dataclasses import dataclass
from functools import cached_property

from indexer.trade.code_forms import fold, normal, split_number
from indexer.trade.late_patterns import late

MAX_MEMBERS = 500  # a printed range of sets is rarely over 100; more is a misreading

_LETTER_FOR = str.maketrans({"0": "O", "1": "I", "5": "S", "8": "B", "2": "Z", "6": "G"})


_LAST_DIGITS = late(r"(?P<head>.*?)(?P<digits>\d+)(?P<tail>\D*)", re.DOTALL)


def _as_printed(code: str) -> tuple[str, str, str]:
    """Head, last run of digits and tail in normal form, with the run as printed: hyphens count.

    "40-120" gives ("40", "120", ""), where the normal form alone would give ("", "40120", "").
    """
    found = _LAST_DIGITS().fullmatch(code)
    if not found:
        return normal(code), "", ""
    digits = normal(found["digits"])
    return normal(found["head"]), digits, normal(found["tail"])


def _is_letter(text: str) -> bool:
    return len(text) == 1 and text.isalpha() and text.isascii()


@dataclass(frozen=True)
class CodeRange:
    """A printed range, both ends in full as printed: CodeRange("40-120", "40-125").

    Ends that share no pattern make a range that holds the two ends only.
    """

    first: str
    last: str

    @cached_property
    def _ends(self) -> tuple[str, str]:
        return normal(self.first), normal(self.last)

    @cached_property
    def _split(self) -> tuple[tuple[str, str, str], tuple[str, str, str]]:
        one, other = _as_printed(self.first), _as_printed(self.last)
        if one[0] == other[0]:
            return one, other
        return split_number(self.first), split_number(self.last)

    @cached_property
    def _kind(self) -> str:
        one, other = self._split
        if not one[1] or not other[1]:
            return "ends"
        if one[0] == other[0]:
            if one[2] == other[2]:
                return "numbers"
            if one[1] == other[1] and _is_letter(other[2]) and len(one[2]) <= 1:
                return "letters"
        letters = _is_letter(one[0]) and _is_letter(other[0])
        return "prefixes" if letters and one[1:] == other[1:] else "ends"

    @cached_property
    def _bounds(self) -> tuple[int, int]:
        one, other = self._split
        if self._kind == "numbers":
            pair = int(one[1]), int(other[1])
        elif self._kind == "letters":
            pair = ord(one[2] or "@"), ord(other[2])  # "@" comes just before "A": no suffix
        elif self._kind == "prefixes":
            pair = ord(one[0]), ord(other[0])
        else:
            pair = 0, 1
        return min(pair), max(pair)

    @property
    def is_pattern(self) -> bool:
        """Whether the ends share a pattern, so that there is something between them."""
        return self._kind != "ends"

    def contains(self, code: str) -> bool:
        """Whether the code is one of the range, its ends included. Suffixes must be the ends'."""
        flat = normal(code)
        if flat in self._ends:
            return True
        if self._kind == "ends":
            return False
        (head, digits, tail), (_, last_digits, _) = self._split
        low, high = self._bounds
        if self._kind == "prefixes":
            return flat[1:] == digits + tail and flat[:1].isalpha() and low <= ord(flat[0]) <= high
        rest = flat.removeprefix(head)
        if len(rest) + len(head) != len(flat):
            return False
        if self._kind == "letters":
            suffix = rest.removeprefix(digits)
            alike = rest.startswith(digits) and len(suffix) <= 1 and not suffix.isdigit()
            return alike and low <= ord(suffix or "@") <= high
        number = rest.removesuffix(tail) if tail else rest
        if not number.isdecimal() or len(number) + len(tail) != len(rest):
            return False
        widths = sorted((len(digits), len(last_digits)))
        return widths[0] <= len(number) <= widths[1] and low <= int(number) <= high

    def as_member(self, code: str) -> str:
        """The member that the code looks like (normal form) when it is not one itself, else "".

        Each character is read as a digit or letter, whichever the first end has in that place.
        """
        flat = normal(code)
        if self.contains(code):
            return ""
        for end in self._ends:
            if len(end) != len(flat):
                continue
            read = "".join(
                fold(c) if shape.isdigit() else (c if c.isalpha() else c.translate(_LETTER_FOR))
                for c, shape in zip(flat, end, strict=True)
            )
            for candidate in (read, end if fold(end) == fold(flat) else read):
                if fold(candidate) == fold(flat) and self.contains(candidate):
                    return candidate
        return ""

    @cached_property
    def count(self) -> int:
        """How many codes the range holds, at least 1."""
        if self._kind == "ends":
            return len(set(self._ends))
        low, high = self._bounds
        return high - low + 1

    def members(self, limit: int = MAX_MEMBERS) -> tuple[str, ...]:
        """The codes of the range in normal form, in order; () when there are more than limit."""
        if self._kind == "ends":
            return tuple(dict.fromkeys(self._ends))
        if self.count > limit:
            return ()
        low, high = self._bounds
        (head, digits, tail), (_, last_digits, _) = self._split
        width = min(len(digits), len(last_digits))
        if self._kind == "numbers":
            return tuple(f"{head}{n:0{width}d}{tail}" for n in range(low, high + 1))
        letters = ["" if n == ord("@") else chr(n) for n in range(low, high + 1)]
        if self._kind == "letters":
            return tuple(f"{head}{digits}{letter}" for letter in letters)
        return tuple(f"{letter}{digits}{tail}" for letter in letters)


@dataclass(frozen=True, slots=True)
class CodeSpan:
    """One printed item of a list: the code or codes it stands for, or a range, and where it is.

    `codes` are written in full ("-11" after "5D10" gives "5D11"); empty for a range. `text` is
    the item as printed, at text[start:end] of what was parsed. `word` is "model", "chassis" or ""
    as the list itself says. `run` is a production run or revision printed with the code.
    """

    codes: tuple[str, ...]
    text: str
    start: int
    end: int
    range: CodeRange | None = None
    word: str = ""
    run: str = ""
