"""Pages keep their own bytes inside the packet, stand upright, and lose only their border."""

from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
from PIL import Image, TiffImagePlugin
from pypdf import PdfWriter

from indexer.bench.packet import write_packet
from indexer.bench.place import FOOT_PT, MARGIN_PT, OVERLAP_PT, PAPER_PT, place
from indexer.bench.scans import ScanMaker
from indexer.bench.trim import WHOLE, visible_part
from indexer.limits import MAX_TILES
from indexer.model import PageReading
from tests.bench.packet_pages import (
    JOB,
    SIZE,
    drawn_page,
    jpeg,
    page,
    reading,
    tiff,
    vector_pdf,
)


def pictures(path: Path, kind: str) -> list[bytes]:
    """The coded bytes of every picture in a PDF that uses a filter."""
    with pikepdf.open(path) as document:
        return [
            item.read_raw_bytes()
            for item in document.objects
            if isinstance(item, pikepdf.Stream)
            and item.get("/Subtype") == "/Image"
            and kind in str(item.get("/Filter"))
        ]


def test_a_jpeg_goes_in_byte_for_byte(tmp_path: Path) -> None:
    scan = jpeg(tmp_path, "LEVEL", turn=90, border=60)
    write_packet(tmp_path / "p.pdf", JOB, None, [page(scan, 1, reading("LEVEL", turn=90))], [])
    assert pictures(tmp_path / "p.pdf", "DCTDecode") == [scan.read_bytes()]


def test_fax_strips_go_in_byte_for_byte(tmp_path: Path) -> None:
    """TIFF 6.0: tags 273 and 279 place the strips."""
    scan = tiff(tmp_path, "FAXONE")
    data = scan.read_bytes()
    with Image.open(scan) as image:
        assert isinstance(image, TiffImagePlugin.TiffImageFile)
        tags = image.tag_v2
        strips = [data[at : at + n] for at, n in zip(tags[273], tags[279], strict=True)]
    assert len(strips) > 1
    write_packet(tmp_path / "p.pdf", JOB, None, [page(scan, 1, reading("FAXONE"))], [])
    kept = pictures(tmp_path / "p.pdf", "CCITTFaxDecode")
    assert set(kept) == set(strips)  # equal strips may share one object
    assert len(kept) > 1


@pytest.mark.parametrize("compression", ["group4", "tiff_lzw", "tiff_deflate"])
def test_every_tiff_keeps_its_pixels(tmp_path: Path, compression: str) -> None:
    scan = tiff(tmp_path, "FAXONE", "FAXTWO", compression=compression)
    write_packet(tmp_path / "p.pdf", JOB, None, [page(scan, 2, reading("FAXTWO"))], [])
    document = pdfium.PdfDocument(tmp_path / "p.pdf")
    sheet = document[len(document) - 1].render(scale=2, grayscale=True).to_pil().convert("L")
    rows, columns = np.nonzero(np.asarray(sheet)[: int(sheet.height * 0.93)] < 128)
    # The word's left edge and the frame's lower right corner bound the ink of the page.
    ink = sheet.crop((int(columns.min()), int(rows.min()), int(columns.max()), int(rows.max())))
    meant = drawn_page("FAXTWO")
    dark_rows, dark_columns = np.nonzero(np.asarray(meant) < 128)
    same = meant.crop(
        (
            int(dark_columns.min()), int(dark_rows.min()),
            int(dark_columns.max()), int(dark_rows.max()),
        )
    )  # fmt: skip
    a = np.asarray(ink.resize((300, 400)), dtype=float).ravel()
    b = np.asarray(same.resize((300, 400)), dtype=float).ravel()
    assert np.corrcoef(a, b)[0, 1] > 0.85


def test_vectors_stay_vectors(tmp_path: Path) -> None:
    scan = vector_pdf(tmp_path, "VECTOR")
    write_packet(tmp_path / "p.pdf", JOB, None, [page(scan, 1, reading("VECTOR"))], [])
    with pikepdf.open(tmp_path / "p.pdf") as document:
        form = document.pages[-1].Resources.XObject.Scan
        with pikepdf.open(scan) as source:
            own = source.pages[0].Contents.read_bytes()
        assert form.read_bytes().strip() == own.strip()
    assert pictures(tmp_path / "p.pdf", "Decode") == []


@pytest.mark.parametrize("mark", range(1, 9))
def test_exif_turns_and_mirrors(tmp_path: Path, mark: int) -> None:
    """TIFF 6.0, tag 274, against Pillow's own exif_transpose."""
    from PIL import ImageOps

    scan = jpeg(tmp_path, "TURN", mark=mark)
    with Image.open(scan) as image:
        upright = ImageOps.exif_transpose(image).convert("L")
    blank = PageReading((), *upright.size, "tesseract")
    write_packet(tmp_path / "p.pdf", JOB, None, [page(scan, 1, blank)], [])
    document = pdfium.PdfDocument(tmp_path / "p.pdf")
    sheet = document[len(document) - 1].render(scale=2, grayscale=True).to_pil().convert("L")
    height = int(sheet.height - FOOT_PT * 2)
    rows, columns = np.nonzero(np.asarray(sheet)[:height] < 252)
    box = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
    shown = sheet.crop(tuple(int(v) for v in box)).resize((150, 150))
    a, b = np.asarray(shown, dtype=float), np.asarray(upright.resize((150, 150)), dtype=float)
    assert np.corrcoef(a.ravel(), b.ravel())[0, 1] > 0.9


