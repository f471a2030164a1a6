"""What a type number says by itself: the RMA/RETMA rule and the Mullard-Philips letters.

Both rules are the industry's registration rules as commonly known (from memory). They give the
heater and a guess at the sections; never the pins.
"""

from dataclasses import dataclass

from indexer.trade.tube_names import RMA_SHAPE

RULE_SOURCE = "type-number rule"

# First number -> usual heater volts, most usual first, where the number is not the voltage itself.
_RMA_VOLTS: dict[int, tuple[float, ...]] = {
    0: (0.0,), 1: (1.4, 1.25), 2: (2.5,), 3: (2.8,), 4: (4.2, 4.5), 5: (5.0,), 6: (6.3,),
    7: (6.3,), 8: (8.4, 8.0), 9: (9.45, 9.0), 10: (10.5, 9.7), 11: (11.2, 11.6), 12: (12.6,),
    13: (13.0,), 14: (12.6,), 17: (16.8,), 19: (18.9,),
}  # fmt: skip
# The same for two letters: television types for series strings of 600 and 450 mA.
_RMA_VOLTS_TWO: dict[int, tuple[float, ...]] = {
    2: (2.3, 2.1, 2.5), 3: (3.15, 2.8, 3.5), 7: (7.0, 7.4), 14: (14.0,),
}  # fmt: skip
_RMA_PLAIN = (
    15, 16, 18, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 38, 40, 42, 45,
    48, 50, 52, 53, 55, 56, 58, 60, 70, 117,
)  # fmt: skip
RMA_NUMBERS = frozenset(_RMA_VOLTS) | frozenset(_RMA_PLAIN)

