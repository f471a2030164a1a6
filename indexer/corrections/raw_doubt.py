"""A doubt as it is found, before it is shown."""

from dataclasses import dataclass, field

from indexer.model import PageRef
from indexer.store.looks import Repair

LISTED = "index row unsure"


@dataclass(frozen=True, slots=True)
class RawDoubt:
    """A doubt before it is shown: `weight` orders those of one sort, the worst highest."""

    sort: str
    said: str
    entry: str = ""
    page: PageRef | None = None
    weight: float = 0.0
    file: str = ""
    repairs: tuple[Repair, ...] = field(default=())
