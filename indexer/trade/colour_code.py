"""Colour marking of resistors: the bands of IEC 60062 and the older body, tip and dot.

The digits, multipliers and tolerances are those of IEC 60062:2016, from memory. Before that
edition a grey tolerance band meant 0.05 %. The body-tip-dot order, in use until about 1940, is
common practice, no source.
"""

from dataclasses import dataclass

from indexer.trade.value_units import Value, scaled

COLOURS = (
    "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white",
)  # fmt: skip
_EXPONENT = {colour: place for place, colour in enumerate(COLOURS)} | {
    "gold": -1,
    "silver": -2,
    "pink": -3,
}
TOLERANCE_PERCENT = {
    "none": 20.0,
    "silver": 10.0,
    "gold": 5.0,
    "red": 2.0,
    "brown": 1.0,
    "green": 0.5,
    "blue": 0.25,
    "violet": 0.1,
    "orange": 0.05,
    "yellow": 0.02,
    "grey": 0.01,
}
TEMPERATURE_PPM_PER_K = {
    "black": 250,
    "brown": 100,
    "red": 50,
    "yellow": 25,
    "green": 20,
    "orange": 15,
    "blue": 10,
    "violet": 5,
    "grey": 1,
}
_OTHER_NAMES = {"gray": "grey", "purple": "violet", "no colour": "none", "no color": "none"}


@dataclass(frozen=True, slots=True)
class Bands:
    """What a row of bands says. `temperature_ppm_per_k` only where a sixth band gives it."""

    value: Value
    temperature_ppm_per_k: int | None = None


def _colour(name: str) -> str:
    low = " ".join(name.lower().split())
    low = _OTHER_NAMES.get(low, low)
    if low not in _EXPONENT and low != "none":
        raise ValueError(f"no colour of the code: {name}")
    return low


def _digit(colour: str) -> int:
    place = _EXPONENT.get(colour, -1)
    if place < 0:
        raise ValueError(f"{colour} stands for no digit")
    return place


def _tolerance(colour: str) -> float:
    if colour not in TOLERANCE_PERCENT:
        raise ValueError(f"{colour} stands for no tolerance")
    return TOLERANCE_PERCENT[colour]


def _ohms(digits: list[str], multiplier: str) -> float:
    if multiplier == "none":
        raise ValueError("the multiplier has no colour")
    figures = 0
    for colour in digits:
        figures = figures * 10 + _digit(colour)
    return scaled(float(figures), float(f"1e{_EXPONENT[multiplier]}"))


def read_bands(colours: list[str] | tuple[str, ...]) -> Bands:
    """Ohms and tolerance of three to six bands, read from the end that they stand nearest to.

    Three bands are two digits and the multiplier at 20 %; a fourth is the tolerance; five have
    three digits; a sixth is the temperature coefficient. Raises ValueError for a colour that
    can't stand in its place, which often means that the row was read from the wrong end.
    """
    names = [_colour(name) for name in colours]
    if not 3 <= len(names) <= 6:
        raise ValueError("a resistor has three to six bands")
    digits = 2 if len(names) <= 4 else 3
    ohms = _ohms(names[:digits], names[digits])
    percent = _tolerance(names[digits + 1]) if len(names) > digits + 1 else 20.0
    temperature = None
    if len(names) == 6:
        if names[5] not in TEMPERATURE_PPM_PER_K:
            raise ValueError(f"{names[5]} stands for no temperature coefficient")
        temperature = TEMPERATURE_PPM_PER_K[names[5]]
    return Bands(Value("ohms", ohms, percent), temperature)


def read_body_tip_dot(body: str, tip: str, dot: str, end: str = "none") -> Bands:
    """Ohms of an older resistor: body first digit, tip second digit, dot multiplier.

    A tip or dot that can't be seen has the colour of the body: pass that. `end` is the colour
    of the other end where it is gold or silver (tolerance).
    """
    ohms = _ohms([_colour(body), _colour(tip)], _colour(dot))
    return Bands(Value("ohms", ohms, _tolerance(_colour(end))))


def bands_for(ohms: float, tolerance_percent: float = 20.0, digits: int = 2) -> tuple[str, ...]:
    """The colours for a resistance, in order; the last is the tolerance ("none" for 20 %).

    Raises ValueError when the value needs more digits than asked for, is out of the code's
    reach, or the tolerance has no colour.
    """
    marks = [c for c, percent in TOLERANCE_PERCENT.items() if percent == tolerance_percent]
    if not marks or digits not in (2, 3) or not ohms > 0:
        raise ValueError("no bands for that resistance and tolerance")
    figures, exponent = f"{ohms:.{digits - 1}e}".split("e")
    if abs(float(f"{ohms:.{digits - 1}e}") / ohms - 1) > 1e-9:
        raise ValueError(f"{ohms:g} ohms needs more than {digits} digits")
    place = int(exponent) - (digits - 1)
    multiplier = [colour for colour, power in _EXPONENT.items() if power == place]
    if not multiplier:
        raise ValueError("out of the reach of the colour code")
    return (*(COLOURS[int(f)] for f in figures.replace(".", "")), multiplier[0], marks[0])
