"""What a line-up tells about a set: roles, supply, series string, live chassis, watts, lamp.

Reasoning over the heaters and rectifiers is common practice, no source. Where the line-up does
not settle a question the answer is "unknown"; it never replaces looking at the set itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from indexer.trade.jobs import RECTIFIERS, is_output
from indexer.trade.numbering import registered
from indexer.trade.roles import assign_roles
from indexer.trade.strings import (
    EUROPEAN_LINES_V,
    US_LINE_V,
    CurrentGroup,
    Drop,
    HeaterString,
    drop,
    heater_string,
)
from indexer.trade.supply import decide
from indexer.trade.tubes import Tube, known

SUPPLIES = ("series string", "transformer", "battery", "battery and line", "vibrator", "unknown")
LAMPS_W = (25, 40, 60, 75, 100, 150, 200)


@dataclass(frozen=True, slots=True)
class LineupFacts:
    """Everything a line-up settles. Volts, amperes, watts; None where it settles nothing.

    `types` are the registered types in the order given, `roles` the part each plays.
    `supply` is one of `SUPPLIES`; `string_volts` and `string_current_a` describe the main series
    group; `mixed` the groups of another current; `drops` what is missing at each likely line
    voltage. `live_chassis` is "likely", "no" or "unknown", with sentences in `reasons`.
    `watts` is the range expected from the line, `lamp_w` the range of lamps for a first power-up
    in series. `doubts` are sentences a person should settle.
    """

    types: tuple[str, ...]
    roles: tuple[str, ...]
    supply: str
    live_chassis: str
    reasons: tuple[str, ...]
    string_volts: float | None = None
    string_current_a: float | None = None
    mixed: tuple[CurrentGroup, ...] = ()
    drops: tuple[Drop, ...] = ()
    watts: tuple[int, int] | None = None
    lamp_w: tuple[int, int] | None = None
    doubts: tuple[str, ...] = ()

    @property
    def missing_v(self) -> float | None:
        """Volts missing at the lowest likely line voltage that feeds the string; else None."""
        fed = [d.missing_v for d in self.drops if d.missing_v >= -0.1 * d.line_v]
        return fed[0] if fed else None


def analyse(types: Sequence[str], line_v: float | None = None, words: str = "") -> LineupFacts:
    """Work out what a line-up settles. Types as printed, repeats kept, chassis order if known.

    `line_v` is the line voltage if known (else 117 V for US types; 110 to 240 V for European
    strings). `words` may carry what the page says of the supply ("vibrator", "battery", "AC/DC").
    """
    names = [registered(type_) for type_ in types]
    tubes = [known(name) for name in names]
    roles = assign_roles(tubes)
    ruling = decide(tubes, words)
    doubts = [f"{n} is not in the tube table." for n, t in zip(names, tubes, strict=True) if not t]
    doubts += [
        f"{t.type} is known only by its number." for t in tubes if t is not None and t.decoded
    ]
    doubts += ruling.doubts
    string = heater_string(tubes) if ruling.supply == "series string" else None
    drops = _drops(string, tubes, line_v) if string else ()
    if string:
        doubts += _string_doubts(string, tubes, drops)
    watts = _watts(ruling.supply, tubes, string, drops)
    return LineupFacts(
        types=tuple(names),
        roles=tuple(roles),
        supply=ruling.supply,
        live_chassis=ruling.live,
        reasons=ruling.reasons,
        string_volts=string.volts if string else None,
        string_current_a=string.current_a if string else None,
        mixed=string.others if string else (),
        drops=drops,
        watts=watts,
        lamp_w=_lamp(watts),
        doubts=tuple(dict.fromkeys(doubts)),
    )


def _european(tubes: Sequence[Tube | None]) -> bool:
    lettered = sum(1 for t in tubes if t and t.type[0].isalpha())
    return lettered * 2 > len(tubes)


def _drops(
    string: HeaterString, tubes: Sequence[Tube | None], line_v: float | None
) -> tuple[Drop, ...]:
    if line_v:
        lines: tuple[float, ...] = (line_v,)
    else:
        lines = EUROPEAN_LINES_V if _european(tubes) else (US_LINE_V,)
    return tuple(drop(string.volts, string.current_a, line) for line in lines)


def _string_doubts(
    string: HeaterString, tubes: Sequence[Tube | None], drops: Sequence[Drop]
) -> list[str]:
    doubts = []
    for group in string.others:
        names = ", ".join(t.type for n in group.places if (t := tubes[n]))
        doubts.append(
            f"{names} wants {group.current_a:g} A where the string carries {string.current_a:g} A: "
            "look for a shunt, a parallel branch or a misread type."
        )
    if drops and drops[0].ohms:
        first = drops[0]
        doubts.append(
            f"The string lacks {first.missing_v:g} V at {first.line_v:g} V: look for a ballast "
            f"tube, a dropping resistor or a resistance cord of about {first.ohms:g} ohms "
            f"({first.watts:g} W of heat)."
        )
    if drops and all(d.missing_v < -0.1 * d.line_v for d in drops):
        doubts.append("The string wants more than the line gives: a type may be wrong or doubled.")
    return doubts


def _watts(
    supply: str,
    tubes: Sequence[Tube | None],
    string: HeaterString | None,
    drops: Sequence[Drop],
) -> tuple[int, int] | None:
    """Expected watts from the line: heaters, plus the B supply by the output tubes' dissipation."""
    if supply == "series string" and string:
        line_v = max(drops[0].line_v if drops else US_LINE_V, string.volts)
        heat = string.current_a * line_v
        return _spread(heat + _b_watts(tubes, 117.0 * 0.05))
    if supply == "transformer":
        if any(t is None or (t.heating != "cold" and not t.heaters) for t in tubes):
            return None
        heat = sum(t.heaters[0][0] * t.heaters[0][1] for t in tubes if t and t.heaters)
        return _spread((heat + _b_watts(tubes, 8.0)) / 0.8)  # iron and copper take a fifth
    return None


def _b_watts(tubes: Sequence[Tube | None], base_w: float) -> float:
    """B-supply watts: a base for the small tubes, and each output tube near its rated plate."""
    outputs = sum((t.rating or 6.0) for t in tubes if t and is_output(t))
    return base_w + 0.8 * outputs


def _spread(watts: float) -> tuple[int, int]:
    return max(5, 5 * round(watts * 0.85 / 5)), max(10, 5 * round(watts * 1.2 / 5))


def _lamp(watts: tuple[int, int] | None) -> tuple[int, int] | None:
    """Lamps for a first power-up in series: from a little above the set's own watts to twice."""
    if watts is None:
        return None
    middle = sum(watts) / 2
    low = next((w for w in LAMPS_W if w >= 1.2 * middle), LAMPS_W[-1])
    high = next((w for w in LAMPS_W if w >= 1.9 * middle), LAMPS_W[-1])
    return low, high


def has_rectifier(tubes: Sequence[Tube | None]) -> bool:
    """Whether any tube of the line-up makes B supply."""
    return any(t and set(t.functions) & RECTIFIERS for t in tubes)
