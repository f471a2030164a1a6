"""Marked pages brought into a PDF from their own files: vectors stay vectors, scans keep their
bytes. Each becomes one form that stands upright, its black border hidden by the form's box."""

from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np
from PIL import Image
from pypdf import PdfReader, PdfWriter
from pypdf.generic import IndirectObject

from indexer.bench import trim
from indexer.bench.carry import Content, back, copied, drawn, embedded, look
from indexer.bench.place import Matrix, times, turned
from indexer.errors import InputError
from indexer.intake.sources import FileKind, Source, open_source
from indexer.model import PageReading
from indexer.reading.clean import turn

# Measured on 120 PDFs of every make: pages carried over soundly differ from their own file's
# drawing by at most 87 in any block of 4 pixels square (other fonts stepped in), 2 in the mean.
_COARSE = 4
_OFF = 110  # grey steps
_MOST_OFF = 2  # blocks
_MOST_MEAN = 4.0


@dataclass(frozen=True, slots=True)
class Scan:
    """A page in the writer: a form whose corner is at (0, 0), upright, trimmed, in points.

    `words` takes shares of the whole upright page (0 to 1 from the bottom left) into the same
    space. `has_text` says that the page brings its own text along, `measured` that its size is
    believable. `redrawn` says in a few words that the page was drawn anew and why, "" for one
    carried over as it is.
    """

    form: IndirectObject
    width_pt: float
    height_pt: float
    words: Matrix
    has_text: bool
    measured: bool
    redrawn: str = ""


class ScanMaker:
    """Brings pages into `writer`; use it in a `with` block. Files stay open from page to page."""

    def __init__(self, writer: PdfWriter) -> None:
        self._writer = writer
        self._readers: dict[Path, PdfReader] = {}
        self._sources: dict[Path, Source] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for source in self._sources.values():
            source.close()
        for reader in self._readers.values():
            reader.stream.close()

    def source(self, path: Path) -> Source:
        """The open file. Raises InputError."""
        if path not in self._sources:
            self._sources[path] = open_source(path)
        return self._sources[path]

    def add(self, path: Path, number: int, reading: PageReading) -> Scan:
        """Page `number` (from 1) of a file, turned as its reading found it upright.

        What can't be carried over as it is (damaged, encrypted, DjVu), or looks different then,
        is drawn. Raises InputError for a page that can't be drawn either.
        """
        source = self.source(path)
        content = self._content(path, number, source)
        seen = look(content)
        if source.kind is FileKind.PDF and not _as_meant(seen, source, number):
            content = drawn(source, number, self._writer)
            seen = look(content)
        way = reading.rotation_deg
        upright = times(content.upright, turned(way, content.width_pt, content.height_pt))
        width, height = content.width_pt, content.height_pt
        if way % 180:
            width, height = height, width
        left, top, right, bottom = trim.visible_part(turn(seen, way), reading)
        x, y = left * width, (1 - bottom) * height
        upright = times(upright, (1.0, 0.0, 0.0, 1.0, -x, -y))
        shown = ((right - left) * width, (bottom - top) * height)
        form = content.form(back(upright, *shown), upright)
        return Scan(
            self._writer._add_object(form.flate_encode()),
            *shown,
            words=(width, 0.0, 0.0, height, -x, -y),
            has_text=source.kind is FileKind.PDF and reading.reader == "embedded",
            measured=content.measured,
            redrawn=_redrawn(content, source.kind),
        )

    def photo(self, path: Path) -> Scan:
        """A photo, whole and untrimmed, upright by its own mark. Raises InputError."""
        content = self._content(path, 1, self.source(path))
        size = content.width_pt, content.height_pt
        form = content.form(content.box, content.upright)
        return Scan(
            self._writer._add_object(form.flate_encode()),
            *size,
            words=(size[0], 0.0, 0.0, size[1], 0.0, 0.0),
            has_text=False,
            measured=content.measured,
        )

    def _content(self, path: Path, number: int, source: Source) -> Content:
        try:
            if source.kind is FileKind.PDF:
                if path not in self._readers:  # read as needed, never the whole file at once
                    self._readers[path] = PdfReader(path.open("rb"))
                return copied(self._readers[path].pages[number - 1], self._writer)
            if source.kind in (FileKind.TIFF, FileKind.IMAGE):
                return embedded(path, number, source, self._writer)
        except InputError:
            raise
        except Exception:  # damage shows as errors of every kind; drawing may still do
            pass
        return drawn(source, number, self._writer)


def _as_meant(seen: Image.Image, source: Source, number: int) -> bool:
    """Whether a carried page looks as its own file draws it, fine edges apart."""
    try:
        meant = source.page(number).draw(max_side_px=trim.LOOK_SIDE_PX)
    except InputError:
        return True  # nothing better could be drawn
    size = (max(1, seen.width // _COARSE), max(1, seen.height // _COARSE))
    one, other = (
        np.asarray(picture.convert("L").resize(size, Image.Resampling.BOX)).astype(np.int16)
        for picture in (seen, meant)
    )
    off = np.abs(one - other)
    return bool((off > _OFF).sum() <= _MOST_OFF and off.mean() <= _MOST_MEAN)


def _redrawn(content: Content, kind: FileKind) -> str:
    if not content.drawn_dpi:
        return ""
    if kind is FileKind.DJVU:
        return f"drawn at {content.drawn_dpi} dpi: a PDF can't hold DjVu"
    return f"drawn anew at {content.drawn_dpi} dpi: it could not be carried over from its file"
