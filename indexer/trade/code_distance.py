"""How far apart two codes are to the eye of someone (or something) reading a poor scan.

The costs are common practice, no source: they order slips by how often they are met.
"""

from functools import lru_cache

from indexer.trade.code_forms import fold, normal

FOLD_COST = 0.2  # same character in any look-alike alphabet: O for 0
ALIKE_COST = 0.4  # often confused in worn print or drafting lettering: D for 0
STROKES_COST = 0.4  # two narrow characters read as one wide: VV for W
OTHER_COST = 1.0

# Letters against digits or letters. Never digit against digit: those are other sets.
_ALIKE_PAIRS = (
    "0D OD QD 0C OC QC CG 6C 6B 1T IT 1J IJ 7T 7Y 7Z 4A 4H 9G 9P 3B 5G 8S 8E 0U UV VY EF PR "
    "HN MN KX BR"
)
_ALIKE = frozenset(frozenset(pair) for pair in _ALIKE_PAIRS.split())
_STROKES = frozenset(
    frozenset(pair) for pair in (("W", "VV"), ("M", "RN"), ("H", "II"), ("H", "11"), ("U", "LI"))
)


def slip_cost(one: str, other: str) -> float:
    """Cost of reading one character for another, 0 (equal) to 1; symmetric. Upper case only."""
    if one == other:
        return 0.0
    if one.isdigit() and other.isdigit():
        return OTHER_COST
    if fold(one) == fold(other):
        return FOLD_COST
    return ALIKE_COST if frozenset((one, other)) in _ALIKE else OTHER_COST


@lru_cache(maxsize=4096)
def _between(one: str, other: str) -> float:
    rows = [[0.0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for i in range(len(one) + 1):
        for j in range(len(other) + 1):
            if not i and not j:
                continue
            best = float("inf")
            if i:
                best = rows[i - 1][j] + OTHER_COST
            if j:
                best = min(best, rows[i][j - 1] + OTHER_COST)
            if i and j:
                best = min(best, rows[i - 1][j - 1] + slip_cost(one[i - 1], other[j - 1]))
            if i >= 2 and j and frozenset((one[i - 2 : i], other[j - 1])) in _STROKES:
                best = min(best, rows[i - 2][j - 1] + STROKES_COST)
            if i and j >= 2 and frozenset((one[i - 1], other[j - 2 : j])) in _STROKES:
                best = min(best, rows[i - 1][j - 2] + STROKES_COST)
            rows[i][j] = best
    return rows[-1][-1]


def distance(a: str, b: str) -> float:
    """Look-alike distance of two codes, from 0; symmetric, and 0 for equal normal forms.

    A look-alike (O for 0) costs 0.2, a likely slip (D for 0) or joined strokes (VV for W) 0.4,
    any other change, and any character more or less, 1. Digit against digit is always 1.
    """
    one, other = normal(a), normal(b)
    if other < one:  # one order only, so that rounding can't differ between (a, b) and (b, a)
        one, other = other, one
    return round(_between(one, other), 6)
