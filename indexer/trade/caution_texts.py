"""The words of the cautions, most pressing first. Common practice, no source.

They are reminders, not instruction: local codes and licensed practice come first.
"""

from dataclasses import dataclass

DEFER = "Local codes and licensed practice come first."


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
        "resistor, then measure that it is gone, before a hand goes in. A bleeder may have gone "
        "open: measure all the same. " + DEFER,
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
        "Resistance cord, dropper or ballast",
        "The cord, dropper or ballast is part of the heater circuit and runs hot by design. A "
        "dropper's taps are at line voltage. Never shorten a cord, bundle it, or swap it for a "
        "plain cord: the heaters would burn out. Its covering may "
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
        "battery feed",
        "Set fed from a battery by a vibrator",
        "The vibrator's transformer makes hundreds of volts out of 6 or 12, and more at the "
        "buffer. A storage battery drives enough current through a short to melt a ring or a "
        "wire: take rings off, keep the set's fuse in, charge no battery beside a flame. " + DEFER,
        "a vibrator supply",
    ),
    Caution(
        "oil-filled",
        "Oil-filled capacitors",
        "Oil in capacitors and chokes of the period may hold PCBs. Don't open, drill or heat one; "
        "keep a leaking one off the skin, bag it, and hand it in under the local rules for such "
        "waste. " + DEFER,
        "oil-filled parts are named, or a transmitting tube is in the line-up",
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
