"""What a PDF page is made of: bitmaps, drawing, text; and its words with boxes (via pdfium)."""

import ctypes
from dataclasses import dataclass
from math import hypot
from typing import Any

import pypdfium2.raw as raw

from indexer import limits
from indexer.intake.shape import LAYER_CONFIDENCE, POINTS_PER_INCH
from indexer.model import Box, Word

# Bitmaps over at least this share of the page make it a scan. Scanners crop margins, so less
# than the whole; a photograph in a typeset page is rarely half of it. Common practice, no source.
SCAN_SHARE = 0.5
# Strips and layers thinner than this do not decide the page's resolution.
_STRIP_SHARE = 0.02
_MAX_OBJECTS = 50_000  # a dense vector schematic has a few thousand strokes
_MAX_FORM_DEPTH = 6
_INVISIBLE = {raw.FPDF_TEXTRENDERMODE_INVISIBLE, raw.FPDF_TEXTRENDERMODE_CLIP}
_GREY_SPACES = {
    raw.FPDF_COLORSPACE_DEVICEGRAY,
    raw.FPDF_COLORSPACE_CALGRAY,
    raw.FPDF_COLORSPACE_ICCBASED,
}
# pdfium hands these out where a word is broken at the end of a line.
_LINE_HYPHENS = {0x02, 0xFFFE}

_Matrix = tuple[float, float, float, float, float, float]


@dataclass(slots=True)
class PageContent:
    """What a page shows. `scan_dpi` is the finest resolution of the bitmaps that make up a
    scanned page, None for other pages; `largest_px` the area of its largest bitmap."""

    images: int = 0
    image_share: float = 0.0  # summed, so layers count twice
    scan_dpi: float | None = None
    largest_px: int = 0
    grey: bool = True  # no bitmap holds colour
    strokes: int = 0  # lines, fills and shadings
    visible_text: bool = False

    @property
    def is_scan(self) -> bool:
        return self.scan_dpi is not None

    @property
    def only_bitmaps(self) -> bool:
        """Nothing shows but bitmaps (text behind them does not show)."""
        return self.images > 0 and not self.strokes and not self.visible_text


def page_content(page: Any, width_pt: float, height_pt: float) -> PageContent:
    """Look through the objects of an open pdfium page of that upright size."""
    content = PageContent()
    resolutions: list[float] = []
    area_pt = max(width_pt * height_pt, 1e-6)
    seen = 0

    def visit(item: Any, matrix: _Matrix, depth: int) -> None:
        kind = raw.FPDFPageObj_GetType(item)
        if kind == raw.FPDF_PAGEOBJ_IMAGE:
            _add_image(page, item, matrix, area_pt, content, resolutions)
        elif kind == raw.FPDF_PAGEOBJ_TEXT:
            if raw.FPDFTextObj_GetTextRenderMode(item) not in _INVISIBLE:
                content.visible_text = True
        elif kind == raw.FPDF_PAGEOBJ_FORM:
            if depth < _MAX_FORM_DEPTH:
                inner = _times(_matrix(item), matrix)
                walk(
                    raw.FPDFFormObj_CountObjects(item),
                    raw.FPDFFormObj_GetObject,
                    item,
                    inner,
                    depth + 1,
                )
        else:
            content.strokes += 1

    def walk(count: int, get: Any, parent: Any, matrix: _Matrix, depth: int) -> None:
        nonlocal seen
        for index in range(max(count, 0)):
            seen += 1
            if seen > _MAX_OBJECTS:
                return
            item = get(parent, index)
            if item:
                visit(item, matrix, depth)

    walk(
        raw.FPDFPage_CountObjects(page.raw),
        raw.FPDFPage_GetObject,
        page.raw,
        (1.0, 0.0, 0.0, 1.0, 0.0, 0.0),
        0,
    )
    if resolutions and content.image_share >= SCAN_SHARE:
        content.scan_dpi = max(resolutions)
    return content


def _add_image(
    page: Any,
    item: Any,
    matrix: _Matrix,
    area_pt: float,
    content: PageContent,
    resolutions: list[float],
) -> None:
    facts = raw.FPDF_IMAGEOBJ_METADATA()
    if not raw.FPDFImageObj_GetImageMetadata(item, page.raw, ctypes.byref(facts)):
        return
    a, b, c, d, _, _ = _times(_matrix(item), matrix)
    across_pt, down_pt = hypot(a, b), hypot(c, d)
    share = min(1.0, abs(a * d - b * c) / area_pt)
    content.images += 1
    content.image_share += share
    content.largest_px = max(content.largest_px, facts.width * facts.height)
    if facts.bits_per_pixel > 8 or facts.colorspace not in _GREY_SPACES:
        content.grey = False
    if share >= _STRIP_SHARE and across_pt > 0 and down_pt > 0:
        finest = max(facts.width / across_pt, facts.height / down_pt)
        resolutions.append(finest * POINTS_PER_INCH)


