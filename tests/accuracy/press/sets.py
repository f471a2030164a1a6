"""Invented sets: maker, codes and a line-up of tubes that belong together."""

import random
import re
from dataclasses import dataclass

from indexer.trade.numbering import parse_line_up

MAKERS = {
    "look": ("Tillbrook", "Quarrydale", "Oxbarrow", "Vantrice", "Larkmoor"),
    "report": ("Ansterlow", "Dunmarrow", "Quellgate", "Marrowby", "Tarnholt"),
}


@dataclass(frozen=True)
class Family:
    """Line-ups that share a drawing: types for each place, and how the set is fed.

    `drawn` are the types whose symbols are drawn, for the drawing's own table; `jobs` what each
    place does.
    """

    drawn: tuple[str, ...]
    places: tuple[tuple[str, ...], ...]
    supply: str
    octal: bool = False

    @property
    def jobs(self) -> tuple[str, ...]:
        """What the tube in each place does, as a label or chart says it."""
        first = ("R.F. amplifier",) if len(self.places) == 6 else ()
        middle = ("Converter", "I.F. amplifier", "Det. - A.V.C. - 1st audio", "Power output")
        return (*first, *middle, "Rectifier")[: len(self.places)]


# Types that served in one place of one kind of set; common practice, no source.
FAMILIES = (
    Family(("12BE6", "12BA6", "12AV6", "50C5", "35W4"),
           (("12BE6",), ("12BA6", "12BD6"), ("12AV6", "12AT6"), ("50C5", "50B5", "35C5"),
            ("35W4",)), "series string"),
    Family(("12SA7", "12SK7", "12SQ7", "50L6", "35Z5"),
           (("12SA7",), ("12SK7", "12SG7"), ("12SQ7", "12SR7"), ("50L6", "35L6"),
            ("35Z5", "35Z4")), "series string", True),
    Family(("14Q7", "14A7", "14B6", "50A5", "35Y4"),
           (("14Q7", "14J7"), ("14A7", "14H7"), ("14B6", "14R7"), ("50A5", "35A5"),
            ("35Y4", "35Z3")), "series string"),
    Family(("6BE6", "6BA6", "6AV6", "6AQ5", "6X4"),
           (("6BE6",), ("6BA6", "6BJ6", "6BD6"), ("6AV6", "6AT6"), ("6AQ5", "6AR5"), ("6X4",)),
           "transformer"),
    Family(("6SA7", "6SK7", "6SQ7", "6V6", "5Y3"),
           (("6SA7", "6SB7Y"), ("6SK7", "6SG7", "6SS7"), ("6SQ7", "6SR7"), ("6V6", "6F6", "6K6"),
            ("5Y3", "5V4")), "transformer", True),
    Family(("6A8", "6K7", "6Q7", "6F6", "5Y3"),
           (("6A8", "6D8"), ("6K7", "6U7"), ("6Q7", "6B6"), ("6F6", "6K6"), ("5Y3", "5Z4")),
           "transformer", True),
    Family(("1A7", "1N5", "1H5", "1A5"),
           (("1A7", "1B7"), ("1N5", "1P5"), ("1H5",), ("1A5", "1C5", "1Q5")), "battery", True),
    Family(("UCH42", "UF41", "UBC41", "UL41", "UY41"),
           (("UCH42", "UCH41"), ("UF41", "UAF42"), ("UBC41",), ("UL41",), ("UY41", "UY42")),
           "series string"),
    Family(("6BA6", "6BE6", "6BA6", "6AT6", "6AQ5", "6X4"),
           (("6BA6", "6AU6", "6CB6"), ("6BE6",), ("6BA6", "6BJ6"), ("6AT6", "6AV6"), ("6AQ5",),
            ("6X4",)), "transformer"),
)  # fmt: skip
EXTRA_JOBS = {
    "6SN7": "Phase inverter", "12AX7": "1st audio", "6AL5": "Ratio detector", "6U5": "Tuning eye",
    "12AU7": "Phase inverter", "6H6": "Noise limiter", "6C4": "F.M. oscillator",
    "6J5": "2nd audio", "6E5": "Tuning eye", "6SC7": "Phase inverter", "0Z4": "Rectifier",
}  # fmt: skip
EXTRAS = tuple(EXTRA_JOBS)
CODE_SHAPES = ("{n}-{m}", "{d}{A}{t}", "{A}-{h}", "{t}{A}", "{A}{A}-{t}", "{A}{h}{A}", "{h}{A}")
CHASSIS_SHAPES = ("CH-{t}{A}", "{A}{A}-{t}", "{h}.{m}", "{A}{h}-{d}", "{d}{A}{d}{A}")
GLASS = ("", "GT", "GT", "G", "GT/G")
TYPES = frozenset(EXTRAS) | {
    kind.removesuffix("Y") for one in FAMILIES for place in one.places for kind in place
}
_SYMBOL = re.compile(r"^V\d{1,2}[AB]?-")
_ENVELOPE = re.compile(r"Y?(?:GT/G|GT|G)?$")  # Y: a base of low-loss material


def type_of(word: str) -> str:
    """The tube type that a printed word names, without symbol and envelope; "" when none."""
    core = _SYMBOL.sub("", word.strip(".,;:()"))
    bare = _ENVELOPE.sub("", core)
    return core if core in TYPES else bare if bare in TYPES else ""


@dataclass(frozen=True)
class Set:
    """One invented set. `tubes` are printed as they stand, envelope and all."""

    maker: str
    models: tuple[str, ...]
    chassis: str
    tubes: tuple[str, ...]
    family: Family
    year: int
    if_khz: int


def make_set(rng: random.Random, split: str, family: Family | None = None) -> Set:
    """A set out of a split's makers."""
    family = family or rng.choice(FAMILIES)
    glass = rng.choice(GLASS) if family.octal else ""
    types = [rng.choice(place) for place in family.places]
    tubes = tuple(one if one.endswith("Y") else one + glass for one in types)
    shape, chassis = rng.choice(CODE_SHAPES), rng.choice(CHASSIS_SHAPES)
    models = {_code(rng, shape) for _ in range(rng.choice((1, 1, 2, 3)))}
    return Set(
        rng.choice(MAKERS[split]),
        tuple(sorted(models)),
        _code(rng, chassis),
        tubes,
        family,
        rng.randrange(1934, 1962),
        rng.choice((455, 455, 456, 460, 465, 262, 175)),
    )


def _code(rng: random.Random, shape: str) -> str:
    """A code of a shape; one that is a tube type too is drawn again: nobody could tell."""
    while True:
        code = _drawn(rng, shape)
        if not parse_line_up(code, bare_numbers=False):
            return code


def _drawn(rng: random.Random, shape: str) -> str:
    def letter() -> str:
        return rng.choice("ABCDEFHKLMNPSTVWX")  # R left out: it would read as a resistor

    code = ""
    for part in shape.replace("{", "|{").replace("}", "}|").split("|"):
        code += {
            "{A}": letter, "{d}": lambda: str(rng.randrange(4, 10)),
            "{t}": lambda: str(rng.randrange(11, 99)), "{h}": lambda: str(rng.randrange(101, 990)),
            "{n}": lambda: str(rng.randrange(36, 58)), "{m}": lambda: str(rng.randrange(110, 990)),
        }.get(part, lambda part=part: part)()  # fmt: skip
    return code
