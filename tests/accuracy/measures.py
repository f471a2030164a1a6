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


def table(rows: Iterable[tuple[str, Score]]) -> str:
    """One line a score."""
    lines = [f"{'':28}{'recall':>8}{'precision':>11}{'wanted':>8}{'given':>7}"]
    lines += [
        f"{name:28}{s.recall:8.3f}{s.precision:11.3f}{s.wanted:8}{s.given:7}" for name, s in rows
    ]
    return "\n".join(lines)
