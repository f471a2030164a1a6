"""What to know before power goes on. Common practice, no source; local codes come first."""

from collections.abc import Sequence

from indexer.bench.sheet_types import AlignmentTable, PowerUpSheet
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
    facts = analyse(tubes)
    live = entry.live_chassis if entry else facts.live_chassis
    supply = entry.supply if entry else facts.supply
    year = entry.year if entry else None
    isolation = "Not from the power line: no isolation transformer is called for."
    if supply in ("series string", "battery and line", "unknown"):
        isolation = "Work from an isolation transformer; a lamp in series does not isolate."
    elif supply == "transformer":
        isolation = "The set's transformer parts the chassis from the line if it is sound; test "
        isolation += "its insulation before the chassis is touched."
    lamp = f"{facts.lamp_w[0]} to {facts.lamp_w[1]} W" if facts.lamp_w else ""
    if not lamp and supply not in ("battery", "vibrator"):
        lamp = "about 60 W"
    return PowerUpSheet(
        live_chassis=live,
        live_reasons=facts.reasons,
        isolation=isolation,
        supply=supply,
        string=_string(facts) if supply == "series string" else "",
        string_notes=facts.doubts,
        lamp=lamp,
        lamp_behaviour=_LAMP if lamp else (),
        checks=_CHECKS,
        cautions=applying(live, supply, tubes, words, year),
        if_khz=entry.if_khz if entry else None,
        alignment=tuple(alignment),
    )


def _string(facts: LineupFacts) -> str:
    if facts.string_volts is None:
        return ""
    terms = []
    for kind in facts.types:
        tube = known(kind)
        terms.append(f"{kind} {tube.heater_v:g}" if tube and tube.heater_v else f"{kind} ?")
    current = f" at {facts.string_current_a:g} A" if facts.string_current_a else ""
    return f"{' + '.join(terms)} = {facts.string_volts:.1f} V{current}"
