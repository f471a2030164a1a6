"""Plain words for failures, and libraries kept from talking over the program."""

import logging
import os
import sys
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image

from indexer.errors import InputError, PageError
from indexer.file_names import printable

_TALKERS = ("pypdf", "pypdfium2", "PIL")


@contextmanager
def quiet() -> Iterator[None]:
    """Silence the file libraries inside the block: their log lines and Python warnings, and
    Pillow's own pixel bound, since headers are checked against `limits` here instead.

    Everything is put back afterwards. These settings belong to the whole process, so a block
    must not run in two threads at once (the same rule as for pdfium).
    """
    loggers = [logging.getLogger(name) for name in _TALKERS]
    levels = [logger.level for logger in loggers]
    bound = Image.MAX_IMAGE_PIXELS
    for logger in loggers:
        logger.setLevel(logging.CRITICAL + 1)
    Image.MAX_IMAGE_PIXELS = None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        Image.MAX_IMAGE_PIXELS = bound
        for logger, level in zip(loggers, levels, strict=True):
            logger.setLevel(level)


@contextmanager
def overheard() -> Iterator[list[bytes]]:
    """Keep what compiled libraries write to standard error inside the block from the screen.

    The list holds the lines once the block has ended; say again with `pass_on` what was not
    the library's. Does nothing where the process has no standard error.
    """
    lines: list[bytes] = []
    try:
        kept = os.dup(2)
    except OSError:
        yield lines
        return
    try:
        with tempfile.TemporaryFile() as written:
            if sys.stderr is not None:
                sys.stderr.flush()
            os.dup2(written.fileno(), 2)
            try:
                yield lines
            finally:
                if sys.stderr is not None:
                    sys.stderr.flush()
                os.dup2(kept, 2)
                written.seek(0)
                lines.extend(written.read(1_000_000).splitlines(keepends=True))
    finally:
        os.close(kept)


def pass_on(lines: list[bytes]) -> None:
    """Write overheard lines to standard error after all: they were another's."""
    if lines:
        os.write(2, b"".join(lines))


def cleaned(text: str) -> str:
    """One line of a document's own words: control characters dropped, spaces single."""
    spaced = "".join(char if char.isprintable() else " " for char in text)
    return " ".join(spaced.split())


def shown(path: Path) -> str:
    """The file's name for messages."""
    return printable(path.name or str(path))


def os_trouble(path: Path, error: OSError) -> InputError:
    """What the operating system refused, in plain words with a remedy."""
    name = shown(path)
    if isinstance(error, FileNotFoundError):
        return InputError(
            f"{name} is not there.", "It may have been moved; index its folder again."
        )
    if isinstance(error, PermissionError):
        return InputError(f"{name} may not be read.", "Give yourself permission to read it.")
    if isinstance(error, IsADirectoryError):
        return InputError(f"{name} is a folder.", "Name a file, or index the folder.")
    detail = error.strerror or type(error).__name__
    return InputError(
        f"{name} can't be read: {detail}.", "Check the disk or the network share it lies on."
    )


def damaged_page(path: Path, number: int, detail: str = "") -> PageError:
    """A page that can't be drawn, while the rest of its file may be fine."""
    said = f" ({printable(detail)})" if detail else ""
    return PageError(
        f"Page {number} of {shown(path)} can't be drawn{said}.",
        "Scan or download that page again; the other pages are not affected.",
    )
