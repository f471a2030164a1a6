"""DjVu files, single page or bundled, drawn and read by djvu-rs.

The whole file is held in memory. Damage inside the decoder can show as a Rust panic, which is no
`Exception`; everything it raises is caught here and told as a plain error.
"""

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

import djvu_rs
from PIL import Image

from indexer import limits
from indexer.errors import InputError, PageError, TooLarge
from indexer.intake.djvu_parts import Container, PagePart, completed, container
from indexer.intake.djvu_text import layer_words
from indexer.intake.quiet import cleaned, damaged_page, os_trouble, overheard, pass_on, shown
from indexer.intake.shape import (
    POINTS_PER_INCH,
    FileKind,
    OpenFile,
    believable_dpi,
    fit,
    joined,
)
from indexer.model import PageReading

_T = TypeVar("_T")

# A file that declares far more than it holds is not completed: the length is damage too, and
# the padding would only fill memory.
_MAX_PADDING = 20
_CUT = "the file is cut short"


class _DecoderError(Exception):
    """Anything that came out of the decoder."""


def _guarded(call: Callable[[], _T]) -> _T:
    said: list[bytes] = []
    panic = False
    try:
        with overheard() as said:
            return call()
    except (KeyboardInterrupt, SystemExit, GeneratorExit, MemoryError):
        raise
    except BaseException as error:
        panic = not isinstance(error, Exception)  # Rust writes its own account of a panic
        raise _DecoderError(cleaned(str(error))[:120]) from error
    finally:
        if not panic:
            pass_on(said)


class DjvuSource(OpenFile):
    """An open DjVu. Raises InputError when it is damaged, or refers to files of its own."""

    kind = FileKind.DJVU

    def __init__(self, path: Path) -> None:
        self.path = path
        data = _bytes_of(path)
        whole = container(data)
        if whole is None or whole.form not in ("DJVU", "DJVM", "BM44", "PM44"):
            raise InputError(
                f"{shown(path)} holds no DjVu page of its own.",
                "It may be a part of a multi-file document: index the joined file instead.",
            )
        if whole.indirect:
            raise InputError(
                f"{shown(path)} is only the directory of a DjVu whose pages are separate files.",
                "Save it as one bundled DjVu file and index that.",
            )
        if len(data) < whole.declared_bytes:
            self.damage = _CUT
            if whole.declared_bytes <= min(len(data) * _MAX_PADDING, limits.MAX_FILE_BYTES):
                data = completed(data, whole)
        try:
            self._document: Any = _guarded(lambda: djvu_rs.Document.from_bytes(data))
            self.page_count = int(_guarded(self._document.page_count))
        except _DecoderError as error:
            where = "cut short" if self.damage else "damaged"
            raise InputError(
                f"{shown(path)} is {where} and can't be opened as DjVu ({error}).",
                "Fetch or scan it again.",
            ) from error
        if self.page_count < 1:
            raise InputError(f"{shown(path)} holds no pages.", "Fetch or scan it again.")
        if self.page_count > limits.MAX_FILE_PAGES:
            raise TooLarge(
                f"{shown(path)} claims {self.page_count:,} pages; the bound is"
                f" {limits.MAX_FILE_PAGES:,}.",
                "Split it, or fetch it again if that count can't be right.",
            )
        self._parts = _parts(container(data), self.page_count)

    @cached_property
    def _title(self) -> str:
        try:
            facts = _guarded(self._document.metadata) or {}
        except _DecoderError:
            return ""
        return cleaned(str(facts.get("title") or ""))

    @property
    def title(self) -> str:
        return self._title

    def page(self, number: int) -> "DjvuPage":
        self.check_number(number)
        if self._document is None:
            raise InputError(f"{shown(self.path)} is closed.", "Open it again.")
        try:
            page = _guarded(lambda: self._document.page(number - 1))
            return DjvuPage(self, number, page, self._parts[number - 1].turn_deg)
        except _DecoderError as error:
            raise damaged_page(self.path, number, str(error)) from error

    def close(self) -> None:
        self._document = None


