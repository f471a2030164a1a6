"""PDF files: pypdf for the document's structure, pdfium for drawing and for the text layer.

pdfium is not thread-safe: open, draw and close in one thread of one process at a time. To work
on several pages at once, use several processes, each with its own source.
"""

import io
from functools import cached_property
from pathlib import Path
from typing import Any

import pypdf
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from PIL import Image

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.pdf_content import PageContent, page_content, page_words
from indexer.intake.quiet import cleaned, damaged_page, os_trouble, quiet, shown
from indexer.intake.shape import POINTS_PER_INCH, FileKind, OpenFile, fit, joined
from indexer.model import PageReading

_PASSWORD, _SECURITY = raw.FPDF_ERR_PASSWORD, raw.FPDF_ERR_SECURITY
_MAX_REBUILD_BYTES = 200_000_000  # a rebuilt document is held in memory twice


class PdfSource(OpenFile):
    """An open PDF. Raises InputError when it is encrypted or damaged beyond opening."""

    kind = FileKind.PDF

    def __init__(self, path: Path) -> None:
        self.path = path
        self._document, self.damage = _opened(path)
        try:
            self.page_count = len(self._document)
            _check_count(path, self.page_count)
        except BaseException:
            self._document.close()
            raise

    def page(self, number: int) -> "PdfPage":
        self.check_number(number)
        return PdfPage(self, number)

    def close(self) -> None:
        if self._document is not None:
            self._document.close()
            self._document = None

    @property
    def document(self) -> Any:
        """pdfium's document. Raises InputError after `close`."""
        if self._document is None:
            raise InputError(f"{shown(self.path)} is closed.", "Open it again.")
        return self._document

    @cached_property
    def _structure(self) -> tuple[str, tuple[str, ...]]:
        """Title and page labels; empty where pypdf can't follow the file."""
        try:
            with quiet(), self.path.open("rb") as stream:
                reader = pypdf.PdfReader(stream, strict=False)
                if reader.is_encrypted:
                    reader.decrypt("")
                title = _title(reader)
                if "/PageLabels" not in reader.root_object:
                    return title, ("",) * self.page_count
                labels = tuple(_label(label) for label in reader.page_labels)
                return title, labels
        except Exception:  # pypdf meets damage with errors of every kind; pdfium knows less, surely
            return "", ()

    @property
    def title(self) -> str:
        title = self._structure[0]
        if not title:
            with quiet():
                title = str(self.document.get_metadata_value("Title") or "")
        return cleaned(title[: 2 * limits.MAX_TITLE_CHARS])[: limits.MAX_TITLE_CHARS]

    def label(self, number: int) -> str:
        """The page label of page `number`, "" if the file keeps none."""
        labels = self._structure[1]
        if len(labels) == self.page_count:
            return labels[number - 1]
        with quiet():
            return _label(self.document.get_page_label(number - 1) or "")


