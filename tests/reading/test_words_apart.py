"""Run-together words, impossible signs, dot leaders, and words recognised once more.

The types are registered ones; which signs readers confuse was seen on drawn and scanned pages.
"""

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.model import Box, PageReading, Word
from indexer.reading import second, tesseract
from indexer.reading.leaders import without_leaders
from indexer.reading.reconcile import merge
from indexer.reading.tidy import tidy


def word(text: str, confidence: float = 0.9, left: float = 0) -> Word:
    return Word(text, Box(left, 0, left + 20 * len(text), 30), confidence)


def said(text: str) -> list[str]:
    return [part.text for part in tidy([word(text)])]


@pytest.mark.parametrize(
    ("read", "printed"),
    [
        ("V312AV6", "V3 12AV6"),
        ("V535W4", "V5 35W4"),
        ("V126K7", "V12 6K7"),
        ("VI14J7", "V1 14J7"),
        ("V5.5Z4", "V5 5Z4"),
        ("V4UL4l", "V4 UL41"),
        ("1/212AX7", "1/2 12AX7"),
        ("1/212AX71", "1/2 12AX7"),
        ("Ch.4T9F", "Ch. 4T9F"),
        ("V3-UBC4I", "V3-UBC41"),
        ("VOLTAGEREADINGS", "VOLTAGE READINGS"),
        ("PARTSLIST", "PARTS LIST"),
    ],
)
def test_labels_that_ran_together_come_apart(read: str, printed: str) -> None:
    assert said(read) == printed.split()


@pytest.mark.parametrize(
    ("read", "printed"),
    [
        ("E-I36", "E-136"),
        ("CH-4IK", "CH-41K"),
        ("3OF", "30F"),
        ("8CéT", "8C6T"),
        ("$551-8", "S551-8"),
        ("AT-7]", "AT-71"),
        ("35¥4", "35Y4"),
    ],
)
def test_signs_that_no_code_holds_are_put_right_and_it_is_said(read: str, printed: str) -> None:
    (only,) = tidy([word(read)])
    assert (only.text, only.why) == (printed, f"read as {read}")


@pytest.mark.parametrize(
    "text",
    ["$5.95", "R12]", "IF455", "TI", "C1A", "OZ4", "V12", "1/2", ".05", "12SK7GT", "5K36,", "B+"],
)
def test_what_is_plain_stays(text: str) -> None:
    assert said(text) == [text]


def test_each_part_keeps_its_share_of_the_place() -> None:
    symbol, tube = tidy([word("V312AV6")])
    assert symbol.box.right == tube.box.left == 40
    assert tube.box.right == 140


def leader_line(dots: str) -> Image.Image:
    picture = Image.new("L", (1500, 700), 255)
    pen = ImageDraw.Draw(picture)
    face = ImageFont.load_default(40)
    for n, tube in enumerate(("12BE6", "12BA6", "12AV6", "50C5", "35W4")):
        y = 80 + 90 * n
        pen.text((80, y), f"V{n + 1} {tube}", font=face, fill=0)
        pen.text((1000, y), "amplifier", font=face, fill=0)
        if dots:
            pen.text((450, y), dots, font=face, fill=0)
    return picture


def test_dot_leaders_go_and_nothing_else_does() -> None:
    with_dots, bare = leader_line(". " * 20), leader_line("")
    gone = np.asarray(without_leaders(with_dots)[0]).astype(int) - np.asarray(bare)
    assert np.abs(gone).max() < 40
    assert without_leaders(bare)[0] is bare


def test_what_stands_before_a_dot_leader_is_read() -> None:
    """Tesseract itself is the reader here."""
    text = " ".join(w.text for w in tesseract.read(without_leaders(leader_line(". " * 20))[0]))
    assert sum(tube in text for tube in ("12BE6", "12BA6", "12AV6", "50C5", "35W4")) >= 4


class Engine:
    """A stand-in that says the same of every crop and keeps their sizes."""

    def __init__(self, *texts: str) -> None:
        self.txts, self.scores = texts, [0.99] * len(texts)
        self.sizes: list[tuple[int, ...]] = []

    def recognize_txt(self, crops: list[np.ndarray]) -> "Engine":
        self.sizes = [crop.shape for crop in crops]
        return self


def test_of_print_only_words_that_matter_are_recognised_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    engine = Engine("14Q7", "V1 UCH41")
    monkeypatch.setattr(second, "_engine", lambda: engine)
    words = (word("the"), word("1407", left=100), word("VIUCH4)", 0.7, left=300), word("set", 0.9))
    found = second.reread(Image.new("L", (600, 60), 255), words)
    assert [w.text for w in found] == ["14Q7", "V1", "UCH41"]
    assert len(engine.sizes) == 2
    first = PageReading(words, 600, 60, "tesseract")
    both = merge(first, PageReading(found, 600, 60, "second"), everywhere=False)
    assert both.text == "the set 14Q7 V1 UCH41"


class Finder:
    """A stand-in that finds one piece of text over the middle of what it is shown."""

    def __init__(self) -> None:
        self.shown: tuple[int, ...] = ()

    def __call__(self, pixels: np.ndarray, **options: bool) -> "Finder":
        self.shown = pixels.shape
        height, width = pixels.shape[:2]
        x, y = width / 4, height / 4
        corners = [[x, y], [3 * x, y], [3 * x, 3 * y], [x, 3 * y]]
        self.boxes = np.array([corners], dtype=np.float32)
        return self


def test_text_is_sought_on_a_small_copy_and_its_place_is_of_the_full_picture(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    finder = Finder()
    monkeypatch.setattr(second, "_engine", lambda: finder)
    monkeypatch.setattr(second, "_recognise", lambda pixels, pieces: [("12BE6", 0.99, False)])
    picture = Image.new("L", (4000, 3000), 255)
    (word,) = second.read(picture)
    assert max(finder.shown) == 2000
    assert word.box == Box(1000, 750, 3000, 2250)


def test_words_that_the_second_reader_ran_together_are_all_kept() -> None:
    first = PageReading((word("MFG.", 0.96), word("COMPANY", 0.96, 100)), 600, 60, "tesseract")
    joined = Word("MFG.COMPANY", Box(0, 0, 240, 30), 0.99)
    assert merge(first, PageReading((joined,), 600, 60, "second")).text == "MFG. COMPANY"


@pytest.mark.parametrize("read", ["LARKMO", "LARKMo"])
def test_the_end_of_a_label_lost_in_glare_comes_from_the_second_reader(read: str) -> None:
    first = PageReading((word(read, 0.92),), 600, 60, "tesseract")
    whole = Word("LARKMOOR", Box(0, 0, 160, 30), 0.99)
    assert merge(first, PageReading((whole,), 600, 60, "second")).text == "LARKMOOR"
