"""The bound spares work and never changes the answer; partial line-ups, alternatives, unknowns."""

from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.search.kin import looks_partial, nearness, rank
from tests.speed.finding_shelf import ADDED, FAMILIES

TYPES = sorted({t for family in FAMILIES for slot in family for t in slot} | set(ADDED))
LINE_UP = st.lists(st.sampled_from(TYPES), min_size=1, max_size=7)
MINIATURE = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]


@settings(max_examples=60, deadline=None)
@given(LINE_UP, st.lists(LINE_UP, min_size=1, max_size=90), st.integers(1, 12), st.booleans())
def test_pruning_gives_what_scoring_every_line_up_gives(
    asked: list[str], others: list[list[str]], limit: int, partial: bool
) -> None:
    """Against brute force over the same line-ups."""
    line_ups = {" ".join(sorted(other)): 1 for other in others}
    pruned = [near.score for near, _ in rank(asked, line_ups, limit, partial=partial)]
    every = [nearness(asked, line_up.split(), partial=partial) for line_up in line_ups]
    brute = sorted((near.score for near in every if near.score and near.exchange), reverse=True)
    assert pruned == brute[:limit]


def test_four_of_five_tubes_lead_to_the_set() -> None:
    """A list without rectifier is taken as partly read: common practice, no source."""
    asked = MINIATURE[:4]
    assert looks_partial(asked)
    assert not looks_partial(MINIATURE)
    assert not looks_partial(["1R5", "1T4", "1S5", "3S4"])  # a battery set needs none
    assert nearness(asked, MINIATURE, partial=True).score > 0.9
    assert nearness(asked, MINIATURE, partial=True).missing == ()


def test_an_alternative_counts_as_the_tube_itself() -> None:
    near = nearness(["6A8", "6K7", "6J5", "6F6", "5Y3"], ["6A8", "6K7", "6J5/6C5", "6F6", "5Y3"])
    assert near.score == 1
    near = nearness(["6A8", "6K7", "6C5", "6F6", "5Y3"], ["6A8", "6K7", "6J5/6C5", "6F6", "5Y3"])
    assert near.score == 1


def test_a_type_known_by_number_only_meets_its_heater() -> None:
    """By the type-number rule 12… has a 12.6 V heater."""
    near = nearness(["12ZZ9", *MINIATURE[1:]], MINIATURE)
    met = {pair.asked: pair for pair in near.exchange}
    if "12ZZ9" in met:
        assert met["12ZZ9"].relation == "none"
        assert "number" in met["12ZZ9"].note
    assert near.score > nearness(MINIATURE[1:], MINIATURE).score - 0.2