class PdfPage:
    """One page of a PDF; see `SourcePage`."""

    def __init__(self, source: PdfSource, number: int) -> None:
        self._source = source
        self.number = number
        self._text_trouble = self._picture_trouble = ""

    @property
    def printed(self) -> str:
        return self._source.label(self.number)

    @cached_property
    def _facts(self) -> tuple[float, float, PageContent]:
        page = self._load()
        try:
            width_pt, height_pt = page.get_size()
            width_pt, height_pt = max(width_pt, 0.01), max(height_pt, 0.01)
            return width_pt, height_pt, page_content(page, width_pt, height_pt)
        finally:
            page.close()

    def _load(self) -> Any:
        try:
            with quiet():
                return self._source.document[self.number - 1]
        except pdfium.PdfiumError as error:
            raise damaged_page(self._source.path, self.number) from error

    @property
    def size_pt(self) -> tuple[float, float] | None:
        return self._facts[:2]

    @property
    def content(self) -> PageContent:
        """What the page is made of."""
        return self._facts[2]

    @property
    def has_picture(self) -> bool:
        if self.content.images:
            return True
        return self.content.strokes > 0 and not self.content.visible_text

    @property
    def reason(self) -> str:
        return joined(self._source.damage, self._text_trouble, self._picture_trouble)

    @property
    def _natural_dpi(self) -> float:
        """A scan's own resolution; never less than RENDER_DPI where type or lines show too."""
        own = self.content.scan_dpi
        if own is None:
            return float(limits.RENDER_DPI)
        return own if self.content.only_bitmaps else max(own, float(limits.RENDER_DPI))

    def draw_size(
        self, max_side_px: int | None = None, dpi: float | None = None
    ) -> tuple[int, int]:
        width_pt, height_pt, content = self._facts
        if content.largest_px > limits.MAX_PAGE_PIXELS:
            raise TooLarge(
                f"Page {self.number} of {shown(self._source.path)} holds a picture of"
                f" {content.largest_px / 1e6:,.0f} million pixels.",
                f"Save it at a lower resolution, under {limits.MAX_PAGE_PIXELS / 1e6:,.0f}"
                " million pixels.",
            )
        natural = self._natural_dpi
        scale = natural / POINTS_PER_INCH
        return fit(width_pt * scale, height_pt * scale, natural, max_side_px, dpi)

    def draw(self, max_side_px: int | None = None, dpi: float | None = None) -> Image.Image:
        width_px, height_px = self.draw_size(max_side_px, dpi)
        grey = self.content.only_bitmaps and self.content.grey
        page = self._load()
        try:
            bitmap = pdfium.PdfBitmap.new_native(
                width_px, height_px, raw.FPDFBitmap_Gray if grey else raw.FPDFBitmap_BGR
            )
            raw.FPDFBitmap_FillRect(bitmap.raw, 0, 0, width_px, height_px, 0xFFFFFFFF)
            flags = raw.FPDF_ANNOT | (raw.FPDF_GRAYSCALE if grey else 0)
            raw.FPDF_RenderPageBitmap(bitmap.raw, page.raw, 0, 0, width_px, height_px, 0, flags)
            picture: Image.Image = bitmap.to_pil()
        except (pdfium.PdfiumError, MemoryError, ValueError) as error:
            raise damaged_page(self._source.path, self.number) from error
        finally:
            page.close()
        if self.content.is_scan and _is_blank(picture):
            # pdfium draws nothing, and says nothing, where it can't decode a bitmap.
            self._picture_trouble = "its picture is blank or can't be decoded"
        return picture if picture.mode in ("L", "RGB") else picture.convert("RGB")

    @cached_property
    def embedded(self) -> PageReading | None:
        try:
            size = self.draw_size()
        except TooLarge:
            return None
        page = self._load()
        try:
            with quiet():
                words = page_words(page, size, self.content.is_scan)
        except (pdfium.PdfiumError, ValueError):
            self._text_trouble = "its text layer is damaged and was left out"
            return None
        finally:
            page.close()
        return PageReading(words, *size, reader="embedded") if words else None


def _label(label: object) -> str:
    return cleaned(str(label)[: 4 * limits.MAX_LABEL_CHARS])[: limits.MAX_LABEL_CHARS]


def _is_blank(picture: Image.Image) -> bool:
    bounds: Any = picture.getextrema()
    flat = bounds if isinstance(bounds[0], tuple) else (bounds,)
    return all(low == high for low, high in flat)


def _opened(path: Path) -> tuple[Any, str]:
    """pdfium's document and what is not whole about it."""
    try:
        size_bytes = path.stat().st_size
        with quiet():
            return pdfium.PdfDocument(path), ""
    except OSError as error:
        raise os_trouble(path, error) from error
    except pdfium.PdfiumError as error:
        if error.err_code == _PASSWORD:
            raise InputError(
                f"{shown(path)} is encrypted and needs a password to open.",
                "Open it with its password, save a copy without one, and index the copy.",
            ) from error
        if error.err_code == _SECURITY:
            raise InputError(
                f"{shown(path)} is encrypted in a way that can't be read here.",
                "Print or save it again as a plain PDF and index that.",
            ) from error
        rebuilt = _rebuilt(path) if size_bytes <= _MAX_REBUILD_BYTES else None
        if rebuilt is None:
            raise InputError(
                f"{shown(path)} is damaged: its page structure can't be followed.",
                "Fetch or scan it again, or save it anew from a program that still opens it.",
            ) from error
        return rebuilt, "the file is damaged; its pages were put together again"


def _rebuilt(path: Path) -> Any:
    """A document written anew from what pypdf can still follow, None if it can't either."""
    try:
        with quiet(), path.open("rb") as stream:
            reader = pypdf.PdfReader(stream, strict=False)
            writer = pypdf.PdfWriter()
            for page in reader.pages[: limits.MAX_FILE_PAGES]:
                writer.add_page(page)
            if not writer.pages:
                return None
            copy = io.BytesIO()
            writer.write(copy)
            return pdfium.PdfDocument(copy.getvalue())
    except Exception:  # damage shows as errors of every kind here; the caller says it plainly
        return None


def _title(reader: pypdf.PdfReader) -> str:
    facts = reader.metadata
    return str(facts.title or "") if facts is not None else ""


def _check_count(path: Path, count: int) -> None:
    if count < 1:
        raise InputError(
            f"{shown(path)} holds no pages.", "Fetch or scan it again; this copy is empty."
        )
    if count > limits.MAX_FILE_PAGES:
        raise TooLarge(
            f"{shown(path)} claims {count:,} pages; the bound is {limits.MAX_FILE_PAGES:,}.",
            "Split it, or fetch it again if that count can't be right.",
        )
