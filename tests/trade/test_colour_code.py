"""Colour marking. The colours' meanings are those of IEC 60062:2016, from memory, written out here
apart from the program's own table; the preferred values come from the `eseries` package."""

import eseries
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.trade.colour_code import (
    COLOURS,
    TEMPERATURE_PPM_PER_K,
    TOLERANCE_PERCENT,
    bands_for,
    read_bands,
    read_body_tip_dot,
)

# IEC 60062:2016, from memory: colour, digit, multiplier, tolerance %, ppm/K
STANDARD = """
pink   -  0.001       -     -
silver -  0.01        10    -
gold   -  0.1         5     -
black  0  1           -     250
brown  1  10          1     100
red    2  100         2     50
orange 3  1000        0.05  15
yellow 4  10000       0.02  25
green  5  100000      0.5   20
blue   6  1000000     0.25  10
violet 7  10000000    0.1   5
grey   8  100000000   0.01  1
white  9  1000000000  -     -
"""
ROWS = [line.split() for line in STANDARD.split("\n") if line]
FIGURES = sorted(round(value) for value in eseries.series(eseries.E24))  # IEC 60063


@pytest.mark.parametrize(("colour", "digit", "multiplier", "tolerance", "ppm"), ROWS)
def test_the_table_of_the_standard(
    colour: str, digit: str, multiplier: str, tolerance: str, ppm: str
) -> None:
    ohms = read_bands(["brown", "black", colour, "gold"]).value.number
    assert ohms == pytest.approx(10 * float(multiplier))
    if digit != "-":
        assert COLOURS[int(digit)] == colour
        assert read_bands(["brown", colour, "black"]).value.number == 10 + int(digit)
    assert TOLERANCE_PERCENT.get(colour) == (None if tolerance == "-" else float(tolerance))
    assert TEMPERATURE_PPM_PER_K.get(colour) == (None if ppm == "-" else int(ppm))


def test_no_fourth_band_means_twenty_percent() -> None:
    # IEC 60062, from memory
    assert read_bands(["yellow", "violet", "yellow"]).value.tolerance_percent == 20


@pytest.mark.parametrize(
    ("colours", "ohms", "percent"),
    [
        # worked from the standard's table by hand
        (["yellow", "violet", "yellow", "silver"], 470e3, 10),
        (["brown", "black", "green", "gold"], 1e6, 5),
        (["blue", "gray", "green", "silver"], 6.8e6, 10),
        (["Brown", "Green", "Brown"], 150, 20),
        (["red", "red", "gold", "gold"], 2.2, 5),
        (["brown", "black", "black", "red", "brown"], 10e3, 1),
    ],
)
def test_rows_of_bands(colours: list[str], ohms: float, percent: float) -> None:
    value = read_bands(colours).value
    assert (value.kind, value.number, value.tolerance_percent) == ("ohms", ohms, percent)


def test_a_sixth_band_is_the_temperature_coefficient() -> None:
    assert (
        read_bands(["brown", "black", "black", "red", "brown", "red"]).temperature_ppm_per_k == 50
    )


def test_body_tip_and_dot() -> None:
    # common practice, no source: body first digit, tip second, dot the zeros
    assert read_body_tip_dot("yellow", "violet", "orange").value.number == 47e3
    value = read_body_tip_dot("green", "black", "green", "silver").value
    assert (value.number, value.tolerance_percent) == (5e6, 10)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(FIGURES), st.integers(-2, 6), st.sampled_from([5.0, 10.0, 20.0]))
def test_bands_read_back(figures: int, power: int, percent: float) -> None:
    ohms = float(f"{figures}e{power}")
    bands = bands_for(ohms, percent)
    value = read_bands(bands).value
    assert value.number == pytest.approx(ohms)
    assert value.tolerance_percent == percent


@pytest.mark.parametrize(
    "colours",
    [
        ["gold", "violet", "red"],
        ["silver", "yellow", "violet", "yellow"],
        ["brown", "black", "red", "white"],
        ["brown", "black"],
        ["mauve", "black", "red"],
        ["brown", "black", "none"],
    ],
)
def test_colours_out_of_place_are_refused(colours: list[str]) -> None:
    with pytest.raises(ValueError):
        read_bands(colours)


@pytest.mark.parametrize(("ohms", "percent"), [(472.0, 5.0), (470.0, 7.0), (0.0, 5.0), (1e13, 5.0)])
def test_no_bands_for_what_the_code_cannot_say(ohms: float, percent: float) -> None:
    with pytest.raises(ValueError):
        bands_for(ohms, percent)
