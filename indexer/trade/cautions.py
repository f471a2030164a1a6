"""What can hurt someone at the bench, and when it applies. Common practice, no source.

The texts are reminders, not instruction: local codes and licensed practice come first.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from indexer.trade.late_patterns import late

DEFER = "Local codes and licensed practice come first."

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
    r"\bballast",
    re.IGNORECASE,
)
_BALLAST_TUBE = late(r"B?[KLM]\d{2}[A-H]|\d{3}R\d?")
_SELENIUM_WORDS = late(r"selenium|metal rectifier|dry rectifier", re.IGNORECASE)
_ASBESTOS_WORDS = late(r"asbestos", re.IGNORECASE)
_HIGH_WORDS = late(
    r"television|picture tube|kinescope|cathode[- ]ray|\bCRT\b|transmitter|plate modulat|"
    r"linear amplifier|\bE\.?H\.?T\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: `when` is the rule it rests on, `because` what in this set called it up.

    `key` is stable for scripts. `because` is empty in the table itself.
    """

    key: str
    title: str
    text: str
    when: str
    because: str = ""


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


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "live chassis",
        "Live chassis",
        "One side of the power line may be on the chassis, whichever way the plug goes in. Treat "
        "chassis, control shafts and screws as live. Work from an isolation transformer, and "
        "connect no earthed instrument or aerial without one. " + DEFER,
        "a series heater string across the line, or a set whose supply isn't known",
    ),
    Caution(
        "first power-up",
        "First power-up",
        "Not straight into the wall. After the checks with power off, feed it through a series "
        "lamp of about 60 W (more for a large set) with a fuse, watch it, and stop at smoke, hum "
        "or a lamp that stays bright. The lamp limits current; it doesn't make the set safe to "
        "touch. " + DEFER,
        "every set that runs from the power line",
    ),
    Caution(
        "charged filters",
        "Charged filter capacitors",
        "Filter capacitors hold their charge after the plug is out. Discharge each through a "
        "resistor, then measure that it is gone, before a hand goes in. " + DEFER,
        "every set with a high-tension supply of its own",
    ),
    Caution(
        "line capacitors",
        "Capacitors on the power line",
        "A capacitor across the line, or from line to chassis or aerial, must be a safety-rated "
        "type: class X across the line, class Y to anything that can be touched (IEC 60384-14). "
        "An ordinary film part of the same value won't do. " + DEFER,
        "every set that runs from the power line",
    ),
    Caution(
        "resistance cord",
        "Resistance cord or ballast",
        "The cord or ballast is part of the heater circuit and runs hot by design. Never shorten "
        "it, bundle it, or swap it for a plain cord: the heaters would burn out. Its covering may "
        "hold asbestos. " + DEFER,
        "a resistance cord or ballast is named, or a pre-war series string may have one",
    ),
    Caution(
        "asbestos",
        "Asbestos",
        "Heat shields, paper under the chassis, resistance cords and some wire coverings may hold "
        "asbestos. Don't brush, sand, cut or blow it off. Leave it wetted and undisturbed, or to "
        "someone licensed to remove it. " + DEFER,
        "sets made before about 1980, above all those with hot parts near the cabinet",
    ),
    Caution(
        "selenium",
        "Selenium rectifier",
        "A failing selenium rectifier gives off a poisonous gas with a foul smell. Switch off, air "
        "the room, and don't power it again before it is replaced. A silicon diode in its place "
        "needs a series resistor, as its output is higher. " + DEFER,
        "a selenium or metal rectifier is named, or a post-war line set has no rectifier tube",
    ),
    Caution(
        "high voltage",
        "Picture tube and transmitter voltages",
        "Thousands of volts, kept long after switch-off by the picture tube or its capacitors. "
        "Picture tubes can also implode. Work with someone present, one hand, and a proper "
        "discharge stick, or leave it to a licensed technician. " + DEFER,
        "a picture tube, a transmitting tube, or words that name one",
    ),
    Caution(
        "mercury",
        "Mercury-vapour rectifier",
        "The tube holds mercury. Don't break it; if it breaks, air the room, keep off it with a "
        "vacuum cleaner, and follow the local rules for mercury. " + DEFER,
        "a mercury-vapour rectifier in the line-up",
    ),
    Caution(
        "lead and old wiring",
        "Lead solder and old wiring",
        "Solder, paint and some insulation of the period hold lead: wash hands, no food at the "
        "bench, and air the room. Rubber and cloth insulation crumbles when bent: look over every "
        "wire, and the line cord first. " + DEFER,
        "every set of the period",
    ),
)


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
