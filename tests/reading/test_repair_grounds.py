"""Repairs that need more than a look: what else the page shows, the set's heaters and jobs.

That 12BE6 12BA6 12AV6 50C5 35W4 make a string of 122.8 V at 0.15 A is common practice, no source.
"""

from dataclasses import replace

import pytest

from indexer.model import Box, PageReading, Word
from indexer.reading.reconcile import merge
from indexer.reading.repair import repair
from indexer.trade.usual import familiarity, fit


def line(text: str, confidence: float = 0.7, number: int = 0) -> list[Word]:
    words, left = [], 0
    for part in text.split():
        words.append(Word(part, Box(left, 0, left + 20 * len(part), 30), confidence, number))
        left += 20 * len(part) + 12
    return words


def repaired(*lines: str, confidence: float = 0.7) -> str:
    words = [word for n, text in enumerate(lines) for word in line(text, confidence, n)]
    return " ".join(word.text for word in repair(words))


def test_a_number_is_a_type_only_where_a_tube_stands_and_the_page_shows_it() -> None:
    shown = "V1 14Q7 V2 14A7"
    assert "the 14Q7 is replaced" in repaired(shown, "When the 1407 is replaced")
    assert "the 1407 is replaced" in repaired("When the 1407 is replaced")
    assert "stock 1407" in repaired(shown, "stock 1407")


def test_letters_alone_are_a_type_only_with_grounds() -> None:
    assert "V2 1P5" in repaired("1A7 1P5 1H5 1A5", "V2 IPS 58 AC")
    assert "V2 IPS" in repaired("V2 IPS 58 AC")


def test_the_heater_string_and_the_open_job_settle_between_look_alikes() -> None:
    company = ["12BE6", "12BA6", "12AV6", "50C5"]
    gain, why = fit("35W4", company)
    assert gain > 0
    assert "123 V" in why
    assert "job" in why
    assert fit("6X4", company)[0] < gain
    assert fit("35W4", company[:2]) == (0.0, "")


def test_a_stroke_of_the_drawing_is_taken_off_after_a_half() -> None:
    assert repaired("1/2 12AX71") == "1/2 12AX7"


def test_a_lost_last_figure_comes_back_from_the_one_type_shown_elsewhere() -> None:
    assert repaired("1/2 12AU7", "1/2 12AU") == "1/2 12AU7 1/2 12AU7"
    assert repaired("ECC83 EL84", "V1 ECC8") == "ECC83 EL84 V1 ECC83"
    assert repaired("12AU6 12AU7", "12AU") == "12AU6 12AU7 12AU"
    assert repaired("12BE6 12BA6", "12AU") == "12BE6 12BA6 12AU"
    assert repaired("12AU7", "MODEL 12AU") == "12AU7 MODEL 12AU"


def test_a_stroke_at_the_end_is_taken_off_a_type_that_the_page_shows() -> None:
    assert repaired("6SC7", "6SC71") == "6SC7 6SC7"
    assert repaired("6SK7", "6SC71") == "6SK7 6SC71"
    assert repaired("6SC7", "MODEL 6SC71") == "6SC7 MODEL 6SC71"


def test_a_type_read_with_a_stroke_goes_before_one_that_was_repaired() -> None:
    box = Box(0, 0, 90, 30)
    first = PageReading(
        (Word("6BC7", box, 0.8, 0, "6BO7", "looks like it"),), 400, 300, "tesseract"
    )
    second = replace(first, words=(Word("6SC71", box, 0.97),))
    (word,) = merge(first, second).words
    assert word.text == "6SC71"


def test_a_repaired_word_keeps_what_was_read_and_why() -> None:
    words = repair(line("V1 14Q7 V2 14A7") + line("When the 1407 is replaced", number=1))
    (changed,) = [word for word in words if word.printed]
    assert (changed.text, changed.printed) == ("14Q7", "1407")
    assert "page shows it elsewhere" in changed.why


@pytest.mark.parametrize("text", ["7X66", "5F76", "R12", "CH-41A", "4T9F", "12AX4", "120"])
def test_codes_and_real_types_stay(text: str) -> None:
    assert repaired(f"{text} 12AX7", confidence=0.95) == f"{text} 12AX7"


def test_sets_used_some_types_more_than_others() -> None:
    assert familiarity("12BE6") > familiarity("12BD6") > familiarity("12DV8") == 0
