"""Fax-coded TIFF frames put into a PDF as they are: each strip's bytes, one below the other.

TIFF 6.0, section 11 (T.6, "group 4") and ISO 32000-1, 7.4.6 name the same code.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PIL import Image
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    NameObject,
    NumberObject,
    StreamObject,
)

from indexer.intake.raster_header import opened

_WIDTH, _HEIGHT, _COMPRESSION, _PHOTOMETRIC, _FILL_ORDER = 256, 257, 259, 262, 266
_OFFSETS, _SAMPLES, _ROWS_PER_STRIP, _BYTE_COUNTS, _T6_OPTIONS = 273, 277, 278, 279, 293
_GROUP4, _BLACK_IS_ZERO, _HIGH_BIT_FIRST = 4, 1, 1
_MAX_STRIPS = 20_000  # one for each row of a page at 1,200 dpi and more


@dataclass(frozen=True, slots=True)
class Strip:
    """One picture of a PDF: its stream and how many rows it shows."""

    picture: StreamObject
    rows: int


def group4_strips(path: Path, frame: int) -> tuple[int, int, list[Strip]] | None:
    """Width, height and strips of a TIFF frame (from 0) as stored, before any turn.

    None where the frame is not coded so, or in a way that PDF can't carry unchanged.
    """
    with opened(path, frame) as image:
        tags: Any = getattr(image, "tag_v2", None)
        if tags is None or not _is_plain_group4(image, tags):
            return None
        width, height = int(tags[_WIDTH]), int(tags[_HEIGHT])
        each = min(int(tags.get(_ROWS_PER_STRIP, height)), height)
        places = list(zip(_list(tags[_OFFSETS]), _list(tags[_BYTE_COUNTS]), strict=True))
        inverted = tags.get(_PHOTOMETRIC, 0) == _BLACK_IS_ZERO
    if each < 1 or len(places) != -(-height // each) or len(places) > _MAX_STRIPS:
        return None
    strips = []
    with path.open("rb") as file:
        for number, (offset, count) in enumerate(places):
            file.seek(offset)
            rows = min(each, height - number * each)
            strips.append(Strip(_picture(file.read(count), width, rows, inverted), rows))
    return width, height, strips


def _is_plain_group4(image: Image.Image, tags: Any) -> bool:
    return (
        image.mode == "1"
        and tags.get(_COMPRESSION) == _GROUP4
        and tags.get(_FILL_ORDER, _HIGH_BIT_FIRST) == _HIGH_BIT_FIRST
        and tags.get(_SAMPLES, 1) == 1
        and not tags.get(_T6_OPTIONS, 0)
        and _OFFSETS in tags
        and _BYTE_COUNTS in tags
    )


def _picture(data: bytes, width: int, rows: int, inverted: bool) -> StreamObject:
    """The code knows black and white runs. PDF shows 0 as black, which the filter gives for a
    black run unless asked otherwise; a TIFF with "black is zero" means white by a black run."""
    how = DictionaryObject(
        {
            NameObject("/K"): NumberObject(-1),
            NameObject("/Columns"): NumberObject(width),
            NameObject("/Rows"): NumberObject(rows),
            NameObject("/BlackIs1"): BooleanObject(inverted),
        }
    )
    stream = StreamObject()
    stream._data = data
    stream.update(
        {
            NameObject("/Type"): NameObject("/XObject"),
            NameObject("/Subtype"): NameObject("/Image"),
            NameObject("/Width"): NumberObject(width),
            NameObject("/Height"): NumberObject(rows),
            NameObject("/ColorSpace"): NameObject("/DeviceGray"),
            NameObject("/BitsPerComponent"): NumberObject(1),
            NameObject("/Filter"): ArrayObject([NameObject("/CCITTFaxDecode")]),
            NameObject("/DecodeParms"): ArrayObject([how]),
        }
    )
    return stream


def _list(value: Any) -> list[int]:
    return [int(v) for v in value] if isinstance(value, tuple | list) else [int(value)]
