"""What to know before power goes on. Common practice, no source; local codes come first."""

import re
from collections.abc import Sequence

from indexer.bench.sheet_types import AlignmentTable, PowerUpSheet
from indexer.cataloguing.particulars import on_the_line, supply_in
from indexer.model import Entry
from indexer.trade.cautions import applying
from indexer.trade.lineup import LineupFacts, analyse
from indexer.trade.tubes import known

_CHECKS = (
    "Plug out. Discharge each filter capacitor through a resistor, then measure that it is gone.",
    "Look over the line cord, the plug, the fuse and every rubber-covered wire.",
    "Replace or test the filter and paper capacitors, and those on the power line, before power.",
    "Measure B+ to common negative with an ohmmeter: a low, steady reading is a short to find.",
    "Measure heaters for continuity and the output transformer's primary for an open winding.",
    "Tubes in their right sockets, speaker connected, volume low.",
    "Series lamp and fuse in the feed, then power; watch for smoke, smell, hum or a bright lamp.",
    "Measure B+ within the first minute; no plate of a tube may glow red.",
    "Compare the voltages with the chart before the lamp is taken out of the feed.",
)
_BATTERY_CHECKS = (
    "Batteries off. Discharge each filter capacitor through a resistor, then measure that it is "
    "gone.",
    "Look over the battery cable and plug, and find out by the wiring which lead is A, B and C.",
    "Replace or test the filter and paper capacitors before power.",
    "Measure B+ to common negative with an ohmmeter: a low, steady reading is a short to find.",
    "Tubes out: with B connected, no volts may stand between the filament pins of any socket.",
    "Measure the A supply before it is connected: too high a voltage burns the filaments at once.",
    "B off, tubes in their right sockets, speaker connected, volume low; then A, C if any, B last.",
    "B through a resistor of some thousand ohms first; watch for smoke, smell or falling volts.",
    "Compare the voltages with the chart.",
)
_VIBRATOR_CHECKS = (
    "Lead off the battery. Discharge each filter capacitor through a resistor, then measure that "
    "it is gone.",
    "Look over the battery lead, its polarity, the fuse and its holder, and every rubber-covered "
    "wire.",
    "Replace or test the filter and paper capacitors, and the buffer capacitor across the "
    "transformer in every case: a leaky one burns the vibrator or the transformer.",
    "Measure B+ to common negative with an ohmmeter: a low, steady reading is a short to find.",
    "Measure heaters for continuity and the output transformer's primary for an open winding.",
    "Tubes in their right sockets, speaker connected, volume low, the vibrator out: heaters alone.",
    "Then the vibrator in, from a supply that limits the current, through the set's own fuse; "
    "watch for smoke, smell, hum or a current above the printed one.",
    "Measure B+ within the first minute; no plate of a tube may glow red.",
    "Compare the voltages with the chart.",
)
_BY_SUPPLY = {"battery": _BATTERY_CHECKS, "vibrator": _VIBRATOR_CHECKS}
_ON_LINE = frozenset({"series string", "battery and line"})
_NO_LINE = frozenset({"battery", "vibrator"})
_AUTO = re.compile(r"\bAUTO\W?TRANSFORMER|\bSPAR\W?TRAF|\bSPAR\W?TRANSF", re.I)
_NO_LAMP = (
    "A lamp in the power line is not for this set: it is fed from a battery. Use a fuse and a "
    "supply that limits the current.",
)
_SHUNTS = (
    "Filaments in series have shunt resistors for the other tubes' plate current: measure these "
    "first, an open one burns a filament out."
)
_DROPPED = (
    "On the line the filaments in series are fed through a dropping resistor and a filter: pull or "
    "push no tube with power on, discharge the filters before a tube goes back in, and measure the "
    "shunts and the dropper first, or a row of filaments burns out at once."
)
_LAMP = (
    "Bright at first and then dim within some seconds: normal, heaters and filters take current.",
    "Stays bright: a short or heavy load. Switch off and find it.",
    "Stays dark: an open cord, switch, fuse or heater string.",
)