def _matrix(item: Any) -> _Matrix:
    m = raw.FS_MATRIX()
    if not raw.FPDFPageObj_GetMatrix(item, ctypes.byref(m)):
        return (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    return (m.a, m.b, m.c, m.d, m.e, m.f)


def _times(first: _Matrix, then: _Matrix) -> _Matrix:
    """The matrix that applies `first` and after it `then` (PDF 32000-1, 8.3.4: row vectors)."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r, a * q + b * s,
        c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def page_words(page: Any, size: tuple[int, int], layer: bool) -> tuple[Word, ...]:
    """The words of an open pdfium page, with boxes in pixels of a drawing of that `size`.

    `layer` says that the text was laid over a scan by some reader: then confidence is
    LAYER_CONFIDENCE, else 1. Words outside the page are left out. Raises ValueError when there
    are more than MAX_PAGE_WORDS.
    """
    text_page = page.get_textpage()
    try:
        return _words(text_page.raw, _to_pixels(page, size), size, layer)
    finally:
        text_page.close()


def _to_pixels(page: Any, size: tuple[int, int]) -> _Matrix:
    """The matrix from page space (points, origin below) to pixels of the upright drawing.

    pdfium rounds to whole device units, so it is asked for 256 times the size: that also makes
    crop box and rotation its own business.
    """
    fine = 256 if max(size) <= 100_000 else 1
    across, down = size[0] * fine, size[1] * fine

    def at(x: float, y: float) -> tuple[float, float]:
        left, top = ctypes.c_int(), ctypes.c_int()
        raw.FPDF_PageToDevice(
            page.raw, 0, 0, across, down, 0, x, y, ctypes.byref(left), ctypes.byref(top)
        )
        return left.value / fine, top.value / fine

    reach = 1_000.0
    (e, f), (ax, ay), (cx, cy) = at(0, 0), at(reach, 0), at(0, reach)
    return ((ax - e) / reach, (ay - f) / reach, (cx - e) / reach, (cy - f) / reach, e, f)


def _words(text: Any, matrix: _Matrix, size: tuple[int, int], layer: bool) -> tuple[Word, ...]:
    count = raw.FPDFText_CountChars(text)
    if count > limits.MAX_PAGE_WORDS * 20:
        raise ValueError("more characters than a page can hold")
    words: list[Word] = []
    units: list[int] = []  # UTF-16 code units of the word in hand
    box: Box | None = None
    line = 0
    for index in range(max(count, 0) + 1):
        unit = raw.FPDFText_GetUnicode(text, index) if index < count else 0x20
        if unit in _LINE_HYPHENS:
            unit = 0x2D
        if unit > 0x20 and unit not in (0xA0, 0x3000, 0xFEFF, 0xFFFF):
            char = _char_box(text, index, matrix)
            if char is not None:
                box = char if box is None else box.union(char)
            units.append(unit)
            continue
        if units and box is not None and _on_page(box, size):
            word = _decoded(units)
            if word:
                sure = LAYER_CONFIDENCE if layer else 1.0
                words.append(Word(word, _clipped(box, size), sure, line))
                if len(words) > limits.MAX_PAGE_WORDS:
                    raise ValueError("more words than a page can hold")
        units, box = [], None
        if unit in (0x0A, 0x0D) and words and words[-1].line == line:
            line += 1
    return tuple(words)


def _char_box(text: Any, index: int, matrix: _Matrix) -> Box | None:
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    found = raw.FPDFText_GetCharBox(
        text, index, ctypes.byref(left), ctypes.byref(right), ctypes.byref(bottom),
        ctypes.byref(top),
    )  # fmt: skip
    edges = (left.value, bottom.value, right.value, top.value)
    if not found or edges[0] == edges[2] or edges[1] == edges[3]:
        # Fonts without outlines, as text layers use them, have no ink to measure.
        loose = raw.FS_RECTF()
        if not raw.FPDFText_GetLooseCharBox(text, index, ctypes.byref(loose)):
            return None
        edges = (loose.left, loose.bottom, loose.right, loose.top)
    a, b, c, d, e, f = matrix
    xs = sorted(a * x + c * y + e for x in edges[0::2] for y in edges[1::2])
    ys = sorted(b * x + d * y + f for x in edges[0::2] for y in edges[1::2])
    return Box(xs[0], ys[0], xs[-1], ys[-1])


def _decoded(units: list[int]) -> str:
    data = b"".join(min(unit, 0xFFFF).to_bytes(2, "little") for unit in units)
    text = data.decode("utf-16-le", "replace")
    return "".join(char for char in text if char.isprintable())


def _on_page(box: Box, size: tuple[int, int]) -> bool:
    across, down = box.middle
    return 0 <= across <= size[0] and 0 <= down <= size[1]


def _clipped(box: Box, size: tuple[int, int]) -> Box:
    return Box(
        max(0.0, box.left), max(0.0, box.top), min(float(size[0]), box.right),
        min(float(size[1]), box.bottom),
    )  # fmt: skip