# First letter -> (volts, amperes); one of them is fixed, the other is free.
_EURO_HEATER: dict[str, tuple[float | None, float | None]] = {
    "A": (4.0, None), "B": (None, 0.18), "C": (None, 0.2), "D": (1.4, None), "E": (6.3, None),
    "G": (5.0, None), "H": (None, 0.15), "K": (2.0, None), "L": (None, 0.45),
    "O": (0.0, None), "P": (None, 0.3), "U": (None, 0.1), "V": (None, 0.05), "X": (None, 0.6),
}  # fmt: skip
_EURO_SECTION = {
    "A": ("diode",), "B": ("diode", "diode"), "C": ("triode",), "D": ("power triode",),
    "E": ("tetrode",), "F": ("sharp pentode",), "H": ("hexode",), "K": ("octode",),
    "L": ("power pentode",), "M": ("eye",), "N": ("gas triode",), "Q": ("heptode",),
    "X": ("gas rectifier",), "Y": ("half-wave rectifier",), "Z": ("full-wave rectifier",),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Decoded:
    """What the number alone tells.

    `usual_v` are the usual heater volts, most usual first: empty when the rule is silent, 0.0 for
    cold types. `heater_a` is the string current where the letters fix it, else None.
    """

    usual_v: tuple[float, ...]
    heater_a: float | None
    heating: str
    base: str
    functions: tuple[str, ...]
    rule: str  # "RMA" or "letters"


def decode_parts(base: str) -> Decoded | None:
    """Decode a type without suffix by whichever rule its shape fits; None when neither does."""
    return _decode_rma(base) or _decode_letters(base)


def _decode_rma(base: str) -> Decoded | None:
    match = RMA_SHAPE().fullmatch(base)
    if not match or not 1 <= int(match["elements"]) <= 12:
        return None
    number, letters, elements = int(match["volts"]), match["letters"], int(match["elements"])
    if number not in RMA_NUMBERS or (len(match["volts"]) > 1 and match["volts"][0] == "0"):
        return None
    if set(letters) & {"I", "O"}:  # left out of the numbering, as they look like 1 and 0
        return None
    volts = rma_volts(number, letters, elements)
    heating = "cold" if number == 0 else "direct" if number in (1, 2) else "indirect"
    return Decoded(volts, None, heating, "", _rma_functions(letters, elements), "RMA")


def rma_volts(number: int, letters: str, elements: int) -> tuple[float, ...]:
    """Usual heater volts of an RMA number, most usual first.

    Loctals carry 7 and 14 for 6.3 and 12.6 V, mostly with one letter; with two letters the number
    is near the voltage. Types of 3 V are battery types with one letter (or L and another), save
    the picture tube's rectifiers; of the 5 V types only the rectifiers really take 5 V.
    """
    if len(letters) == 2 and number in _RMA_VOLTS_TWO:
        loctal = number in (7, 14) and letters in _LOCTAL_PAIRS
        battery = number == 3 and letters[0] == "L"
        if not loctal and not battery:
            return _RMA_VOLTS_TWO[number]
    if number == 5 and elements not in (3, 4):
        return (4.7, 5.6)
    if number == 3 and elements <= 3:
        return (3.15,)
    return _RMA_VOLTS.get(number, (float(number),))


_LOCTAL_PAIRS = frozenset({"AB", "AD", "AF", "AG", "AH", "AJ", "AK", "AP", "EX", "GH", "XX"})


def _rma_functions(letters: str, elements: int) -> tuple[str, ...]:
    """Only what the letters really say: rectifiers stand at the end of the alphabet."""
    if letters[-1] in "WXYZ" and elements in (3, 4) and len(letters) == 1:
        return ("full-wave rectifier",) if elements == 4 else ("half-wave rectifier",)
    return ()


def _decode_letters(base: str) -> Decoded | None:
    head = base.rstrip("0123456789")
    digits = base[len(head) :]
    if not 2 <= len(head) <= 4 or not 1 <= len(digits) <= 4 or head[0] not in _EURO_HEATER:
        return None
    if any(letter not in _EURO_SECTION for letter in head[1:]) or digits[0] == "0":
        return None
    if list(head[1:]) != sorted(head[1:]):  # the letters stand in the order of the alphabet
        return None
    if head in _BRITISH_HEADS or (head == "HL" and int(digits) < 80):
        return None
    volts, amps = _EURO_HEATER[head[0]]
    usual: tuple[float, ...] = (volts,) if volts is not None else ()
    if head[0] == "D":
        usual = _battery_volts(int(digits), head)
    functions = tuple(part for letter in head[1:] for part in _EURO_SECTION[letter])
    heating = "cold" if head[0] == "O" else "direct" if head[0] in "DK" else "indirect"
    return Decoded(usual, amps, heating, _letters_base(digits), functions, "letters")


# British makers' own heads that look like the letter rule but follow another.
_BRITISH_HEADS = frozenset({"PEN", "PX", "PM", "PP", "FC", "HD", "DH", "DN", "HN"})


def _battery_volts(serial: int, head: str) -> tuple[float, ...]:
    """D types: 1.2 V in the accumulator series, 1.25 and 0.625 V subminiature, else 1.4 V."""
    if 11 <= serial <= 19:
        return (1.2,)
    if 20 <= serial <= 29:
        return (1.4, 1.2)
    if 60 <= serial <= 79:
        return (1.25, 1.4, 0.625)
    return (1.4, 1.25) if head == "DY" else (1.4,)


def _letters_base(digits: str) -> str:
    """The base by the serial number: 20s loctal, 30s octal, 40s rimlock, 80s noval, 90s 7-pin."""
    if len(digits) == 1:
        return "side-contact 8"
    if len(digits) == 2:
        by_ten = {
            "1": "8-pin steel", "2": "loctal", "3": "octal", "4": "rimlock", "8": "noval",
            "9": "7-pin miniature",
        }  # fmt: skip
        return by_ten.get(digits[0], "")
    return {"18": "noval", "80": "noval", "90": "7-pin miniature", "50": "magnoval"}.get(
        digits[:2], ""
    )
