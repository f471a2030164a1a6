"""Which sets have the nearest line-up, and how near, tube by tube.

A line-up is a sequence of types; one with alternatives is written with slashes ("6J5/6C5").
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from indexer.search.pairing import assignment
from indexer.search.weights import (
    CLASS_WEIGHT,
    COST_BY_HEATER,
    EXCHANGE_COST,
    UNPAIRED,
    UNPAIRED_PARTIAL,
)
from indexer.trade.jobs import is_output, role_class
from indexer.trade.lineup import analyse, has_rectifier
from indexer.trade.relations import RANK, Relation, relation
from indexer.trade.tubes import known

__all__ = ["Exchange", "Nearness", "assignment", "looks_partial", "nearness", "rank", "ranked"]

SAME_SOCKET = frozenset({"same", "same, other envelope", "direct substitute", "other heater"})
_BATCH = 64  # line-ups scored before the bound is looked at again


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

    @property
    def alike(self) -> int:
        """How many tubes are of the same type."""
        return sum(pair.relation in ("same", "same, other envelope") for pair in self.exchange)


@dataclass(frozen=True, slots=True)
class _Link:
    cost: float
    kind: str
    note: str
    asked: str
    has: str


def nearness(asked: Sequence[str], has: Sequence[str], *, partial: bool = False) -> Nearness:
    """The best one-to-one pairing of two line-ups, and its score (0 to 1).

    `partial` says that not all tubes of the asked set were read: what the other set has more
    then costs little.
    """
    if not asked or not has:
        return Nearness(0.0, (), tuple(asked), tuple(has))
    spare = UNPAIRED_PARTIAL if partial else UNPAIRED
    size = max(len(asked), len(has))
    mine, theirs = [weight(t) for t in asked], [weight(t) for t in has]
    links = [[link(a, h) for h in has] for a in asked]
    costs = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(size):
            if i >= len(asked):
                costs[i][j] = spare * theirs[j]
            elif j >= len(has):
                costs[i][j] = UNPAIRED * mine[i]
            else:
                costs[i][j] = links[i][j].cost * max(mine[i], theirs[j])
    pairs = assignment(costs)
    total = sum(costs[i][j] for i, j in enumerate(pairs))
    exchange, missing = [], []
    extra = set(range(len(has)))
    for i, j in enumerate(pairs[: len(asked)]):
        if j >= len(has) or links[i][j].cost >= 1.0:
            missing.append(asked[i])
        else:
            extra.discard(j)
            pair = links[i][j]
            exchange.append(Exchange(pair.asked, pair.has, pair.kind, pair.note))
    return Nearness(
        round(max(0.0, 1 - total / _worst(mine, theirs)), 4),
        tuple(exchange),
        tuple(missing),
        tuple(has[j] for j in sorted(extra)),
    )


def _worst(mine: Sequence[float], theirs: Sequence[float]) -> float:
    """What two line-ups with nothing in common would cost at most."""
    return max(sum(mine), sum(theirs))


def rank(
    asked: Sequence[str], line_ups: Mapping[str, object], limit: int, *, partial: bool = False
) -> list[tuple[Nearness, str]]:
    """The `limit` nearest of the line-ups (keys, types joined by a space), nearest first.

    Equal scores are ordered by supply (the same first), then by how near the counts are.
    """
    found: list[tuple[Nearness, str]] = []
    for group in ranked(asked, line_ups, partial=partial):
        found += group
        if len(found) >= limit:
            break
    return found[:limit]


def ranked(
    asked: Sequence[str], line_ups: Mapping[str, object], *, partial: bool = False
) -> Iterator[list[tuple[Nearness, str]]]:
    """Groups of line-ups that are equally near, nearest first; each line-up is scored once.

    Line-ups are scored in the order of a bound that their score can't pass, and only until no
    other can come before those at hand, so the order is that of scoring them all.
    """
    supply = _supply(tuple(asked))
    waiting = _by_bound(asked, line_ups, partial)
    at = 0
    scored: list[tuple[tuple[float, bool, int], str, Nearness]] = []
    while at < len(waiting) or scored:
        best_left = waiting[at][0] if at < len(waiting) else -1.0
        scored.sort(key=lambda item: item[:2], reverse=True)
        while scored and (-scored[-1][0][0] > best_left or best_left < 0):
            key = scored[-1][0]
            group = []
            while scored and scored[-1][0] == key:
                _, line_up, near = scored.pop()
                group.append((near, line_up))
            yield group
        if best_left <= 0:
            at = len(waiting)
        for _, line_up in waiting[at : at + _BATCH]:
            types = line_up.split()
            near = nearness(asked, types, partial=partial)
            if near.score > 0 and near.exchange:
                other = _supply(tuple(types))
                apart = "unknown" not in (supply, other) and supply != other
                key = (-near.score, apart, abs(len(types) - len(asked)))
                scored.append((key, line_up, near))
        at += _BATCH


def _by_bound(
    asked: Sequence[str], line_ups: Mapping[str, object], partial: bool
) -> list[tuple[float, str]]:
    """Each line-up with a score that it can't pass, highest first.

    Every asked tube costs at least its cheapest exchange, and every tube that one side has more
    at least the lightest spare; both without looking at what else wants the same counterpart.
    """
    rows = [(weight(a), _cheapest(a)) for a in asked]
    mine = [w for w, _ in rows]
    total_mine, count = sum(mine), len(asked)
    spare = UNPAIRED_PARTIAL if partial else UNPAIRED
    bounds = []
    for line_up in line_ups:
        types, light, total = _taken(line_up)
        least = 0.0
        for w, costs in rows:
            cheapest = UNPAIRED * w if count > len(types) else w
            for type_ in types:
                cost = costs[type_]
                if cost < cheapest:
                    cheapest = cost
            least += cheapest
        if len(types) > count:
            least += spare * light[len(types) - count]
        worst = max(total_mine, total)
        bounds.append((round(1 - least / worst, 4) + 0.0002, line_up))
    bounds.sort(key=lambda item: (-item[0], item[1]))
    return bounds


@lru_cache(maxsize=50_000)
def _taken(line_up: str) -> tuple[tuple[str, ...], tuple[float, ...], float]:
    """The types of a line-up, what its lightest 0, 1, 2 … tubes weigh, and what all weigh."""
    types = tuple(line_up.split())
    light = tuple(accumulate(sorted(weight(t) for t in types), initial=0.0))
    return types, light, light[-1]


class _Costs(dict[str, float]):
    """What exchanging one asked type for each other costs, with its weight; filled as asked."""

    def __init__(self, asked: str) -> None:
        super().__init__()
        self._asked = asked

    def __missing__(self, has: str) -> float:
        cost = link(self._asked, has).cost * max(weight(self._asked), weight(has))
        self[has] = cost
        return cost


@lru_cache(maxsize=2_000)
def _cheapest(asked: str) -> _Costs:
    return _Costs(asked)


@lru_cache(maxsize=200_000)
def link(asked: str, has: str) -> _Link:
    """The cheapest exchange between two types, either of which may name alternatives."""
    options = [_link(a, h) for a in asked.split("/") for h in has.split("/")]
    return min(options, key=lambda option: (option.cost, RANK[option.kind]))


def _link(asked: str, has: str) -> _Link:
    met: Relation = relation(asked, has)
    cost = EXCHANGE_COST[met.kind]
    if met.kind == "none":
        note = _by_heater(asked, has)
        if note:
            return _Link(COST_BY_HEATER, "none", note, asked, has)
    return _Link(cost, met.kind, met.note, asked, has)


def _by_heater(asked: str, has: str) -> str:
    """Why two types may stand opposite each other although one is known only by its number."""
    one, other = known(asked), known(has)
    if one is None or other is None or not (one.decoded or other.decoded):
        return ""
    if role_class(one) and role_class(other):
        return ""
    if not one.heater_v or one.heater_v != other.heater_v:
        return ""
    if one.base and other.base and one.base != other.base:
        return ""
    name = asked if one.decoded else has
    return f"{name} is known only by its number: same heater volts, its job is not on record"


@lru_cache(maxsize=10_000)
def weight(type_: str) -> float:
    """How much a tube's job shapes the circuit (of the first, where alternatives are named)."""
    tube = known(type_.partition("/")[0])
    return CLASS_WEIGHT.get(role_class(tube), 1.0) if tube else 1.0


@lru_cache(maxsize=20_000)
def _supply(types: tuple[str, ...]) -> str:
    return analyse([type_.partition("/")[0] for type_ in types]).supply


def looks_partial(types: Sequence[str]) -> bool:
    """Whether a line-up can hardly be all of a set: too few tubes, no output, or no supply."""
    tubes = [known(type_.partition("/")[0]) for type_ in types]
    if len(types) < 4 or not any(tube and is_output(tube) for tube in tubes):
        return True
    return not has_rectifier(tubes) and _supply(tuple(types)) != "battery"
