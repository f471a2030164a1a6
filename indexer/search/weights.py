"""Every weight of the ranking in one place.

Set by hand on the look half of `tests/accuracy/finding.py`, and checked on the report half.
"""

GRADES = (
    "exact",
    "same chassis",
    "variant",
    "in range",
    "likely misread",
    "same series",
    "shared tubes",
    "text only",
)
# Lowest and highest score of each grade. They don't overlap: what else agrees moves a match
# within its grade only, so an exact hit is never buried.
BAND = {
    "exact": (0.95, 1.0),
    "same chassis": (0.85, 0.94),
    "variant": (0.75, 0.84),
    "in range": (0.65, 0.74),
    "likely misread": (0.50, 0.64),
    "same series": (0.36, 0.49),  # up to PRINTED
    "shared tubes": (0.10, 0.35),
    "text only": (0.0, 0.09),
}
PRINTED = 0.494  # from here to the next band: a page prints the number, though its entry lacks it
LITERAL = 0.641  # from here to the next band: a page prints the number and every asked word
WORDS = 0.25  # how much of a band is left to whether its pages hold the asked words
# What moves a match within its band. Each part counts from 0 to 1, half when nothing is known.
CLOSENESS = 0.45  # how close the codes are
MAKER = 0.20
TUBES = 0.20
MORE_CODES = 0.10  # a second asked number that agrees as well
YEAR = 0.05

# Closeness of a code within its grade.
CLOSE = {"exact": 1.0, "same chassis": 1.0, "variant": 1.0, "in range": 1.0}
CLOSE_RUBBED = 0.75  # every legible character agrees
CLOSE_PART = 0.55  # the asked code is the beginning or the end of the printed one
CLOSE_SLIP = 0.40  # one character more, less or other
CLOSE_OTHER_MAKER = 0.10  # the number agrees, the maker does not
CLOSE_MEANT = 0.55  # closeness from which a set may well be the one meant
CLOSE_FOLDED = 0.85  # no more than a sign's look-alike apart
FEW_FIGURES = 2  # a number of no more tells no series, and is part of most others
YEARS_APART = 10  # years beyond which two years don't agree at all

# How many candidates of the weaker kinds are looked at.
MAX_SPELLINGS = 900
MAX_CODE_CHARS = 16  # longer ones are taken as they stand
MAX_SERIES = 40  # on each side of the asked number
MAX_PARTS = 60
MAX_ANCHORS = 12  # matches whose chassis and series are followed
MAX_TEXT = 60
MIN_PART_CHARS = 2
MIN_SLIP_CHARS = 4  # in a shorter number, one character more or less makes another set
NEAREST_KIN = 0.30  # nearness under which a set is no relative worth showing in `find`

# Fields of the index of entries, for BM25F.
FIELD_WEIGHTS = {"models": 4.0, "chassis": 3.0, "maker": 2.0, "tubes": 1.0, "words": 0.5}

# Kin: what exchanging one tube for another costs, 0 to 1, by how the two are related.
EXCHANGE_COST = {
    "same": 0.0,
    "same, other envelope": 0.0,
    "direct substitute": 0.10,
    "other heater": 0.30,
    "other socket": 0.45,
    "same role": 0.65,
    "none": 1.0,
}
COST_BY_HEATER = 0.80  # a type known only by its number, against one with that heater and base
# How much a tube's class shapes the circuit; 1.0 where none is named.
CLASS_WEIGHT = {
    "converter": 1.2,
    "output": 1.2,
    "triode and output": 1.2,
    "twin output": 1.2,
    "output and rectifier": 1.3,
    "rectifier": 1.1,
    "eye": 0.6,
    "ballast": 0.5,
    "gas regulator": 0.5,
}
UNPAIRED = 0.9  # cost of a tube with no counterpart, before its weight
UNPAIRED_PARTIAL = 0.2  # the same for the other set's tubes when not all tubes were read
