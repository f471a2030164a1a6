"""Marked pages: where each lies now, and all that printing it takes."""

from dataclasses import dataclass
from pathlib import Path

from indexer.model import PageReading
from indexer.store.entries import PageCard
from indexer.store.job_rows import Mark, Photo


@dataclass(frozen=True, slots=True)
class PacketPage:
    """A marked page with where its file lies and how it was read."""

    card: PageCard
    mark: Mark
    reading: PageReading


@dataclass(frozen=True, slots=True)
class MarkedPage:
    """A mark of a job with its place on the list, from 1.

    `card` is where the page lies now, None when it can't be shown; `missing` then says why in
    one sentence.
    """

    number: int
    mark: Mark
    card: PageCard | None = None
    missing: str = ""


@dataclass(frozen=True, slots=True)
class PacketPhoto:
    """A job's photo with where it lies, there or not."""

    photo: Photo
    path: Path
