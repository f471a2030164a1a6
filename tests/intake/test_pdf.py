"""PDF intake against pikepdf (counts, labels, turns, bitmaps) and pypdf (text)."""

import logging
import re
from collections import Counter
from pathlib import Path

import img2pdf
import numpy as np
import pikepdf
import pypdf
import pytest
from fpdf import FPDF
from PIL import Image

from indexer import limits
from indexer.errors import InputError, NothingFound, TooLarge
from indexer.intake.sources import FileKind, open_source

REAL = [
    "ocrmypdf/cardinal.pdf", "ocrmypdf/ccitt.pdf", "ocrmypdf/jbig2.pdf", "ocrmypdf/multipage.pdf",
    "ocrmypdf/rotated_skew.pdf", "ocrmypdf/no_contents.pdf", "ocrmypdf/poster.pdf",
    "pypdf/Seige_of_Vicksburg_Sample_OCR.pdf", "pypdf/indirect-rotation.pdf",
]  # fmt: skip


def ink_box(picture: Image.Image) -> tuple[int, int, int, int]:
    """Bounds of everything darker than middle grey."""
    bounds = picture.convert("L").point(lambda value: 255 if value < 128 else 0).getbbox()
    assert bounds is not None
    return bounds


def typed_pdf(path: Path, words: list[tuple[float, float, str]], size=(400.0, 300.0)) -> Path:
    made = FPDF(unit="pt", format=size)
    made.set_auto_page_break(False)
    made.set_title("Chassis  notes")
    made.add_page()
    made.set_font("Helvetica", size=14)
    for left, bottom, text in words:
        made.text(left, size[1] - bottom, text)
    made.output(str(path))
    return path


@pytest.mark.parametrize("name", REAL)
def test_counts_sizes_and_turns_agree_with_a_second_library(scans, name):
    with pikepdf.open(scans / name) as other, open_source(scans / name) as source:
        assert source.kind is FileKind.PDF
        assert source.page_count == len(other.pages)
        for page, theirs in zip(source, other.pages, strict=True):
            # ISO 32000-1, 7.7.3.3 and .4: CropBox and Rotate are inherited; Rotate clockwise.
            x0, y0, x1, y1 = (float(edge) for edge in theirs.cropbox)
            turned = pypdf.PdfReader(scans / name).pages[page.number - 1].rotation % 180 == 90
            wanted = (y1 - y0, x1 - x0) if turned else (x1 - x0, y1 - y0)
            assert page.size_pt == pytest.approx(wanted, abs=0.01)


def test_page_labels_follow_the_standard_and_pikepdf(tmp_path):
    path = tmp_path / "labels.pdf"
    with pikepdf.new() as made:
        for _ in range(7):
            made.add_blank_page(page_size=(300, 400))
        made.Root.PageLabels = pikepdf.Dictionary(
            Nums=pikepdf.Array([
                0, pikepdf.Dictionary(S=pikepdf.Name.r),
                3, pikepdf.Dictionary(S=pikepdf.Name.D, P="2-", St=17),
            ])
        )  # fmt: skip
        made.save(path)
    with pikepdf.open(path) as other, open_source(path) as source:
        found = [page.printed for page in source]
        # ISO 32000-1, 12.4.2: lower-case roman, then prefix and decimal from /St.
        assert found == ["i", "ii", "iii", "2-17", "2-18", "2-19", "2-20"]
        assert found == [page.label for page in other.pages]


def test_a_file_without_labels_has_none(tmp_path):
    with open_source(typed_pdf(tmp_path / "a.pdf", [(50, 50, "V1")])) as source:
        assert source.page(1).printed == ""
        assert source.title == "Chassis notes"


