"""Preferred values against IEC 60063 as the `eseries` package (1.2) carries it."""

import eseries
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.trade.preferred import NAMES, figures, is_preferred, neighbours, preferred

THEIRS = {name: eseries.ESeries[name] for name in NAMES}
amounts = st.floats(1e-12, 1e9, allow_nan=False, allow_infinity=False)
quick = settings(max_examples=200, deadline=None)


@pytest.mark.parametrize("name", NAMES)
def test_each_series_is_that_of_the_standard(name: str) -> None:
    # IEC 60063, by way of eseries
    theirs = sorted(round(value) for value in eseries.series(THEIRS[name]))
    assert list(figures(name)) == theirs
    assert len(figures(name)) == int(name[1:])


def test_the_one_exception_of_the_finest_series() -> None:
    # IEC 60063: 9.20 where the formula gives 9.19
    assert 920 in figures("E192") and 919 not in figures("E192")


@quick
@given(amounts, st.sampled_from(NAMES))
def test_nearest_is_in_the_series_and_nearest(value: float, name: str) -> None:
    ours = preferred(value, name)
    assert is_preferred(ours, name)
    theirs = eseries.find_nearest(THEIRS[name], value)
    assert abs(ours - value) <= abs(theirs - value) * (1 + 1e-6) + value * 1e-9


@quick
@given(amounts, st.sampled_from(NAMES))
def test_neighbours_enclose_the_value(value: float, name: str) -> None:
    below, above = neighbours(value, name)
    assert below <= value * (1 + 1e-8) and above >= value * (1 - 1e-8)
    assert preferred(value, name) in (below, above)
    theirs_below = eseries.find_less_than_or_equal(THEIRS[name], value)
    theirs_above = eseries.find_greater_than_or_equal(THEIRS[name], value)
    assert below == pytest.approx(theirs_below, rel=1e-6) or below == pytest.approx(value, rel=1e-6)
    assert above == pytest.approx(theirs_above, rel=1e-6) or above == pytest.approx(value, rel=1e-6)


def test_of_two_equally_near_the_larger() -> None:
    assert preferred(40.0, "E6") == 47.0
    assert preferred(30.0, "E12") == 33.0


def test_members_are_written_cleanly() -> None:
    assert preferred(5e-8, "E6") == 4.7e-8
    assert preferred(5e-5, "E6") == 4.7e-5


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_only_numbers_above_zero(value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        preferred(value)


def test_an_unknown_series_is_refused() -> None:
    with pytest.raises(ValueError, match="E7"):
        preferred(1.0, "E7")
