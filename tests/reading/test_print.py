"""Specks, run-together words, codes, rows and sentences as print has them; print passed over.
How worn print misleads a reader is common practice, no source; the lines are invented."""

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.model import Box, PageReading, Word
from indexer.reading.page import _repaired
from indexer.reading.pieces import cut_at_gaps
from indexer.reading.reconcile import merge
from indexer.reading.unseen import joined_on, unseen
from indexer.reading.wording import put_right

_WIDTH, _HIGH = 14.0, 30.0  # of a letter, pixels
LINE = "Condenser added between the diode load and chassis"
FACE = ImageFont.load_default(30)


def laid(*lines: str, confidence: float = 0.8) -> list[Word]:
    """Words a blank apart, in lines below one another; two blanks or more are a gap of a table."""
    words = []
    for line, row in enumerate(lines):
        x = 0.0
        for text in row.split(" "):
            if text:
                box = Box(x, 50.0 * line, x + _WIDTH * len(text), 50.0 * line + _HIGH)
                words.append(Word(text, box, confidence, line))
            x += _WIDTH * len(text) + 12.0 if text else 60.0
    return words


def right(*lines: str, confidence: float = 0.8) -> list[str]:
    words = put_right(laid(*lines, confidence=confidence))
    return [" ".join(w.text for w in words if w.line == line) for line in range(len(lines))]


@pytest.mark.parametrize(
    ("misread", "printed"),
    [
        ("remove -cord and .knob from the shaft", "remove cord and knob from the shaft"),
        ("adjust for largest” output be* sure", "adjust for largest output be sure"),
        ("the circuit . is open", "the circuit is open"),
        ("align the | F. amplifier", "align the I.F. amplifier"),
        ("Det: tube", "Det. tube"),
        ("capacitor of 005 mfd", "capacitor of .005 mfd"),
        ("turn the. gang", "turn the gang"),
        ("resistor of SOOK", "resistor of 500K"),
        ("-- 547K", "-- 547K"),
    ],
)
def test_specks_are_no_signs(misread: str, printed: str) -> None:
    assert right(misread) == [printed]


@pytest.mark.parametrize(
    ("misread", "printed"),
    [
        ("the screw may,run warm", "the screw may run warm"),
        ("heaters of,the tube", "heaters of the tube"),
        ("the end ofthe band", "the end of the band"),
        ("models TE19,KW91", "models TE19, KW91"),
        ("a by-pass and pick-up", "a by-pass and pick-up"),
        ("line of 455 kc/s", "line of 455 kc/s"),
        ("MODELS 291X, 405W", "MODELS 291X, 405W"),
    ],
)
def test_words_run_together_are_taken_apart(misread: str, printed: str) -> None:
    assert right(misread) == [printed]


def test_a_unit_stands_apart_where_the_page_prints_it_so() -> None:
    rows = [f"R{n} A221{n}-4 Resistor {n} W" for n in (1, 2, 3)]
    assert right(*rows, "R4 A2214-4 Resistor 1W")[3] == "R4 A2214-4 Resistor 1 W"
    assert right("a lamp of 250V and 5W")[0] == "a lamp of 250V and 5W"


def test_codes_are_made_whole_by_the_others_of_their_shape() -> None:
    rows = [f"C{n} H{2300 + 17 * n}-{n} Capacitor, mica" for n in range(11, 18)]
    rows += ["C18 H97 16-21 Capacitor, mica", "C19 112353-19 Capacitor, mica"]
    rows += ["C20 H4411-9. Capacitor, mica"]
    assert right(*rows)[-3:] == [
        "C18 H9716-21 Capacitor, mica",
        "C19 H2353-19 Capacitor, mica",
        "C20 H4411-9 Capacitor, mica",
    ]


def test_a_lost_hyphen_is_put_back_where_lines_end_so() -> None:
    rows = [f"K{n}1T{' ' * 9}9-4{n}" for n in range(6)]
    assert right(*rows, "K81T          9 132", "K82T          9     132")[-2:] == [
        "K81T 9-132",
        "K82T 9 132",
    ]


def test_a_volume_in_roman_figures_is_one_of_many() -> None:
    rows = [f"K{n}1T{' ' * 9}VII 4{n}" for n in range(6)]
    assert right(*rows, "K81T          VITT 16")[-1] == "K81T VIII 16"


def test_rows_are_numbered_on() -> None:
    rows = [f"C{n} A22{n}0-4 Capacitor, mica" for n in (9, 10)]
    rows += ["Cll A2211-4 Capacitor, mica", "cl2 A2212-4 Capacitor, mica"]
    rows += ["C13 A2213-4 Capacitor, mica"]
    assert [line.split()[0] for line in right(*rows)] == ["C9", "C10", "C11", "C12", "C13"]


def test_a_reference_that_lost_its_letter_has_that_of_its_part() -> None:
    rows = ("T4 A2214-4 Transformer, output", "15 A2215-4 Transformer, power")
    rows += ("L6 A2216-4 Coil, aerial", "17 A2217-4 Trimmer", "T8 A2218-4 Transformer, drive")
    assert [line.split()[0] for line in right(*rows)] == ["T4", "T5", "L6", "17", "T8"]


def test_a_number_that_stands_alone_keeps_its_stop() -> None:
    steps = ("10. Remove the knobs", "and the back", "of the case", "with care", "11. Lift the set")
    assert right(*steps)[0] == "10. Remove the knobs"


