"""Rows of the catalogue as they travel: files, pages to read, pages to show."""

from dataclasses import dataclass
from pathlib import Path

from indexer.file_names import find_again
from indexer.model import PageRef


@dataclass(frozen=True, slots=True)
class FileRow:
    """A file as the catalogue knows it."""

    id: int
    name: str
    size_bytes: int
    mtime_ns: int
    sha256: str | None
    state: str  # "ok", "skipped" or "failed"
    reason: str


@dataclass(frozen=True, slots=True)
class PageTask:
    """A page that waits for a reader, with one place where its file lies."""

    page_id: int
    ref: PageRef
    path: Path


@dataclass(frozen=True, slots=True)
class PageRow:
    """A page for listing."""

    page_id: int
    ref: PageRef
    name: str
    folder: Path
    file: str
    label: str
    state: str
    reason: str


@dataclass(frozen=True, slots=True)
class PageCard:
    """A page as answers show it."""

    page_id: int
    ref: PageRef
    name: str
    folder: Path
    file: str
    printed: str
    kinds: tuple[str, ...]

    @property
    def path(self) -> Path:
        return find_again(self.folder, self.file)
