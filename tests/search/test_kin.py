"""Nearness of line-ups: the pairing is the best there is, and the order is what a bench expects."""

import itertools
import random

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from indexer.errors import UsageError
from indexer.search.kin import assignment, nearness, rank
from indexer.search.query import tubes_in, understand, unread_in
from indexer.trade.tubes import known

MINIATURE = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
OCTAL = ["12SA7", "12SK7", "12SQ7", "50L6", "35Z5"]


@pytest.mark.parametrize("size", [1, 2, 5, 9])
def test_pairing_costs_what_scipy_finds(size: int) -> None:
    """Against scipy.optimize.linear_sum_assignment."""
    draw = random.Random(size)
    for _ in range(40):
        costs = [
            [draw.choice([0, 0.1, 0.3, 0.45, 1, 1.2]) for _ in range(size)] for _ in range(size)
        ]
        ours = sum(costs[i][j] for i, j in enumerate(assignment(costs)))
        rows, columns = linear_sum_assignment(np.array(costs))
        assert ours == pytest.approx(float(np.array(costs)[rows, columns].sum()))


def test_pairing_uses_each_column_once() -> None:
    assert sorted(assignment([[0.0] * 4 for _ in range(4)])) == [0, 1, 2, 3]


@pytest.mark.parametrize("order", list(itertools.permutations(MINIATURE))[::30])
def test_same_tubes_in_any_order_score_one(order: tuple[str, ...]) -> None:
    near = nearness(MINIATURE, order)
    assert near.score == 1
    assert near.same_sockets
    assert not near.missing
    assert not near.extra


def test_repeats_count() -> None:
    """Two output tubes are not one: common practice, no source."""
    near = nearness(["6V6", "6V6", "5Y3"], ["6V6", "5Y3"])
    assert near.missing == ("6V6",)
    assert near.score < 1


def test_one_exchange_is_named_with_its_relation() -> None:
    """50B5 and 50C5 are alike in ratings, not in pins: common practice, no source."""
    near = nearness(["12BE6", "12BA6", "12AT6", "50B5", "35W4"], MINIATURE)
    found = {(pair.asked, pair.has): pair.relation for pair in near.exchange}
    assert found["12AT6", "12AV6"] == "direct substitute"
    assert found["50B5", "50C5"] == "other socket"
    assert not near.same_sockets


def test_same_jobs_in_other_sockets_are_not_the_same_set() -> None:
    """The octal five-tube set does the jobs of the miniature one: common practice, no source."""
    near = nearness(MINIATURE, OCTAL)
    assert len(near.exchange) == 5
    assert 0.3 < near.score < 0.8
    assert not near.same_sockets


def test_nearer_sockets_come_first() -> None:
    names = {
        " ".join(sorted(OCTAL)): "octal",
        " ".join(sorted(MINIATURE)): "miniature",
        "5Y3 6F6 6K7 6K7 6A8 6Q7": "transformer",
    }
    ranked = [
        names[entry] for _, entry in rank(["12BE6", "12BA6", "12AT6", "50C5", "35W4"], names, 5)
    ]
    assert ranked == ["miniature", "octal", "transformer"]


def test_nothing_asked_is_near_nothing() -> None:
    assert nearness([], MINIATURE).score == 0
    assert rank(MINIATURE, {}, 5) == []


def test_tubes_that_were_not_read_are_no_fault_of_the_set() -> None:
    read, text = ["12BE6", "12BA6", "50C5", "35W4"], "12BE6 12BA6 ? 50C5 35W4"
    assert (tubes_in(text), unread_in(text)) == (read, 1)
    assert understand(text).unread == 1 and list(understand(text).tubes) == read
    whole = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
    assert nearness(read, whole, partial=True).score > nearness(read, whole).score


def test_a_rubbed_type_stands_for_every_type_it_may_be() -> None:
    (types,) = tubes_in("12A?6")
    assert {"12AT6", "12AV6"} <= set(types.split("/"))
    assert all(known(name) and len(name) == 5 for name in types.split("/"))
    assert nearness(["12BE6", types], ["12BE6", "12AV6"]).score == 1
    with pytest.raises(UsageError, match="99"):
        tubes_in("99??")


@pytest.mark.parametrize(
    ("typed", "types"),
    [
        ("(2) 6V6, 6SC7", ["6V6", "6V6", "6SC7"]),
        ("two 6V6 and 6SC7", ["6V6", "6V6", "6SC7"]),
        ("6J5 or 6C5, 80", ["6J5/6C5", "80"]),
        ("6A8 6A8G 6K7", ["6A8", "6A8", "6K7"]),
    ],
)
def test_tubes_are_typed_as_people_type_them(typed: str, types: list[str]) -> None:
    assert tubes_in(typed) == types
