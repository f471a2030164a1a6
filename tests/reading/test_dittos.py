"""Ditto marks, strokes for figures, and numbers of steps. Common practice, no source."""

import pytest

from indexer.model import Box, Word
from indexer.reading.dittos import with_dittos
from indexer.reading.wording import put_right


def row(line: int, *texts: str) -> list[Word]:
    """A printed row; a first word that is no letter is half as high as the others."""
    words = []
    for n, text in enumerate(texts):
        top, left = 100.0 + 60 * line, 100.0 + 300 * n
        low = n == 0 and not text[0].isupper()
        words.append(Word(text, Box(left, top, left + 60, top + (14 if low else 32)), 0.9, line))
    return words


@pytest.mark.parametrize("read", ["11", "t", "“", "=", "ll"])
def test_small_marks_one_below_another_are_dittos(read: str) -> None:
    words = [
        w for n in range(4) for w in row(n, "Tillbrook" if n == 0 else read, f"{n}0-A", "1-23")
    ]
    right = with_dittos(words)
    assert [w.text for w in right if w.box.left == 100] == ["Tillbrook", '"', '"', '"']
    assert all(w.printed == read and w.why for w in right if w.text == '"')


def test_figures_as_high_as_their_row_are_figures() -> None:
    words = [
        Word(text, Box(100.0 + 300 * n, 60.0 * line, 160.0 + 300 * n, 60.0 * line + 32), 0.9, line)
        for line in range(4)
        for n, text in enumerate(("11", "A-10", "1-23"))
    ]
    assert with_dittos(words) == tuple(words)


@pytest.mark.parametrize(
    ("read", "printed"),
    [
        ("R2 23264 Carbon resistor, I watt", "R2 23264 Carbon resistor, 1 watt"),
        ("Resistor, | megohm, I/2 watt", "Resistor, 1 megohm, 1/2 watt"),
        ("LS! 68223 Speaker", "LS1 68223 Speaker"),
        ("PI 60746 Volume control", "P1 60746 Volume control"),
    ],
)
def test_a_stroke_is_a_figure_before_a_unit_or_a_part_number(read: str, printed: str) -> None:
    words = [
        Word(text, Box(100.0 * n, 0, 100.0 * n + 80, 30), 0.8, 0)
        for n, text in enumerate(read.split())
    ]
    assert " ".join(word.text for word in put_right(words)) == printed


def test_numbers_of_steps_are_no_references() -> None:
    parts = [("L1", "62366", "Antenna", "loop"), ("L2", "62367", "Oscillator", "coil")]
    steps = [(f"{n}", "Antenna", "terminal,", "220", "mmf") for n in range(1, 6)]
    words = [
        Word(text, Box(100.0 + 200 * n, 60.0 * line, 180.0 + 200 * n, 60.0 * line + 30), 0.97, line)
        for line, texts in enumerate([*steps, *parts])
        for n, text in enumerate(texts)
    ]
    assert [w.text for w in put_right(words) if w.box.left == 100][:5] == ["1", "2", "3", "4", "5"]
