"""Model and chassis numbers: the names other parts use, and the grade of one code against another.

Forms of a code are in `code_forms`, distances in `code_distance`, ranges in `code_ranges`,
printed lists in `code_lists`, telling a code from a tube or a page number in `code_class`.
"""

from dataclasses import dataclass

from indexer.trade.code_class import CodeClass, classify
from indexer.trade.code_distance import distance, slip_cost
from indexer.trade.code_forms import base, fold, normal, series, split_suffix, suffix
from indexer.trade.code_lists import parse_codes
from indexer.trade.code_ranges import CodeRange, CodeSpan

__all__ = [
    "GRADES",
    "CodeClass",
    "CodeRange",
    "CodeSpan",
    "Match",
    "base",
    "classify",
    "distance",
    "fold",
    "may_match",
    "normal",
    "parse_codes",
    "series",
    "suffix",
]

GRADES = ("exact", "variant", "in range", "likely misread", "same series")  # best first

# One likely slip and one look-alike, or two likely slips; a changed digit always costs more.
MISREAD_BOUND = 0.8
MISREAD_MIN_CHARS = 3  # in shorter codes every other code is one slip away

_CHASSIS_WORDS = ("CHASSIS", "CHAS", "CH")


@dataclass(frozen=True, slots=True)
class Match:
    """How one asked code meets one printed code or range: a grade of GRADES, and why."""

    grade: str
    why: str

    @property
    def rank(self) -> int:
        """0 for the best grade."""
        return GRADES.index(self.grade)


def _has_digit(flat: str) -> bool:
    return any(c.isdigit() for c in flat)


def _slips(asked: str, printed: str) -> str:
    """What was read for what, where the two are of one length; else their plain difference."""
    if len(asked) != len(printed):
        return f"{printed} looks like {asked}"
    pairs = [f"{p} for {a}" for a, p in zip(asked, printed, strict=True) if slip_cost(a, p) > 0]
    return "may be a misreading: " + ", ".join(pairs)


def _is_misread(asked: str, printed: str) -> bool:
    if not (_has_digit(asked) and _has_digit(printed)) or asked == printed:
        return False
    if fold(asked) == fold(printed):
        return True
    if min(len(asked), len(printed)) < MISREAD_MIN_CHARS:
        return False
    return distance(asked, printed) <= MISREAD_BOUND


def _without_chassis_word(flat: str) -> str:
    for word in _CHASSIS_WORDS:
        rest = flat.removeprefix(word)
        if rest != flat and rest[:1].isdigit():
            return rest
    return flat


def _match_code(asked: str, printed: str) -> Match | None:
    one, other = normal(asked), normal(printed)
    if not one or not other:
        return None
    if one == other:
        same = asked.strip().upper() == printed.strip().upper()
        return Match("exact", f"prints {printed}" if same else f"prints {printed}, asked {asked}")
    if _without_chassis_word(one) == _without_chassis_word(other):
        return Match("variant", f"prints {printed}: {asked} but for the word for chassis")
    one_base, one_suffix = split_suffix(asked)
    other_base, other_suffix = split_suffix(printed)
    if _has_digit(one_base) and one_base == other_base:
        ends = f"{one_suffix or 'none'} asked, {other_suffix or 'none'} printed"
        return Match("variant", f"prints {printed}: same base {one_base}, other suffix ({ends})")
    if _is_misread(one, other):
        return Match("likely misread", f"prints {printed}: {_slips(one, other)}")
    shared = series(asked)
    if shared and shared == series(printed):
        return Match("same series", f"prints {printed}: same series {shared} as {asked}")
    return None


def _match_range(asked: str, printed: CodeRange) -> Match | None:
    shown = f"{printed.first} to {printed.last}"
    if normal(asked) in (normal(printed.first), normal(printed.last)):
        return Match("exact", f"prints {shown}: {asked} is one end of it")
    if printed.contains(asked):
        return Match("in range", f"prints {shown}: {asked} lies inside")
    one_base, one_suffix = split_suffix(asked)
    if one_suffix and printed.contains(one_base):
        return Match("variant", f"prints {shown}: base {one_base} lies inside, suffix {one_suffix}")
    repaired = printed.as_member(asked)
    if repaired:
        slips = _slips(normal(asked), repaired)
        return Match("likely misread", f"prints {shown}: {repaired} lies inside, {slips}")
    shared = series(asked)
    if shared and shared in (series(printed.first), series(printed.last)):
        return Match("same series", f"prints {shown}: same series {shared} as {asked}")
    return None


def may_match(asked: str, printed: str | CodeRange) -> Match | None:
    """The grade of one asked code against one printed code or range; None when they don't meet.

    "exact" is equality of the normal forms. "variant" shares the base and differs in the suffix.
    "likely misread" looks alike and differs in no plain digit. "same series" differs in the
    figures that run within a series. Neither code is ever changed.
    """
    if isinstance(printed, CodeRange):
        return _match_range(asked, printed)
    return _match_code(asked, printed)
