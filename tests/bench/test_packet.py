"""The packet as a second and a third PDF library see it: qpdf (pikepdf) and pdfium."""

from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
from PIL import Image
from pypdf import PdfReader

from indexer.bench.packet import write_packet
from indexer.bench.place import PAPER_PT
from indexer.errors import InputError, UsageError
from indexer.model import Box, Entry, PageReading, TubePlace, Word
from indexer.store.records import JobRecord
from tests.bench.packet_pages import (
    JOB,
    WORD_BOX,
    drawn_page,
    jpeg,
    page,
    reading,
    tiff,
    vector_pdf,
)

DPI = 100


def drawn(path: Path, number: int) -> Image.Image:
    """Sheet `number` (from 0) as pdfium draws it."""
    document = pdfium.PdfDocument(path)
    picture = document[number].render(scale=DPI / 72, grayscale=True).to_pil().convert("L")
    document.close()
    return picture


def word_place(path: Path, number: int, word: str) -> tuple[float, float]:
    """The middle of a word in points of the sheet, found by pdfium's text search."""
    document = pdfium.PdfDocument(path)
    text = document[number].get_textpage()
    found = text.search(word).get_next()
    assert found is not None, f"{word} is not on sheet {number}"
    boxes = [text.get_charbox(at, loose=True) for at in range(found[0], found[0] + found[1])]
    document.close()
    left, bottom = min(b[0] for b in boxes), min(b[1] for b in boxes)
    right, top = max(b[2] for b in boxes), max(b[3] for b in boxes)
    return (left + right) / 2, (bottom + top) / 2


def ink_place(picture: Image.Image, part: tuple[float, float]) -> tuple[float, float]:
    """The middle of the ink in the upper part of a sheet, in points from its bottom left."""
    grey = np.asarray(picture)
    low, high = (int(share * grey.shape[0]) for share in part)
    rows, columns = np.nonzero(grey[low:high] < 100)
    x, y = (columns.min() + columns.max()) / 2, (rows.min() + rows.max()) / 2 + low
    return float(x) * 72 / DPI, (grey.shape[0] - float(y)) * 72 / DPI


@pytest.fixture
def mixed(tmp_path: Path) -> Path:
    """A packet of a vector page, a scan, a turned scan, two TIFF frames and a note."""
    (tmp_path / "note.txt").write_text("C7 leaks: 22 V, 4.7 kΩ  é\n", encoding="utf-8")
    typed = Word("C7", Box(60, 60, 100, 100), 1.0)
    ohm = Word("4.7kΩ", Box(140, 60, 240, 100), 1.0)
    note = PageReading((typed, ohm), 1720, 160, "typed")
    fax = tiff(tmp_path, "FAXONE", "FAXTWO")
    pages = [
        page(vector_pdf(tmp_path, "VECTOR"), 1, reading("VECTOR"), "schematic"),
        page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"), "schematic", "parts list"),
        page(jpeg(tmp_path, "TURNED", turn=90), 1, reading("TURNED", turn=90), "alignment"),
        page(fax, 1, reading("FAXONE"), "parts list"),
        page(fax, 2, reading("FAXTWO"), "parts list"),
        page(tmp_path / "note.txt", 1, note, "service notes"),
    ]
    target = tmp_path / "packet.pdf"
    assert write_packet(target, JOB, None, pages, []) == []
    return target


def first_sheet(path: Path) -> int:
    """How many sheets the cover takes."""
    return len(PdfReader(path).pages) - 6


def test_qpdf_finds_nothing_wrong(mixed: Path) -> None:
    with pikepdf.open(mixed) as document:
        assert document.check_pdf_syntax() == []


@pytest.mark.parametrize(
    ("at", "word"), [(1, "LEVEL"), (2, "TURNED"), (3, "FAXONE"), (4, "FAXTWO")]
)
def test_words_lie_under_their_ink(mixed: Path, at: int, word: str) -> None:
    """pdfium's text search and the ink that pdfium draws agree to within 4 points."""
    sheet = first_sheet(mixed) + at
    x, y = word_place(mixed, sheet, word)
    ink_x, ink_y = ink_place(drawn(mixed, sheet), (0.1, 0.35))
    assert abs(x - ink_x) < 4
    assert abs(y - ink_y) < 4


def test_the_words_are_invisible(mixed: Path) -> None:
    """ISO 32000-1, table 106: rendering mode 3."""
    with pikepdf.open(mixed) as document:
        content = document.pages[first_sheet(mixed) + 1].Contents[0].read_bytes()
    assert b"3 Tr" in content
    assert b" Tj" in content