@pytest.mark.parametrize("number", range(1, 7))
def test_text_layer_agrees_with_pypdf(scans, number):
    path = scans / "pypdf/Seige_of_Vicksburg_Sample_OCR.pdf"
    theirs = pypdf.PdfReader(path).pages[number - 1].extract_text()
    with open_source(path) as source:
        reading = source.page(number).embedded
    assert reading is not None
    assert reading.reader == "embedded"
    assert all(word.confidence < 1 for word in reading.words), "laid over a scan: not certain"

    def bag(text: str) -> Counter[str]:
        return Counter(re.findall(r"[A-Za-z0-9]{3,}", text))

    mine, other = bag(reading.text), bag(theirs)
    assert sum((mine & other).values()) >= 0.95 * max(mine.total(), other.total())


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("crop", [None, (40, 30, 380, 290)])
def test_word_boxes_lie_on_the_drawn_ink(tmp_path, turn, crop):
    plain = typed_pdf(tmp_path / "plain.pdf", [(120, 110, "MODEL")])
    path = tmp_path / "turned.pdf"
    with pikepdf.open(plain) as made:
        page = made.pages[0]
        page.Rotate = turn
        if crop:
            page.CropBox = pikepdf.Array(crop)
        made.save(path)
    with open_source(path) as source:
        page = source.page(1)
        picture, reading = page.draw(), page.embedded
    assert reading is not None
    assert [word.text for word in reading.words] == ["MODEL"]
    assert picture.size == (reading.width_px, reading.height_px) == page.draw_size()
    assert reading.words[0].confidence == 1.0
    box = reading.words[0].box
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx(ink_box(picture), abs=3)


def test_lines_and_words_of_typed_text(tmp_path):
    path = typed_pdf(tmp_path / "a.pdf", [(50, 250, "6SN7GT .05 mfd"), (50, 220, "455 kc")])
    with open_source(path) as source:
        reading = source.page(1).embedded
        assert reading is not None
        assert reading.text == "6SN7GT .05 mfd\n455 kc"
        assert not source.page(1).has_picture


@pytest.mark.parametrize("name", ["harmoniam-11", "lucasta.1.300"])
def test_a_scan_is_drawn_at_its_own_pixels(scans, tmp_path, name):
    """A fax-coded TIFF wrapped into a PDF by img2pdf gives the pixels that Pillow decodes."""
    stored = scans / "leptonica" / f"{name}.tif"
    path = tmp_path / "wrapped.pdf"
    path.write_bytes(img2pdf.convert(str(stored)))
    with Image.open(stored) as image:
        bitmap = image.convert("L")
    with open_source(path) as source:
        picture = source.page(1).draw()
    assert picture.mode == "L"
    assert picture.size == bitmap.size
    same = (np.asarray(picture) > 127) == (np.asarray(bitmap) > 127)
    assert same.mean() > 0.9999


@pytest.mark.parametrize("name", ["jbig2.pdf", "ccitt.pdf", "linn.pdf", "cardinal.pdf"])
def test_bilevel_scans_stay_bilevel(scans, name):
    """Drawn at their own resolution, nothing is blended: hardly a pixel is neither nor."""
    path = scans / "ocrmypdf" / name
    with pikepdf.open(path) as other, open_source(path) as source:
        (stored,) = other.pages[0].get_images().values()
        picture = source.page(1).draw()
        assert picture.size == (int(stored.Width), int(stored.Height))
    values = np.asarray(picture)
    assert ((values > 5) & (values < 250)).mean() < 0.001
    assert 0.005 < (values < 128).mean() < 0.3


def test_rotated_pages_are_drawn_upright(scans):
    """cardinal.pdf holds one sheet four times under the four values of /Rotate or turned."""
    path = scans / "ocrmypdf/cardinal.pdf"
    reader = pypdf.PdfReader(path)
    with open_source(path) as source:
        for page, theirs in zip(source, reader.pages, strict=True):
            wide, high = float(theirs.mediabox.width), float(theirs.mediabox.height)
            if theirs.rotation % 180:
                wide, high = high, wide
            across, down = page.draw_size()
            assert across / down == pytest.approx(wide / high, rel=0.01)


def test_sizes_keep_to_the_bounds(scans):
    with open_source(scans / "ocrmypdf/enormous.pdf") as source:
        page = source.page(1)
        assert max(page.draw_size()) == limits.RENDER_MAX_SIDE_PX
        assert max(page.draw_size(max_side_px=20_000)) == 9_000  # the bitmap's own side
        assert page.draw_size(dpi=100) == (3_000, 3_000)  # 30 inches square
        assert page.draw(max_side_px=200).size == page.draw_size(max_side_px=200) == (200, 200)
    with open_source(scans / "ocrmypdf/hugemono.pdf") as source, pytest.raises(TooLarge) as caught:
        source.page(1).draw()
    assert "1,225 million" in caught.value.message  # 35,000 x 35,000, by pikepdf
    assert source.page_count == 1


