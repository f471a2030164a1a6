"""Photos and redrawn pages in the packet, seen by pikepdf (qpdf) and PDFium, which did not
write it."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
from PIL import Image, ImageDraw

from indexer.bench.marked import PacketPhoto
from indexer.bench.packet import write_packet
from indexer.bench.place import FOOT_PT
from indexer.store.job_rows import Photo
from tests.bench.packet_pages import JOB, jpeg, page, reading, vector_pdf
from tests.bench.test_packet_work import SHEETS

DPI = 60


def a_photo(folder: Path, name: str, colour: str, *, mark: int = 1) -> PacketPhoto:
    """A photo of that colour with a white corner at the top left as stored."""
    picture = Image.new("RGB", (400, 300), colour)
    ImageDraw.Draw(picture).rectangle((0, 0, 100, 75), fill="white")
    exif = Image.Exif()
    exif[274] = mark
    picture.save(folder / name, "JPEG", quality=90, exif=exif)
    return PacketPhoto(Photo("0" * 64, ".jpg", name, "2026-03-01", f"the {colour} one"),
                       folder / name)  # fmt: skip


def sheet(path: Path, number: int) -> tuple[np.ndarray, str]:
    """Sheet `number` (from 0): its picture in colour, and its text."""
    document = pdfium.PdfDocument(path)
    picture = document[number].render(scale=DPI / 72).to_pil().convert("RGB")
    text = document[number].get_textpage().get_text_bounded()
    document.close()
    return np.asarray(picture).astype(int), text


def foot(path: Path, number: int) -> str:
    """The text below the picture of a sheet."""
    document = pdfium.PdfDocument(path)
    text = document[number].get_textpage().get_text_bounded(top=FOOT_PT)
    document.close()
    return str(text)


def part_of(grey: np.ndarray, colour: tuple[int, int, int]) -> np.ndarray:
    """Where a sheet has about that colour."""
    return (np.abs(grey - np.array(colour)) < 40).all(axis=2)


def test_photos_stand_two_to_a_sheet_with_their_words(tmp_path: Path) -> None:
    photos = [a_photo(tmp_path, f"{n} {c}.jpg", c) for n, c in enumerate(["red", "lime", "blue"])]
    target = tmp_path / "p.pdf"
    pages = [page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"), "schematic")]
    assert write_packet(target, JOB, None, pages, [], photos=photos) == []
    with pikepdf.open(target) as document, document.open_outline() as outline:
        assert document.check_pdf_syntax() == []
        assert outline.root[-1].title == "Photos"
        count = len(document.pages)
        raw = [o.read_raw_bytes() for o in document.objects if isinstance(o, pikepdf.Stream)]
    for photo in photos:
        assert photo.path.read_bytes() in raw, "a photo lies in the packet byte for byte"
    first, words = sheet(target, count - 2)
    red, lime = part_of(first, (255, 0, 0)), part_of(first, (0, 255, 0))
    assert red.any()
    assert lime.any()
    assert np.nonzero(red)[0].max() < np.nonzero(lime)[0].min(), "one above the other"
    assert "the red one" in words
    assert "0 red.jpg, kept 2026-03-01" in words
    last, words = sheet(target, count - 1)
    assert part_of(last, (0, 0, 255)).mean() > 0.25, "alone it has the sheet to itself"
    assert "the blue one" in words


@pytest.mark.parametrize(("mark", "corner"), [(1, (0, 0)), (3, (1, 1)), (6, (0, 1)), (8, (1, 0))])
def test_photos_stand_upright_by_their_own_mark(
    tmp_path: Path, mark: int, corner: tuple[int, int]
) -> None:
    """EXIF 2.3, tag 274: the corner stored first is top left, bottom right, top right, bottom
    left. `corner` is (row, column) of where it shows."""
    target = tmp_path / "p.pdf"
    write_packet(target, JOB, None, [], [], photos=[a_photo(tmp_path, "a.jpg", "red", mark=mark)])
    with pikepdf.open(target) as document:
        count = len(document.pages)
    red = part_of(sheet(target, count - 1)[0], (255, 0, 0))
    rows, columns = np.nonzero(red)
    box = red[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    tall, wide = box.shape
    assert (tall > wide) == (mark in (6, 8))
    quarter = {
        (row, column): box[
            row * tall * 4 // 5 : row * tall * 4 // 5 + tall // 5,
            column * wide * 4 // 5 : column * wide * 4 // 5 + wide // 5,
        ].mean()
        for row in (0, 1)
        for column in (0, 1)
    }
    assert min(quarter, key=lambda key: quarter[key]) == corner
    assert sorted(quarter.values())[1] > 0.9


def test_a_photo_that_is_gone_or_spoilt_is_said(tmp_path: Path) -> None:
    gone, spoilt = a_photo(tmp_path, "gone.jpg", "red"), a_photo(tmp_path, "spoilt.jpg", "red")
    gone.path.unlink()
    spoilt.path.write_bytes(b"\xff\xd8\xff\xe0" + b"x" * 400)
    target = tmp_path / "p.pdf"
    photos = [gone, spoilt, a_photo(tmp_path, "fine.jpg", "lime")]
    lost = write_packet(target, JOB, None, [], [], photos=photos)
    assert [name in line for name, line in zip(("gone", "spoilt"), lost, strict=True)] == [True] * 2
    _, cover = sheet(target, 0)
    assert "gone.jpg" in cover
    with pikepdf.open(target) as document:
        assert document.check_pdf_syntax() == []


def encrypted(path: Path) -> None:
    """No password to open it, yet its content is enciphered (ISO 32000-2, AES-256)."""
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        document.save(path, encryption=pikepdf.Encryption(owner="x", user="", R=6))


def half_in_a_hidden_layer(path: Path) -> None:
    """The word lies in a layer that is off (ISO 32000-1, 8.11): carried over, it would show."""
    with pikepdf.open(path, allow_overwriting_input=True) as document:
        layer = document.make_indirect(
            pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="notes in red")
        )
        document.Root.OCProperties = pikepdf.Dictionary(
            OCGs=[layer], D=pikepdf.Dictionary(OFF=[layer], Order=[layer])
        )
        first = document.pages[0]
        first.obj.Resources["/Properties"] = pikepdf.Dictionary(Hidden=layer)
        shown = b"0 0 0 rg 80 500 300 90 re f"
        first.contents_add(b"/OC /Hidden BDC " + shown + b" EMC")
        document.save(path)


@pytest.mark.parametrize("spoil", [encrypted, half_in_a_hidden_layer])
def test_a_page_that_can_only_be_drawn_says_so_at_its_foot(
    tmp_path: Path, spoil: Callable[[Path], None]
) -> None:
    whole, other = vector_pdf(tmp_path, "WHOLE"), vector_pdf(tmp_path, "DRAWN")
    spoil(other)
    pages = [
        page(whole, 1, reading("WHOLE"), "schematic"),
        page(other, 1, reading("DRAWN"), "schematic"),
    ]
    target = tmp_path / "p.pdf"
    assert write_packet(target, JOB, None, pages, []) == []
    with pikepdf.open(target) as document:
        assert document.check_pdf_syntax() == []
        count = len(document.pages)
    assert "WHOLE.pdf, page 1" in foot(target, count - 2)
    assert "drawn" not in foot(target, count - 2)
    said = foot(target, count - 1)
    assert "DRAWN.pdf, page 1" in said
    assert "drawn anew at 300 dpi: it could not be carried over" in said
    boxes = []
    for number in (count - 2, count - 1):
        rows, columns = np.nonzero(sheet(target, number)[0][60:-60].min(axis=2) < 160)
        boxes.append((rows.max(), columns.min(), columns.max()))
        assert len(rows) < 3_000, "a frame and a word, no block of ink"
    assert np.abs(np.subtract(*boxes)).max() <= 2, "both frames lie in the same place"


def test_every_sheet_has_its_own_source_at_its_foot(tmp_path: Path) -> None:
    words = ("FIRST", "LAST")
    pages = [page(jpeg(tmp_path, word), 1, reading(word), "schematic") for word in words]
    target = tmp_path / "p.pdf"
    write_packet(target, JOB, None, pages, [], sheets=SHEETS)
    document = pdfium.PdfDocument(target)
    at = [item.get_dest().get_index() for item in document.get_toc() if item.level == 1]
    count = len(document)
    document.close()
    assert at == [at[0], at[0] + 1]
    for number in range(count):
        said = foot(target, number)
        assert f"{number + 1} / {count}" in said
        named = dict(zip(at, words, strict=True)).get(number, "Job 7: Kitchen set")
        assert named in said
