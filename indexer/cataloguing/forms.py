"""One code printed in several headings, read now and then with a slip: which form to keep."""

from collections import Counter
from collections.abc import Iterable, Sequence

from indexer.trade.codes import fold

_SHORTEST = 4  # characters of a code that may be told from another by one letter


def distinct(codes: Iterable[str]) -> tuple[str, ...]:
    """Codes that fold alike once, in the form printed most often."""
    forms: dict[str, Counter[str]] = {}
    for code in codes:
        forms.setdefault(fold(code), Counter())[code] += 1
    return tuple(count.most_common(1)[0][0] for count in forms.values())


def settled(headings: Sequence[Sequence[str]], files: Sequence[str] = ()) -> tuple[str, ...]:
    """The codes that several headings of one set give, in order.

    Two codes that differ by one letter and never stand in one heading together are one, read
    with a slip; the form that more headings have is kept. "5D10, 5D11" stays two. `files` says in
    which file each heading stands: loose sheets may each serve a further model, so codes that no
    file prints both of stay two.
    """
    counts: Counter[str] = Counter()
    for codes in headings:
        counts.update({fold(code) for code in codes})
    together = {
        (fold(a), fold(b)) for codes in headings for a in codes for b in codes if fold(a) != fold(b)
    }
    stands: dict[str, set[str]] = {}
    for codes, file in zip(headings, files, strict=False):
        for code in codes:
            stands.setdefault(fold(code), set()).add(file)
    kept: dict[str, str] = {}
    for code in distinct(code for codes in headings for code in codes):
        flat = fold(code)
        like = next(
            (
                known
                for known in kept
                if (known, flat) not in together
                and one_letter_apart(known, flat)
                and (not files or stands[known] & stands[flat])
            ),
            None,
        )
        if like is None:
            kept[flat] = code
        elif counts[flat] > counts[like]:
            kept = {(flat if key == like else key): (code if key == like else value)
                    for key, value in kept.items()}  # fmt: skip
    return tuple(kept.values())


def one_letter_apart(a: str, b: str) -> bool:
    """Whether one letter was changed, put in or left out between two codes of some length."""
    if a == b or min(len(a), len(b)) < _SHORTEST or abs(len(a) - len(b)) > 1:
        return False
    start = 0
    while start < min(len(a), len(b)) and a[start] == b[start]:
        start += 1
    end = 0
    while end < min(len(a), len(b)) - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return max(len(a), len(b)) - start - end <= 1
