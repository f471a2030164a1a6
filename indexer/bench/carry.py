"""What a page of a file holds, ready to become a form: copied, embedded by its bytes, or drawn."""

import io
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import img2pdf
import pypdfium2 as pdfium
from PIL import ExifTags, Image
from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    PdfObject,
)

from indexer.bench import trim
from indexer.bench.place import Matrix, moved, times, turned
from indexer.bench.strips import Strip, group4_strips
from indexer.intake.quiet import quiet
from indexer.intake.raster_header import opened
from indexer.intake.shape import POINTS_PER_INCH
from indexer.intake.sources import FileKind, Source

Box = tuple[float, float, float, float]

_UNMEASURED_SIDE_PT = 792.0  # the long side given to a picture whose file tells no size
_JPEG_QUALITY = 92  # for pictures that have to be drawn: DjVu has no counterpart in PDF
_HIDDEN = 0x02 | 0x20  # annotation flags: hidden, not to be viewed (ISO 32000-1, 12.5.3)


@dataclass(frozen=True, slots=True)
class Content:
    """A page before it is turned and trimmed; `box` is what shows, in the page's own space."""

    data: bytes
    resources: DictionaryObject
    box: Box
    upright: Matrix  # to points, upright by the file's own word, corner at (0, 0)
    width_pt: float
    height_pt: float
    group: PdfObject | None = None
    measured: bool = True
    drawn_dpi: int = 0  # of a page drawn anew, 0 for one carried over as it is

    def form(self, box: Box, matrix: Matrix) -> DecodedStreamObject:
        """The page as a form that shows `box` and is carried by `matrix`."""
        form = DecodedStreamObject()
        form.set_data(self.data)
        form[NameObject("/Type")] = NameObject("/XObject")
        form[NameObject("/Subtype")] = NameObject("/Form")
        form[NameObject("/BBox")] = numbers(*box)
        form[NameObject("/Matrix")] = numbers(*matrix)
        form[NameObject("/Resources")] = self.resources
        if self.group is not None:
            form[NameObject("/Group")] = self.group
        return form


def numbers(*values: float) -> ArrayObject:
    """A PDF array of numbers."""
    return ArrayObject([FloatObject(f"{value:.5f}") for value in values])


def copied(page: PageObject, writer: PdfWriter) -> Content:
    """A PDF page with its own content, untouched; its annotations are drawn where they stand."""
    left, bottom, right, top = _shown_box(page)
    with quiet():
        contents = page.get_contents()
        data = contents.get_data() if contents is not None else b""
        found = page.get("/Resources", DictionaryObject()).get_object()
        resources = DictionaryObject(found.clone(writer, force_duplicate=True))
        data = _with_annotations(data, page, resources, writer)
        group = page.get("/Group")
        kept = group.get_object().clone(writer) if group is not None else None
    unit, way = float(page.get("/UserUnit", 1.0)), page.rotation % 360
    width, height = right - left, top - bottom
    upright = times((1.0, 0.0, 0.0, 1.0, -left, -bottom), turned(way, width, height))
    upright = times(upright, (unit, 0.0, 0.0, unit, 0.0, 0.0))
    if way % 180:
        width, height = height, width
    box = (left, bottom, right, top)
    return Content(data, resources, box, upright, width * unit, height * unit, kept)


def embedded(path: Path, number: int, source: Source, writer: PdfWriter) -> Content:
    """A picture by its own bytes; its turn by tag or EXIF becomes part of the matrix."""
    size_pt = source.page(number).size_pt
    fax = group4_strips(path, number - 1) if source.kind is FileKind.TIFF else None
    if fax is not None:
        width, height, strips = fax
        with opened(path, number - 1) as image:
            mark = _orientation(image)
        return _picture(width, height, strips, mark, size_pt, writer)
    with opened(path, number - 1) as image:
        mark = _orientation(image)
        if source.kind is FileKind.TIFF:  # turned by Pillow as it is read
            image.load()
            return _packed(_lossless(image), 1, size_pt, writer)
    return _packed(path.read_bytes(), mark, size_pt, writer)