def power_up_sheet(
    tubes: Sequence[str],
    entry: Entry | None,
    words: str = "",
    alignment: Sequence[AlignmentTable] = (),
) -> PowerUpSheet:
    """The sheet for a set of these tubes; `words` is the text of its pages.

    `alignment` holds its alignment steps as read, a table for each page that prints some.
    """
    facts = line_up_facts(entry, tubes)
    live = live_chassis(entry, tubes, words)
    supply = entry.supply if entry else facts.supply
    year = entry.year if entry else None
    isolation = "Not from the power line: no isolation transformer is called for."
    if live != "no" or supply in (*_ON_LINE, "unknown"):
        isolation = "Work from an isolation transformer; a lamp in series does not isolate."
    elif supply == "transformer":
        isolation = "The set's transformer parts the chassis from the line if it is sound; test "
        isolation += "its insulation before the chassis is touched."
    lamp = ""
    if supply not in _NO_LINE:
        lamp = f"{facts.lamp_w[0]} to {facts.lamp_w[1]} W" if facts.lamp_w else "about 60 W"
    return PowerUpSheet(
        live_chassis=live,
        live_reasons=_reasons(live, facts, supply, words),
        isolation=isolation,
        supply=supply,
        string=_string(facts) if supply == "series string" else "",
        string_notes=(*_filaments(supply, facts), *facts.doubts),
        lamp=lamp,
        lamp_behaviour=_LAMP if lamp else _NO_LAMP,
        supply_note=supply_note(supply, facts),
        checks=_BY_SUPPLY.get(supply, _CHECKS),
        cautions=applying(live, "unknown" if live == "unknown" else supply, tubes, words, year),
        if_khz=entry.if_khz if entry else None,
        alignment=tuple(alignment),
    )


def line_up_facts(entry: Entry | None, tubes: Sequence[str]) -> LineupFacts:
    """What the line-up tells, in the light of the supply that the pages name: the rectifier of a
    car set looks like that of a transformer set."""
    return analyse(tubes, words="vibrator" if entry and entry.supply == "vibrator" else "")


def supply_note(supply: str, facts: LineupFacts) -> str:
    """Where the supply is known from, where the line-up alone would say another; else ""."""
    if supply == facts.supply or supply == "unknown":
        return ""
    alone = f"; the tubes alone look like {facts.supply}" if facts.supply != "unknown" else ""
    return f"By the words of the pages{alone}: make sure on the set itself."


def live_chassis(entry: Entry | None, tubes: Sequence[str], words: str = "") -> str:
    """Whether one side of the line is on the chassis: "likely", "no" or "unknown".

    What the pages say in words can take a "no" back, never give one: a line-up with one tube
    misread may look as if it had a transformer. A set for battery and line has none as a rule.
    """
    live = entry.live_chassis if entry else analyse(tubes).live_chassis
    if live == "unknown" and entry is not None and entry.supply in _ON_LINE:
        return "likely"
    told = {supply_in(words)}
    for doubt in entry.doubts if entry else ():
        told |= {supply for supply in _ON_LINE if f"the words say {supply}" in doubt}
    said = on_the_line(words)
    if live == "unknown" and said == "likely":
        return "likely"
    back = told & _ON_LINE or said or _AUTO.search(words)
    return "unknown" if live == "no" and back else live


def _reasons(live: str, facts: LineupFacts, supply: str, words: str) -> tuple[str, ...]:
    if live == facts.live_chassis:
        if live == "no" and supply != facts.supply and supply in _NO_LINE:
            return (f"Supply: {supply}, by the words of the pages.",)
        return facts.reasons
    if live == "unknown" and _AUTO.search(words):
        return ("The pages name an auto-transformer: it does not part the chassis from the line.",)
    if live == "unknown":
        return ("The pages speak of AC and DC, the line-up of another supply: one may be misread.",)
    if live == "likely" and supply not in _ON_LINE and on_the_line(words) == "likely":
        return ("The pages say that one side of the line is on the chassis.",)
    if live == "likely" and supply in _ON_LINE:
        return (f"Supply: {supply}, by the words of the pages; such sets have no transformer.",)
    return ()


def _filaments(supply: str, facts: LineupFacts) -> tuple[str, ...]:
    if supply == "battery and line":
        return (_DROPPED,)
    if supply != "battery":
        return ()
    tubes_lit = [tube for kind in facts.types if (tube := known(kind)) and tube.heater_v]
    volts = sorted({tube.heater_v for tube in tubes_lit if tube.heater_v})
    if not volts:
        return ()
    shown = " and ".join(f"{v:g} V" for v in volts)
    said = f"Filaments: {shown}. See on the pages how they are connected before A is chosen."
    return (said, _SHUNTS) if len(tubes_lit) > 1 else (said,)


def _string(facts: LineupFacts) -> str:
    if facts.string_volts is None:
        return ""
    terms = []
    for kind in facts.types:
        tube = known(kind)
        terms.append(f"{kind} {tube.heater_v:g}" if tube and tube.heater_v else f"{kind} ?")
    current = f" at {facts.string_current_a:g} A" if facts.string_current_a else ""
    return f"{' + '.join(terms)} = {facts.string_volts:.1f} V{current}"
