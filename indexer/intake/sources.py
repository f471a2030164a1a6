"""The way into a file: what it is, and its pages, whatever it is.

Not thread-safe, since pdfium and Pillow's settings are not: work on files in several processes,
never in several threads.
"""

from pathlib import Path

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.djvu import DjvuSource
from indexer.intake.notes import NotesSource
from indexer.intake.pdf import PdfSource
from indexer.intake.quiet import os_trouble, shown
from indexer.intake.raster import RasterSource
from indexer.intake.shape import FileKind, OpenFile, Source, SourcePage
from indexer.intake.sniff import Detection, detect, examine

__all__ = ["Detection", "FileKind", "Source", "SourcePage", "detect", "examine", "open_source"]


def open_source(path: Path) -> Source:
    """The file at `path`, open; use it in a `with` block.

    Raises InputError when it is not there, not readable, not a kind of file that is read,
    encrypted or damaged; TooLarge beyond MAX_FILE_BYTES or MAX_FILE_PAGES. A single bad page
    does not raise here but when that page is worked on.
    """
    path = Path(path)
    found = examine(path)
    if found.kind is FileKind.NONE:
        raise InputError(
            f"{shown(path)} is not read: {found.reason}.",
            "Pages are read from PDF, DjVu, TIFF, JPEG, PNG, WebP and typed text.",
        )
    try:
        size_bytes = path.stat().st_size
    except OSError as error:
        raise os_trouble(path, error) from error
    if size_bytes > limits.MAX_FILE_BYTES:
        raise TooLarge(
            f"{shown(path)} is larger than {limits.MAX_FILE_BYTES / 1e9:g} GB.",
            "Split it into parts.",
        )
    source = _opened(path, found.kind)
    source.misnamed = found.reason
    return source


def _opened(path: Path, kind: FileKind) -> OpenFile:
    if kind is FileKind.PDF:
        return PdfSource(path)
    if kind is FileKind.DJVU:
        return DjvuSource(path)
    if kind is FileKind.NOTES:
        return NotesSource(path)
    return RasterSource(path, kind)