def drawn(source: Source, number: int, writer: PdfWriter) -> Content:
    """A page that can't be carried over as it is, drawn at its own pixels."""
    page = source.page(number)
    picture = page.draw()
    stream = io.BytesIO()
    if picture.mode == "L" and picture.getcolors(2):
        picture.convert("1").save(stream, "TIFF", compression="group4")
    else:
        picture.save(stream, "JPEG", quality=_JPEG_QUALITY, subsampling=0)
    made = _packed(stream.getvalue(), 1, page.size_pt, writer)
    return replace(made, drawn_dpi=round(picture.width * POINTS_PER_INCH / made.width_pt))


def _packed(
    data: bytes, mark: int, size_pt: tuple[float, float] | None, writer: PdfWriter
) -> Content:
    """A picture file's bytes as img2pdf lays them in a PDF, without decoding where it can."""
    made = img2pdf.convert(
        data,
        rotation=img2pdf.Rotation.none,
        layout_fun=img2pdf.get_layout_fun((_UNMEASURED_SIDE_PT, _UNMEASURED_SIDE_PT)),
    )
    page = PdfReader(io.BytesIO(made or b"")).pages[0]
    resources: Any = page["/Resources"]
    (picture,) = resources["/XObject"].values()
    stream = picture.get_object()
    width, height = int(stream["/Width"]), int(stream["/Height"])
    return _picture(width, height, [Strip(stream.clone(writer), height)], mark, size_pt, writer)


def _picture(
    width_px: int,
    height_px: int,
    strips: list[Strip],
    mark: int,
    size_pt: tuple[float, float] | None,
    writer: PdfWriter,
) -> Content:
    names, lines, below = DictionaryObject(), [], height_px
    for number, strip in enumerate(strips):
        below -= strip.rows
        kept = getattr(strip.picture, "indirect_reference", None)
        names[NameObject(f"/P{number}")] = kept or writer._add_object(strip.picture)
        lines.append(f"q {width_px} 0 0 {strip.rows} 0 {below} cm /P{number} Do Q")
    across, down = (height_px, width_px) if mark >= 5 else (width_px, height_px)
    scale = _UNMEASURED_SIDE_PT / max(across, down)
    size = size_pt or (across * scale, down * scale)
    stored = _as_shown(mark, float(width_px), float(height_px))
    upright = times(stored, (size[0] / across, 0.0, 0.0, size[1] / down, 0.0, 0.0))
    return Content(
        "\n".join(lines).encode("ascii"),
        DictionaryObject({NameObject("/XObject"): names}),
        (0.0, 0.0, float(width_px), float(height_px)),
        upright,
        *size,
        measured=size_pt is not None,
    )


def look(content: Content) -> Image.Image:
    """A small grey picture of a carried page, upright by the file's own word.

    Drawn from the PDF side, which decodes line by line: a fold-out never lies in memory whole.
    """
    writer = PdfWriter()
    page = writer.add_blank_page(content.width_pt, content.height_pt)
    form = writer._add_object(content.form(content.box, content.upright).clone(writer))
    page[NameObject("/Resources")] = DictionaryObject(
        {NameObject("/XObject"): DictionaryObject({NameObject("/F"): form})}
    )
    stream = DecodedStreamObject()
    stream.set_data(b"/F Do")
    page[NameObject("/Contents")] = writer._add_object(stream)
    out = io.BytesIO()
    writer.write(out)
    document = pdfium.PdfDocument(out.getvalue())
    try:
        scale = trim.LOOK_SIDE_PX / max(content.width_pt, content.height_pt)
        picture: Image.Image = document[0].render(scale=scale, grayscale=True).to_pil()
        return picture.convert("L")
    finally:
        document.close()


