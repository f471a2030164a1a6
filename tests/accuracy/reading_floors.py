"""What reading must reach: on the whole report split, and on the short cut that CI runs."""

from tests.accuracy.measures import Score
from tests.accuracy.reading_measures import HARD, Figures

QUICK_PAGES = (0, 1, 2, 3, 5, 6, 8, 10)  # three texts, two drawings, three photos; two are turned

# Wanted of the whole split. Hard wears (reading_measures.HARD) are reported and not held to it.
TUBES_FOUND = {"text": 0.95, "schematic": 0.97, "photo": 0.98}
TUBES_RIGHT = 0.99
CODES_FOUND, CODES_RIGHT = 0.97, 0.95
LINES_WRONG = 0.06  # whole printed lines of text with anything wrong in them

# What the short cut reads today less a word or so a class: a fall below is a step back.
QUICK_TUBES_FOUND = {"text": 0.96, "schematic": 0.88, "photo": 0.93}
QUICK_TUBES_RIGHT = 0.97
QUICK_CODES_FOUND, QUICK_CODES_RIGHT = 0.95, 0.95
QUICK_LINES_WRONG = 0.08


def below(
    figures: dict[tuple[str, str], Figures], reader: str, wrong_turns: int, *, quick: bool
) -> list[str]:
    """A line for each figure of a reader that misses its floor; empty when all are reached.

    Codes are judged over all classes together, but for the hard wears.
    """
    found = QUICK_TUBES_FOUND if quick else TUBES_FOUND
    right = QUICK_TUBES_RIGHT if quick else TUBES_RIGHT
    code_floors = (QUICK_CODES_FOUND, QUICK_CODES_RIGHT) if quick else (CODES_FOUND, CODES_RIGHT)
    most_wrong = QUICK_LINES_WRONG if quick else LINES_WRONG
    lines, codes = [], Score()
    for (class_, name), f in figures.items():
        if name != reader or class_ in HARD:
            continue
        codes += f.codes
        lines += _under(f"{class_}: tubes found", f.tubes.recall, found[class_])
        lines += _under(f"{class_}: tubes right", f.tubes.precision, right)
        if f.lines.value > most_wrong:
            lines.append(f"{class_}: lines wrong {f.lines.value:.3f}, at most {most_wrong}")
    lines += _under("codes found", codes.recall, code_floors[0])
    lines += _under("codes right", codes.precision, code_floors[1])
    if wrong_turns:
        lines.append(f"upright pages turned: {wrong_turns}, none wanted")
    return lines


def _under(what: str, value: float, floor: float) -> list[str]:
    return [f"{what} {value:.3f}, wanted {floor}"] if value < floor else []
