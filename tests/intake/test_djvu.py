"""DjVu intake: turns and text boxes against the specification, damage against sound copies."""

import random

import numpy as np
import pytest
from PIL import Image, ImageOps

from indexer.errors import InputError, PageError, TooLarge
from indexer.intake.sources import FileKind, open_source


def be(number: int, size: int) -> bytes:
    return number.to_bytes(size, "big")


def with_text(data: bytes, words: list[tuple[str, tuple[int, int, int, int]]]) -> bytes:
    """A single-page file with a TXTa chunk added: DjVu 3 specification, hidden text. Boxes are
    left, bottom, width, height in stored pixels from the bottom left corner."""
    text = " ".join(word for word, _ in words).encode()

    def zone(kind: int, box: tuple[int, int, int, int], length: int, kids: list[bytes]) -> bytes:
        numbers = b"".join(be(value + 0x8000, 2) for value in (*box, 0))
        return bytes([kind]) + numbers + be(length, 3) + be(len(kids), 3) + b"".join(kids)

    # A zone is placed relative to its parent's corner or to the sibling before it, so each
    # word gets a page of its own in a list of one.
    ((word, box),) = words
    inner = zone(6, (0, 0, box[2], box[3]), len(word), [])
    body = be(len(text), 3) + text + b"\x01" + zone(1, box, len(text), [inner])
    chunk = b"TXTa" + be(len(body), 4) + body + bytes(len(body) % 2)
    whole = data + bytes(len(data) % 2) + chunk
    return whole[:8] + be(len(whole) - 12, 4) + whole[12:]


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_turns_and_text_boxes_agree_with_the_picture(scans, tmp_path, turn):
    plain = (scans / "djvujs/boy_jb2.djvu").read_bytes()
    (tmp_path / "plain.djvu").write_bytes(plain)
    with open_source(tmp_path / "plain.djvu") as source:
        stored = source.page(1).draw(dpi=300)
    assert stored.size == (192, 256)
    left, top, right, bottom = ImageOps.invert(stored).getbbox()
    suffix = f"_rotate{turn}" if turn else ""
    turned = (scans / f"djvujs/boy_jb2{suffix}.djvu").read_bytes()
    box = (left, 256 - bottom, right - left, bottom - top)
    (tmp_path / "turned.djvu").write_bytes(with_text(turned, [("boy", box)]))
    with open_source(tmp_path / "turned.djvu") as source:
        page = source.page(1)
        picture, reading = page.draw(), page.embedded
        small = page.draw(dpi=300)
    wanted = stored.rotate(-turn, expand=True)  # Pillow turns anticlockwise
    assert small.size == wanted.size
    assert (np.asarray(small) == np.asarray(wanted)).mean() > 0.99
    assert reading is not None
    assert (reading.width_px, reading.height_px) == picture.size
    assert reading.text == "boy"
    found = reading.words[0].box
    ink = picture.point(lambda value: 255 if value < 128 else 0).getbbox()
    assert (found.left, found.top, found.right, found.bottom) == pytest.approx(ink, abs=8)


def test_text_layer_words_stand_on_ink(scans):
    with open_source(scans / "djvujs/p6683.djvu") as source:
        page = source.page(1)
        reading, picture = page.embedded, np.asarray(page.draw().convert("L")) < 128
    assert reading is not None
    assert reading.reader == "embedded"
    assert "vacillation" in reading.lines[0][0].text  # the page's running head
    inky = [
        picture[int(w.box.top) : int(w.box.bottom), int(w.box.left) : int(w.box.right)].mean()
        for w in reading.words
    ]
    assert np.mean([share > 0.05 for share in inky]) > 0.95
    assert picture.mean() < 0.2


@pytest.mark.parametrize("side", [300, 1129, 2258, 4000])
def test_smaller_drawings_show_the_whole_page(scans, side):
    """Against Pillow's own reduction of the full drawing."""
    with open_source(scans / "djvujs/p6683.djvu") as source:
        full, small = source.page(1).draw(), source.page(1).draw(max_side_px=side)
    coarse = [
        np.asarray(one.resize((100, 136), Image.Resampling.BOX), dtype=float)
        for one in (full, small)
    ]
    # Drawn 2 % too large, the same measure is above 15.
    assert np.abs(coarse[0] - coarse[1]).mean() < 8


