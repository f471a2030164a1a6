"""The packet: a job's cover sheet and its marked pages, as one PDF to print."""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import img2pdf
from PIL import Image
from pypdf import PageObject, PdfReader, PdfWriter, Transformation

from indexer.bench.cover import PAPER_PT, cover_sheet, footers, text_sheets
from indexer.errors import InputError, UsageError
from indexer.intake.sources import open_source
from indexer.model import Entry, PageReading
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord, Mark

_MARGIN_PT = 20.0
_FOOT_PT = 34.0  # kept free below the scan for the source line


@dataclass(frozen=True, slots=True)
class PacketPage:
    """A marked page with where its file lies and how it was read."""

    card: PageCard
    mark: Mark
    reading: PageReading


def write_packet(
    target: Path,
    job: JobRecord,
    entry: Entry | None,
    pages: Sequence[PacketPage],
    gone: Sequence[str],
    paper: str = "A4",
) -> None:
    """Writes the packet to `target`: a cover sheet, then each page from its own file, in order.

    Scans are not recompressed and vectors stay vectors; each is turned upright and scaled to the
    paper ("A4" or "Letter") above a line that names its source. Raises UsageError for another
    paper and InputError when the file can't be written.
    """
    if paper not in PAPER_PT:
        raise UsageError(f"There is no paper {paper}.", f"Choose {' or '.join(PAPER_PT)}.")
    writer = PdfWriter()
    cover = cover_sheet(job, entry, [packed.card for packed in pages], gone, paper)
    for page in PdfReader(io.BytesIO(cover)).pages:
        writer.add_page(page)
    notes = [
        f"{p.card.file}, page {p.card.ref.page}"
        + (f" (printed {p.card.printed})" if p.card.printed else "")
        for p in pages
    ]
    lines = PdfReader(io.BytesIO(footers(notes, len(writer.pages), paper)))
    for packed, line in zip(pages, lines.pages, strict=True):
        sheet = _on_paper(_source_page(packed, paper), packed.reading.rotation_deg, paper)
        sheet.merge_page(line)
        added = writer.add_page(sheet)
        kinds = ", ".join(packed.card.kinds) or "page"
        writer.add_outline_item(title=f"{kinds}: {packed.card.file}", page_number=added.page_number)
    writer.add_metadata({"/Title": f"Job {job.id}: {job.title}", "/Producer": "Benchfolio"})
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("wb") as stream:
            writer.write(stream)
    except OSError as error:
        raise InputError(
            f"The packet can't be written to {target} ({error.strerror}).", "Choose another place."
        ) from error


def _on_paper(page: PageObject, clockwise_deg: int, paper: str) -> PageObject:
    """The page turned upright and centred on a sheet, as large as fits above the footer."""
    if clockwise_deg:
        page.rotate(clockwise_deg)
    if page.rotation:
        page.transfer_rotation_to_content()
    box = page.mediabox
    width, height = float(box.width), float(box.height)
    sheet_width, sheet_height = PAPER_PT[paper]
    room_x, room_y = sheet_width - 2 * _MARGIN_PT, sheet_height - _MARGIN_PT - _FOOT_PT
    if width > height and width * 1.2 > height * room_x / room_y:  # a wide page fills a wide sheet
        sheet_width, sheet_height = sheet_height, sheet_width
        room_x, room_y = sheet_width - 2 * _MARGIN_PT, sheet_height - _MARGIN_PT - _FOOT_PT
    scale = min(room_x / width, room_y / height)
    sheet = PageObject.create_blank_page(width=sheet_width, height=sheet_height)
    move = (
        Transformation()
        .translate(-float(box.left), -float(box.bottom))
        .scale(scale)
        .translate(
            _MARGIN_PT + (room_x - width * scale) / 2, _FOOT_PT + (room_y - height * scale) / 2
        )
    )
    sheet.merge_transformed_page(page, move)
    return sheet


def _source_page(packed: PacketPage, paper: str) -> PageObject:
    path, number = packed.card.path, packed.card.ref.page
    with open_source(path) as source:
        kind = source.kind.value
        if kind == "pdf":
            return _copied(PdfReader(path).pages[number - 1])
        if kind == "notes":
            return PdfReader(io.BytesIO(text_sheets(packed.reading.text, paper))).pages[0]
        if kind in {"tiff", "image"}:
            try:
                scan = img2pdf.convert(str(path), rotation=img2pdf.Rotation.ifvalid)
                return PdfReader(io.BytesIO(scan or b"")).pages[number - 1]
            except (img2pdf.ImageOpenError, img2pdf.AlphaChannelError, OSError, IndexError):
                pass  # a picture that can't go in as it is: drawn instead
        return _drawn(source.page(number).draw())


def _copied(page: PageObject) -> PageObject:
    """The page in a reader of its own, so that turning it leaves the source alone."""
    writer = PdfWriter()
    writer.add_page(page)
    stream = io.BytesIO()
    writer.write(stream)
    return PdfReader(stream).pages[0]


def _drawn(picture: Image.Image) -> PageObject:
    stream = io.BytesIO()
    colours = picture.convert("L").getcolors(2) if picture.mode in {"L", "1"} else None
    (picture.convert("1") if colours else picture).save(stream, "PNG", dpi=(300, 300))
    return PdfReader(io.BytesIO(img2pdf.convert(stream.getvalue()) or b"")).pages[0]
