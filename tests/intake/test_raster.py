"""Bitmaps against Pillow's own EXIF turn, the TIFF 6.0 tag meanings, and damage."""

import os
import random
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageOps

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.quiet import overheard, pass_on
from indexer.intake.sources import FileKind, open_source


def sheet(width: int = 400, height: int = 300) -> Image.Image:
    """A picture with no symmetry, so that every turn shows."""
    picture = Image.new("RGB", (width, height), "white")
    pen = ImageDraw.Draw(picture)
    pen.rectangle((0, 0, width // 4, height // 3), fill="black")
    pen.rectangle((width // 2, height // 2, width * 3 // 4, height * 3 // 5), fill="red")
    return picture


def noise(side: int = 600) -> Image.Image:
    values = np.random.default_rng(3).integers(0, 256, (side, side), dtype=np.uint8)
    return Image.fromarray(values)


def close(one: Image.Image, other: Image.Image) -> bool:
    assert one.size == other.size
    difference = np.abs(np.asarray(one, dtype=int) - np.asarray(other, dtype=int))
    return float(difference.mean()) < 2.0


@pytest.mark.parametrize("suffix", ["jpg", "png", "webp"])
@pytest.mark.parametrize("turn", range(1, 9))
def test_exif_turns_agree_with_pillow(tmp_path, turn, suffix):
    picture = sheet(1800, 1200)
    exif = Image.Exif()
    exif[0x0112] = turn  # Orientation, EXIF 2.3 table of tags
    path = tmp_path / f"phone.{suffix}"
    picture.save(path, exif=exif, quality=95)
    with Image.open(path) as stored:
        wanted = ImageOps.exif_transpose(stored).convert("RGB")
    with open_source(path) as source:
        page = source.page(1)
        assert source.kind is FileKind.IMAGE
        assert page.draw_size() == wanted.size
        assert close(page.draw(), wanted)
        assert page.draw(max_side_px=300).size == page.draw_size(max_side_px=300)


# TIFF 6.0, Orientation: which side of the scene row 0 and column 0 of the stored picture are.
TIFF_TURNS = {
    1: lambda a: a,
    2: lambda a: a[:, ::-1],
    3: lambda a: a[::-1, ::-1],
    4: lambda a: a[::-1],
    5: lambda a: a.transpose(1, 0, 2),
    6: lambda a: np.rot90(a, -1),
    7: lambda a: a[::-1, ::-1].transpose(1, 0, 2),
    8: lambda a: np.rot90(a, 1),
}


@pytest.mark.parametrize("compression", ["raw", "tiff_lzw"])
@pytest.mark.parametrize("turn", range(1, 9))
def test_tiff_turns_follow_the_standard(tmp_path, turn, compression):
    picture = sheet(1800, 1200)
    path = tmp_path / "turned.tif"
    picture.save(path, tiffinfo={274: turn}, compression=compression)
    wanted = Image.fromarray(np.ascontiguousarray(TIFF_TURNS[turn](np.asarray(picture))))
    with open_source(path) as source:
        assert source.page(1).draw_size() == wanted.size
        assert close(source.page(1).draw(), wanted)


def test_every_frame_of_a_tiff_in_its_own_mode(tmp_path):
    grey = sheet(1700, 2000).convert("L").point(lambda value: 255 if value > 127 else 0)
    base = grey.convert("RGB")  # black and white only, so that every mode can hold it
    deep = Image.fromarray(np.asarray(grey).astype(np.uint16) * 16)  # 12 bits in 16
    frames = [base.convert("1"), grey, base, base.convert("P"), base.convert("CMYK"), deep,
              base.convert("RGBA"), base.convert("LA")]  # fmt: skip
    path = tmp_path / "many.tif"
    frames[0].save(
        path, save_all=True, append_images=frames[1:], dpi=(200, 200),
        tiffinfo={269: "Loose sheets", 285: "2-17"},
    )  # fmt: skip
    with open_source(path) as source:
        assert source.kind is FileKind.TIFF
        assert source.page_count == len(frames)
        assert source.title == "Loose sheets"
        assert source.page(1).printed == "2-17"
        assert source.page(1).size_pt == pytest.approx((612, 720))
        for page in source:
            picture = page.draw()
            assert picture.mode in ("L", "RGB")
            assert picture.size == (1700, 2000) == page.draw_size()
            assert close(picture.convert("L"), grey), page.number


def test_fax_compressed_frames_keep_every_pixel(tmp_path):
    frames = [sheet(1700, 2000).rotate(90 * n, expand=True).convert("1") for n in range(4)]
    path = tmp_path / "fax.tif"
    frames[0].save(path, save_all=True, append_images=frames[1:], compression="group4")
    with open_source(path) as source:
        assert source.page_count == 4
        for page, frame in zip(source, frames, strict=True):
            assert page.draw().tobytes() == frame.convert("L").tobytes()


@pytest.mark.parametrize("name", ["harmoniam-11", "lucasta.1.300", "table.27"])
def test_real_scans_keep_their_own_pixels(scans, name):
    path = scans / "leptonica" / f"{name}.tif"
    with Image.open(path) as stored:
        wanted = stored.convert("L")
    with open_source(path) as source:
        assert source.page(1).draw().tobytes() == wanted.tobytes()


def test_small_pictures_are_enlarged_and_large_ones_bounded(tmp_path):
    sheet(400, 300).save(tmp_path / "small.png")
    with open_source(tmp_path / "small.png") as source:
        assert source.page(1).draw_size() == (1600, 1200)
    sheet(8000, 1000).save(tmp_path / "strip.png")
    with open_source(tmp_path / "strip.png") as source:
        assert source.page(1).draw_size() == (6000, 750)
        assert source.page(1).draw(max_side_px=9000).size == (8000, 1000)


def test_transparency_is_white(tmp_path):
    Image.new("RGBA", (1700, 1700), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    with open_source(tmp_path / "clear.png") as source:
        assert source.page(1).draw().getextrema() == ((255, 255),) * 3


def png_header(width: int, height: int) -> bytes:
    def chunk(name: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
        + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b"")
    )  # fmt: skip


@pytest.mark.parametrize(("width", "height"), [(60_000, 60_000), (41_000, 10)])
def test_bombs_are_refused_from_the_header(tmp_path, width, height):
    (tmp_path / "bomb.png").write_bytes(png_header(width, height))
    bound = Image.MAX_IMAGE_PIXELS
    with open_source(tmp_path / "bomb.png") as source:
        with pytest.raises(TooLarge) as caught:
            source.page(1).draw()
        with pytest.raises(TooLarge):
            source.page(1).draw_size()
    assert f"{width} x {height}" in caught.value.message
    assert bound == Image.MAX_IMAGE_PIXELS
    assert width * height > limits.MAX_PAGE_PIXELS or width > limits.MAX_SIDE_PX


@pytest.mark.parametrize(
    ("suffix", "options"),
    [
        ("jpg", {"quality": 90}),
        ("png", {}),
        ("tif", {"compression": "raw"}),
    ],
)
def test_what_is_there_of_a_cut_picture_is_shown(tmp_path, suffix, options):
    picture = noise(1700)
    path = tmp_path / f"whole.{suffix}"
    picture.save(path, **options)
    data = path.read_bytes()
    cut = tmp_path / f"cut.{suffix}"
    cut.write_bytes(data[: len(data) // 2])
    with open_source(cut) as source:
        page = source.page(1)
        shown = page.draw()
        assert "cut short" in page.reason
    with open_source(path) as source:
        whole = source.page(1).draw()
        assert source.page(1).reason == ""
    third = shown.height // 3
    assert close(shown.crop((0, 0, shown.width, third)), whole.crop((0, 0, whole.width, third))), (
        "the rows before the cut are right"
    )


def test_a_fax_page_damaged_inside_shows_what_came_through(tmp_path, capfd):
    whole = tmp_path / "whole.tif"
    noise(1700).convert("1").save(whole, compression="group4", tiffinfo={278: 1700})
    data = bytearray(whole.read_bytes())
    with Image.open(whole) as image:
        start, length = image.tag_v2[273][0], image.tag_v2[279][0]
    data[start + length // 2 : start + length] = random.Random(5).randbytes(length - length // 2)
    (tmp_path / "bad.tif").write_bytes(data)
    with open_source(tmp_path / "bad.tif") as source:
        page = source.page(1)
        assert page.draw().size == (1700, 1700)
        assert "damaged" in page.reason
    assert capfd.readouterr() == ("", ""), "libtiff's own complaints are not shown"
    with open_source(whole) as source:
        page = source.page(1)
        page.draw()
        assert page.reason == ""


def test_what_others_say_meanwhile_is_not_lost(capfd):
    with overheard() as said:
        os.write(2, b"progress\n")
    assert said == [b"progress\n"]
    pass_on(said)
    assert capfd.readouterr().err == "progress\n"


def test_frames_before_a_broken_chain_are_kept(tmp_path):
    frames = [sheet(1700, 1700).convert("1")] * 5
    path = tmp_path / "five.tif"
    frames[0].save(path, save_all=True, append_images=frames[1:], compression="group4")
    data = path.read_bytes()
    path.write_bytes(data[: len(data) * 7 // 10])
    with open_source(path) as source:
        assert 1 <= source.page_count <= 4
        assert "cut short" in source.reason
        assert source.page(1).draw().size == (1700, 1700)


def test_no_handle_stays_open(tmp_path, recwarn):
    path = tmp_path / "a.tif"
    sheet().save(path)
    with open_source(path) as source:
        page = source.page(1)
        page.draw()
        path.rename(tmp_path / "b.tif")
        with pytest.raises(InputError) as caught:
            page.draw()
    assert "not there" in caught.value.message
    assert not [one for one in recwarn.list if one.category is ResourceWarning]
