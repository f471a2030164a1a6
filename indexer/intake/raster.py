"""TIFF (every frame), JPEG, PNG, WebP and the other bitmaps that Pillow reads.

The file is opened anew for each page worked on and closed again, so no handle stays open.
"""

import re
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageFile, ImageOps

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.quiet import damaged_page, overheard, pass_on, shown
from indexer.intake.raster_header import (
    DOCUMENT_NAME,
    Header,
    frames,
    opened,
    read_header,
    text_tag,
)
from indexer.intake.shape import POINTS_PER_INCH, FileKind, OpenFile, fit, joined
from indexer.model import PageReading

# How libtiff tells of damage that it reads past: "Fax4Decode: Bad code word at line 9 of strip 0".
_LIBTIFF_LINE = re.compile(rb"^[\w.]+: .+\.\s*$")
_LIBTIFF_DAMAGE = re.compile(rb"(line|strip|tile|scanline|row) \d")
_CUT = "the picture is cut short or damaged; what could be read of it is shown"


class RasterSource(OpenFile):
    """An open bitmap file: one page, or a page a frame for TIFF. Raises InputError when its
    header can't be read."""

    def __init__(self, path: Path, kind: FileKind) -> None:
        self.path = path
        self.kind = kind
        try:
            with opened(path) as image:
                self._title = text_tag(image, DOCUMENT_NAME) if kind is FileKind.TIFF else ""
                self.page_count = 1
                self._names: dict[int, str] | None = None
                if kind is FileKind.TIFF:
                    self._names, self.page_count, self.damage = frames(image)
        except InputError:
            raise
        except Exception as error:  # Pillow meets damage with errors of every kind
            raise InputError(
                f"{shown(path)} is damaged: its header can't be read.",
                "Scan it again, or fetch another copy.",
            ) from error
        if self.page_count > limits.MAX_FILE_PAGES:
            raise TooLarge(
                f"{shown(path)} holds over {limits.MAX_FILE_PAGES:,} pages.", "Split it."
            )

    @property
    def title(self) -> str:
        return self._title

    def printed(self, number: int) -> str | None:
        """A frame's page name, seen on the way in; None where the header must be asked."""
        return None if self._names is None else self._names.get(number, "")

    def page(self, number: int) -> "RasterPage":
        self.check_number(number)
        return RasterPage(self, number)


class RasterPage:
    """One frame; see `SourcePage`. Bitmaps carry no text of their own."""

    embedded: PageReading | None = None
    has_picture = True

    def __init__(self, source: RasterSource, number: int) -> None:
        self._source = source
        self.number = number
        self._known: Header | None = None
        self._trouble = ""

    @property
    def _header(self) -> Header:
        if self._known is None:
            try:
                with opened(self._source.path, self.number - 1) as image:
                    self._known = read_header(image)
            except InputError:
                raise
            except Exception as error:
                raise damaged_page(self._source.path, self.number) from error
        return self._known

    @property
    def printed(self) -> str:
        known = self._source.printed(self.number)
        if known is not None:
            return known
        try:
            return self._header.printed
        except InputError:
            return ""

    @property
    def size_pt(self) -> tuple[float, float] | None:
        header = self._header
        if header.dpi is None:
            return None
        scale = POINTS_PER_INCH / header.dpi
        return header.width * scale, header.height * scale

    @property
    def reason(self) -> str:
        return joined(self._source.damage, self._trouble)

    def draw_size(
        self, max_side_px: int | None = None, dpi: float | None = None
    ) -> tuple[int, int]:
        header = self._header
        width, height = header.width, header.height
        if width * height > limits.MAX_PAGE_PIXELS or max(width, height) > limits.MAX_SIDE_PX:
            raise TooLarge(
                f"Page {self.number} of {shown(self._source.path)} claims {width} x {height}"
                " pixels.",
                f"Save it at under {limits.MAX_PAGE_PIXELS / 1e6:,.0f} million pixels and"
                f" {limits.MAX_SIDE_PX:,} pixels a side.",
            )
        return fit(width, height, header.dpi, max_side_px, dpi)

    def draw(self, max_side_px: int | None = None, dpi: float | None = None) -> Image.Image:
        size = self.draw_size(max_side_px, dpi)  # checks the bounds before any decoding
        try:
            picture = self._decoded(max(size), whole=True)
        except InputError:
            raise
        except Exception:
            picture = self._salvaged(max(size))
        if picture.size != size:
            picture = picture.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
        return picture

    def _decoded(self, side_px: int, whole: bool) -> Image.Image:
        with opened(self._source.path, self.number - 1) as image:
            if image.format in ("JPEG", "MPO"):
                # Small pictures of large photos: let the decoder skip what they don't need.
                image.draft(image.mode, (side_px, side_px))
            if image.format == "TIFF":
                self._load_tiff(image, whole)
            elif whole:
                image.load()
            else:
                _load_what_is_there(image)
            return grey_or_rgb(ImageOps.exif_transpose(image))

    def _load_tiff(self, image: Image.Image, whole: bool) -> None:
        """libtiff writes to standard error, and for fax pages that is its only complaint."""
        said: list[bytes] = []
        try:
            with overheard() as said:
                if whole:
                    image.load()
                else:
                    _load_what_is_there(image)
        finally:
            pass_on([line for line in said if not _LIBTIFF_LINE.match(line)])
        if any(_LIBTIFF_DAMAGE.search(line) for line in said if _LIBTIFF_LINE.match(line)):
            self._trouble = _CUT

    def _salvaged(self, side_px: int) -> Image.Image:
        try:
            picture = self._decoded(side_px, whole=False)
        except InputError:
            raise
        except Exception as error:
            raise damaged_page(self._source.path, self.number) from error
        bounds: Any = picture.getextrema()
        flat = bounds if isinstance(bounds[0], tuple) else (bounds,)
        if all(low == high for low, high in flat):  # nothing was decoded at all
            raise damaged_page(self._source.path, self.number)
        self._trouble = _CUT
        return picture


def grey_or_rgb(image: Image.Image) -> Image.Image:
    """`image` as mode L or RGB (itself, when it is): transparency on white, deep greys stretched
    to 8 bits."""
    mode = image.mode
    if mode in ("L", "RGB"):
        return image
    if mode == "1":
        return image.convert("L")
    if mode in ("I", "F") or mode.startswith("I;"):
        values = np.asarray(image, dtype=np.float32)
        low, high = float(values.min()), float(values.max())
        scaled = (values - low) * (255.0 / (high - low) if high > low else 0.0)
        return Image.fromarray(scaled.round().astype(np.uint8))
    if mode in ("LA", "PA", "RGBA", "RGBa", "La") or "transparency" in image.info:
        layered = image.convert("RGBA")
        white = Image.new("RGBA", layered.size, "white")
        flat = Image.alpha_composite(white, layered).convert("RGB")
        return flat.convert("L") if mode in ("LA", "La") else flat
    return image.convert("RGB")


def _load_what_is_there(image: Image.Image) -> None:
    """Decode as far as the data goes; the rest stays blank."""
    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = True
    try:
        image.load()
    except Exception:
        if not isinstance(image, ImageFile.ImageFile) or image.im is None:
            raise
        image.tile = []  # the decoder gave up midway: keep the rows it had written
        image.load()
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before
