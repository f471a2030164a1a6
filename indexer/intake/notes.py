"""Typed notes: plain text, Markdown and typed lists (CSV), laid out on a monospaced grid.

Form feeds begin new pages, and so do MAX lines of the grid; the words stand in their own rows
and columns so that a typed table keeps its columns.
"""

import csv
import io
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.quiet import cleaned, os_trouble, shown
from indexer.intake.shape import POINTS_PER_INCH, FileKind, OpenFile, fit
from indexer.model import Box, PageReading, Word

# The grid, in pixels at RENDER_DPI: 15 letters and 7.5 rows to the inch. A page of it stays
# between RENDER_MIN_SIDE_PX and RENDER_MAX_SIDE_PX, so it is never scaled for reading.
_CELL_PX, _ROW_PX, _MARGIN_PX = 20, 40, 60
_MIN_COLUMNS, _MAX_COLUMNS = 80, 240
_MAX_ROWS = 120
_TAB = 8
_LISTS = {".csv", ".tsv"}


@dataclass(frozen=True, slots=True)
class _Row:
    text: str
    line: int  # typed lines that wrap take several rows


class NotesSource(OpenFile):
    """An open note. Raises InputError when it holds no text, TooLarge beyond MAX_NOTE_BYTES."""

    kind = FileKind.NOTES

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            if path.stat().st_size > limits.MAX_NOTE_BYTES:
                raise TooLarge(
                    f"{shown(path)} holds over {limits.MAX_NOTE_BYTES / 1e6:g} MB of text.",
                    "Typed notes are smaller; split it if it is one.",
                )
            data = path.read_bytes()
        except OSError as error:
            raise os_trouble(path, error) from error
        text = decoded(data)
        suffix = path.suffix.lower()
        self._title = _heading(text) if suffix in (".md", ".markdown") else ""
        self._pages = _laid_out(_list_rows(text) if suffix in _LISTS else text)
        if not self._pages:
            raise InputError(f"{shown(path)} holds no text.", "Nothing is lost by leaving it out.")
        self.page_count = len(self._pages)
        if self.page_count > limits.MAX_FILE_PAGES:
            raise TooLarge(
                f"{shown(path)} makes {self.page_count:,} pages; the bound is"
                f" {limits.MAX_FILE_PAGES:,}.",
                "Split it, or take the form feeds out of it.",
            )

    @property
    def title(self) -> str:
        return self._title

    def page(self, number: int) -> "NotesPage":
        self.check_number(number)
        return NotesPage(number, self._pages[number - 1])


class NotesPage:
    """One page of a note; see `SourcePage`."""

    printed = ""
    reason = ""
    has_picture = False  # the typed text is all there is

    def __init__(self, number: int, rows: tuple[_Row, ...]) -> None:
        self.number = number
        self._rows = rows
        columns = max(_MIN_COLUMNS, *(len(row.text) for row in rows))
        self._size = (
            columns * _CELL_PX + 2 * _MARGIN_PX,
            len(rows) * _ROW_PX + 2 * _MARGIN_PX,
        )

    @property
    def size_pt(self) -> tuple[float, float] | None:
        scale = POINTS_PER_INCH / limits.RENDER_DPI
        return self._size[0] * scale, self._size[1] * scale

    def draw_size(
        self, max_side_px: int | None = None, dpi: float | None = None
    ) -> tuple[int, int]:
        return fit(*self._size, limits.RENDER_DPI, max_side_px, dpi)

    def draw(self, max_side_px: int | None = None, dpi: float | None = None) -> Image.Image:
        picture = Image.new("L", self._size, 255)
        pen = ImageDraw.Draw(picture)
        font = ImageFont.load_default(_ROW_PX * 0.7)
        for index, row in enumerate(self._rows):
            middle = _MARGIN_PX + (index + 0.5) * _ROW_PX
            for column, char in enumerate(row.text):
                if char != " ":
                    at = (_MARGIN_PX + (column + 0.5) * _CELL_PX, middle)
                    pen.text(at, char, fill=0, font=font, anchor="mm")
        size = self.draw_size(max_side_px, dpi)
        return picture if size == picture.size else picture.resize(size, Image.Resampling.LANCZOS)

    @cached_property
    def embedded(self) -> PageReading | None:
        words = []
        for index, row in enumerate(self._rows):
            top = float(_MARGIN_PX + index * _ROW_PX)
            column = 0
            for text in row.text.split(" "):
                if text:
                    left = float(_MARGIN_PX + column * _CELL_PX)
                    box = Box(left, top, left + len(text) * _CELL_PX, top + _ROW_PX)
                    words.append(Word(text, box, 1.0, row.line))
                column += len(text) + 1
        if not words:
            return None
        return PageReading(tuple(words), *self.draw_size(), reader="typed")


def decoded(data: bytes) -> str:
    """The text of a note: by its byte order mark, else UTF-8, else Windows Latin-1.

    Line ends become "\\n"; control and invisible characters go, except tabs and form feeds.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", "replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            try:
                text = data.decode("cp1252")  # Latin-1 with the typist's quotes and dashes
            except UnicodeDecodeError:
                text = data.decode("latin-1")
    for line_end in ("\r\n", "\r", "\x0b", "\x85", "\u2028", "\u2029"):
        text = text.replace(line_end, "\n")
    text = text.replace("\u00a0", " ")
    return "".join(char for char in text if char in "\n\t\f" or char.isprintable())


def _laid_out(text: str) -> tuple[tuple[_Row, ...], ...]:
    pages: list[tuple[_Row, ...]] = []
    for sheet in text.rstrip("\f\n\t ").split("\f"):
        rows: list[_Row] = []
        for line, typed in enumerate(sheet.strip("\n").split("\n")):
            flat = typed.expandtabs(_TAB).rstrip()
            rows.extend(_Row(part, line) for part in _wrapped(flat))
        for start in range(0, len(rows), _MAX_ROWS):
            pages.append(tuple(rows[start : start + _MAX_ROWS]))  # noqa: PERF401
    return tuple(pages) if any(row.text for rows in pages for row in rows) else ()


def _wrapped(text: str) -> list[str]:
    """`text` in rows of at most _MAX_COLUMNS, broken at spaces where there are any."""
    rows = []
    at = 0  # the text itself is never cut: a line of 5 MB would be copied 20,000 times
    while len(text) - at > _MAX_COLUMNS:
        cut = text.rfind(" ", at + 1, at + _MAX_COLUMNS + 1)
        cut = cut if cut > at else at + _MAX_COLUMNS
        rows.append(text[at:cut].rstrip())
        at = cut
        while at < len(text) and text[at].isspace():
            at += 1
    return [*rows, text[at:]]


def _list_rows(text: str) -> str:
    """A typed list with its columns lined up by spaces instead of commas and quotes."""
    first = text.split("\n", 1)[0]
    comma = max(",;\t", key=first.count)
    try:
        table = list(csv.reader(io.StringIO(text.replace("\f", "\n")), delimiter=comma))
    except csv.Error:
        return text
    cells = [[" ".join(cell.split()) for cell in row] for row in table]
    columns = max((len(row) for row in cells), default=0)
    # One overlong cell must not push every row apart.
    widths = [
        min(40, max((len(row[at]) for row in cells if at < len(row)), default=0))
        for at in range(columns)
    ]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False))
        for row in cells
    )


def _heading(text: str) -> str:
    for line in text.split("\n"):
        if line.startswith("# "):
            return cleaned(line[2:])
    return ""
