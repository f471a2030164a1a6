"""Reading on made pictures: which way up, how level, which reader's word, what may be repaired."""

import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.errors import PageError
from indexer.model import Box, PageReading, Word
from indexer.reading import clean, embedded, second, tesseract
from indexer.reading.reconcile import merge
from indexer.reading.repair import is_known_tube, repair, repair_word

PROSE = [
    "Set the volume control at maximum and connect",
    "an output meter across the voice coil of the",
    "speaker. Keep the signal generator output as",
    "low as will give a reading on the meter so",
    "that the control does not act while you work.",
]


def sheet(lines: list[str] = PROSE, size: tuple[int, int] = (1400, 900)) -> Image.Image:
    picture = Image.new("L", size, 255)
    draw = ImageDraw.Draw(picture)
    for i, line in enumerate(lines):
        draw.text((100, 100 + 110 * i), line, font=ImageFont.load_default(44), fill=0)
    return picture


def word(text: str, left: float = 0, confidence: float = 0.9, line: int = 0) -> Word:
    return Word(text, Box(left, 0, left + 20 * len(text), 30), confidence, line)


@pytest.mark.parametrize("angle", [-2.0, -0.8, 1.5])
def test_crooked_rows_are_levelled(angle: float) -> None:
    crooked = sheet().rotate(angle, fillcolor=255)
    assert clean.skew_deg(crooked) == pytest.approx(-angle, abs=0.3)


def test_level_rows_and_blank_sheets_are_left_alone() -> None:
    assert clean.skew_deg(sheet()) == 0
    assert clean.skew_deg(Image.new("L", (800, 600), 255)) == 0


@pytest.mark.parametrize("clockwise", [0, 90, 180, 270])
def test_quarter_turns_lose_nothing(clockwise: int) -> None:
    picture = sheet()
    turned = clean.turn(picture, clockwise)
    assert clean.turn(turned, (360 - clockwise) % 360).tobytes() == picture.tobytes()


def test_the_same_page_scanned_twice_hashes_alike() -> None:
    one = int(clean.perceptual_hash(sheet()), 16)
    other = int(clean.perceptual_hash(sheet().resize((700, 450))), 16)
    assert (one ^ other).bit_count() <= 4


def test_ink_that_nobody_read_is_noticed() -> None:
    picture = sheet()
    nothing = PageReading((), *picture.size, "tesseract")
    everything = PageReading((Word("x", Box(0, 0, *picture.size)),), *picture.size, "tesseract")
    assert clean.unread_share(picture, nothing) > 0.1
    assert clean.unread_share(picture, everything) == 0


@pytest.mark.parametrize(
    ("printed", "kind"),
    [("I2BE6", "12BE6"), ("5OC5", "50C5"), ("12BEG", "12BE6"), ("l2AV6", "12AV6")],
)
def test_a_look_alike_is_set_right_and_says_so(printed: str, kind: str) -> None:
    repaired = repair_word(word(printed, confidence=0.7))
    assert (repaired.text, repaired.printed) == (kind, printed)
    assert repaired.why


@pytest.mark.parametrize(
    "text", ["C16", "R12", "II7", "865B", "12-L", "6V6GT", "470K", "1951", "B+"]
)
def test_what_is_no_misread_tube_is_left_alone(text: str) -> None:
    assert repair_word(word(text)).text == text


def test_the_number_after_the_word_model_is_never_repaired() -> None:
    words = (word("MODEL"), word("5OC5", 200))
    assert [w.text for w in repair(words)] == ["MODEL", "5OC5"]


def test_known_tubes() -> None:
    assert is_known_tube("(12SK7GT)")
    assert not is_known_tube("R12")


def test_labels_come_from_the_second_reader_and_prose_from_the_first() -> None:
    first = PageReading((word("volume"), word("1ZBE6", 300, 0.4)), 1000, 100, "tesseract")
    second = PageReading((word("volurne"), word("12BE6", 300)), 1000, 100, "second")
    both = merge(first, second)
    assert [w.text for w in both.words] == ["volume", "12BE6"]
    assert both.reader == "tesseract+second"


def test_of_two_look_alike_codes_the_one_with_more_figures_stays() -> None:
    first = PageReading((word("410.582"),), 1000, 100, "tesseract")
    second = PageReading((word("4IO.582", confidence=0.99),), 1000, 100, "second")
    assert [w.text for w in merge(first, second).words] == ["410.582"]


def test_a_word_only_the_second_found_goes_into_its_row() -> None:
    first = PageReading((word("U"), word("310", 60), word("88", 700)), 1000, 100, "tesseract")
    second = PageReading((word("3", 500),), 1000, 100, "second")
    assert merge(first, second).text == "U 310 3 88"


def test_rubbish_laid_over_a_page_is_not_trusted(monkeypatch: pytest.MonkeyPatch) -> None:
    ours = tuple(word(text, 60 * i) for i, text in enumerate(" ".join(PROSE).split()))
    monkeypatch.setattr(tesseract, "read", lambda *picture, **options: ours)
    good = PageReading(ours, 1400, 900, "embedded")
    other = PageReading(tuple(word(f"{w.text}zq", w.box.left) for w in ours), 1400, 900, "embedded")
    marks = PageReading(tuple(word("~^]|", w.box.left) for w in ours), 1400, 900, "embedded")
    assert embedded.is_good(good, sheet())
    assert not embedded.is_good(other, sheet())
    assert not embedded.is_good(marks, sheet())


def test_an_engine_that_crashes_is_a_page_error(monkeypatch: pytest.MonkeyPatch) -> None:
    import pytesseract

    def crash(*arguments: object, **options: object) -> None:
        raise pytesseract.TesseractError(-11, "Segmentation fault")

    monkeypatch.setattr(pytesseract, "run_and_get_output", crash)
    with pytest.raises(PageError, match="Segmentation fault"):
        tesseract.read(sheet())


def test_a_second_reader_that_runs_out_of_memory_is_a_page_error(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def engine() -> object:
        raise MemoryError("cannot allocate 4 GB")

    monkeypatch.setattr(second, "_engine", engine)
    with pytest.raises(PageError, match="cannot allocate"):
        second.read(sheet())


def test_plain_print_is_read() -> None:
    """The words are those drawn; Tesseract itself is the reader under test here."""
    read = " ".join(w.text for w in tesseract.read(sheet())).lower()
    wanted = " ".join(PROSE).lower().split()
    assert sum(text in read for text in wanted) >= 0.9 * len(wanted)
