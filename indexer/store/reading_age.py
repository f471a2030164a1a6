"""Which state of the readers read each page, so that pages read by an earlier one can be told."""

from typing import TYPE_CHECKING

from indexer.model import PageState
from indexer.store.connect import plain_errors, writing

if TYPE_CHECKING:
    from indexer.store.catalogue import Catalogue

SCHEMA = """
    CREATE TABLE page_readers (
        page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
        readers INTEGER NOT NULL);
"""
_EARLIER = (
    "state IN (?, ?) AND id NOT IN (SELECT page_id FROM page_readers WHERE readers >= ?)"
    " AND sha256 IN (SELECT sha256 FROM content WHERE kind != 'notes')"
)


class ReadingAge:
    """Pages by the state of the readers that read them; typed notes need no reader."""

    def __init__(self, catalogue: "Catalogue") -> None:
        self._catalogue = catalogue

    def earlier(self, readers: int) -> int:
        """How many pages an earlier state of the readers read."""
        (row,) = self._catalogue.rows(
            f"SELECT count(*) FROM page WHERE {_EARLIER}", *_bound(readers)
        )
        return int(row[0])

    def read_again(self, readers: int) -> int:
        """Puts those pages in the queue; how many. What was read of them serves until then."""
        with plain_errors(self._catalogue.path), writing(self._catalogue.db) as db:
            done = db.conn.execute(
                f"UPDATE page SET state = ?, wants_second = 0 WHERE {_EARLIER}",
                [PageState.WAITING.value, *_bound(readers)],
            )
            return int(done.rowcount)


def _bound(readers: int) -> tuple[object, ...]:
    return PageState.READ.value, PageState.DONE.value, readers
