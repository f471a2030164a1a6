"""What invented service pages say: sentences, parts and readings, filled in by chance."""

import random

from tests.accuracy.press.sets import Set

_SENTENCES = (
    "Connect the signal generator to the grid of the {tube} through a .1 mfd capacitor.",
    "Set the dial pointer to {kc} kc and adjust the trimmers for the largest output.",
    "When the {tube} is replaced, align the intermediate frequency stages again at {if_khz} kc.",
    "The chassis is joined to one side of the line, so use an isolating transformer at the bench.",
    "Hum that does not follow the volume control points to the filter capacitor C{c}.",
    "A voltage of {v} volts should be read from the plate of the {tube} to common negative.",
    "Remove the two screws at the rear of the cabinet before the chassis is drawn out.",
    "If the set is dead, test the heaters of the {tube} and the {other} for an open circuit.",
    "Resistor R{c} of {ohms} ohms carries the screen current of the {tube} and may run warm.",
    "Replace the dial cord with new cord of {v} inches and wind it two and a half turns.",
    "Oscillation at the high end of the band is cured by dressing the lead of C{c} away.",
    "The loop must be in place and the chassis in the cabinet while the trimmers are set.",
    "Early sets used a {tube}; later ones carry a {other} in the same socket.",
    "Measurements are made with a meter of 20,000 ohms per volt and no signal at the aerial.",
    "Keep the output of the generator low so that the automatic volume control does not act.",
    "Discharge the filter capacitors before touching any part under the chassis.",
)
_PARTS = (
    "Capacitor, paper .05 mfd 400 V", "Capacitor, mica 100 mmf 500 V", "Resistor 470K 1/2 W",
    "Resistor 2.2 meg 1/2 W", "Electrolytic 50-30 mfd 150 V", "Control, volume 500K with switch",
    "Coil, oscillator", "Transformer, 1st I.F. 455 kc", "Transformer, output", "Speaker, PM 5 in.",
    "Loop antenna assembly", "Socket, octal moulded", "Knob, tuning", "Dial scale, glass",
    "Dial lamp No. 47", "Cord, line 6 ft.", "Capacitor, variable 2 gang", "Resistor 150 ohm 1 W",
    "Capacitor, ceramic .005 mfd", "Resistor 10 meg 1/2 W", "Capacitor, paper .1 mfd 200 V",
)  # fmt: skip
_STEPS = (
    ("1600 kc", "Oscillator trimmer C1B", "Maximum"),
    ("1400 kc", "Antenna trimmer C1A", "Maximum"),
    ("600 kc", "Core of L2", "Rock gang"),
    ("455 kc", "T2 top and bottom", "Maximum"),
    ("455 kc", "T1 top and bottom", "Maximum"),
    ("10.7 mc", "Ratio detector secondary", "Zero"),
)


def sentence(rng: random.Random, one: Set) -> str:
    """One sentence about a set."""
    return rng.choice(_SENTENCES).format(
        tube=rng.choice(one.tubes),
        other=rng.choice(one.tubes),
        kc=rng.choice((540, 600, 1400, 1500, 1620)),
        if_khz=one.if_khz,
        v=rng.randrange(28, 240),
        c=rng.randrange(1, 40),
        ohms=rng.choice((150, 270, 470, 1200, 4700, "22,000")),
    )


def paragraph(rng: random.Random, one: Set, sentences: int) -> str:
    """Sentences about a set."""
    return " ".join(sentence(rng, one) for _ in range(sentences))


def parts_rows(rng: random.Random, one: Set, count: int) -> list[list[str]]:
    """Reference, part number and description; tubes among them."""
    prefix = rng.choice("ABCDEH")
    rows = []
    for n in range(count):
        number = f"{prefix}{rng.randrange(1100, 9899)}-{rng.randrange(1, 30)}"
        if n < len(one.tubes):
            rows.append([f"V{n + 1}", number, f"Tube, {one.tubes[n]} {one.family.jobs[n]}"])
        else:
            words = rng.choice(_PARTS)
            letter = {"C": "C", "R": "R", "E": "C", "L": "L", "T": "T"}.get(words[0], "M")
            rows.append([f"{letter}{n}", number, words])
    return rows


def voltage_rows(rng: random.Random, one: Set) -> list[list[str]]:
    """Tube, job and a reading for each of seven or eight pins."""
    pins = 8 if one.family.octal else 7
    rows = [["Symbol", "Tube", *(f"Pin {n}" for n in range(1, pins + 1))]]
    for n, tube in enumerate(one.tubes, 1):
        cells = [
            rng.choice(
                ("0", "NC", "-.6", f"{rng.randrange(12, 118)} AC", str(rng.randrange(2, 98)))
            )
            for _ in range(pins)
        ]
        rows.append([f"V{n}", tube, *cells])
    return rows


def alignment_rows(rng: random.Random, one: Set) -> list[list[str]]:
    """Numbered steps: generator at, dial, adjust, for."""
    rows = [["Step", "Generator to", "Frequency", "Adjust", "For"]]
    for n, (at, what, goal) in enumerate(rng.sample(_STEPS, 5), 1):
        rows.append([str(n), f"Grid of {rng.choice(one.tubes)}", at, what, goal])
    return rows
