"""Parts lists as several houses printed them."""

import random
from collections.abc import Callable

from tests.accuracy.bench_sheets.sheet import BOTTOM, LEFT, RIGHT, Fact, Sheet, set_table, title

_PAPER = (".001", ".002", ".005", ".01", ".02", ".03", ".05", ".1", ".25")
_MICA = ("10", "47", "50", "100", "220", "250", "330", "500")
_OHMS = ("47", "100", "150", "220", "330", "470", "1000", "2200", "22,000", "47,000")
_KILO = ("4.7K", "10K", "22K", "47K", "100K", "220K", "270K", "470K")
_MEGS = ("1", "2.2", "3.3", "4.7", "10", "15")
_CANS = (("20", "20"), ("50", "30"), ("40", "20"), ("80", "40", "20"), ("30", "15", "10"))
_OTHERS = (
    ("L", "Coil, oscillator"), ("T", "Transformer, output"), ("L", "Choke, filter"),
    ("T", "Transformer, 1st I-F"), ("LS", "Speaker, P.M. 5 in."), ("L", "Loop antenna"),
)  # fmt: skip

Part = tuple[str, str, str, str, list[Fact]]
"""Reference, value, rating, kind, and the facts that the line states."""


def _number(text: str) -> float:
    scale = 1e3 if text.endswith("K") else 1.0
    return float(text.rstrip("K").replace(",", "")) * scale


def _capacitor(rng: random.Random, ref: str, micro: str, pico: str) -> Part:
    if rng.random() < 0.6:
        value = rng.choice(_PAPER)
        volts = rng.choice(("200", "400", "600"))
        facts: list[Fact] = [(ref, float(value) * 1e-6)]
        return ref, f"{value} {micro}", f"{volts} V", rng.choice(("paper", "tubular")), facts
    value = rng.choice(_MICA)
    facts = [(ref, float(value) * 1e-12)]
    return ref, f"{value} {pico}", "500 V", rng.choice(("mica", "ceramic")), facts


def _resistor(rng: random.Random, ref: str) -> Part:
    shape = rng.randrange(3)
    watts = rng.choice(("1/2 W", "1/4 W", "1 W"))
    if shape == 0:
        text = rng.choice(_OHMS)
        return ref, f"{text} ohms", watts, "carbon", [(ref, _number(text))]
    if shape == 1:
        text = rng.choice(_KILO)
        return ref, text, watts, "carbon", [(ref, _number(text))]
    text = rng.choice(_MEGS)
    return ref, f"{text} meg", watts, "carbon", [(ref, float(text) * 1e6)]


def _can(rng: random.Random, ref: str, micro: str) -> Part:
    values = rng.choice(_CANS)
    facts: list[Fact] = [
        (f"{ref}{letter}", float(v) * 1e-6)
        for letter, v in zip("ABC", values, strict=False)
    ]  # fmt: skip
    return ref, f"{'-'.join(values)} {micro}", "150 V", "electrolytic", facts


def _made(rng: random.Random) -> list[Part]:
    micro, pico = rng.choice((("mfd", "mmf"), ("mfd.", "mmfd."), ("MFD", "MMF")))
    made = [_capacitor(rng, f"C{n}", micro, pico) for n in range(1, rng.randrange(9, 16))]
    at = rng.randrange(3, len(made))
    made[at] = _can(rng, f"C{at + 1}", micro)
    made += [_resistor(rng, f"R{n}") for n in range(1, rng.randrange(8, 14))]
    counts = {"L": 0, "T": 0, "LS": 0}
    for letter, words in rng.sample(_OTHERS, 4):
        counts[letter] += 1
        ref = f"{letter}{counts[letter]}"
        made.append((ref, "", "", words, [(ref, None)]))
    return made


def _stock(rng: random.Random) -> Callable[[], str]:
    prefix = rng.choice(("", "A", "B-", "N"))
    return lambda: f"{prefix}{rng.randrange(110, 9899)}-{rng.randrange(1, 90)}"


def _words(part: Part, order: int) -> str:
    ref, value, rating, kind, _ = part
    if not value:
        return kind
    what = "Resistor" if ref[0] == "R" else ("Condenser", "Capacitor")[order % 2]
    if order % 3 == 0:
        return f"{what}, {kind} {value} {rating}"
    if order % 3 == 1:
        return f"{value}, {rating} {kind} {what.lower()}"
    return f"{what.upper()}—{value}—{rating}, {kind}"


def draw(sheet: Sheet, y: float) -> float:
    """One parts list in the sheet's style; returns the height below it."""
    rng, style = sheet.rng, sheet.style
    size = rng.randrange(33, 41)
    stock, made = _stock(rng), _made(rng)
    heading = ("PARTS LIST", "REPLACEMENT PARTS", "LIST OF PARTS", "SERVICE PARTS LIST")[style % 4]
    y = title(sheet, heading, y, size)
    for part in made:
        sheet.parts += part[4]
    order = style + rng.randrange(2) * 3
    if style % 6 == 0:  # reference, number, words
        rows = [["Ref.", "Part No.", "Description"]]
        rows += [[p[0], stock(), _words(p, order)] for p in made]
        return set_table(sheet, rows, y, size)
    if style % 6 == 1:  # reference and words, number last
        rows = [["Symbol", "Description", "Part No."]]
        rows += [[p[0], _words(p, order), stock()] for p in made]
        return set_table(sheet, rows, y, size, ruled=True)
    if style % 6 == 2:  # number first
        rows = [["Part No.", "Item", "Description"]]
        rows += [[stock(), p[0], _words(p, order)] for p in made]
        return set_table(sheet, rows, y, size)
    if style % 6 == 3:  # values in columns of their own
        rows = [["Item", "Value", "Rating", "Type", "Stock No."]]
        rows += [[p[0], p[1] or "-", p[2] or "-", p[3], stock()] for p in made]
        return set_table(sheet, rows, y, size, ruled=True)
    if style % 6 == 4:  # two columns, headings within
        half = -(-len(made) // 2)
        bottoms = []
        for column, some in enumerate((made[:half], made[half:])):
            left = LEFT + column * (RIGHT - LEFT) / 2
            rows = [["No.", "Part No.", "Description"]]
            rows += [[p[0], stock(), _words(p, order)] for p in some]
            right = left + (RIGHT - LEFT) / 2 - 60
            bottoms.append(set_table(sheet, rows, y, min(size, 34), left=left, right=right))
        return max(bottoms)
    rows = [["CAPACITORS"]]  # headings between the kinds, no head
    last = "C"
    for part in made:
        letter = part[0].rstrip("0123456789")
        if letter != last and letter == "R":
            rows.append(["RESISTORS"])
        elif letter != last and last == "R":
            rows.append(["COILS AND TRANSFORMERS"])
        last = letter
        rows.append([part[0], _words(part, order), stock()])
    return set_table(sheet, rows, y, size, heads=0, pitch=1.4)


def fits(y: float) -> bool:
    """Whether another table still has room."""
    return y < BOTTOM - 900
