"""Rows of index pages that do not fit: with each other, or with what the shelf holds."""

from collections.abc import Iterator

from indexer.corrections.raw_doubt import LISTED, RawDoubt
from indexer.model import PageRef
from indexer.store.entries import EntryStore

_SHOWN = 4  # rows named in one doubt

# Rows of a page that prints volumes elsewhere, without one.
_NO_VOLUME = """
    SELECT page.sha256, page.number, listing.model, '' AS listed, '' AS stands
    FROM listing JOIN page ON page.id = listing.page_id
    WHERE listing.volume = '' AND EXISTS (
        SELECT 1 FROM listing other WHERE other.page_id = listing.page_id AND other.volume <> '')
    ORDER BY listing.id"""
# Rows that send elsewhere than to the only set of that number in the volume.
_ELSEWHERE = """
    SELECT page.sha256, page.number, listing.model, listing.page AS listed,
        min(fact.printed) AS stands
    FROM listing JOIN page ON page.id = listing.page_id
    JOIN code ON code.normal = listing.normal AND code.kind = 'model'
    JOIN entry_page first ON first.entry_id = code.entry_id AND first.position = 0
    JOIN page_fact fact ON fact.page_id = first.page_id AND fact.volume = listing.volume
    WHERE listing.volume <> '' AND fact.printed <> '' AND NOT EXISTS (
        SELECT 1 FROM entry_page shown JOIN page_fact f ON f.page_id = shown.page_id
        JOIN code c ON c.entry_id = shown.entry_id AND c.kind = 'model'
        WHERE c.normal = listing.normal
        AND (f.printed = listing.page OR shown.page_id = listing.here_page_id))
    GROUP BY listing.id HAVING count(DISTINCT code.entry_id) = 1 ORDER BY listing.id"""


def index_doubts(store: EntryStore) -> Iterator[RawDoubt]:
    """One doubt for each index page and sort of trouble, naming some of its rows."""
    for sql in (_NO_VOLUME, _ELSEWHERE):
        rows: dict[PageRef, list[str]] = {}
        for row in store.catalogue.rows(sql):
            said = f"{row['model']} on page {row['listed']}, it stands on {row['stands']}"
            rows.setdefault(PageRef(row["sha256"], row["number"]), []).append(
                said if row["listed"] else row["model"]
            )
        for ref, named in rows.items():
            shown = "; ".join(named[:_SHOWN])
            shown += f"; and {len(named) - _SHOWN} more" if len(named) > _SHOWN else ""
            said = "no volume was read of " if sql is _NO_VOLUME else "the index puts "
            settled = store.catalogue.rows(
                "SELECT 1 FROM page_given JOIN page ON page.id = page_id, json_each(settled)"
                " WHERE sha256 = ? AND number = ? AND json_each.value = ?",
                ref.sha256,
                ref.page,
                said + shown,
            )
            if not settled:
                yield RawDoubt(LISTED, said + shown, page=ref, weight=len(named))
