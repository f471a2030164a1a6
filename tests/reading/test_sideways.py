"""Pages filed sideways are seen from the picture and read once; scans in black and white are
read in greys."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.errors import PageError
from indexer.model import Box, PageReading, Word
from indexer.reading import clean, tesseract, way_up
from indexer.reading.stance import stance
from indexer.reading.tesseract import Scan

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
    filed = stance(clean.small_copy(picture))
    assert filed.level >= 2 * filed.standing
    filed = stance(clean.small_copy(clean.turn(picture, 90)))
    assert filed.standing >= max(12, 2 * filed.level)


@pytest.mark.parametrize(
    "text", ["Set the volume control at maximum", "CHASSIS VOLTAGES 6SN7 470K"]
)
def test_letters_on_their_head_are_told_from_the_picture(text: str) -> None:
    """Capitals and figures too; on a page filed sideways it says to which side to turn it."""
    sheet = Image.new("L", (850, 1100), 255)
    pen = ImageDraw.Draw(sheet)
    for n in range(20):
        pen.text((60, 60 + 50 * n), text, font=FACE, fill=0)
    assert stance(sheet).upright > 3
    assert stance(clean.turn(sheet, 180)).upright < -3
    assert stance(clean.turn(sheet, 270)).upright > 3  # upright when turned by 90
    assert stance(clean.turn(sheet, 90)).upright < -3


def test_a_page_on_its_head_is_read_once() -> None:
    asked = []

    def read(way: int) -> PageReading:
        asked.append(way)
        words = tuple(Word("alignment", Box(100 * n, 0, 100 * n + 90, 20), 0.9) for n in range(12))
        return PageReading(words, 1700, 2200, "tesseract", rotation_deg=way)

    assert way_up.read_way_up(read, clean.turn(print_page(), 180)).rotation_deg == 180
    assert asked == [180]


def test_a_page_that_only_looks_upside_down_stays_as_filed() -> None:
    """The picture is a hint: the reading decides, and no way is read twice."""
    asked = []

    def read(way: int) -> PageReading:
        asked.append(way)
        text, sure = ("alignment", 0.9) if way == 0 else ("ubjje", 0.3)
        words = tuple(Word(text, Box(100 * n, 0, 100 * n + 90, 20), sure) for n in range(12))
        return PageReading(words, 1700, 2200, "tesseract", rotation_deg=way)

    assert way_up.read_way_up(read, clean.turn(print_page(), 180)).rotation_deg == 0
    assert asked == [180, 0]


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


def test_a_page_in_black_and_white_is_read_in_greys(monkeypatch: pytest.MonkeyPatch) -> None:
    picture = print_page().point(lambda tone: 255 if tone > 128 else 0)
    assert tesseract.is_bitonal(picture)
    given: list[Image.Image] = []
    monkeypatch.setattr(tesseract, "_write", lambda picture, path: given.append(picture))
    with pytest.raises(PageError):  # nothing was written to read
        tesseract.read(picture, scan=Scan(bitonal=True))
    assert len(set(given[0].getdata())) > 2


def test_a_grey_page_is_not_taken_for_black_and_white() -> None:
    assert not tesseract.is_bitonal(print_page().point(lambda tone: 20 + tone // 2))


@pytest.mark.parametrize("width", [1, 7, 8, 203])
def test_pictures_are_handed_over_as_bmp(width: int, tmp_path: Path) -> None:
    """Rows are padded to four bytes and come from the bottom up: read back by Pillow."""
    tones = np.random.default_rng(width).integers(0, 256, (5, width), dtype=np.uint8)
    path = tmp_path / "page.bmp"
    tesseract._write(Image.fromarray(tones), path)
    with Image.open(path) as back:
        assert back.mode == "L"
        assert np.array_equal(np.asarray(back.convert("L")), tones)


def test_pictures_read_by_one_start_read_as_each_alone() -> None:
    """Of different sizes, one of them blank; none takes words of another."""
    whole = print_page()
    pictures = [whole.crop((150, 150, 1500, 460)), Image.new("L", (300, 200), 255), whole]
    together = tesseract.read_all(pictures, scan=Scan(bitonal=True))
    assert together == tuple(
        tesseract.read(picture, scan=Scan(bitonal=True)) for picture in pictures
    )
    assert [sum(word.text == "volume" for word in words) for words in together] == [4, 0, 30]


def test_white_print_on_a_black_plate_is_read() -> None:
    """Plates and dials print so: a line that reads badly as it is must be tried the other way."""
    plate = Image.new("L", (1500, 400), 20)
    pen = ImageDraw.Draw(plate)
    for n, text in enumerate(("Consult the service notes", "before the cover is removed")):
        pen.text((120, 100 + 110 * n), text, font=ImageFont.load_default(48), fill=235)
    sheet = Image.new("L", (1800, 900), 240)
    sheet.paste(plate, (150, 250))
    assert clean.may_show_plates(sheet)
    assert not clean.may_show_plates(print_page())
    words = {word.text for word in tesseract.read(sheet)}
    assert {"Consult", "service", "before", "cover", "removed"} <= words


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
