"""Which sets have the nearest line-up, and how near, tube by tube."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from indexer.trade.lineup import analyse
from indexer.trade.relations import Relation, relation

# What exchanging one tube for another costs, 0 to 1, by how the two are related.
EXCHANGE_COST = {
    "same": 0.0,
    "same, other envelope": 0.0,
    "direct substitute": 0.10,
    "other heater": 0.30,
    "other socket": 0.45,
    "same role": 0.65,
    "none": 1.0,
}
SAME_SOCKET = frozenset({"same", "same, other envelope", "direct substitute", "other heater"})
# How much a tube's role shapes the circuit; 1.0 where none is named.
ROLE_WEIGHT = {
    "converter": 1.2,
    "output": 1.2,
    "rectifier": 1.1,
    "mixer": 1.1,
    "tuning eye": 0.6,
    "ballast": 0.5,
    "regulator": 0.5,
}
_UNPAIRED = 0.9  # cost of a tube with no counterpart, before its weight


@dataclass(frozen=True, slots=True)
class Exchange:
    """One tube of the asked set and its counterpart."""

    asked: str
    has: str
    relation: str
    note: str


@dataclass(frozen=True, slots=True)
class Nearness:
    """How near one line-up is to the asked one. `score` is 1 for the same tubes, 0 for nothing
    in common."""

    score: float
    exchange: tuple[Exchange, ...]
    missing: tuple[str, ...]  # asked tubes without a counterpart
    extra: tuple[str, ...]  # the other set's tubes without a counterpart

    @property
    def same_sockets(self) -> bool:
        """Whether every tube has a counterpart that fits the same socket wiring."""
        return (
            not self.missing
            and not self.extra
            and all(pair.relation in SAME_SOCKET for pair in self.exchange)
        )


def nearness(asked: Sequence[str], has: Sequence[str]) -> Nearness:
    """The best one-to-one pairing of two line-ups, and its score (0 to 1)."""
    asked, has = list(asked), list(has)
    if not asked or not has:
        return Nearness(0.0, (), tuple(asked), tuple(has))
    asked_weights, has_weights = _weights(tuple(asked)), _weights(tuple(has))
    size = max(len(asked), len(has))
    costs = [
        [_cost(asked, has, asked_weights, has_weights, i, j) for j in range(size)]
        for i in range(size)
    ]
    pairs = assignment(costs)
    total = sum(costs[i][j] for i, j in enumerate(pairs))
    worst = sum(
        max(a, b)
        for a, b in zip(
            sorted(_padded(asked_weights, size)), sorted(_padded(has_weights, size)), strict=True
        )
    )
    exchange, missing = [], []
    extra = set(range(len(has)))
    for i, j in enumerate(pairs):
        if i >= len(asked):
            continue
        link = relation(asked[i], has[j]) if j < len(has) else None
        if link is None or link.kind == "none":
            missing.append(asked[i])
        else:
            extra.discard(j)
            exchange.append(Exchange(asked[i], has[j], link.kind, link.note))
    return Nearness(
        round(max(0.0, 1 - total / worst), 4),
        tuple(exchange),
        tuple(missing),
        tuple(has[j] for j in sorted(extra)),
    )


def rank(
    asked: Sequence[str], line_ups: Mapping[str, Sequence[str]], limit: int
) -> list[tuple[Nearness, str]]:
    """The `limit` nearest entries, nearest first. `line_ups` maps a line-up (types joined by a
    space) to the entries that have it; each distinct line-up is scored once."""
    supply = analyse(asked).supply
    scored = []
    for line_up, entries in line_ups.items():
        types = line_up.split()
        near = nearness(asked, types)
        if near.score > 0 and near.exchange:
            other_supply = analyse(types).supply
            known = "unknown" not in (supply, other_supply)
            key = (
                -near.score,
                known and other_supply != supply,
                abs(len(types) - len(asked)),
            )
            scored += [(key, entry, near) for entry in entries]
    scored.sort(key=lambda item: item[:2])
    return [(near, entry) for _, entry, near in scored[:limit]]


def assignment(costs: Sequence[Sequence[float]]) -> list[int]:
    """The column given to each row so that the sum of costs is least (a square matrix).

    The shortest augmenting path form of the Hungarian method (Kuhn 1955; Jonker and
    Volgenant 1987).
    """
    size = len(costs)
    row_price, column_price = [0.0] * (size + 1), [0.0] * (size + 1)
    row_of = [0] * (size + 1)  # the row that holds each column, from 1; 0 is free
    for row in range(1, size + 1):
        row_of[0] = row
        column = 0
        least = [float("inf")] * (size + 1)
        came_from = [0] * (size + 1)
        done = [False] * (size + 1)
        while row_of[column]:
            done[column] = True
            here, step, following = row_of[column], float("inf"), 0
            for j in range(1, size + 1):
                if done[j]:
                    continue
                slack = costs[here - 1][j - 1] - row_price[here] - column_price[j]
                if slack < least[j]:
                    least[j], came_from[j] = slack, column
                if least[j] < step:
                    step, following = least[j], j
            for j in range(size + 1):
                if done[j]:
                    row_price[row_of[j]] += step
                    column_price[j] -= step
                else:
                    least[j] -= step
            column = following
        while column:
            row_of[column] = row_of[came_from[column]]
            column = came_from[column]
    columns = [0] * size
    for column in range(1, size + 1):
        columns[row_of[column] - 1] = column - 1
    return columns


def _cost(
    asked: Sequence[str],
    has: Sequence[str],
    asked_weights: Sequence[float],
    has_weights: Sequence[float],
    i: int,
    j: int,
) -> float:
    if i >= len(asked):
        return _UNPAIRED * has_weights[j]
    if j >= len(has):
        return _UNPAIRED * asked_weights[i]
    link = _relation(asked[i], has[j])
    return EXCHANGE_COST[link.kind] * max(asked_weights[i], has_weights[j])


@lru_cache(maxsize=100_000)
def _relation(asked: str, has: str) -> Relation:
    return relation(asked, has)


@lru_cache(maxsize=10_000)
def _weights(types: tuple[str, ...]) -> tuple[float, ...]:
    return tuple(ROLE_WEIGHT.get(role, 1.0) for role in analyse(types).roles)


def _padded(weights: Sequence[float], size: int) -> list[float]:
    return [*weights, *[0.0] * (size - len(weights))]
