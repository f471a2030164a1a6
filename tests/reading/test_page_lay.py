"""How a page is laid and cut before it is read: which way up, how level, which columns."""

from collections.abc import Callable

import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer.model import Box, PageReading, PictureFacts, Word
from indexer.reading import clean, columns, page, tesseract, way_up
from indexer.reading.stance import Stance

FACE = ImageFont.load_default(26)


def rows(pen: ImageDraw.ImageDraw, x: int, top: int, pitch: int, count: int, text: str) -> None:
    for n in range(count):
        pen.text((x, top + n * pitch), text, font=FACE, fill=0)


def sheet(size: tuple[int, int] = (1700, 2200)) -> tuple[Image.Image, ImageDraw.ImageDraw]:
    picture = Image.new("L", size, 255)
    return picture, ImageDraw.Draw(picture)


def test_columns_whose_rows_do_not_meet_are_cut_apart_below_the_heading() -> None:
    picture, pen = sheet()
    pen.text(
        (500, 120), "INDEX OF SETS BY MAKER AND MODEL", font=ImageFont.load_default(40), fill=0
    )
    rows(pen, 120, 300, 44, 40, "OXBARROW 5D10 Ch. CH-41A")
    rows(pen, 900, 322, 47, 38, "LARKMOOR 46-199 Ch. 6K6N")
    head, left, right = columns.parts(picture)
    assert 160 < head[3] < 300
    assert left[0] == 0
    assert 560 < left[2] == right[0] < 900
    assert right[2] == 1700


def test_a_table_whose_rows_meet_is_left_whole() -> None:
    picture, pen = sheet()
    rows(pen, 120, 300, 44, 40, "C26 A4362-8 Capacitor")
    rows(pen, 900, 300, 44, 40, ".05 mfd 400 volts")
    assert columns.parts(picture) == [(0, 0, 1700, 2200)]


def test_two_pages_on_one_scan_are_read_one_after_the_other() -> None:
    picture, pen = sheet((2600, 1700))
    rows(pen, 100, 200, 40, 34, "Keep the generator output as low as will do.")
    rows(pen, 1500, 215, 47, 29, "Remove the two screws under the chassis.")
    left, right = columns.parts(picture)
    assert (left[0], right[2]) == (0, 2600)
    assert 900 < left[2] < 1500


@pytest.mark.parametrize("angle_deg", [-3.0, -1.0, 0.6, 2.0])
def test_a_black_edge_does_not_hide_the_slope_of_the_rows(angle_deg: float) -> None:
    picture, pen = sheet()
    rows(pen, 200, 200, 60, 30, "Set the volume control at maximum and connect the meter")
    crooked = picture.rotate(angle_deg, fillcolor=255)
    ImageDraw.Draw(crooked).rectangle((0, 0, 90, 2200), fill=0)
    assert clean.skew_deg(crooked) == pytest.approx(-angle_deg, abs=0.3)


def reading(text: str, confidence: float, *, tall: bool = False, way: int = 0) -> PageReading:
    size = (20, 90) if tall else (90, 20)
    words = tuple(
        Word(part, Box(100 * n, 0, 100 * n + size[0], size[1]), confidence)
        for n, part in enumerate(text.split())
    )
    return PageReading(words, 800, 600, "tesseract", rotation_deg=way)


GOOD = "align the intermediate frequency stages with signal generator connected through grid"
BAD = "ubjje ayy qerp wjtr xgdh tyu iwp qqa vbn kls"


def reader(by_way: dict[int, PageReading]) -> Callable[[int], PageReading]:
    return lambda way: by_way[way]


def test_a_page_that_reads_well_is_never_tried_another_way() -> None:
    filed = reading(GOOD, 0.9)
    assert way_up.read_way_up(reader({0: filed}), Image.new("L", (800, 600), 255)) is filed


def test_lines_that_run_down_the_page_are_laid_level() -> None:
    ways = {0: reading(GOOD, 0.9, tall=True), 270: reading(GOOD, 0.9, way=270)}
    laid = way_up.read_way_up(reader(ways), Image.new("L", (800, 600), 255))
    assert (laid.rotation_deg, laid.rotation_sure) == (270, True)


def test_lines_that_run_up_the_page_are_tried_the_other_way_first() -> None:
    ways = {
        0: reading(BAD, 0.3, tall=True).__class__(
            tuple(
                Word(w.text, w.box, 0.71 if n < 6 else 0.1)
                for n, w in enumerate(reading(BAD, 0.3, tall=True).words)
            ),
            800, 600, "tesseract",
        ),
        90: reading(GOOD, 0.9, way=90),
    }  # fmt: skip
    laid = way_up.read_way_up(reader(ways), Image.new("L", (800, 600), 255))
    assert laid.rotation_deg == 90


def test_a_page_is_not_turned_when_the_full_reading_does_not_bear_it_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(tesseract, "read", lambda *picture, **options: reading(GOOD, 0.9).words)
    ways = {way: reading(BAD, 0.3, way=way) for way in (0, 90, 180, 270)}
    laid = way_up.read_way_up(reader(ways), Image.new("L", (800, 600), 255))
    assert (laid.rotation_deg, laid.rotation_sure) == (0, False)


@pytest.mark.parametrize(
    ("letter_px", "factor"), [(6.0, 3.0), (12.0, 1.5), (20.0, 1.0), (44.0, 0.5)]
)
def test_letters_are_brought_to_a_height_that_suits_and_boxes_stay_on_the_page(
    letter_px: float, factor: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    sizes = []

    def read_all(pictures: list[Image.Image], **options: object) -> tuple[tuple[Word, ...], ...]:
        sizes.extend(picture.size for picture in pictures)
        return tuple((Word("6SN7", Box(0, 0, *picture.size)),) for picture in pictures)

    monkeypatch.setattr(tesseract, "read_all", read_all)
    sheet = Image.new("L", (400, 200), 255)
    ((word,), (other,)) = tesseract.read_sized([sheet, sheet.crop((0, 0, 100, 50))], letter_px)
    assert sizes == [(400 * factor, 200 * factor), (100 * factor, 50 * factor)]
    assert word.box == Box(0, 0, 400, 200)
    assert other.box == Box(0, 0, 100, 50)


def test_a_ruled_table_is_no_drawing() -> None:
    """Figures as measured on drawn pages: letters of a table lie level, those of a drawing both
    ways."""
    table = PictureFacts(ink=0.03, long_lines=0.44, text_like=0.12)
    drawing = PictureFacts(ink=0.05, long_lines=0.16, text_like=0.22)
    assert not page._is_drawing(table, Stance(level=60, standing=1, upright=5.0))
    assert page._is_drawing(drawing, Stance(level=60, standing=19, upright=2.0))
    assert not page._is_drawing(drawing, Stance(level=300, standing=60, upright=9.0))
