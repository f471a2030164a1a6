"""The words read, laid invisibly under the picture of their page, so that a PDF can be searched.

ISO 32000-1, 9.3.6: text rendering mode 3 neither fills nor strokes. The font has one blank
outline for every letter, and a map back to Unicode.
"""

import io
from functools import cache
from math import cos, radians, sin

from fontTools.fontBuilder import FontBuilder
from fontTools.ttLib.tables._g_l_y_f import Glyph
from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

from indexer.bench.place import Matrix, moved, times
from indexer.model import PageReading, Word

FONT_NAME = "/Words"
_ADVANCE = 500  # of every letter, in thousandths of the size
_DESCENT = 0.2  # of the size, below the line the letters stand on


def layer(reading: PageReading, to_sheet: Matrix, clip: tuple[float, float, float, float]) -> bytes:
    """The content that lays a reading's words invisibly on a sheet; b"" when none shows there.

    `to_sheet` takes upright page shares (0 to 1 from the bottom left) to the sheet; words whose
    middle lies outside `clip` (left, bottom, width, height) are left out. Reading order is kept.
    """
    angle = radians(-reading.skew_deg)  # the picture was turned the other way to be read
    upright = times(_unskewed(reading), to_sheet)
    scale = (abs(to_sheet[0]) + abs(to_sheet[1])) / reading.width_px
    left, bottom, width, height = clip
    lines: list[str] = []
    for row in reading.lines:
        shown: list[str] = []
        for word in row:
            x, y = moved(upright, *word.box.middle)
            if left <= x <= left + width and bottom <= y <= bottom + height:
                shown.append(_shown(word, upright, angle, scale))
        lines += shown
    if not lines:
        return b""
    return "\n".join(("q BT 3 Tr", *lines, "ET Q")).encode("ascii")


def _shown(word: Word, upright: Matrix, angle: float, scale: float) -> str:
    text = "".join(c for c in word.text if ord(c) < 0x10000 and not 0xD800 <= ord(c) < 0xE000)
    box = word.box
    size = max(box.height * scale, 1.0)
    stretch = 100 * box.width * scale / (len(text) * _ADVANCE / 1000 * size) if text else 100
    x, y = moved(upright, box.left, box.bottom - _DESCENT * box.height)
    a, b = cos(angle), sin(angle)
    codes = (text + " ").encode("utf-16-be").hex().upper()
    return (
        f"{FONT_NAME} {size:.2f} Tf {max(stretch, 1):.1f} Tz"
        f" {a:.5f} {b:.5f} {-b:.5f} {a:.5f} {x:.2f} {y:.2f} Tm <{codes}> Tj"
    )


def _unskewed(reading: PageReading) -> Matrix:
    """From the pixels of a straightened picture to shares of the upright page."""
    a = radians(-reading.skew_deg)
    width, height = reading.width_px, reading.height_px
    matrix: Matrix = (1.0, 0.0, 0.0, -1.0, -width / 2, height / 2)  # middle at (0, 0), y upward
    matrix = times(matrix, (cos(a), sin(a), -sin(a), cos(a), 0.0, 0.0))
    return times(matrix, (1 / width, 0.0, 0.0, 1 / height, 0.5, 0.5))


def add_font(writer: PdfWriter) -> IndirectObject:
    """The font of the invisible words, once for a document."""
    file = _stream(_blank_font(), {"/Length1": NumberObject(len(_blank_font()))})
    descriptor = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/FontDescriptor"),
            NameObject("/FontName"): NameObject("/BlankWords"),
            NameObject("/Flags"): NumberObject(5),  # fixed pitch, symbolic
            NameObject("/FontBBox"): _numbers(0, -200, _ADVANCE, 800),
            NameObject("/ItalicAngle"): NumberObject(0),
            NameObject("/Ascent"): NumberObject(800),
            NameObject("/Descent"): NumberObject(-200),
            NameObject("/CapHeight"): NumberObject(800),
            NameObject("/StemV"): NumberObject(80),
            NameObject("/FontFile2"): writer._add_object(file),
        }
    )
    every_letter_blank = _stream(b"\x00\x01" * 0x10000, {})
    letters = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Font"),
            NameObject("/Subtype"): NameObject("/CIDFontType2"),
            NameObject("/BaseFont"): NameObject("/BlankWords"),
            NameObject("/CIDSystemInfo"): DictionaryObject(
                {
                    NameObject("/Registry"): TextStringObject("Adobe"),
                    NameObject("/Ordering"): TextStringObject("Identity"),
                    NameObject("/Supplement"): NumberObject(0),
                }
            ),
            NameObject("/FontDescriptor"): writer._add_object(descriptor),
            NameObject("/DW"): NumberObject(_ADVANCE),
            NameObject("/CIDToGIDMap"): writer._add_object(every_letter_blank),
        }
    )
    font = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Font"),
            NameObject("/Subtype"): NameObject("/Type0"),
            NameObject("/BaseFont"): NameObject("/BlankWords"),
            NameObject("/Encoding"): NameObject("/Identity-H"),
            NameObject("/DescendantFonts"): ArrayObject([writer._add_object(letters)]),
            NameObject("/ToUnicode"): writer._add_object(_stream(_to_unicode(), {})),
        }
    )
    return writer._add_object(font)


def _stream(data: bytes, entries: dict[str, NumberObject]) -> StreamObject:
    stream = StreamObject()
    stream.set_data(data)
    packed = stream.flate_encode()
    packed.update({NameObject(name): value for name, value in entries.items()})
    return packed


def _numbers(*values: float) -> ArrayObject:
    return ArrayObject([FloatObject(value) for value in values])


@cache
def _to_unicode() -> bytes:
    """Every code is its own UTF-16 code unit; a range may not cross a high byte (9.10.3)."""
    rows = [f"<{high:02X}00> <{high:02X}FF> <{high:02X}00>" for high in range(256)]
    blocks = [rows[at : at + 100] for at in range(0, 256, 100)]
    ranges = "\n".join(
        f"{len(block)} beginbfrange\n" + "\n".join(block) + "\nendbfrange" for block in blocks
    )
    return (
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
        "1 begincodespacerange <0000> <FFFF> endcodespacerange\n"
        f"{ranges}\nendcmap CMapName currentdict /CMap defineresource pop end end\n"
    ).encode("ascii")


@cache
def _blank_font() -> bytes:
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder([".notdef", "blank"])
    builder.setupCharacterMap({0x20: "blank"})
    builder.setupGlyf({".notdef": Glyph(), "blank": Glyph()})
    builder.setupHorizontalMetrics({".notdef": (_ADVANCE, 0), "blank": (_ADVANCE, 0)})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "BlankWords", "styleName": "Regular"})
    builder.setupOS2()
    builder.setupPost()
    out = io.BytesIO()
    builder.save(out)
    return out.getvalue()
