"""Pages filed sideways are seen from the picture and read once; scans in bits stay in bits."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.model import Box, PageReading, Word
from indexer.reading import clean, tesseract, way_up

FACE = ImageFont.load_default(26)
LABELS = ("6SN7", "R12", "470K", "12AU7", "C7 .05", "6V6GT", "V1", "5Y3", "CH-41A", "6SK7", "B+")


def print_page() -> Image.Image:
    picture = Image.new("L", (1700, 2200), 255)
    pen = ImageDraw.Draw(picture)
    for n in range(30):
        text = "Set the volume control at maximum and connect the meter across the voice coil"
        pen.text((200, 200 + 60 * n), text, font=FACE, fill=0)
    return picture


def drawing() -> Image.Image:
    """Wires each way with a label here and there, one of six on its end."""
    picture = Image.new("L", (2200, 1700), 255)
    pen = ImageDraw.Draw(picture)
    for n in range(36):
        x, y = 120 + 340 * (n % 6), 140 + 260 * (n // 6)
        pen.line((x - 40, y + 60, x + 260, y + 60), fill=0, width=3)
        pen.line((x + 240, y - 90, x + 240, y + 150), fill=0, width=3)
        label = Image.new("L", (150, 34), 255)
        ImageDraw.Draw(label).text((4, 2), LABELS[n % len(LABELS)], font=FACE, fill=0)
        picture.paste(label.rotate(90, expand=True) if n % 6 == 5 else label, (x, y - 60))
    return picture


@pytest.mark.parametrize("picture", [print_page(), drawing()], ids=["print", "drawing"])
def test_the_way_that_letters_run_tells_a_page_filed_sideways(picture: Image.Image) -> None:
    level, standing = clean.runs_of_letters(clean.small_copy(picture))
    assert level >= 2 * standing
    level, standing = clean.runs_of_letters(clean.small_copy(clean.turn(picture, 90)))
    assert standing >= max(12, 2 * level)


@pytest.mark.parametrize("needed_deg", [90, 270])
def test_a_page_filed_sideways_is_read_in_full_only_once(needed_deg: int) -> None:
    filed = clean.turn(print_page(), 360 - needed_deg)
    asked = []

    def read(way: int) -> PageReading:
        asked.append(way)
        words = tuple(Word("alignment", Box(100 * n, 0, 100 * n + 90, 20), 0.9) for n in range(12))
        return PageReading(words, 1700, 2200, "tesseract", rotation_deg=way)

    assert way_up.read_way_up(read, filed).rotation_deg == needed_deg
    assert asked == [needed_deg]


def test_a_page_in_black_and_white_reads_the_same_a_bit_or_a_byte_a_pixel() -> None:
    picture = print_page().point(lambda tone: 255 if tone > 128 else 0)
    assert tesseract.is_bitonal(np.asarray(picture))
    band = picture.crop((0, 180, 1700, 420))
    by_bits, by_bytes = (tesseract.read(band, bits=bits) for bits in (True, False))
    assert [word.text for word in by_bits] == [word.text for word in by_bytes]
    assert sum(word.text == "volume" for word in by_bits) == 4


def test_a_grey_page_is_not_taken_for_black_and_white() -> None:
    assert not tesseract.is_bitonal(np.asarray(print_page().point(lambda tone: 20 + tone // 2)))


@pytest.mark.parametrize("width", [1, 7, 8, 203])
def test_bits_are_written_as_netpbm_says(width: int, tmp_path: Path) -> None:
    """Rows are padded to whole bytes and 1 is black: pbm(5), read back by Pillow."""
    tones = np.random.default_rng(width).integers(0, 2, (5, width), dtype=np.uint8) * 255
    path = tesseract._written(Image.fromarray(tones), tmp_path, bits=True)
    with Image.open(path) as back:
        assert np.array_equal(np.asarray(back.convert("L")), tones)


def test_a_drawing_beside_a_page_of_print_still_counts_as_unread() -> None:
    """The page of print, read throughout, must not outweigh the drawing on the same scan: half
    the share that the drawing has by itself would pass for a chart."""
    spread = Image.new("L", (3900, 2200), 255)
    spread.paste(print_page(), (0, 0))
    read = tuple(
        Word("volume", Box(190, 190 + 60 * n, 1300, 240 + 60 * n), 0.95) for n in range(30)
    )
    reading = PageReading(read, *spread.size, "tesseract")
    assert clean.unread_share(spread, reading) < 0.01
    spread.paste(drawing(), (1700, 200))
    beside = clean.unread_share(spread, reading)
    right_half = PageReading((), 1950, 2200, "tesseract")
    assert beside >= clean.unread_share(spread.crop((1950, 0, 3900, 2200)), right_half) > 0.02
