"""The packet: a job's cover sheet, its marked pages and its work sheets, as one PDF to print."""

import io
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
)

from indexer.bench import text_layer
from indexer.bench.cover import PageLine, write_cover
from indexer.bench.marked import PacketPage, PacketPhoto
from indexer.bench.paper import Sheets
from indexer.bench.photo_pages import LaidPhoto, laid_photos, write_photo_sheets
from indexer.bench.place import FOLDOUTS, PAPER_PT, Window, place, times
from indexer.bench.scans import Scan, ScanMaker
from indexer.bench.sheet_types import WorkSheets
from indexer.bench.typed import write_note
from indexer.bench.work_pages import write_work_sheets
from indexer.errors import InputError, UsageError
from indexer.intake.sources import FileKind
from indexer.model import Entry, PageReading
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord


@dataclass(frozen=True, slots=True)
class _Laid:
    """A page with the sheets it takes; `scan` is None for typed notes and lost pages."""

    page: PacketPage
    windows: tuple[Window, ...]
    scan: Scan | None


@dataclass(frozen=True, slots=True)
class _Plan:
    """The typed parts of every sheet, and where things begin (sheets from 0)."""

    typed: bytes
    starts: list[int]  # of each marked page
    headings: dict[str, int]  # of the work sheets and the photos
    photos: list[list[tuple[LaidPhoto, Window]]]  # sheet by sheet


def write_packet(
    target: Path,
    job: JobRecord,
    entry: Entry | None,
    pages: Sequence[PacketPage],
    gone: Sequence[str],
    paper: str = "A4",
    foldouts: str = "tile",
    sheets: WorkSheets | None = None,
    photos: Sequence[PacketPhoto] = (),
) -> list[str]:
    """Writes the packet to `target`: cover, each page from its own file in order, work sheets,
    photos.

    `paper` is "A4" or "Letter"; `foldouts` "tile" or "fit". Returns a line for each page that
    could not be printed. Raises UsageError for another paper or choice, InputError when the file
    can't be written.
    """
    if paper not in PAPER_PT:
        raise UsageError(f"There is no paper {paper}.", f"Choose {' or '.join(PAPER_PT)}.")
    if foldouts not in FOLDOUTS:
        raise UsageError(f"Fold-outs can't be {foldouts}.", f"Choose {' or '.join(FOLDOUTS)}.")
    writer = PdfWriter()
    lost: list[str] = []
    laid: list[_Laid] = []
    with ScanMaker(writer) as maker:
        for page in pages:
            try:
                laid.append(_laid(page, maker, paper, foldouts))
            except InputError as error:
                lost.append(f"{page.card.file} page {page.card.ref.page}: {error.message}")
        pictures, lost_photos = laid_photos(photos, maker)
        lost += lost_photos
        title = f"Job {job.id}: {job.title}"
        plan = _printed(title, job, entry, laid, [*gone, *lost], paper, sheets, pictures)
        for printed_page in PdfReader(io.BytesIO(plan.typed)).pages:
            writer.add_page(printed_page)
        _lay_pictures(writer, laid, plan)
        _outline(writer, laid, plan)
        writer.add_metadata({"/Title": title, "/Producer": "Benchfolio"})
        save(writer, target)
    return lost


def _laid(page: PacketPage, maker: ScanMaker, paper: str, foldouts: str) -> _Laid:
    if maker.source(page.card.path).kind is FileKind.NOTES:
        reading = page.reading
        height = max(reading.height_px, reading.width_px * 1.3)  # a short note stands upright too
        window = place(reading.width_px, height, paper, "fit")
        return _Laid(page, window, None)
    scan = maker.add(page.card.path, page.card.ref.page, page.reading)
    windows = place(scan.width_pt, scan.height_pt, paper, foldouts, measured=scan.measured)
    return _Laid(page, windows, scan)


def _printed(
    title: str,
    job: JobRecord,
    entry: Entry | None,
    laid: Sequence[_Laid],
    gone: Sequence[str],
    paper: str,
    work: WorkSheets | None,
    photos: Sequence[LaidPhoto],
) -> _Plan:
    cover_sheets = 1
    while True:  # the cover names sheet numbers, which depend on how long it is
        starts, at = [], cover_sheets
        for one in laid:
            starts.append(at)
            at += len(one.windows)
        sheets = Sheets(paper, title)
        lines = [_line(one, start) for one, start in zip(laid, starts, strict=True)]
        write_cover(sheets, job, entry, lines, gone, work.power_up if work else None)
        if sheets.page_no() == cover_sheets:
            break
        cover_sheets = sheets.page_no()
    for one in laid:
        for window in one.windows:
            redrawn = one.scan.redrawn if one.scan else ""
            sheets.picture_sheet(window, _source(one.page, window, redrawn))
            if one.scan is None:
                write_note(sheets, one.page.reading, window)
    headings = write_work_sheets(sheets, work) if work is not None else {}
    if photos:
        headings["Photos"] = sheets.page_no()
    shown = write_photo_sheets(sheets, photos)
    return _Plan(bytes(sheets.output()), starts, headings, shown)


