"""Which value sold today stands in for a printed one, and where no rule of thumb may be used.

Common practice, no source, but for two standards, both from memory: IEC 60063 for the values
sold, IEC 60384-14 for the X and Y classes of capacitors connected to the power line.
"""

import math
import re
from dataclasses import dataclass, replace

from indexer.trade.late_patterns import late
from indexer.trade.preferred import is_preferred, neighbours, preferred
from indexer.trade.value_forms import plain, today_form, watts_form
from indexer.trade.value_units import Value

LEAST_ELECTROLYTIC = 0.87  # of the printed value: 25 may become 22, 8 may not become 6.8
LEAST_FILTER, LEAST_FIFTY = 0.97, 0.93  # a filter goes up, but 47 is what 50 is sold as today
MOST_FIRST_FILTER = 1.5  # of the printed value, after a tube rectifier

# Direct working volts that parts are commonly sold for.
_ELECTROLYTIC_V = (16, 25, 35, 50, 63, 100, 160, 200, 250, 350, 400, 450, 500)
_FILM_V = (63, 100, 250, 400, 630, 1000, 1250, 1600, 2000)
_MICA_V = (100, 300, 500, 1000)

_SAFETY = late(
    r"across (?:the )?(?:a\.?c\.? |power |mains )?line|line[ -](?:to|filter|bypass|by-pass)|mains|"
    r"safety|power line|a\.?c\.? line|(?:b-|b minus) to chassis|to (?:the )?chassis isolat",
    re.IGNORECASE,
)
_TO_CHASSIS = late(r"chassis|ground|earth|aerial|antenna", re.IGNORECASE)
_TUNED = late(
    r"mica|tuned|padd(?:er|ing)|trimmer|oscillator|tank|\bi\.?f\.?\b|\br\.?f\.?\b|tracking", re.I
)
_FIRST_FILTER = late(r"first filter|input filter|reservoir", re.IGNORECASE)
_CORD = late(r"line cord|resistance cord|ballast|curtain", re.IGNORECASE)
_CONTROL = late(
    r"control(?! grid)|potentiom|\bpot\b|\bpotm|rheostat|\bvol(?:ume)?\b|\bgain\b|\bfader|"
    r"\bsensitivity\b|"
    r"\btone\b(?! (?:corr|comp|filt|by|cond|cap))|lautst|\bklang|\br[ée]gler|\bhum (?:adj|bal)",
    re.I,
)
_NO_CONTROL = late(r"\b(?:series|stopper|leak|load|feed|bias|limit\w*|across|fixed)\b", re.I)
_WIRE = late(r"wire.?w|\bw\.?w\b|vitreous|cement|candohm|enamel|dropp|\bmains resist", re.I)
_PASSES = late(r"by.?pass|decoup|cathode|screen|paper|\ba\.?[vg]\.?c\b", re.I)
_STORES = late(r"filter|smooth|reserv|\bb ?\+|\bh\.?t\.?\b|\bsieb|\blade", re.I)
_FILTER_V = 100.0  # electrolytics of that voltage and more stand in the B supply
_PAPER_FROM_F = 0.9e-8
_WARM_W, _HOT_W = 2.5, 4.9  # watts printed: from the first oxide or wire, from the second wire
_MOST_Y_F = 4.75e-8  # larger class Y parts are hardly sold; from memory
_BUFFER = late(r"\bbuffer|across (?:the )?(?:vibrator|secondary)|vibrator transformer", re.I)
_BUFFER_FROM_V, _BUFFER_MOST_F = 1200, 5e-8
_CONTROL_STEPS, _CONTROL_SLACK = (1.0, 2.0, 2.5, 5.0), 0.12  # 10 % and more is usual in controls
_HOT = late(r"dropping|dropper|cathode|bleeder|filter|surge|filament|heater", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Replacement:
    """Values sold today, best first; the least working voltage; the kind of part; and why.

    `values` is empty where no rule of thumb may be used: then `note` says what to do instead.
    `working_v_at_least` is None where the printed value gives no voltage. `by_class` holds the
    nearest value of a safety-rated part, in place of `values`.
    """

    values: tuple[Value, ...]
    working_v_at_least: float | None
    type: str
    note: str
    by_class: tuple[Value, ...] = ()


def _sold(value: Value, number: float, ratings: tuple[int, ...] = ()) -> Value:
    """The printed part with another number, at the next voltage that such parts are sold for."""
    volts = value.working_v
    if volts is not None:
        volts = float(next((rating for rating in ratings if rating >= volts), volts))
    return Value(value.kind, number, working_v=volts, watts=value.watts)


def _volts(value: Value) -> str:
    if value.working_v is None:
        return "No working voltage was read: see the page, else take it from the circuit. "
    return f"At least {plain(value.working_v)} V; more does no harm. "


def _safety(value: Value, part: str) -> Replacement:
    across = "across" in part.lower()
    to_chassis = bool(_TO_CHASSIS().search(part)) and not across
    kind = "Y1 or Y2 class" if to_chassis else "X1 or X2 class"
    if not across and not to_chassis:
        kind = "X1 or X2 class across the line, Y1 or Y2 class from line to chassis"
    note = (
        "Connected to the power line: not by rule of thumb. Use a capacitor marked with its class "
        "under IEC 60384-14 and rated for your line voltage: X across the line, Y from line to "
        "chassis or to anything that can be touched. An ordinary film or paper part must not stand "
        f"here. Don't go above the printed {today_form(replace(value, working_v=None))}"
    )
    note += ": a larger one passes more current to the chassis. " if to_chassis else ". "
    sold = neighbours(value.number * (1 if to_chassis else 1.001), "E6")[0]
    by_class: tuple[Value, ...] = (Value("farads", sold),)
    if to_chassis and sold > _MOST_Y_F:
        by_class = ()
        note += "Class Y is hardly sold so large: settle this one by the circuit and the code. "
    note += "Follow your local code."
    return Replacement((), None, kind + " (IEC 60384-14)", note, by_class)


def _tuned(value: Value) -> Replacement:
    note = (
        "In a tuned circuit: not by rule of thumb. Leave it unless it measures bad. Then fit the "
        "printed value at the printed tolerance or closer, and realign."
    )
    return Replacement((), value.working_v, "silver mica, or ceramic C0G", note)


def _electrolytic(value: Value, first: bool, filters: bool) -> Replacement:
    sold = _electrolytics_sold(value.number, filters or first)
    note = _volts(value) + "Never much smaller than printed. "
    if first:
        most = today_form(Value("farads", float(f"{value.number * MOST_FIRST_FILTER:.3g}")))
        note += (
            f"First filter after a tube rectifier: not much larger either (about {most} at most), "
            "or the charging current wears the rectifier. "
        )
    else:
        note += "The first filter after a tube rectifier should not be much larger either. "
    return Replacement(
        tuple(_sold(value, number, _ELECTROLYTIC_V) for number in sold),
        value.working_v,
        "electrolytic",
        note + "Mind the +.",
    )


def _electrolytics_sold(number: float, filters: bool) -> tuple[float, ...]:
    """Members of E6, best first: a filter's goes up where the one below is smaller by more than a
    hair, others take the nearest; where that is the one below, the next is named too."""
    below, above = neighbours(number, "E6")
    fifty = f"{number:e}".startswith("5.0") and below >= LEAST_FIFTY * number
    if below >= LEAST_FILTER * number or fifty:
        return (below,)
    if filters or below < LEAST_ELECTROLYTIC * number or above - number <= number - below:
        return (above,)
    return below, above


def _film(value: Value) -> Replacement:
    values = [preferred(value.number, "E6")]
    finer = preferred(value.number, "E12")
    if abs(finer - value.number) < abs(values[0] - value.number):
        values.append(finer)
    note = _volts(value) + "Paper capacitors leak with age: replace rather than test in circuit. "
    note += "If it joins the power line, its class matters more than its value."
    sold = tuple(_sold(value, number, _FILM_V) for number in values)
    return Replacement(sold, value.working_v, "film (polyester or polypropylene)", note)


def _buffer(value: Value) -> Replacement:
    """Its value tunes the vibrator's transformer: the printed one, not the nearest of a series."""
    note = (
        "Buffer: it sets how long the vibrator's contacts last, so keep to the printed value "
        "within 10 %, made up of two in parallel if need be, and never at less than the printed "
        "voltage. "
    )
    nearest = preferred(value.number, "E24")
    values = (_sold(value, nearest, _FILM_V),)
    return Replacement(values, value.working_v, "polypropylene for pulses", note + _volts(value))


def _control(value: Value) -> Replacement:
    """Controls are sold in steps of 1, 2, 2.5 and 5; between two steps both are named."""
    decade = 10.0 ** math.floor(math.log10(value.number) + 1e-9)
    steps = [step * decade * up for step in _CONTROL_STEPS for up in (0.1, 1.0, 10.0)]
    above = min(step for step in steps if step >= value.number * (1 - _CONTROL_SLACK))
    below = max(step for step in steps if step <= value.number * (1 + _CONTROL_SLACK))
    note = (
        "The taper matters as much as the value: measure the old one at half turn, or see what it "
        "controls. Mind the switch, the tap and the length of the shaft."
    )
    sold = tuple(_sold(value, float(f"{n:.3g}")) for n in dict.fromkeys((above, below)))
    return Replacement(sold, None, "control of the same taper", note)


def _small(value: Value) -> Replacement:
    values = (_sold(value, preferred(value.number, "E24"), _MICA_V),)
    note = _volts(value) + "If it stands in a tuned circuit keep the printed value exactly."
    return Replacement(values, value.working_v, "silver mica, or ceramic C0G", note)


def _resistor(value: Value, part: str) -> Replacement:
    if _CORD().search(part):
        note = (
            "A resistance cord or ballast drops the line for the heaters and runs hot by design. "
            "Not by rule of thumb: work out volts, current and watts of the string first."
        )
        return Replacement((), None, "to be worked out", note)
    if _CONTROL().search(part) and not _NO_CONTROL().search(part):
        return _control(value)
    values = [preferred(value.number, "E24")]
    coarse = preferred(value.number, "E12")
    if not is_preferred(value.number, "E24") and coarse != values[0]:
        values.append(coarse)
    kind = "carbon or metal film"
    if value.watts is None:
        note = "No wattage was read: see the page, else 1/2 W or more, or from its voltage. "
    else:
        note = f"At least {watts_form(value.watts)}. "
    if (value.watts or 0) > _HOT_W or _WIRE().search(part):
        kind = "wirewound, stood off from what it could scorch"
    elif (value.watts or 0) > _WARM_W:
        kind = "metal oxide or wirewound"
    elif _HOT().search(part):
        kind = "metal oxide or wirewound where it runs warm, else metal film"
    if _HOT().search(part):
        note += "Keep to the nearest value: it sets the working point of the stage. "
    note += "Mind the voltage rating of small film resistors above 250 V."
    return Replacement(tuple(_sold(value, number) for number in values), None, kind, note)


def replace_with(value: Value, part: str = "") -> Replacement:
    """What to fit today for a printed value.

    `part` says in the trade's words what and where it is: "paper", "electrolytic", "mica",
    "first filter", "across the line", "line to chassis", "cathode resistor", "oscillator".
    Without a word, 1 µF and more is taken for an electrolytic, 1 nF and more for paper, less
    for mica or ceramic. Raises ValueError for a value that isn't above zero.
    """
    if not value.number > 0:
        raise ValueError("the printed value must be above zero")
    if value.kind == "ohms":
        return _resistor(value, part)
    if value.kind != "farads":
        note = "No value to replace: this is not a resistor or a capacitor."
        return Replacement((), None, "", note)
    words = part.lower()
    if _SAFETY().search(part):
        return _safety(value, part)
    tuned = value.number < _PAPER_FROM_F or not _PASSES().search(part)
    if _TUNED().search(part) and tuned:
        return _tuned(value)
    high = (value.working_v or 0) >= _BUFFER_FROM_V and 1e-9 <= value.number <= _BUFFER_MOST_F
    if high or _BUFFER().search(part):  # few other parts of a radio stand such volts
        return _buffer(value)
    first = bool(_FIRST_FILTER().search(part))
    if first or "electrolytic" in words or ("paper" not in words and value.number >= 1e-6):
        filters = bool(_STORES().search(part)) or (value.working_v or 0) >= _FILTER_V
        return _electrolytic(value, first, filters)
    if "paper" in words or value.number >= 1e-9 * (1 - 1e-9):
        return _film(value)
    return _small(value)