def test_an_open_password_is_asked_for_plainly(tmp_path):
    plain = typed_pdf(tmp_path / "plain.pdf", [(50, 50, "V1")])
    for revision in (3, 4, 6):
        locked, owned = tmp_path / f"locked{revision}.pdf", tmp_path / f"owned{revision}.pdf"
        with pikepdf.open(plain) as made:
            for target, user in ((locked, "user"), (owned, "")):
                cipher = pikepdf.Encryption(
                    owner="owner", user=user, R=revision, aes=revision > 3, metadata=revision > 3
                )
                made.save(target, encryption=cipher)
        with pytest.raises(InputError) as caught:
            open_source(locked)
        assert "password" in caught.value.message
        assert "without" in caught.value.remedy
        with open_source(owned) as source:
            assert source.page(1).embedded.text == "V1"
            assert source.title == "Chassis notes"


def test_numbers_count_from_one(tmp_path):
    with open_source(typed_pdf(tmp_path / "a.pdf", [(50, 50, "V1")])) as source:
        for number in (0, 2, -1):
            with pytest.raises(NothingFound):
                source.page(number)


def test_vector_drawings_count_as_pictures(tmp_path):
    made = FPDF(unit="pt", format=(300, 300))
    made.add_page()
    made.line(10, 10, 290, 290)
    made.output(str(tmp_path / "lines.pdf"))
    with open_source(tmp_path / "lines.pdf") as source:
        assert source.page(1).has_picture
        assert source.page(1).embedded is None


def test_a_bitmap_inside_nested_forms_is_still_found(tmp_path):
    """Optical readers wrap the page picture in a form; its resolution is the product of both."""
    with pikepdf.new() as made:
        picture = made.make_stream(
            Image.effect_noise((1200, 1800), 60).tobytes(), Type=pikepdf.Name.XObject,
            Subtype=pikepdf.Name.Image, Width=1200, Height=1800, BitsPerComponent=8,
            ColorSpace=pikepdf.Name.DeviceGray,
        )  # fmt: skip
        form = made.make_stream(
            b"q 864 0 0 1296 0 0 cm /Sheet Do Q", Type=pikepdf.Name.XObject,
            Subtype=pikepdf.Name.Form, BBox=[0, 0, 864, 1296], Matrix=[0.5, 0, 0, 0.5, 0, 0],
            Resources=pikepdf.Dictionary(XObject=pikepdf.Dictionary(Sheet=picture)),
        )  # fmt: skip
        page = made.add_blank_page(page_size=(432, 648))
        page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Form=form))
        page.Contents = made.make_stream(b"/Form Do")
        made.save(tmp_path / "form.pdf")
    with open_source(tmp_path / "form.pdf") as source:
        assert source.page(1).draw_size() == (1200, 1800)  # 6 x 9 inches at 200 dpi


def test_a_bitmap_that_can_not_be_decoded_gives_a_reason(scans, tmp_path):
    path = tmp_path / "bad.pdf"
    with pikepdf.open(scans / "ocrmypdf/ccitt.pdf") as made:
        (stored,) = made.pages[0].get_images().values()
        stored.write(b"\0" * 40, filter=stored.Filter, decode_parms=stored.DecodeParms)
        made.save(path)
    with open_source(path) as source, open_source(scans / "ocrmypdf/ccitt.pdf") as sound:
        bad, good = source.page(1), sound.page(1)
        bad.draw(), good.draw()
        assert "can't be decoded" in bad.reason
        assert good.reason == ""


def test_nothing_is_printed_or_logged(scans, capfd, caplog, recwarn):
    with caplog.at_level(logging.DEBUG):
        for path in sorted((scans / "corrupt_cc0").glob("hb_T04*.pdf")):
            try:
                with open_source(path) as source:
                    _ = (source.title, [page.printed for page in source])
            except InputError:
                pass
    assert capfd.readouterr() == ("", "")
    assert not [one for one in caplog.records if one.name.startswith(("pypdf", "PIL"))]
    assert not recwarn.list
    assert logging.getLogger("pypdf").level != logging.CRITICAL + 1, "put back afterwards"