def test_the_step_above_two_is_one() -> None:
    steps = ("| Grid of the tube", "2 Grid of the tube", "3 Aerial", "4 Aerial")
    assert right(*steps)[0] == "1 Grid of the tube"


@pytest.mark.parametrize(
    ("misread", "printed"),
    [
        ("run warm, If the set is dead", "run warm. If the set is dead"),
        ("the set is replaced. align it", "the set is replaced, align it"),
        ("held beneath: loosen but do not", "held beneath; loosen but do not"),
        ("connect as follows: first the aerial", "connect as follows: first the aerial"),
        ("cores of L12, L11. L8 and L7.", "cores of L12, L11, L8 and L7."),
        ("a coil of 500 mfd., with core", "a coil of 500 mfd., with core"),
        ("on M.W.. tune to the end", "on M.W., tune to the end"),
        ("from the I.F. to the I.F. and LF. stage", "from the I.F. to the I.F. and I.F. stage"),
    ],
)
def test_sentences_end_and_go_on(misread: str, printed: str) -> None:
    assert right(misread) == [printed]


@pytest.mark.parametrize(
    "line",
    [
        "the rejector and the wavechange switch",
        "an hour's use of the gramophone",
        "prices are net and postage extra",
        "mica capacitor of 500 mmfd and 25 mmf",
        "TEVERSAL RADIO",
        "a condenser of .05 mfd., and R22, R23",
    ],
)
def test_what_is_printed_so_is_left(line: str) -> None:
    assert right(line, confidence=0.96) == [line]


def test_no_picofarad_is_cut_in_parts() -> None:
    assert right("condensers of .05 pF and 50 pF") == ["condensers of .05 µF and 50 pF"]
    assert right("electrolytic 16 pF 450 V") == ["electrolytic 16 µF 450 V"]


def reading(*words: Word) -> PageReading:
    return PageReading(words, 2000, 2000, "tesseract")


@pytest.mark.parametrize(
    ("first", "second", "said"),
    [
        ("9-47", "..9-47", "9-47"),  # dots of a leader
        ("11,", "11.", "11,"),
        ("Vol.", "Vol", "Vol."),
        ("B574", "B574,", "B574,"),
        ("96", "9-6", "9-6"),
        (".", "Ch.", "Ch."),
    ],
)
def test_a_second_look_adds_no_specks(first: str, second: str, said: str) -> None:
    box = Box(10, 10, 90, 40)
    seen = merge(reading(Word(first, box, 0.7, 0)), reading(Word(second, box, 0.95, 0)))
    assert [word.text for word in seen.words] == [said]


def sheet(*rows: tuple[tuple[int, str], ...]) -> Image.Image:
    picture = Image.new("L", (1200, 60 * len(rows) + 100), 255)
    for n, row in enumerate(rows):
        for x, text in row:
            ImageDraw.Draw(picture).text((x, 50 + 60 * n), text, font=FACE, fill=0)
    return picture


def test_a_number_in_the_margin_that_no_reader_saw_is_found() -> None:
    picture = sheet(*(((40, f"{n}."), (120, LINE)) for n in range(1, 8)))
    read = []
    for n in range(7):
        place = (120, 50 + 60 * n)
        left, top, end, bottom = ImageDraw.Draw(picture).textbbox(place, LINE, font=FACE)
        step = (end - left) / 8
        read += [
            Word("word", Box(left + k * step, top, left + (k + 1) * step, bottom), 0.95, n)
            for k in range(8)
        ]
    found = unseen(picture, read)
    assert len(found) == 7
    assert all(box.left < 60 and box.right < 90 for box in found)
    whole = [Word("all", Box(0, 50 + 60 * n, 1200, 90 + 60 * n), 0.95, n) for n in range(7)]
    assert unseen(picture, [*read, *whole]) == []


def test_a_lost_letter_joins_the_figures_it_stands_before() -> None:
    figures = Word("12", Box(60, 10, 90, 40), 0.9, 3)
    (joined,) = joined_on([Word("C", Box(40, 10, 57, 40), 0.99, 0)], [figures])
    assert (joined.text, joined.box) == ("C12", Box(40, 10, 90, 40))
    (alone,) = joined_on([Word("C", Box(10, 10, 27, 40), 0.99, 0)], [figures])
    assert alone.text == "C"


def test_a_piece_over_a_row_of_dots_is_cut() -> None:
    picture = sheet(((40, "K672N" + " ." * 40), (900, "VIII 43")))
    gray = np.asarray(picture)
    whole = np.array([[[30, 45], [1100, 45], [1100, 95], [30, 95]]], dtype=np.float32)
    parts = cut_at_gaps(gray, whole)
    assert len(parts) == 2
    assert parts[0][1][0] < 250 < 800 < parts[1][0][0]
    text = np.array([[[30, 45], [140, 45], [140, 95], [30, 95]]], dtype=np.float32)
    assert np.array_equal(cut_at_gaps(gray, text), text)


def test_a_list_of_sets_keeps_models_that_look_like_types() -> None:
    rows = ["INDEX OF SETS", *(f"{n}A1{n} 7-3{n}" for n in range(4, 10))]
    listed = _repaired(reading(*laid(*rows, "5C64 8-175", confidence=0.7)))
    assert [word.text for word in listed.words][-2:] == ["5C64", "8-175"]
    parts = _repaired(reading(*laid("TUBES 12BE6 12BA6 12AV6 50C5", "6CG4 socket", confidence=0.7)))
    assert parts.words[-2].text == "6CG4" or parts.words[-2].why
