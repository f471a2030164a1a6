"""Table types that a misread print may stand for, each with a cost (0 equal, about 1 one slip)."""

from functools import cache, lru_cache

from indexer.trade.jobs import OTHER_DIODES
from indexer.trade.late_patterns import late
from indexer.trade.tube_names import squeezed
from indexer.trade.tubes import all_tubes

# Characters that readers of print confuse, folded to one sign.
_FOLD = str.maketrans("OQDILJSZBGTCU", "000111528676V")
_CLOSE = frozenset(map(frozenset, ("O0", "I1", "L1", "IL", "S5", "B8", "Z2", "G6")))
# Slips that folding leaves: pairs of folded signs, dearer than a fold, cheaper than any slip.
_NEAR = frozenset(
    frozenset(pair)
    for pair in (
        "VY", "XK", "EF", "MN", "HN", "A4", "RK", "P7", "17", "38", "69", "56", "08", "V1", "VW",
        "MW", "NW", "YX", "RP", "FP", "60", "68", "35", "E6", "A8", "27", "F7",
    )
)  # fmt: skip
_CLOSE_COST = 0.2
_FOLD_COST = 0.35
_NEAR_COST = 0.5
_SLIP_COST = 1.0
_SUFFIX_COST = 0.05
_BENT_SUFFIX_COST = 0.2
_RARE_COST = 0.15
MAX_COST = 1.5

# Television and other types that a radio's page seldom means.
_RARE_BASES = frozenset({"duodecar", "novar", "nuvistor", "magnoval", "subminiature"})
_TELEVISION = late(r"(?:[2348]|9|1[01356]|2[0-4]|27|3[0-46-8]|[24][0-9])[A-Z]{2}\d{1,2}")

_SUFFIXES = ("", "G", "GT", "GTG", "GT/G", "M", "GTA", "GTB", "A", "B", "GA", "GB", "GC", "W")


def folded(text: str) -> str:
    """The look-alike key of a squeezed code. Folding twice gives the same key."""
    return text.translate(_FOLD)


_BENT_SUFFIX = late(r"6[7Y1]?(?:/?67?)?[A48]?|[MWA48]")  # of folded G, GT, GT/G, GTB …


@cache
def _index() -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, ...]]]:
    """Types by folded key, and folded keys by every way to leave one sign out."""
    by_key: dict[str, list[str]] = {}
    for name in all_tubes():
        by_key.setdefault(folded(name), []).append(name)
    gaps: dict[str, set[str]] = {}
    for key, names in by_key.items():
        if len(key) >= 3 and any(not name.isdigit() for name in names):
            for at in range(len(key)):
                gaps.setdefault(key[:at] + key[at + 1 :], set()).add(key)
    return (
        {key: tuple(names) for key, names in by_key.items()},
        {key: tuple(sorted(keys)) for key, keys in gaps.items()},
    )


@lru_cache(maxsize=16384)
def _near_types(code: str) -> tuple[tuple[str, float], ...]:
    by_key, gaps = _index()
    best: dict[str, float] = {}
    for stem, extra in _stems(code):
        key = folded(stem)
        keys = {key} if key in by_key else set()
        most = _NEAR_COST + _FOLD_COST if stem.isdigit() else MAX_COST
        if len(key) >= 3:
            keys.update(gaps.get(key, ()))  # the print lost a sign
            for at in range(len(key)):
                shorter = key[:at] + key[at + 1 :]
                keys.update(gaps.get(shorter, ()))  # one sign differs
                if shorter in by_key and len(shorter) >= 3:
                    keys.add(shorter)  # the print gained a sign
        for candidate in keys:
            for name in by_key[candidate]:
                cost = round(extra + slip_cost(stem, name), 2)
                cost = round(cost + _RARE_COST, 2) if cost and _rare(name) else cost
                if cost <= most and cost < best.get(name, 9.0):
                    best[name] = cost
    return tuple(sorted(best.items(), key=lambda item: (item[1], item[0])))


@cache
def _rare(name: str) -> bool:
    tube = all_tubes()[name]
    return (
        tube.base in _RARE_BASES
        or bool(set(tube.functions) & OTHER_DIODES)
        or bool(_TELEVISION().fullmatch(name))
    )


def look_alikes(text: str, limit: int = 8) -> list[tuple[str, float]]:
    """Table types that the print may mean, cheapest first, at most `limit`, each cost <= 1.5.

    0 is the type itself; 0.2 a sign of one close pair (O/0, I/1, S/5, B/8, Z/2, G/6); 0.35 to 0.5
    a looser look-alike; 1 any one slip, left-out or added sign. Envelope suffixes, misread too,
    are let go. Types that radios seldom use cost 0.15 more unless they are printed exactly. Bare
    numbers match only by look-alikes, never by a slip.
    """
    code = squeezed(text)
    return list(_near_types(code)[:limit]) if 2 <= len(code) <= 12 else []


def _stems(code: str) -> list[tuple[str, float]]:
    """The code with each plausible envelope suffix taken off, with what that costs."""
    if "VV" in code:  # a W set wide
        return [(stem, cost + _FOLD_COST) for stem, cost in _stems(code.replace("VV", "W"))]
    stems = []
    for cut in range(min(5, len(code) - 2) + 1):
        stem, tail = code[: len(code) - cut], code[len(code) - cut :]
        if tail in _SUFFIXES:
            stems.append((stem, _SUFFIX_COST if tail else 0.0))
        elif _BENT_SUFFIX().fullmatch(folded(tail)) and len(stem) >= 3:
            stems.append((stem, _BENT_SUFFIX_COST))
    return stems


def slip_cost(one: str, other: str) -> float:
    """Weighted edit distance between two squeezed codes; symmetric."""
    row = [n * _SLIP_COST for n in range(len(other) + 1)]
    for here, sign in enumerate(one, start=1):
        diagonal, row[0] = row[0], here * _SLIP_COST
        for there, against in enumerate(other, start=1):
            change = diagonal + _sign_cost(sign, against)
            diagonal = row[there]
            row[there] = min(change, row[there] + _SLIP_COST, row[there - 1] + _SLIP_COST)
    return row[-1]


@cache
def _sign_cost(one: str, other: str) -> float:
    if one == other:
        return 0.0
    if frozenset((one, other)) in _CLOSE:
        return _CLOSE_COST
    first, second = folded(one), folded(other)
    if first == second:
        return _FOLD_COST
    return _NEAR_COST if frozenset((first, second)) in _NEAR else _SLIP_COST