class DjvuPage:
    """One page of a DjVu; see `SourcePage`. DjVu keeps no page labels that can be read here."""

    printed = ""
    has_picture = True

    def __init__(self, source: DjvuSource, number: int, page: Any, turn_deg: int) -> None:
        self._source = source
        self.number = number
        self._page = page
        self._turn_deg = turn_deg
        self._trouble = ""
        try:
            # As stored, before the turn; the dpi is the header's, which may be absurd.
            self._stored = (int(_guarded(lambda: page.width)), int(_guarded(lambda: page.height)))
            self._dpi = believable_dpi(float(_guarded(lambda: page.dpi)))
        except _DecoderError as error:
            raise damaged_page(source.path, number, str(error)) from error

    @property
    def _size(self) -> tuple[int, int]:
        """Upright pixels. Raises for pages that are lost or too large."""
        width, height = self._stored
        if width < 1 or height < 1:
            raise PageError(
                f"Page {self.number} of {shown(self._source.path)} is lost:"
                f" {self._source.damage or 'its header is damaged'}.",
                "Fetch the file again; the pages before the cut are not affected.",
            )
        if width * height > limits.MAX_PAGE_PIXELS or max(width, height) > limits.MAX_SIDE_PX:
            raise TooLarge(
                f"Page {self.number} of {shown(self._source.path)} claims {width} x {height}"
                " pixels.",
                f"Save it at under {limits.MAX_PAGE_PIXELS / 1e6:,.0f} million pixels.",
            )
        return (height, width) if self._turn_deg in (90, 270) else (width, height)

    @property
    def size_pt(self) -> tuple[float, float] | None:
        if self._dpi is None:
            return None
        width, height = self._size
        return width / self._dpi * POINTS_PER_INCH, height / self._dpi * POINTS_PER_INCH

    @property
    def reason(self) -> str:
        return joined(self._source.damage, self._trouble)

    def draw_size(
        self, max_side_px: int | None = None, dpi: float | None = None
    ) -> tuple[int, int]:
        return fit(*self._size, self._dpi, max_side_px, dpi)

    def draw(self, max_side_px: int | None = None, dpi: float | None = None) -> Image.Image:
        size, own = self.draw_size(max_side_px, dpi), self._size
        try:
            # Always at the page's own pixels: at any other size djvu-rs 0.43 draws the page
            # too large and cuts it off (text about 3 % out of place at half size).
            pixels = _guarded(lambda: self._page.render(size=own).to_pil())
        except _DecoderError as error:
            raise damaged_page(self._source.path, self.number, str(error)) from error
        picture = _without_spare_channels(pixels)
        if picture.size == size:
            return picture
        return picture.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)

    @cached_property
    def embedded(self) -> PageReading | None:
        try:
            size = self.draw_size()
            layer = _guarded(self._page.text_layer)
            words = layer_words(layer, self._stored, self._turn_deg, size) if layer else ()
        except InputError:
            return None
        except (_DecoderError, ValueError, KeyError, TypeError):
            self._trouble = "its text layer is damaged and was left out"
            return None
        return PageReading(words, *size, reader="embedded") if words else None


def _bytes_of(path: Path) -> bytes:
    try:
        if path.stat().st_size > limits.MAX_FILE_BYTES:
            raise TooLarge(
                f"{shown(path)} is larger than {limits.MAX_FILE_BYTES / 1e9:g} GB.",
                "Split it into parts.",
            )
        return path.read_bytes()
    except OSError as error:
        raise os_trouble(path, error) from error


def _parts(whole: Container | None, count: int) -> tuple[PagePart, ...]:
    """The page headers in order; unturned ones when they can't be matched to the pages."""
    if whole is not None and len(whole.pages) == count:
        return whole.pages
    return (PagePart(0, 0),) * count


def _without_spare_channels(pixels: Image.Image) -> Image.Image:
    """The RGBA render as L where no pixel has colour, else as RGB. DjVu has no transparency."""
    red, green, blue, _ = pixels.split()
    first = red.tobytes()
    if first == green.tobytes() and first == blue.tobytes():
        return red
    return Image.merge("RGB", (red, green, blue))