@pytest.mark.parametrize(("at", "word"), [(1, "LEVEL"), (2, "TURNED")])
def test_a_sheet_shows_what_the_source_shows(mixed: Path, at: int, word: str) -> None:
    """The sheet's picture against the drawn page, scaled to the same place."""
    sheet = drawn(mixed, first_sheet(mixed) + at)
    rows, columns = np.nonzero(np.asarray(sheet)[: int(sheet.height * 0.93)] < 252)
    box = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
    shown = np.asarray(sheet.crop(tuple(int(v) for v in box)).resize((170, 220)), dtype=float)
    meant = np.asarray(drawn_page(word).resize((170, 220)), dtype=float)
    assert np.corrcoef(shown.ravel(), meant.ravel())[0, 1] > 0.95


def test_a_second_library_reads_the_outline(mixed: Path) -> None:
    with pikepdf.open(mixed) as document, document.open_outline() as outline:
        branches = {item.title: [child.title for child in item.children] for item in outline.root}
    assert next(iter(branches)) == "Cover"
    assert {"Schematic", "Parts list", "Alignment", "Service notes"} <= set(branches)
    assert len(branches["Schematic"]) == 2
    assert len(branches["Parts list"]) == 3


def test_sources_and_numbers_stand_outside_the_picture(mixed: Path) -> None:
    pages = PdfReader(mixed).pages
    for number in range(first_sheet(mixed), len(pages)):
        assert f"{number + 1} / {len(pages)}" in pages[number].extract_text()
    document = pdfium.PdfDocument(mixed)
    foot = document[first_sheet(mixed) + 1].get_textpage().get_text_bounded(top=42)
    assert "LEVEL.jpg, page 1" in foot
    document.close()


def test_typed_notes_keep_their_letters(mixed: Path) -> None:
    text = PdfReader(mixed).pages[-1].extract_text()
    assert "C7" in text
    assert "4.7kΩ" in text


def test_the_cover_tells_the_set(tmp_path: Path) -> None:
    tubes = tuple(TubePlace(kind, symbol=f"V{n}") for n, kind in enumerate(JOB.tubes, 1))
    entry = Entry(
        "tillbrook-x", "Tillbrook", ("5D10",), ("CH-41A",), tubes, (), 1951, 455.0,
        "series string", 122.8, "likely",
    )  # fmt: skip
    job = JobRecord(7, "Kitchen set", "2026-03-01T10:00:00", symptom="hum, 4.7 kΩ and .05 µF")
    target = tmp_path / "packet.pdf"
    write_packet(
        target, job, entry, [page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"), "schematic")],
        ["old.tif page 3 is not there any more"],
    )  # fmt: skip
    reader = PdfReader(target)
    text = "\n".join(p.extract_text() for p in reader.pages)
    # 12.6 + 12.6 + 12.6 + 50 + 35: common practice, no source
    for said in (
        "Tillbrook", "5D10", "CH-41A", "455 kc", "122.8 V at 0.15 A", "converter", "4.7 kΩ",
        "µF", "Live chassis", "Local codes", "old.tif page 3", "LEVEL.jpg",
    ):  # fmt: skip
        assert said in text, said


@pytest.mark.parametrize("paper", sorted(PAPER_PT))
def test_sheets_are_of_the_paper_asked_for(tmp_path: Path, paper: str) -> None:
    """ISO 216 A4 is 210 x 297 mm; Letter is 8.5 x 11 inches."""
    target = tmp_path / "packet.pdf"
    write_packet(target, JOB, None, [page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"))], [], paper)
    meant = {"A4": (210 / 25.4 * 72, 297 / 25.4 * 72), "Letter": (8.5 * 72, 11 * 72)}[paper]
    for sheet in PdfReader(target).pages:
        assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == pytest.approx(
            meant, abs=0.02
        )


def test_wrong_choices_and_places_are_told_plainly(tmp_path: Path) -> None:
    pages = [page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"))]
    with pytest.raises(UsageError):
        write_packet(tmp_path / "p.pdf", JOB, None, pages, [], "A5")
    with pytest.raises(UsageError):
        write_packet(tmp_path / "p.pdf", JOB, None, pages, [], "A4", "crumple")
    (tmp_path / "file").write_text("x")
    with pytest.raises(InputError):
        write_packet(tmp_path / "file" / "p.pdf", JOB, None, pages, [])


def test_a_page_that_cannot_be_used_costs_no_other(tmp_path: Path) -> None:
    bad = tmp_path / "bad.jpg"
    bad.write_bytes(b"\xff\xd8\xff\xe0" + b"rubbish" * 50)
    pages = [
        page(bad, 1, reading("BAD"), "schematic"),
        page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"), "schematic"),
    ]
    lost = write_packet(tmp_path / "p.pdf", JOB, None, pages, [])
    assert len(lost) == 1
    assert "bad.jpg" in lost[0]
    assert "LEVEL" in PdfReader(tmp_path / "p.pdf").pages[-1].extract_text()
    assert WORD_BOX.width == 600
