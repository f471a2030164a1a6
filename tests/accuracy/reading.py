"""`python -m tests.accuracy.reading`: pages of the press read by us and by plain Tesseract.

Prints recall and precision of tube types and of model and chassis codes by page group, and wrong
turns. Tune on `--split look`; report `--split report`, whose seeds, faces and wear are others.
"""

import argparse
import re
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from indexer.intake.sources import open_source
from indexer.model import Word
from indexer.reading import tesseract
from indexer.reading.page import read_first, read_second
from indexer.trade.codes import normal
from indexer.trade.numbering import line_up_types
from tests.accuracy.measures import Score, table
from tests.accuracy.press.pages import GROUPS, press, save
from tests.accuracy.press.paper import Page

READERS = ("plain Tesseract", "first reader", "both readers")


def tubes_of(lines: Iterable[str]) -> set[str]:
    """The distinct registered types that some lines print. Old types that are bare numbers are
    left out: on charts they can't be told from volts, by the truth no more than by a reader."""
    return {kind for line in lines for kind in line_up_types(line) if not kind.isdigit()}


def codes_of(text: str, wanted: Iterable[str]) -> set[str]:
    """Which of the wanted codes a text holds, letter for letter but for blanks and hyphens."""
    flat = {normal(part) for part in re.split(r"[\s,;]+", text)}
    joined = normal(text)
    return {code for code in wanted if normal(code) in flat or normal(code) in joined}


def readings(page: Page, path: Path) -> dict[str, tuple[Word, ...]]:
    """The page's words by each reader."""
    with open_source(path) as source:
        plain = tesseract.read(source.page(1).draw())
    first = read_first(path, 1)
    both = read_second(path, 1, first.best)[1] if first.wants_second else first.best
    found = {READERS[0]: plain, READERS[1]: first.best.words, READERS[2]: both.words}
    wrong = first.best.rotation_deg != page.turned_deg and first.best.rotation_deg != 0
    TURNS["wrong turns"] += wrong
    TURNS["turned pages"] += page.turned_deg != 0
    TURNS["left unturned"] += page.turned_deg != 0 and first.best.rotation_deg == 0
    return found


TURNS = {"wrong turns": 0, "turned pages": 0, "left unturned": 0}


def lines_of(words: Iterable[Word]) -> list[str]:
    """Words as their printed lines."""
    lines: dict[int, list[str]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word.text)
    return [" ".join(parts) for parts in lines.values()]


def main() -> int:
    """Draws, reads and prints the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=("look", "report"), default="report")
    parser.add_argument("--pages", type=int, default=24)
    given = parser.parse_args()
    scores = {
        (group, what, reader): Score()
        for group in GROUPS
        for what in ("tubes", "codes")
        for reader in READERS
    }
    with tempfile.TemporaryDirectory() as scratch:
        for n, page in enumerate(press(given.split, given.pages)):
            wanted = tubes_of([word.text for word in page.words] + page.lines)
            for reader, words in readings(page, save(page, Path(scratch), n)).items():
                lines = lines_of(words)
                scores[page.group, "tubes", reader].add(wanted, tubes_of(lines))
                printed = [replace(word, text=word.printed or word.text) for word in words]
                held = codes_of("\n".join(lines_of(printed)), page.codes)
                scores[page.group, "codes", reader].add(page.codes, held)
    rows = [(f"{group}, {what}, {reader}", s) for (group, what, reader), s in scores.items()]
    print(f"{given.pages} pages of the {given.split} split (precision of codes is not measured)")
    print(table(rows))
    print(", ".join(f"{name}: {count}" for name, count in TURNS.items()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