def test_pages_with_and_without_text(scans):
    with open_source(scans / "djvujs/alice.djvu") as source:
        assert source.kind is FileKind.DJVU
        assert source.title == "Alice's Adventures in Wonderland"
        assert source.page(1).embedded is None
        assert source.page(1).has_picture
    with open_source(scans / "djvujs/colorbook.djvu") as source:
        assert source.page_count == 62
        page = source.page(1)
        assert page.draw().mode == "RGB"
        assert page.size_pt == pytest.approx((2260 / 400 * 72, 3669 / 400 * 72))
        assert "ECLECTIC" in page.embedded.text
        assert page.embedded.text.isprintable() or "\n" in page.embedded.text


def test_a_damaged_text_layer_leaves_the_picture(scans):
    with open_source(scans / "djvujs/p6698.djvu") as source:
        page = source.page(1)
        assert page.embedded is None
        assert "text layer is damaged" in page.reason
        assert np.asarray(page.draw()).std() > 20


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_the_whole_pages_before_a_cut_are_kept(scans, tmp_path, share):
    whole = scans / "djvujs/colorbook.djvu"
    data = whole.read_bytes()
    cut = tmp_path / "cut.djvu"
    cut.write_bytes(data[: int(len(data) * share)])
    with open_source(whole) as sound, open_source(cut) as source:
        assert source.page_count == sound.page_count
        assert "cut short" in source.reason
        kept = 0
        for page in source:
            try:
                picture = page.draw(max_side_px=200)
            except PageError as error:
                assert "cut short" in error.message
                break
            kept += 1
            again = sound.page(page.number).draw(max_side_px=200)
            assert picture.tobytes() == again.tobytes()
        assert kept == pytest.approx(62 * share, abs=8)
        for number in range(kept + 1, 63):
            with pytest.raises(PageError):
                source.page(number).draw_size()


def test_an_indirect_document_is_refused_plainly(tmp_path):
    # DIRM with the "bundled" bit off: DjVu 3 specification, directory chunk.
    body = b"DJVM" + b"DIRM" + be(8, 4) + bytes([0x01]) + be(2, 2) + bytes(5)
    path = tmp_path / "index.djvu"
    path.write_bytes(b"AT&TFORM" + be(len(body), 4) + body)
    with pytest.raises(InputError) as caught:
        open_source(path)
    assert "separate files" in caught.value.message
    assert "bundled" in caught.value.remedy


def test_a_huge_page_is_refused_from_its_header(scans, tmp_path):
    data = bytearray((scans / "djvujs/empty.djvu").read_bytes())
    info = data.index(b"INFO") + 8
    data[info : info + 4] = be(60_000, 2) + be(60_000, 2)
    (tmp_path / "huge.djvu").write_bytes(data)
    with open_source(tmp_path / "huge.djvu") as source, pytest.raises(TooLarge):
        source.page(1).draw()


@pytest.mark.parametrize("dpi", [0, 1, 6_000, 65_535])
def test_an_absurd_resolution_changes_no_pixels(scans, tmp_path, dpi):
    data = bytearray((scans / "djvujs/alice.djvu").read_bytes())
    info = data.index(b"INFO") + 8
    data[info + 6 : info + 8] = dpi.to_bytes(2, "little")
    (tmp_path / "odd.djvu").write_bytes(data)
    with open_source(tmp_path / "odd.djvu") as source:
        assert source.page(1).draw_size() == (2488, 3507)
        assert source.page(1).size_pt is None or max(source.page(1).size_pt) < 10_000
        assert isinstance(source.page(1).draw(), Image.Image)


def test_random_damage_never_escapes_as_another_error(scans, tmp_path):
    dice = random.Random(7)
    sound = (scans / "djvujs/DjVu3Spec_5-10.djvu").read_bytes()
    path = tmp_path / "bad.djvu"
    refused = 0
    for _ in range(60):
        data = bytearray(sound)
        for _ in range(dice.choice((1, 5, 50))):
            data[dice.randrange(len(data))] = dice.randrange(256)
        path.write_bytes(data[: dice.choice((len(data), dice.randrange(len(data))))])
        try:
            with open_source(path) as source:
                for number in (1, source.page_count):
                    page = source.page(number)
                    _ = page.embedded
                    page.draw(max_side_px=300)
        except InputError as error:
            assert error.message
            assert error.remedy
            refused += 1
    assert 0 < refused < 60
