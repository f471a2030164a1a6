"""The spellings under which a code may stand on the shelf, given how it was read.

Looking a handful of spellings up in a B-tree costs less than comparing every code, and misses
none: `tests/search/test_slips.py` holds this against comparing every code.
"""

import re
from collections.abc import Iterator
from functools import lru_cache

from indexer.search.weights import MAX_SPELLINGS
from indexer.trade.code_distance import _ALIKE as ALIKE_PAIRS
from indexer.trade.code_distance import _STROKES as STROKE_PAIRS
from indexer.trade.codes import fold, normal

RUBBED = "?"  # one character that can't be read
_RUBBED_SIGNS = re.compile(r"[?*_#\u2022\u00b7]")
_SIGNS = "".join(sorted(set(fold("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"))))


def is_rubbed(code: str) -> bool:
    """Whether a code names characters that can't be read, as in "5D?0"."""
    return bool(_RUBBED_SIGNS.search(code)) and bool(normal(code))


def rubbed_form(code: str) -> str:
    """The folded form of a code with RUBBED kept in its places: "5d-?0" gives "5D?0"."""
    marked = _RUBBED_SIGNS.sub(RUBBED, code)
    return "".join(RUBBED if c == RUBBED else fold(c) for c in marked)


def filled(pattern: str) -> list[str]:
    """Every folded form that a rubbed one may stand for; [] when there are too many."""
    holes = pattern.count(RUBBED)
    if len(_SIGNS) ** holes > MAX_SPELLINGS:
        return []
    forms = [""]
    for sign in pattern:
        forms = [form + c for form in forms for c in (_SIGNS if sign == RUBBED else sign)]
    return forms


@lru_cache(maxsize=1)
def _alike() -> dict[str, str]:
    """Folded signs that stand in for each folded sign by a likely slip."""
    near: dict[str, set[str]] = {}
    for pair in ALIKE_PAIRS:
        one, other = (fold(c) for c in sorted(pair))
        if one != other:
            near.setdefault(one, set()).add(other)
            near.setdefault(other, set()).add(one)
    return {sign: "".join(sorted(others)) for sign, others in near.items()}


@lru_cache(maxsize=1)
def _strokes() -> tuple[tuple[str, str], ...]:
    pairs = [sorted(pair, key=len) for pair in STROKE_PAIRS]
    both = {(fold(a), fold(b)) for a, b in pairs} | {(fold(b), fold(a)) for a, b in pairs}
    return tuple(sorted(both))


def _one_likely(folded: str) -> Iterator[str]:
    for at, sign in enumerate(folded):
        for other in _alike().get(sign, ""):
            yield folded[:at] + other + folded[at + 1 :]
    for seen, meant in _strokes():
        at = folded.find(seen)
        while at >= 0:
            yield folded[:at] + meant + folded[at + len(seen) :]
            at = folded.find(seen, at + 1)


def likely(folded: str) -> list[str]:
    """Folded forms within two likely slips of this one, itself first; at most MAX_SPELLINGS.

    Covers every code within the misreading bound of `trade.codes`: look-alikes fall together by
    folding, and at most two dearer slips fit under the bound.
    """
    once = dict.fromkeys(_one_likely(folded))
    forms = dict.fromkeys([folded, *once])
    for form in once:
        if len(forms) >= MAX_SPELLINGS:
            break
        forms.update(dict.fromkeys(_one_likely(form)))
    return list(forms)[:MAX_SPELLINGS]


def one_slip(folded: str) -> list[str]:
    """Folded forms with one sign more, one less, or one other; at most MAX_SPELLINGS."""
    forms: dict[str, None] = {}
    for at in range(len(folded) + 1):
        forms.update((folded[:at] + sign + folded[at:], None) for sign in _SIGNS)
    for at in range(len(folded)):
        if len(folded) > 2:
            forms[folded[:at] + folded[at + 1 :]] = None
        forms.update((folded[:at] + sign + folded[at + 1 :], None) for sign in _SIGNS)
    forms.pop(folded, None)
    return list(forms)[:MAX_SPELLINGS]
