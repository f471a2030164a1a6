"""What correcting gives back: for the person, and for whoever shows it."""

from dataclasses import dataclass

from indexer.model import PageRef
from indexer.store.corrections import Correction


@dataclass(frozen=True, slots=True)
class Change:
    """What a correction did: as recorded, the entries concerned now, lines for the person."""

    corrections: tuple[Correction, ...]
    entries: tuple[str, ...] = ()
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CorrectionState:
    """A correction and whether it has an effect now; `said` is "" or why it has none."""

    correction: Correction
    applies: bool
    said: str
    entries: tuple[str, ...]
    line: str


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import brought: corrections added, already known, (line, reason) of those left."""

    added: int
    known: int
    troubles: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Subject:
    """The pages and codes by which an entry is remembered, and where its first page is."""

    pages: tuple[PageRef, ...]
    codes: tuple[str, ...]
    file: str
