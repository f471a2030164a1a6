"""Invented sets: maker, codes and a line-up of tubes that belong together."""

import random
from dataclasses import dataclass

MAKERS = {
    "look": ("Tillbrook", "Quarrydale", "Oxbarrow", "Vantrice", "Larkmoor"),
    "report": ("Ansterlow", "Dunmarrow", "Quellgate", "Marrowby", "Tarnholt"),
}


@dataclass(frozen=True)
class Family:
    """Line-ups that share a drawing: types for each place, and how the set is fed.

    `drawn` are the types whose symbols are drawn, for the drawing's own table.
    """

    drawn: tuple[str, ...]
    places: tuple[tuple[str, ...], ...]
    supply: str
    octal: bool = False


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
EXTRAS = ("6SN7", "12AX7", "6AL5", "6U5", "12AU7", "6H6", "6C4", "6J5", "6E5", "6SC7", "0Z4")
CODE_SHAPES = ("{n}-{m}", "{d}{A}{t}", "{A}-{h}", "{t}{A}", "{A}{A}-{t}", "{A}{h}{A}", "{h}{A}")
CHASSIS_SHAPES = ("CH-{t}{A}", "{A}{A}-{t}", "{h}.{m}", "{A}{h}-{d}", "{d}{A}{d}{A}")
GLASS = ("", "GT", "GT", "G", "GT/G")


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
    tubes = tuple(rng.choice(place) + glass for place in family.places)
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
