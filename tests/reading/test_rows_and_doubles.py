"""Index lines with their figures, words that both readers saw, and two sizes of type side by side.

The lay of the pages is common practice of printed indexes, no source.
"""

from dataclasses import replace

import pytest

from indexer.model import Box, PageReading, Word
from indexer.reading import tesseract, way_up
from indexer.reading.reconcile import merge
from indexer.reading.repair import repair
from indexer.reading.rows import in_rows
from indexer.reading.stance import Stance

KC = ("455", "ke.", "the", "ke", "460", "ke/s")
NAMES = ("CORVANE RADIO", "1101", "1102", "26, 27", "M-4", "M-6", "B-60")


def word(text: str, left: float, top: float, line: int, height: float = 30) -> Word:
    return Word(text, Box(left, top, left + 0.6 * height * len(text), top + height), 0.95, line)


def reading(*words: Word) -> PageReading:
    return PageReading(words, 1700, 2200, "tesseract")


def torn_column(left: float, top: float, first_line: int) -> list[Word]:
    """Names in lines of their own, then all volumes, then all pages, as a reader gives them."""
    names, figures = [], []
    for n, name in enumerate(NAMES):
        y = top + 45 * n
        parts = name.split()
        names += [word(p, left + 150 * k, y, first_line + n) for k, p in enumerate(parts)]
        if n:
            figures.append(word("3", left + 380, y + 3, first_line + 20 + n))
            figures.append(word(str(40 + n), left + 450, y - 2, first_line + 40 + n))
    return names + sorted(figures, key=lambda one: one.box.left)


def test_figures_at_the_end_of_leaders_stay_in_their_line() -> None:
    head = word("INDEX", 500, 80, 0)
    page = [head, *torn_column(100, 300, 1), *torn_column(700, 312, 100)]
    lines = reading(*in_rows(page)).text.split("\n")
    column = ["CORVANE RADIO", "1101 3 41", "1102 3 42", "26, 27 3 43", "M-4 3 44", "M-6 3 45"]
    assert lines == ["INDEX", *column, "B-60 3 46", *column, "B-60 3 46"]


def test_an_index_read_in_whole_lines_is_left_as_it_is() -> None:
    page = [
        replace(word(text, left, 300 + 45 * n, n))
        for n, name in enumerate(NAMES)
        for text, left in ((name, 100), ("41", 500))
    ]
    assert in_rows(page) == tuple(page)


def test_two_small_lines_beside_large_type_are_not_braided() -> None:
    first = reading(
        Word("HEXFORDE", Box(125, 129, 544, 200), 0.91, 0),
        Word("ees", Box(1384, 118, 1579, 197), 0.27, 0),
    )
    second = reading(
        Word("MODELS", Box(1198, 102, 1336, 164), 1.0, 0),
        Word("8L42", Box(1496, 102, 1588, 164), 1.0, 0),
        Word("CHASSIS", Box(1390, 162, 1506, 208), 0.98, 1),
        Word("L-84", Box(1522, 162, 1588, 208), 0.98, 1),
    )
    lines = merge(first, second).text.split("\n")
    assert "CHASSIS L-84" in lines
    assert "MODELS 8L42" in " ".join(line for line in lines if "CHASSIS" not in line)


@pytest.mark.parametrize(
    ("first", "second", "kept"),
    [
        (("—", 0, 40), ("—", 2, 38), "—"),
        (("mfd.", 0, 90), (".1mfd.", -20, 90), ".1mfd."),
        (("95", 180, 240), ("12SA795", 0, 215), "12SA7 95"),
        (("95", 180, 240), ("p.595", 160, 260), "95 p.595"),  # a value of its own
    ],
)
def test_what_both_saw_in_one_place_is_kept_once(
    first: tuple[str, float, float], second: tuple[str, float, float], kept: str
) -> None:
    ours, theirs = (
        Word(text, Box(left, 0, right, 30), 0.95, 0) for text, left, right in (first, second)
    )
    row = Word("row", Box(600, 0, 700, 30), 0.95, 0)
    both = merge(reading(ours, theirs, row), reading())
    assert sorted(both.text.split()) == sorted([*kept.split(), "row"])


def test_kilocycles_after_a_figure_are_put_right_and_nothing_else() -> None:
    page = [word(text, 90 * n, 0, 0) for n, text in enumerate(KC)]
    said = repair(page)
    assert [one.text for one in said] == ["455", "kc.", "the", "ke", "460", "kc/s"]
    assert said[1].printed == "ke."


def test_typed_capitals_upside_down_are_turned(monkeypatch: pytest.MonkeyPatch) -> None:
    """A few short words of such a page read "surely": here 36 letters in 52 words."""
    from PIL import Image

    def page(sure: int, unsure: int, confidence: float, way: int) -> PageReading:
        words = [word("MIT", 90 * n, 0, 0) for n in range(sure)]
        words += [
            replace(word("OZTX", 90 * n, 50, 1), confidence=confidence) for n in range(unsure)
        ]
        return replace(reading(*words), rotation_deg=way)

    pages = {0: page(12, 40, 0.2, 0), 180: page(50, 2, 0.2, 180)}
    monkeypatch.setattr(tesseract, "read", lambda *_, **__: pages[180].words)
    blank, lettered = Image.new("L", (100, 100), 255), Stance(23, 1, upright=0.0)
    assert way_up.read_way_up(pages.__getitem__, blank, lettered).rotation_deg == 180


def test_figures_run_together_by_one_reader_are_told_once() -> None:
    first = reading(
        Word("26T", Box(149, 1709, 191, 1728), 0.92, 37),
        Word("466", Box(746, 1708, 794, 1727), 0.74, 37),
    )
    piece = [Word("4", Box(735, 1699, 753, 1735), 0.9, 5)]
    piece.append(Word("66", Box(770, 1699, 806, 1735), 0.9, 5))
    assert merge(first, reading(*piece)).text == "26T 4 66"
    sure = replace(first, words=(replace(first.words[1], confidence=0.96),))
    assert merge(sure, reading(*piece)).text == "466"
