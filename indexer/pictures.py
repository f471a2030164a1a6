"""Pages drawn for showing: any part of a page at any size, upright as it was read.

Runs in a process of its own (`indexer.picture_work`): pdfium is not thread-safe, and a decoded
fold-out takes hundreds of megabytes. What was decoded last is kept here, up to a bound.
"""

import io
import math
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from indexer import limits
from indexer.errors import InputError
from indexer.intake.sources import FileKind, Source, open_source
from indexer.model import PageReading
from indexer.reading import clean

_KEPT_BYTES = 350_000_000  # decoded pictures kept from one request to the next
_OPEN_FILES = 3
_JPEG_QUALITY = 82  # line drawings show no rings at it; tiles of 512 pixels stay near 40 kB
_WHOLE_AT_ONCE = frozenset({FileKind.TIFF, FileKind.DJVU})  # smaller draws decode it all anyway
_PAPER = 255  # what lies outside the page after a small turn


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a page is drawn from: its file and number, and how it was turned to be read."""

    path: Path
    number: int
    rotation_deg: int = 0  # clockwise, quarter turns
    skew_deg: float = 0.0

    @classmethod
    def of(cls, path: Path, number: int, reading: PageReading | None) -> "Sheet":
        """The sheet of a page with its reading, if it has one."""
        if reading is None:
            return cls(path, number)
        return cls(path, number, reading.rotation_deg, reading.skew_deg)


@dataclass(frozen=True, slots=True)
class Cut:
    """A part of a page, in pixels of the whole upright page, and how it is to be shown."""

    left: int
    top: int
    width: int
    height: int
    out_width: int
    out_height: int
    turn_deg: int = 0  # clockwise, quarter turns, after scaling
    mirrored: bool = False  # left and right changed, before turning
    quality: str = "default"  # default, color, gray or bitonal
    form: str = "jpg"  # jpg or png


def ready() -> None:
    """Does nothing: by then this module is loaded."""


def whole_size(sheet: Sheet) -> tuple[int, int]:
    """Width and height in pixels of the upright page at full resolution. Raises InputError."""
    page = _source(sheet.path).page(sheet.number)
    # a picture of unknown resolution keeps its own pixels; others are enlarged when very small
    dpi = limits.RENDER_DPI if page.size_pt is None else None
    size = page.draw_size(max_side_px=limits.MAX_SIDE_PX, dpi=dpi)
    return (size[1], size[0]) if sheet.rotation_deg % 180 else size


def prepare(sheet: Sheet) -> None:
    """Decodes a page in full, so that every part of it is at hand. Raises InputError."""
    _at_level(sheet, whole_size(sheet), 0)


def cut(sheet: Sheet, part: Cut) -> bytes:
    """The part as a JPEG or PNG file's bytes. Raises InputError for a page that can't be drawn."""
    picture = _part(sheet, part)
    if part.mirrored:
        picture = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    picture = clean.turn(picture, part.turn_deg)
    if part.quality in ("gray", "bitonal"):
        picture = picture.convert("L")
    if part.quality == "bitonal":
        picture = picture.point(lambda tone: 255 if tone >= 128 else 0)
    if part.quality == "color":
        picture = picture.convert("RGB")
    kept = io.BytesIO()
    if part.form == "png":
        if part.quality == "bitonal":
            picture = picture.convert("1")
        picture.save(kept, "PNG", compress_level=3)
    else:
        picture.save(kept, "JPEG", quality=_JPEG_QUALITY)
    return kept.getvalue()


def _part(sheet: Sheet, part: Cut) -> Image.Image:
    whole = whole_size(sheet)
    shrink = min(part.width / part.out_width, part.height / part.out_height)
    level = max(0, math.floor(math.log2(shrink))) if shrink > 1 else 0
    picture = _at_level(sheet, whole, level)
    across, down = picture.width / whole[0], picture.height / whole[1]
    box = (
        part.left * across,
        part.top * down,
        min((part.left + part.width) * across, picture.width),
        min((part.top + part.height) * down, picture.height),
    )
    size = (part.out_width, part.out_height)
    if sheet.skew_deg:
        picture = _levelled(picture, sheet.skew_deg, box)
        box = (0.0, 0.0, float(picture.width), float(picture.height))
    if picture.size == size and box == (0, 0, *size):
        return picture
    return picture.resize(size, Image.Resampling.LANCZOS, box)


def _levelled(
    picture: Image.Image, angle_deg: float, box: tuple[float, float, float, float]
) -> Image.Image:
    """Only the part in `box`, as it lies after the whole is turned about its middle."""
    angle = math.radians(angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    middle_x, middle_y = picture.width / 2, picture.height / 2
    width, height = math.ceil(box[2] - box[0]), math.ceil(box[3] - box[1])
    x, y = box[0] - middle_x, box[1] - middle_y
    # where in the picture as scanned each pixel comes from: the turn the other way about
    matrix = (cos, -sin, cos * x - sin * y + middle_x, sin, cos, sin * x + cos * y + middle_y)
    fill = _PAPER if picture.mode == "L" else (_PAPER,) * 3
    return picture.transform(
        (max(1, width), max(1, height)),
        Image.Transform.AFFINE,
        matrix,
        Image.Resampling.BICUBIC,
        fillcolor=fill,
    )


_decoded: OrderedDict[tuple[Path, int, int, int], Image.Image] = OrderedDict()
_sources: OrderedDict[Path, tuple[int, Source]] = OrderedDict()


def _at_level(sheet: Sheet, whole: tuple[int, int], level: int) -> Image.Image:
    """The page turned by its quarter turns, at 1 / 2^level of full size."""
    page = (sheet.path, sheet.number, sheet.rotation_deg)
    if (*page, level) in _decoded:
        _decoded.move_to_end((*page, level))
        return _decoded[*page, level]
    finer = next((n for n in range(level - 1, -1, -1) if (*page, n) in _decoded), None)
    if finer is None:
        source = _source(sheet.path)
        drawn_at = 0 if source.kind in _WHOLE_AT_ONCE else level
        side_px = max(1, math.ceil(max(whole) / 2**drawn_at))
        drawn = source.page(sheet.number).draw(max_side_px=side_px)
        picture = clean.turn(drawn, sheet.rotation_deg)
        _keep((*page, drawn_at), picture)
        finer = drawn_at
    else:
        picture = _decoded[*page, finer]
    if finer < level:
        picture = picture.reduce(2 ** (level - finer))
        _keep((*page, level), picture)
    return picture


def _keep(key: tuple[Path, int, int, int], picture: Image.Image) -> None:
    _decoded[key] = picture
    while len(_decoded) > 1 and sum(map(_bytes, _decoded.values())) > _KEPT_BYTES:
        _decoded.popitem(last=False)


def _bytes(picture: Image.Image) -> int:
    return picture.width * picture.height * len(picture.getbands())


def _source(path: Path) -> Source:
    """The open file; opened anew when it has changed."""
    try:
        changed_ns = path.stat().st_mtime_ns
    except OSError as error:
        raise InputError(
            f"{path.name} is not where it was.", "Mount its disk, or index its new folder."
        ) from error
    if path in _sources:
        known_ns, source = _sources[path]
        if known_ns == changed_ns:
            _sources.move_to_end(path)
            return source
        _forget(path)
    source = open_source(path)
    _sources[path] = (changed_ns, source)
    if len(_sources) > _OPEN_FILES:
        _sources.popitem(last=False)[1][1].close()
    return source


def _forget(path: Path) -> None:
    _sources.pop(path)[1].close()
    for key in [key for key in _decoded if key[0] == path]:
        del _decoded[key]
