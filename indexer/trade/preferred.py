"""Preferred values: the E series of IEC 60063, E3 to E192.

E3 to E24 keep the historic figures of the standard; E48, E96 and E192 are the powers
10 ** (n / N) rounded to three figures, with the standard's one exception, 9.20 in E192.
"""

from functools import cache
from math import floor, isfinite, log10

_E24_FIGURES = (
    *(10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30),
    *(33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91),
)

NAMES = ("E3", "E6", "E12", "E24", "E48", "E96", "E192")
TOLERANCE_PERCENT = {"E3": 40.0, "E6": 20.0, "E12": 10.0, "E24": 5.0, "E48": 2.0, "E96": 1.0}


@cache
def figures(series: str) -> tuple[int, ...]:
    """The figures of one decade: 10 to 91 up to E24, 100 to 988 from E48 on.

    Raises ValueError for a name not in NAMES.
    """
    if series not in NAMES:
        raise ValueError(f"no such series of preferred values: {series}")
    steps = int(series[1:])
    if steps <= 24:
        return _E24_FIGURES[:: 24 // steps]
    rounded = [round(100 * 10 ** (n / steps)) for n in range(steps)]
    return tuple(920 if figure == 919 and steps == 192 else figure for figure in rounded)


def _checked(value: float) -> float:
    if not (isfinite(value) and value > 0):
        raise ValueError("a preferred value is asked for a number above zero")
    return float(value)


def _near(value: float, series: str) -> list[float]:
    """The members of the decade of the value, and one on either side of it, in order."""
    row = figures(series)
    decade = floor(log10(value)) - (1 if series in NAMES[:4] else 2)
    # Written as text so that 47 at decade -8 is 4.7e-07 and not 4.7000000000000005e-07.
    low, high = float(f"{row[-1]}e{decade - 1}"), float(f"{row[0]}e{decade + 1}")
    return [low, *(float(f"{figure}e{decade}") for figure in row), high]


def is_preferred(value: float, series: str = "E24") -> bool:
    """Whether the value is a member of the series (to one part in a million)."""
    return abs(preferred(value, series) / _checked(value) - 1) < 1e-6


def preferred(value: float, series: str = "E24") -> float:
    """The member of the series nearest to the value, in the value's own unit.

    Of two equally near the larger. Raises ValueError for a value not above zero.
    """
    members = _near(_checked(value), series)
    return min(members, key=lambda member: (round(abs(member / value - 1), 9), -member))


def neighbours(value: float, series: str = "E24") -> tuple[float, float]:
    """The largest member not above the value and the smallest not below it."""
    members = _near(_checked(value), series)
    slack = value * 1e-9
    below = max(member for member in members if member <= value + slack)
    above = min(member for member in members if member >= value - slack)
    return below, above
