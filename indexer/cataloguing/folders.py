"""A maker by the name of the folder or file that a page lies in: weaker than anything printed."""

import re
from collections.abc import Mapping, Sequence

from indexer.trade.codes import fold

_SHORTEST = 4  # letters of a name that counts among other words
_BETWEEN = re.compile(r"[\W_]+")


def maker_by_folder(
    file: str, known: Sequence[str], aliases: Mapping[str, str], *, by_name: bool = False
) -> str:
    """The known maker that the nearest folder of `file` with one is named after, or "".

    A folder counts when it is called as the maker is ("Tillbrook") or has the name among its
    words ("tillbrook sets, 1938 on") and no other maker's. With `by_name` the file's own name
    counts first. No unknown word is taken for a maker: most folders are named after something
    else. `aliases` gives the maker for a folded other name.
    """
    *folders, name = file.split("/")
    stem = name.rpartition(".")[0] or name
    for part in ([stem] if by_name else []) + folders[::-1]:
        found = _named_in(part, known, aliases)
        if found:
            return found
    return ""


def _named_in(part: str, known: Sequence[str], aliases: Mapping[str, str]) -> str:
    words = [fold(word) for word in _BETWEEN.split(part) if word]
    whole = "".join(words)
    found: dict[str, str] = {}
    for name in known:
        parts = [fold(word) for word in _BETWEEN.split(name) if word]
        flat = "".join(parts)
        if not flat or (flat != whole and (len(flat) < _SHORTEST or not _within(parts, words))):
            continue
        maker = aliases.get(fold(name), name)
        found.setdefault(fold(maker), maker)
    return next(iter(found.values())) if len(found) == 1 else ""


def _within(parts: Sequence[str], words: Sequence[str]) -> bool:
    last = len(words) - len(parts) + 1
    return any(list(words[n : n + len(parts)]) == list(parts) for n in range(last))