def back(matrix: Matrix, width: float, height: float) -> Box:
    """The box of a page's own space that a matrix of quarter turns carries to (0, 0, w, h)."""
    a, b, c, d, e, f = matrix
    part = a * d - b * c
    inverse = (d / part, -b / part, -c / part, a / part, (c * f - d * e) / part,
               (b * e - a * f) / part)  # fmt: skip
    x0, y0 = moved(inverse, 0.0, 0.0)
    x1, y1 = moved(inverse, width, height)
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _as_shown(mark: int, width: float, height: float) -> Matrix:
    """From stored pixels (y upward) to the picture as meant; `mark` as in TIFF 6.0, tag 274."""
    mirrored = mark in (2, 4, 5, 7)
    way = {3: 180, 4: 180, 5: 270, 6: 90, 7: 90, 8: 270}.get(mark, 0)
    flip: Matrix = (-1.0, 0.0, 0.0, 1.0, width, 0.0) if mirrored else (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    return times(flip, turned(way, width, height))


def _orientation(image: Image.Image) -> int:
    try:
        mark = int(image.getexif().get(ExifTags.Base.Orientation, 1))
    except Exception:  # damaged EXIF: shown as stored
        return 1
    return mark if 1 <= mark <= 8 else 1


def _lossless(image: Image.Image) -> bytes:
    stream = io.BytesIO()
    kept = image if image.mode in ("1", "L", "RGB") else image.convert("RGB")
    if kept.mode == "1":
        kept.save(stream, "TIFF", compression="group4")
    else:
        kept.save(stream, "PNG", compress_level=3)
    return stream.getvalue()


def _shown_box(page: PageObject) -> Box:
    """The crop box within the media box, as viewers show it."""
    media, crop = page.mediabox, page.cropbox
    left, bottom = max(media.left, crop.left), max(media.bottom, crop.bottom)
    right, top = min(media.right, crop.right), min(media.top, crop.top)
    if right <= left or top <= bottom:
        left, bottom, right, top = media.left, media.bottom, media.right, media.top
    return float(left), float(bottom), float(right), float(top)


def _with_annotations(
    data: bytes, page: PageObject, resources: DictionaryObject, writer: PdfWriter
) -> bytes:
    """Content with the appearances of the page's annotations drawn after it (12.5.5)."""
    drawn_after: list[str] = []
    names = DictionaryObject(resources.get("/XObject", DictionaryObject()).get_object())
    for number, reference in enumerate(page.get("/Annots", ()) or ()):
        note = reference.get_object()
        look_of = note.get("/AP", {}).get("/N") if note.get("/Subtype") != "/Popup" else None
        form = look_of.get_object() if look_of is not None else None
        if form is None or form.get("/Subtype") != "/Form" or int(note.get("/F", 0)) & _HIDDEN:
            continue
        box = [float(v) for v in form["/BBox"]]
        matrix = tuple(float(v) for v in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
        corners = [moved(matrix, x, y) for x in box[::2] for y in box[1::2]]  # type: ignore[arg-type]
        x0, x1 = min(x for x, _ in corners), max(x for x, _ in corners)
        y0, y1 = min(y for _, y in corners), max(y for _, y in corners)
        rect = [float(v) for v in note["/Rect"]]
        if x1 <= x0 or y1 <= y0:
            continue
        sx, sy = abs(rect[2] - rect[0]) / (x1 - x0), abs(rect[3] - rect[1]) / (y1 - y0)
        dx, dy = min(rect[::2]) - x0 * sx, min(rect[1::2]) - y0 * sy
        names[NameObject(f"/BenchNote{number}")] = form.clone(writer).indirect_reference
        place = f"{sx:.5f} 0 0 {sy:.5f} {dx:.3f} {dy:.3f}"
        drawn_after.append(f"q {place} cm /BenchNote{number} Do Q")
    if not drawn_after:
        return data
    resources[NameObject("/XObject")] = names
    return b"q\n" + data + b"\nQ\n" + "\n".join(drawn_after).encode("ascii")
