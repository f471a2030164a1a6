"""Units, ordinals and plain words misread. What looks alike in worn type and old faces is common
practice, no source; so is the wording of service pages."""

import pytest

from indexer.model import Box, Word
from indexer.reading.wording import put_right


def read(*lines: str, confidence: float = 0.7) -> list[str]:
    words = [
        Word(text, Box(100.0 * n, 50.0 * line, 100.0 * n + 80, 50.0 * line + 30), confidence, line)
        for line, row in enumerate(lines)
        for n, text in enumerate(row.split())
    ]
    right = put_right(words)
    assert all(w.printed and w.why for w, was in zip(right, words, strict=True) if w != was)
    return [
        " ".join(word.text for word in right if word.line == line) for line in range(len(lines))
    ]


@pytest.mark.parametrize(
    ("misread", "printed"),
    [
        ("align at 455 ke. and 10.7 me", "align at 455 kc. and 10.7 mc"),
        ("Capacitor, paper .05 mid 400 V", "Capacitor, paper .05 mfd 400 V"),
        ("mica 100 mnf", "mica 100 mmf"),
        ("Det. A.V.C. Ist audio", "Det. A.V.C. 1st audio"),
        ("Transformer, Ist L.F. 455 ke", "Transformer, 1st I.F. 455 kc"),
        ("UF41 1.F. amplitier", "UF41 I.F. amplifier"),
        ("v4 UL41 81 0", "V4 UL41 81 0"),
        ("c8 A7887-2 Control. volume", "C8 A7887-2 Control, volume"),
        ("•Resistor 150 ohm", "Resistor 150 ohm"),
        ("When tne 6BE6 is replaced. align tbe set", "When the 6BE6 is replaced, align the set"),
        ("the set 1s dead", "the set is dead"),
        ("betore the Conyerter is Càpacitor coupled", "before the Converter is Capacitor coupled"),
        ("Rectifer and Oscilator", "Rectifier and Oscillator"),
    ],
)
def test_words_are_put_right_by_what_stands_beside_them(misread: str, printed: str) -> None:
    assert read(misread) == [printed]


@pytest.mark.parametrize(
    "line",
    [
        "give me the ke sign",  # no figure before it
        "1st L.F. amplifier EBC33",  # low frequency, in a British set
        ".SMFD .OS .Q5 .1 mfd",  # decimal points
        "trans. primary approx. half",  # shortened words
        "the light falls on the bond between cases",  # words that look like others
        "THE SET IS DEAD",
        "Quarrydale Tillbrook Pellhurst",  # names
        "CH. 7A44 VM-88 1A5 SK4A",
        "The end. The beginning",
    ],
)
def test_what_may_be_printed_so_is_left(line: str) -> None:
    assert read(line) == [line]


def test_a_word_that_no_print_holds_is_put_right_however_sure() -> None:
    assert read("amplitier", confidence=0.97) == ["amplifier"]


def test_a_unit_may_begin_a_line() -> None:
    assert read("stages again at 455", "ke. Replace the cord") == [
        "stages again at 455", "kc. Replace the cord",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("misread", "printed"),
    [
        ("ihe end cf the band", "the end of the band"),
        ("it docs not follow", "it does not follow"),
        ("a nall in the wall", "a nail in the wall"),
        ("carriés the lorgest load", "carries the largest load"),
        ("REPIACEMENT PARTS", "REPLACEMENT PARTS"),
    ],
)
def test_a_word_is_told_by_the_words_beside_it(misread: str, printed: str) -> None:
    assert read(misread) == [printed]


def test_words_of_another_tongue_are_left() -> None:
    line = "Der Drehknopf ist nach dem Auswechseln der Skala neu einzustellen und zu messen am Pol"
    assert read(line, confidence=0.8) == [line]


def test_german_gets_its_umlauts_back() -> None:
    line = "Der Rohrensatz ist nach dem Auswechseln der Réhre zu priifen und zu messen fiir den"
    said = "Der Röhrensatz ist nach dem Auswechseln der Röhre zu prüfen und zu messen für den"
    assert read(line, confidence=0.8) == [said]
    assert read("the Rohre line") == ["the Rohre line"]


def test_prices_get_their_points_back() -> None:
    lines = [
        "R1 Resistor 1.35",
        "R2 Resistor .60",
        "R3 Resistor 25",
        "R4 Resistor 385",
        "C1 Coil .10",
    ]
    assert read(*lines, "C2 Coil 2.10", confidence=0.95) == [
        *lines[:2], "R3 Resistor .25", "R4 Resistor 3.85", *lines[4:], "C2 Coil 2.10",
    ]  # fmt: skip
    bare = ["V1 plate 25", "V2 plate 385", "V3 plate 60", "V4 plate 1.5", "V5 plate 90"]
    assert read(*bare, confidence=0.95) == bare


def test_a_name_that_a_page_repeats_is_no_misreading() -> None:
    lines = ("Trillmore sets of 1938", "the Trillmore works", "by Trillmore")
    assert read(*lines) == list(lines)


def test_a_reference_is_known_beside_others_of_its_letter() -> None:
    assert read("C2 C3 trimmer CIA", "RI is shown") == ["C2 C3 trimmer C1A", "RI is shown"]


def test_raised_figures_in_a_column_of_numbers_are_read_without_error() -> None:
    lines = ["1 Chassis", "2 Dial", "²2 Drum", "4 Cord", "5 Spring"]
    assert read(*lines) == lines
