"""A doubt as it is found, before it is shown."""

from dataclasses import dataclass, field

from indexer.model import PageRef
from indexer.store.looks import Repair

LISTED = "index row unsure"


@dataclass(frozen=True, slots=True)
class RawDoubt:
    """A doubt before it is shown: `weight` orders those of one sort, the worst highest; `each`
    are the doubts that it stands for, where one line tells of several."""

    sort: str
    said: str
    entry: str = ""
    page: PageRef | None = None
    weight: float = 0.0
    file: str = ""
    repairs: tuple[Repair, ...] = field(default=())
    each: tuple[str, ...] = ()
