"""Which supply a line-up points to, and whether one side of the line is likely on the chassis.

Common practice, no source. Rectifiers say most, then the heaters' volts and currents.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from indexer.trade.jobs import LOW_PLATE, is_output, is_rectifier
from indexer.trade.strings import connection_at, heater_string, line_heater, line_rectifier
from indexer.trade.tubes import Tube

_HIGH_VOLTAGE = "High voltage is present all the same; switch off and discharge before touching."
_LIVE = (
    "No power transformer separates the set from the line, so one side of the line is likely on "
    "the chassis or on the common negative.",
    "Use an isolating transformer, follow local codes and leave it to licensed practice if unsure.",
)
# Rectifiers of car and farm sets as often as of transformer sets.
_CAR_TYPES = frozenset({"6X5", "6X4", "84", "7Y4", "7Z4", "6ZY5", "12X4", "14Y4", "6W5", "EZ2"})


@dataclass
class Ruling:
    """Supply and live-chassis verdicts with their reasons and doubts."""

    supply: str = "unknown"
    live: str = "unknown"
    reasons: tuple[str, ...] = ()
    doubts: list[str] = field(default_factory=list)


def decide(tubes: Sequence[Tube | None], words: str = "") -> Ruling:
    """The supply, the live-chassis verdict and why. Unknown tubes weaken, never decide."""
    present = [t for t in tubes if t is not None]
    if not present:
        return Ruling(reasons=("No known tube in the line-up.",))
    ruling = _by_words(words.lower(), present) or _by_tubes(present)
    if len(present) * 2 < len(tubes):
        return Ruling(reasons=("Most of the line-up is not known.",), doubts=ruling.doubts)
    return ruling


def battery_filament(tube: Tube) -> bool:
    """A filament meant for dry cells or an accumulator: 1.4, 2.8 and 2 V types, 99, 01A."""
    if tube.heating != "direct" or is_rectifier(tube):
        return False
    volts, amps = tube.heaters[0] if tube.heaters else (tube.heater_v or 0.0, 0.0)
    if tube.type in {"01A", "00A", "12A", "99", "20", "11", "12", "22", "40"}:
        return True
    return 0 < volts <= 3.0 and (amps or 0.05) <= 0.3


_POWER_TRANSFORMER = re.compile(r"\b(?:power|mains|line)[ -]transformer\b")
_DENIED = re.compile(
    r"\b(?:no|without(?: an?)?|instead of an?) (?:power|mains|line)[ -]transformer"
)


def _by_words(words: str, tubes: Sequence[Tube]) -> Ruling | None:
    """What the page says outright. A set whose tubes may hang on the line is never cleared by a
    word: the page may speak of a sister set, or of a coil that is called a transformer."""
    if any(line_rectifier(t) or line_heater(t) for t in tubes) or _on_the_line(tubes):
        return None
    if "vibrator" in words:
        return _vibrator("The page speaks of a vibrator.")
    if _POWER_TRANSFORMER.search(words) and not _DENIED.search(words):
        return _transformer("The page speaks of a power transformer.")
    return None


def _on_the_line(tubes: Sequence[Tube]) -> bool:
    """Whether the heaters look strung across the line although no rectifier tube is listed."""
    return any((t.heater_v or 0) >= 18 and (t.heater_a or 1) <= 0.3 for t in tubes if is_output(t))


def _by_tubes(tubes: Sequence[Tube]) -> Ruling:
    rectifiers = [t for t in tubes if is_rectifier(t)]
    others = [t for t in tubes if not is_rectifier(t)]
    battery = [t for t in others if battery_filament(t)]
    if battery and len(battery) * 2 > len(others):
        return _battery_ruling(rectifiers, battery)
    cold = [t for t in rectifiers if t.heating == "cold"]
    if cold:
        return _vibrator(f"{cold[0].type} is a cold gas rectifier, the usual one after a vibrator.")
    direct = [t for t in rectifiers if line_rectifier(t) and not line_heater(t)]
    if direct:
        return _line_ruling(direct[0], tubes)
    if any(line_heater(t) for t in tubes):
        name = next(t.type for t in tubes if line_heater(t))
        return Ruling(
            "series string" if _strung(others) else "unknown",
            "likely",
            (f"{name} has a heater for the full line and rectifies the line itself.", *_LIVE),
            ["The line-up does not show how the other heaters are fed."],
        )
    if rectifiers:
        return _heated_ruling(rectifiers, others)
    return _no_rectifier(tubes)


def _battery_ruling(rectifiers: Sequence[Tube], battery: Sequence[Tube]) -> Ruling:
    if not rectifiers:
        names = ", ".join(dict.fromkeys(t.type for t in battery[:3]))
        return Ruling(
            "battery",
            "no",
            (f"{names}: filament types, and no rectifier in the line-up.",),
            ["A selenium rectifier for line use would not show in the line-up."],
        )
    tube = rectifiers[0]
    if tube.heating == "cold":
        return _vibrator(f"Battery filaments with {tube.type}, the usual rectifier of a vibrator.")
    if line_heater(tube) or line_rectifier(tube) or any(line_heater(t) for t in rectifiers):
        return Ruling(
            "battery and line",
            "likely",
            (f"Battery filaments with {tube.type}, which rectifies the line directly.", *_LIVE),
        )
    if set(tube.functions) & {"full-wave rectifier", "gas rectifier"}:
        return _transformer(f"{tube.type} is fed from both ends of a transformer winding.")
    return Ruling(doubts=[f"Battery filaments beside {tube.type} do not settle the supply."])


def _line_ruling(rectifier: Tube, tubes: Sequence[Tube]) -> Ruling:
    string = heater_string(tubes)
    share = len(string.places) / len(tubes) if string else 0.0
    reason = f"{rectifier.type} rectifies the line directly and has a heater for a series string."
    doubts = []
    if share < 0.5:
        doubts.append("The heaters do not share one current, so the string is not sure.")
    fits = string is not None and connection_at(rectifier, string.current_a) is not None
    if not fits:
        doubts.append(f"{rectifier.type} does not fit the current of the other heaters.")
    if share < 0.5 and not fits:
        return Ruling("unknown", "unknown", (reason,), doubts)
    return Ruling("series string", "likely", (reason, *_LIVE), doubts)


def _heated_ruling(rectifiers: Sequence[Tube], others: Sequence[Tube]) -> Ruling:
    tube = rectifiers[0]
    if "full-wave rectifier" in tube.functions or tube.heating == "direct":
        ruling = _transformer(f"{tube.type} is fed from the windings of a power transformer.")
        if tube.type in _CAR_TYPES:
            ruling.doubts.append(
                f"{tube.type} also serves in car and farm sets: a vibrator would not show."
            )
        if tube.type == "12X4" and all(12 <= (t.heater_v or 0) <= 13 for t in others):
            return _vibrator("12X4 with 12.6 V heaters throughout points to a 12 V car set.")
        return ruling
    return Ruling(doubts=[f"{tube.type} alone does not settle the supply."])


def _no_rectifier(tubes: Sequence[Tube]) -> Ruling:
    """No rectifier in the line-up: selenium, a separate supply, or a list that is not complete."""
    hybrid = [t for t in tubes if t.type in LOW_PLATE]
    if hybrid:
        return Ruling(
            "battery",
            "no",
            (f"{hybrid[0].type} works with 12 V on the plate, straight from a car's battery.",),
        )
    high = [t for t in tubes if is_output(t) and _on_the_line([t])]
    if high and _strung(tubes):
        return Ruling(
            "series string",
            "likely",
            (f"{high[0].type} and the others share one heater current in series.", *_LIVE),
            ["No rectifier tube is listed: look for a selenium or silicon rectifier."],
        )
    return Ruling(
        reasons=("No rectifier in the line-up.",),
        doubts=["The supply may be separate, or a rectifier is missing from the list."],
    )


def _strung(tubes: Sequence[Tube]) -> bool:
    string = heater_string(tubes)
    return string is not None and len(string.places) * 4 >= len(tubes) * 3


def _transformer(reason: str) -> Ruling:
    return Ruling("transformer", "no", (reason, _HIGH_VOLTAGE))


def _vibrator(reason: str) -> Ruling:
    return Ruling("vibrator", "no", (reason, _HIGH_VOLTAGE))
