"""A marked page with all that printing it takes."""

from dataclasses import dataclass

from indexer.model import PageReading
from indexer.store.entries import PageCard
from indexer.store.records import Mark


@dataclass(frozen=True, slots=True)
class PacketPage:
    """A marked page with where its file lies and how it was read."""

    card: PageCard
    mark: Mark
    reading: PageReading