def _line(one: _Laid, start: int) -> PageLine:
    first, last = start + 1, start + len(one.windows)
    card = one.page.card
    return PageLine(
        f"{first}" if first == last else f"{first} to {last}",
        _named(card),
        ", ".join(card.kinds),
        one.page.mark.why,
    )


def _named(card: PageCard) -> str:
    printed = f" (printed {card.printed})" if card.printed else ""
    return f"{card.file}, page {card.ref.page}{printed}"


def _source(page: PacketPage, window: Window, redrawn: str) -> str:
    parts = [_named(page.card), page.mark.why, redrawn]
    if window.is_tile:
        at = (
            f"row {window.row + 1} of {window.rows}, column {window.column + 1} of {window.columns}"
        )
        parts.append(f"{at}: cut at the left and top marks, lay over the marks of the sheet before")
    elif page.reading.reader != "typed":
        parts.append(f"{window.scale:.0%} of its size" if window.scale < 0.995 else "")
    return "  ·  ".join(part for part in parts if part)


def _lay_pictures(writer: PdfWriter, laid: Sequence[_Laid], plan: _Plan) -> None:
    for at, sheet in enumerate(plan.photos, plan.headings.get("Photos", 0)):
        for number, (photo, window) in enumerate(sheet):
            lay_picture(writer, writer.pages[at], photo.scan, window, f"/Photo{number}")
    font = text_layer.add_font(writer) if any(one.scan for one in laid) else None
    for one, start in zip(laid, plan.starts, strict=True):
        if one.scan is None or font is None:
            continue
        for number, window in enumerate(one.windows):
            lay(writer, writer.pages[start + number], one.scan, window, one.page.reading, font)


def lay(
    writer: PdfWriter,
    sheet: PageObject,
    scan: Scan,
    window: Window,
    reading: PageReading,
    font: IndirectObject,
) -> None:
    """Puts a scan under what a sheet shows, with its words lying invisibly under the picture."""
    words = b""
    if not scan.has_text:
        words = text_layer.layer(reading, times(scan.words, window.matrix), window.clip)
    lay_picture(writer, sheet, scan, window, "/Scan", words)
    _resource(sheet, "/Font", text_layer.FONT_NAME, font)


def lay_picture(
    writer: PdfWriter,
    sheet: PageObject,
    scan: Scan,
    window: Window,
    name: str,
    below: bytes = b"",
) -> None:
    """Puts a scan under what a sheet shows, as the resource `name`, over the content `below`."""
    a, b, c, d, e, f = window.matrix
    left, bottom, width, height = window.clip
    content = (
        f"q {left:.3f} {bottom:.3f} {width:.3f} {height:.3f} re W n"
        f" {a:.6f} {b:.6f} {c:.6f} {d:.6f} {e:.3f} {f:.3f} cm {name} Do Q\n"
    ).encode("ascii")
    stream = DecodedStreamObject()
    stream.set_data(below + b"\n" + content if below else content)
    contents = sheet.get("/Contents")
    after = [contents] if isinstance(contents, IndirectObject) else list(contents or ())
    kept = ArrayObject([writer._add_object(stream.flate_encode()), *after])
    sheet[NameObject("/Contents")] = kept
    _resource(sheet, "/XObject", name, scan.form)


def _resource(sheet: PageObject, kind: str, name: str, value: IndirectObject) -> None:
    """Gives a sheet a resource of its own, not shared with the sheets beside it."""
    resources = DictionaryObject(sheet.get("/Resources", DictionaryObject()).get_object())
    entries = DictionaryObject(resources.get(kind, DictionaryObject()).get_object())
    entries[NameObject(name)] = value
    resources[NameObject(kind)] = entries
    sheet[NameObject("/Resources")] = resources


def _outline(writer: PdfWriter, laid: Sequence[_Laid], plan: _Plan) -> None:
    """Cover, then a branch for each page kind with its pages, then the work sheets and photos."""
    writer.add_outline_item(title="Cover", page_number=0)
    kinds: dict[str, list[tuple[_Laid, int]]] = {}
    for one, start in zip(laid, plan.starts, strict=True):
        for kind in one.page.card.kinds or ("cover or other",):
            kinds.setdefault(kind, []).append((one, start))
    for kind, found in kinds.items():
        branch = writer.add_outline_item(title=kind.capitalize(), page_number=found[0][1])
        for one, start in found:
            writer.add_outline_item(title=_named(one.page.card), page_number=start, parent=branch)
    for title, sheet in plan.headings.items():
        writer.add_outline_item(title=title, page_number=sheet)


def save(writer: PdfWriter, target: Path) -> None:
    """Writes the file; it is whole or not there. Raises InputError."""
    target = target.resolve()  # a link stays a link
    part = target.with_name(f".{target.name[:80]}.{os.getpid()}.part")
    if target.exists() and not target.is_file():
        part = target  # a pipe or a device takes it as it comes
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            with part.open("wb") as stream:
                writer.write(stream)
            if part != target:
                part.replace(target)
        finally:
            if part != target:
                part.unlink(missing_ok=True)
    except OSError as error:
        raise InputError(
            f"The packet can't be written to {target} ({error.strerror}).", "Choose another place."
        ) from error
