"""What speaks for an entry while `find` looks, before the entry is loaded."""

from dataclasses import dataclass, field

from indexer.search.query import Query
from indexer.search.weights import GRADES
from indexer.store.entries import EntryStore
from indexer.trade.codes import fold

AGREES = frozenset({"exact", "same chassis", "variant", "in range"})  # a page prints the number


@dataclass
class Case:
    """All that speaks for one entry, before it is loaded."""

    entry_id: str
    maker: str
    line_up: str
    year: int | None
    grade: str = "text only"
    closeness: float = 0.0
    met: set[str] = field(default_factory=set)  # asked codes that agree
    prints: set[str] = field(default_factory=set)  # asked codes on its pages
    literal: bool = False  # one of its pages prints a code and every word asked
    why: list[tuple[str, str]] = field(default_factory=list)

    def add(self, grade: str, closeness: float, why: str) -> None:
        place = (GRADES.index(grade), -closeness)
        if not self.why or place < (GRADES.index(self.grade), -self.closeness):
            self.grade, self.closeness = grade, closeness
        if all(why != known for _, known in self.why):
            self.why.append((grade, why))

    def reasons(self) -> list[str]:
        """The lines to show: those of the best grade, one by tubes, one by words."""
        lines = [line for grade, line in self.why if grade == self.grade]
        for other in ("shared tubes", "text only"):
            if other != self.grade:
                lines += [line for grade, line in self.why if grade == other][:1]
        return lines


Cases = dict[str, Case]


def put(
    cases: Cases,
    store: EntryStore,
    entry_id: str,
    grade: str,
    closeness: float,
    why: str,
) -> None:
    """Adds a reason to an entry's case, opening it where there is none."""
    case = cases.get(entry_id)
    if case is None:
        head = store.head(entry_id)
        if head is None:
            return
        case = cases[entry_id] = Case(entry_id, *head)
    case.add(grade, closeness, why)


def maker_differs(asked: Query, maker: str) -> bool:
    """Whether another maker was asked for. "Tillbrook" is also who "Tillbrook Radio" is."""
    if not (asked.makers and maker):
        return False
    whole = {fold(maker), *map(fold, maker.split())}
    return not any(fold(name) in whole for name in asked.makers)
