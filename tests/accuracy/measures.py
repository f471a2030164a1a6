"""How right an answer is against its truth."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass
class Score:
    """Right, wanted and given counts, added up over many items."""

    right: int = 0
    wanted: int = 0
    given: int = 0

    def add(self, wanted: Iterable[object], given: Iterable[object]) -> None:
        """Counts one item's multisets."""
        want, have = Counter(wanted), Counter(given)
        self.right += sum((want & have).values())
        self.wanted += sum(want.values())
        self.given += sum(have.values())

    @property
    def recall(self) -> float:
        """Share (0 to 1) of what was wanted that was given; 1 when nothing was wanted."""
        return self.right / self.wanted if self.wanted else 1.0

    @property
    def precision(self) -> float:
        """Share (0 to 1) of what was given that was wanted; 1 when nothing was given."""
        return self.right / self.given if self.given else 1.0

    def __iadd__(self, other: "Score") -> "Score":
        self.right += other.right
        self.wanted += other.wanted
        self.given += other.given
        return self


@dataclass
class Share:
    """So many out of so many, added up over many items; nan when there were none."""

    part: float = 0
    whole: float = 0

    def add(self, part: float, whole: float) -> None:
        """Counts one item's."""
        self.part += part
        self.whole += whole

    def __iadd__(self, other: "Share") -> "Share":
        self.add(other.part, other.whole)
        return self

    @property
    def value(self) -> float:
        """The share (0 to 1, or more when parts may exceed the whole)."""
        return self.part / self.whole if self.whole else float("nan")


def edits(one: str, other: str) -> int:
    """The least number of letters to put in, take out or change to make one text the other.

    Levenshtein, "Binary codes capable of correcting deletions, insertions and reversals", 1966.
    """
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        corner, row[0] = row[0], i
        for j, b in enumerate(other, 1):
            corner, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, corner + (a != b))
    return row[-1]


def table(rows: Iterable[tuple[str, Score]]) -> str:
    """One line a score."""
    rows = list(rows)
    wide = max(28, *(len(name) + 1 for name, _ in rows))
    lines = [f"{'':{wide}}{'recall':>8}{'precision':>11}{'wanted':>8}{'given':>7}"]
    lines += [
        f"{name:{wide}}{s.recall:8.3f}{s.precision:11.3f}{s.wanted:8}{s.given:7}"
        for name, s in rows
    ]
    return "\n".join(lines)