@pytest.mark.parametrize("way", [0, 90, 180, 270])
def test_a_turned_pdf_page_stands_upright(tmp_path: Path, way: int) -> None:
    """The file's own /Rotate and the turn found by reading add up (ISO 32000-1, table 30)."""
    scan = vector_pdf(tmp_path, "VECTOR", rotate=way)
    back = PageReading((), 10, 10, "tesseract", rotation_deg=(360 - way) % 360)
    writer = PdfWriter()
    with ScanMaker(writer) as maker:
        made = maker.add(scan, 1, back)
    assert (made.width_pt, made.height_pt) == pytest.approx((612, 792))


def test_only_the_black_border_goes() -> None:
    bordered = drawn_page("LEVEL", border=80)
    left, top, right, bottom = visible_part(bordered, reading("LEVEL"))
    assert (left, top, bottom) == (0.0, 0.0, 1.0)
    assert right == pytest.approx(1 - 80 / SIZE[0], abs=0.006)
    assert visible_part(drawn_page("LEVEL"), reading("LEVEL")) == WHOLE
    dark_photo = Image.new("L", (600, 400), 60)
    assert visible_part(dark_photo, reading("LEVEL")) == WHOLE


def test_a_word_read_in_the_border_keeps_it() -> None:
    from dataclasses import replace

    from indexer.model import Box, Word

    bordered = drawn_page("LEVEL", border=80)
    inside = Word("EDGE", Box(1640, 300, 1690, 330), 0.9)
    read = replace(reading("LEVEL"), words=(inside,))
    assert visible_part(bordered, read) == WHOLE


@pytest.mark.parametrize("paper", sorted(PAPER_PT))
@pytest.mark.parametrize(("width", "height"), [(1224, 792), (1684, 1191), (3000, 700)])
def test_tiles_cover_a_fold_out_and_overlap(paper: str, width: float, height: float) -> None:
    windows = place(width, height, paper)
    assert 1 < len(windows) <= MAX_TILES
    covered = np.zeros((200, 300), dtype=int)
    for w in windows:
        left, bottom, across, up = w.clip
        assert left >= MARGIN_PT - 0.01
        assert bottom >= FOOT_PT - 0.01
        assert left + across <= w.sheet_width - MARGIN_PT + 0.01
        assert bottom + up <= w.sheet_height - MARGIN_PT + 0.01
        x0, x1 = (left - w.x) / w.scale / width, (left + across - w.x) / w.scale / width
        y0, y1 = (bottom - w.y) / w.scale / height, (bottom + up - w.y) / w.scale / height
        covered[round(y0 * 200) : round(y1 * 200), round(x0 * 300) : round(x1 * 300)] += 1
    assert covered.min() >= 1
    first = windows[0]
    if first.columns > 1:
        shift = windows[0].x - windows[1].x
        assert first.clip[2] - shift == pytest.approx(OVERLAP_PT)
    assert len(place(width, height, paper, "fit")) == 1
    assert len(place(width, height, paper, measured=False)) == 1


def test_a_fold_out_is_tiled_or_fitted_by_choice(tmp_path: Path) -> None:
    wide = drawn_page("FOLDOUT", size=(4400, 3000))
    wide.save(tmp_path / "fold.png", dpi=(200, 200))
    pages = [page(tmp_path / "fold.png", 1, reading("FOLDOUT", size=(4400, 3000)), "schematic")]
    counts = {}
    for choice in ("tile", "fit"):
        write_packet(tmp_path / "p.pdf", JOB, None, pages, [], "A4", choice)
        document = pdfium.PdfDocument(tmp_path / "p.pdf")
        counts[choice] = len(document)
        holding = [
            n for n in range(len(document))
            if document[n].get_textpage().search("FOLDOUT").get_next()
        ]  # fmt: skip
        assert len(holding) == 1  # the word goes with the tile that shows it
        document.close()
        assert len(pictures(tmp_path / "p.pdf", "FlateDecode")) == 1  # one picture, many tiles
    assert counts["tile"] > counts["fit"]


@pytest.mark.parametrize("crooked_deg", [-2.0, 2.5])
def test_words_follow_a_crooked_scan(tmp_path: Path, crooked_deg: float) -> None:
    """The reading lies on the straightened picture, the packet shows the scan as it is."""
    from dataclasses import replace

    turned = drawn_page("CROOKED").rotate(-crooked_deg, fillcolor=245)
    turned.save(tmp_path / "crooked.png", dpi=(200, 200))
    read = replace(reading("CROOKED"), skew_deg=crooked_deg)
    write_packet(tmp_path / "p.pdf", JOB, None, [page(tmp_path / "crooked.png", 1, read)], [])
    document = pdfium.PdfDocument(tmp_path / "p.pdf")
    sheet = document[len(document) - 1]
    text = sheet.get_textpage()
    at, count = text.search("CROOKED").get_next()
    boxes = [text.get_charbox(n, loose=True) for n in range(at, at + count)]
    x = (min(b[0] for b in boxes) + max(b[2] for b in boxes)) / 2
    y = (min(b[1] for b in boxes) + max(b[3] for b in boxes)) / 2
    grey = np.asarray(sheet.render(scale=1, grayscale=True).to_pil().convert("L"))
    rows, columns = np.nonzero(grey[80:260] < 100)
    assert abs(x - (columns.min() + columns.max()) / 2) < 5
    assert abs(grey.shape[0] - y - (rows.min() + rows.max()) / 2 - 80) < 5
    document.close()
