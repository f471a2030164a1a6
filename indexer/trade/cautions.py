"""What can hurt someone at the bench, and when it applies. Common practice, no source.

The texts are reminders, not instruction: local codes and licensed practice come first.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from indexer.trade.caution_texts import CAUTIONS, DEFER, Caution
from indexer.trade.late_patterns import late

__all__ = ["CAUTIONS", "DEFER", "Caution", "applying"]

_MAINS_SUPPLIES = frozenset({"series string", "transformer", "battery and line"})
_LAST_CORD_YEAR = 1942  # resistance cords went out with the 150 mA heater strings
_LAST_ASBESTOS_YEAR = 1980
_SELENIUM_YEARS = (1946, 1965)
_MERCURY_TUBES = frozenset({"82", "83", "816", "866", "866A", "872", "872A"})
_TRANSMITTING_WORDS = (
    "203A 211 801 805 806 807 808 809 810 811 811A 812 812A 813 814 815 826 828 829 829B 832 832A "
    "833 833A 837 838 845 1625 4-65A 4-125A 4-250A 4-400A 6146 6146A 6146B"
)
_TRANSMITTING = frozenset(re.sub(r"\W", "", name) for name in _TRANSMITTING_WORDS.split())
_PICTURE_TUBE = late(r"\d{1,2}[A-Z]{1,3}P\d{1,2}[A-Z]?")
_CORD_WORDS = late(
    r"resist(?:ance|or) (?:line )?cord|line[- ]cord resist|resistor in (?:the )?(?:line )?cord|"
    r"cord (?:dropp|resist)|\bballast|\bbarretter|"
    r"\b(?:mains|line|heater|filament|voltage) dropp(?:er|ing)|"
    r"\bdropper|vorwiderstand|resistor in the (?:mains|power) lead",
    re.IGNORECASE,
)
_OIL_WORDS = late(r"\boil[- ](?:filled|impregnated|immersed)|\baskarel\b|\bPCBs?\b", re.IGNORECASE)
_BALLAST_TUBE = late(r"B?[KLM]\d{2}[A-H]|\d{3}R\d?")
_SELENIUM_WORDS = late(r"selenium|metal rectifier|dry rectifier", re.IGNORECASE)
_ASBESTOS_WORDS = late(r"asbestos", re.IGNORECASE)
_HIGH_WORDS = late(
    r"television|picture tube|kinescope|cathode[- ]ray|\bCRT\b|transmitter|plate modulat|"
    r"linear amplifier|\bE\.?H\.?T\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Set:
    live_chassis: str
    supply: str
    tubes: tuple[str, ...]
    words: str
    year: int | None

    @property
    def on_mains(self) -> bool:
        """Whether it connects to the power line, or may."""
        return self.supply in _MAINS_SUPPLIES or self.supply in ("unknown", "")


def _codes(tubes: Sequence[str]) -> tuple[str, ...]:
    return tuple(re.sub(r"[^A-Z0-9]", "", tube.upper()) for tube in tubes)


def _rectifier_known(tubes: Sequence[str]) -> bool | None:
    """Whether a rectifier tube is in the line-up; None when a type is not known."""
    from indexer.trade.tubes import known  # late: its table is loaded once, when first asked

    rows = [known(tube) for tube in tubes]
    if any(row and any("rectifier" in job for job in row.functions) for row in rows):
        return True
    return None if not rows or any(row is None or not row.functions for row in rows) else False


def _live(one: _Set) -> str:
    if one.live_chassis == "likely":
        return "this set's chassis is likely on the line"
    if one.live_chassis == "no" and one.supply in ("transformer", "battery", "vibrator"):
        return ""
    if one.supply in ("series string", "battery and line"):
        return f"supply: {one.supply}"
    unknown = one.on_mains and one.supply != "transformer" and one.live_chassis != "no"
    return "the supply isn't known" if unknown else ""


def _mains(one: _Set) -> str:
    if not one.on_mains:
        return ""
    return f"supply: {one.supply}" if one.supply in _MAINS_SUPPLIES else "the supply isn't known"


def _filters(one: _Set) -> str:
    return f"supply: {one.supply}" if one.supply == "vibrator" else _mains(one)


def _cord(one: _Set) -> str:
    named = _CORD_WORDS().search(one.words)
    if named:
        return f"the page says {named[0].lower()!r}"
    ballast = [t for t in _codes(one.tubes) if _BALLAST_TUBE().fullmatch(t)]
    if ballast:
        return f"ballast {ballast[0]} in the line-up"
    early = one.year is not None and one.year <= _LAST_CORD_YEAR
    return f"a series string of {one.year}" if early and one.supply == "series string" else ""


def _asbestos(one: _Set) -> str:
    if _ASBESTOS_WORDS().search(one.words):
        return "the page says asbestos"
    if one.year is not None and one.year > _LAST_ASBESTOS_YEAR:
        return ""
    if one.supply == "battery":
        return ""
    return f"made about {one.year}" if one.year else "sets of the period"


def _selenium(one: _Set) -> str:
    named = _SELENIUM_WORDS().search(one.words)
    if named:
        return f"the page says {named[0].lower()!r}"
    first, last = _SELENIUM_YEARS
    dated = one.year is not None and first <= one.year <= last
    none_there = one.supply in _MAINS_SUPPLIES and _rectifier_known(one.tubes) is False
    if none_there and (dated or one.year is None):
        return "no rectifier tube in the line-up"
    return ""


def _high(one: _Set) -> str:
    for tube in _codes(one.tubes):
        if _PICTURE_TUBE().fullmatch(tube) or tube in _TRANSMITTING:
            return f"{tube} in the line-up"
    named = _HIGH_WORDS().search(one.words)
    return f"the page says {named[0].lower()!r}" if named else ""


def _battery_feed(one: _Set) -> str:
    return f"supply: {one.supply}" if one.supply == "vibrator" else ""


def _oil(one: _Set) -> str:
    named = _OIL_WORDS().search(one.words)
    if named:
        return f"the page says {named[0].lower()!r}"
    return next((f"{t} in the line-up" for t in _codes(one.tubes) if t in _TRANSMITTING), "")


def _mercury(one: _Set) -> str:
    return next((f"{t} in the line-up" for t in _codes(one.tubes) if t in _MERCURY_TUBES), "")


_RULES: dict[str, Callable[[_Set], str]] = {
    "live chassis": _live,
    "first power-up": _mains,
    "charged filters": _filters,
    "line capacitors": _mains,
    "resistance cord": _cord,
    "asbestos": _asbestos,
    "selenium": _selenium,
    "high voltage": _high,
    "battery feed": _battery_feed,
    "oil-filled": _oil,
    "mercury": _mercury,
    "lead and old wiring": lambda one: "sets of the period",
}


def applying(
    live_chassis: str = "unknown",
    supply: str = "unknown",
    tubes: Sequence[str] = (),
    words: str = "",
    year: int | None = None,
) -> tuple[Caution, ...]:
    """The cautions that apply to a set, most pressing first, each with what called it up.

    `live_chassis` is "likely", "no" or "unknown"; `supply` one of "series string",
    "transformer", "battery", "battery and line", "vibrator", "unknown"; `words` is any text of
    the set's pages. What isn't known counts as a reason for caution.
    """
    one = _Set(live_chassis, supply, tuple(tubes), words, year)
    found = []
    for caution in CAUTIONS:
        because = _RULES[caution.key](one)
        if because:
            found.append(replace(caution, because=because))
    return tuple(found)
