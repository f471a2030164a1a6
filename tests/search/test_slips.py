"""Looking spellings up misses no code that comparing every code would find."""

import itertools
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from indexer.search import slips
from indexer.trade.code_distance import distance
from indexer.trade.codes import MISREAD_BOUND, fold

CODE = st.text(alphabet="0123456789ABCDGILOQSVWMNRTZ", min_size=3, max_size=7)


@pytest.mark.parametrize("code", ["5D10", "CH41", "8B6K", "W4I0"])
def test_every_code_within_the_bound_is_among_the_spellings(code: str) -> None:
    """Every code with one or two signs changed, against `trade.code_distance` itself."""
    spelt = set(slips.likely(fold(code)))
    met = 0
    for first, second in itertools.combinations(range(len(code)), 2):
        for one, other in itertools.product(string.digits + string.ascii_uppercase, repeat=2):
            signs = list(code)
            signs[first], signs[second] = one, other
            changed = "".join(signs)
            if distance(code, changed) <= MISREAD_BOUND:
                met += 1
                assert fold(changed) in spelt, changed
    assert met > 20


def test_slips_that_folding_leaves_are_covered() -> None:
    for asked, printed in (("5DI0", "5010"), ("VV40", "W40"), ("CD12", "GO12"), ("RN7", "M7")):
        assert distance(asked, printed) <= MISREAD_BOUND, (asked, printed)
        assert fold(printed) in slips.likely(fold(asked)), (asked, printed)


@given(CODE, st.integers(0, 6), st.sampled_from("0123456789ABCXYZ"))
def test_one_slip_covers_a_sign_more_less_and_other(code: str, at: int, sign: str) -> None:
    folded = fold(code)
    near = slips.one_slip(folded)
    at = min(at, len(folded) - 1)
    for other in (folded[:at] + fold(sign) + folded[at:], folded[:at] + folded[at + 1 :]):
        assert other == folded or len(other) < 2 or other in near


def test_a_rubbed_figure_stands_for_any_sign() -> None:
    assert slips.is_rubbed("5D?0")
    assert not slips.is_rubbed("???")
    assert slips.rubbed_form("5d-?0") == fold("5D")[:2] + "?0"
    assert "5D10" in slips.filled("5D?0")
    assert slips.filled("????????") == []
