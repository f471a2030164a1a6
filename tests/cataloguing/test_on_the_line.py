"""Words that warn of a live chassis are heard, whatever the line-up looks like; and the supply and
I.F. as many hands print them. Common practice, no source; texts and models are invented."""

import pytest

from indexer.cataloguing.particulars import if_khz_in, on_the_line, supply_in
from indexer.cataloguing.unit import catalogue_unit
from tests.cataloguing.pages import page

TRANSFORMER = "TILLBROOK RADIO CO.\nMODEL 88-K\nTubes: 6SA7, 6SK7, 6SQ7, 6K6, 5Y3.\n"
SERIES = "TILLBROOK RADIO CO.\nMODEL 88-K\nTubes: 12SA7, 12SK7, 12SQ7, 50L6, 35Z5.\n"


@pytest.mark.parametrize(
    "words",
    [
        "A.C.-D.C. receiver",
        "A.C.–D.C. receiver",
        "AC/DC 117 volts",
        "Mains 220 V, D.C. or A.C.",
        "for 110 volts, alternating or direct\ncurrent",
        "operates on AC or DC",
    ],
)
def test_sets_for_both_currents_are_never_cleared(words: str) -> None:
    assert on_the_line(words) == "unknown"
    (entry,) = catalogue_unit([page(TRANSFORMER + words)]).entries
    assert entry.live_chassis != "no"


@pytest.mark.parametrize(
    "words",
    [
        "The chassis is connected to one side of the mains.",
        "THE CHASSIS IS CONNECTED TO ONE SIDE OF THE LINE",
        "Caution: the chassis is live when the plug is in.",
    ],
)
def test_one_side_of_the_line_on_the_chassis_is_likely_live(words: str) -> None:
    assert on_the_line(words) == "likely"
    (entry,) = catalogue_unit([page(TRANSFORMER + words)]).entries
    assert entry.live_chassis == "likely"


def test_words_of_alternating_current_alone_warn_of_nothing() -> None:
    for words in ("A.C. mains only", "Never connect to direct current.", "117 V. A.C. 60 cycles"):
        assert on_the_line(words) == ""
        (entry,) = catalogue_unit([page(TRANSFORMER + words)]).entries
        assert entry.live_chassis == "no"


@pytest.mark.parametrize(
    "words",
    ["Three-way portable: AC, DC or batteries", "AC-DC-battery portable", "BATTERY OR LINE"],
)
def test_sets_for_battery_and_line_are_likely_live(words: str) -> None:
    assert supply_in(words) == "battery and line"
    text = f"TILLBROOK RADIO CO.\nModel 3P14\n{words}\nTubes: 1R5, 1U4, 1U5, 3V4.\n"
    (entry,) = catalogue_unit([page(text)]).entries
    assert (entry.supply, entry.live_chassis) == ("battery and line", "likely")


def test_a_series_string_stays_likely_live_without_a_word() -> None:
    (entry,) = catalogue_unit([page(SERIES)]).entries
    assert entry.live_chassis == "likely"


@pytest.mark.parametrize(
    ("text", "khz"),
    [
        ("I. F. Peak 456 ke.", 456.0),
        ("I. F. 175 ke. Tubes", 175.0),
        ("I.F. A.M. 460 ke/s, F.M. 10.7 Mc/s", 460.0),
        ("Peak\n|.F. at, 456 KC", 456.0),
        ("Intermediate. frequency 455 ke kc AM", 455.0),
        ("LF. 460 kc/s", 460.0),
        ("The intermediate frequency is 175 kilocycles.", 175.0),
        ("Tuning range 540 to 1720 kc", None),
        ("half 455 kc", None),
    ],
)
def test_the_intermediate_frequency_as_printed(text: str, khz: float | None) -> None:
    assert if_khz_in(text) == khz
