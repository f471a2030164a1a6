"""Small files that claim or unfold to something enormous, and structures that never end."""

import struct
import zlib
from collections.abc import Callable
from pathlib import Path

from PIL import Image

from tests.endurance.seeds import SHELF, _saved


def pdf(objects: list[bytes], root: int = 1) -> bytes:
    """A PDF of numbered objects with a right cross-reference table (ISO 32000-1, 7.5)."""
    out, places = bytearray(b"%PDF-1.7\n"), []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    at = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    out += b"trailer\n<< /Size %d /Root %d 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (
        len(objects) + 1, root, at,
    )  # fmt: skip
    return bytes(out)


def stream(data: bytes, head: bytes = b"") -> bytes:
    return b"<< /Length %d %s >>\nstream\n%s\nendstream" % (len(data), head, data)


def one_page(contents: bytes, resources: bytes = b"", more: tuple[bytes, ...] = ()) -> bytes:
    """A page whose content stream is object 4; further objects from 5 on."""
    page = (
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Contents 4 0 R"
        b" /Resources << %s >> >>" % resources
    )
    tree = b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>"
    return pdf([b"<< /Type /Catalog /Pages 2 0 R >>", tree, page, contents, *more])


def _deflated(block: bytes, times: int, again: int = 0) -> bytes:
    packer = zlib.compressobj(1)
    out = b"".join(packer.compress(block) for _ in range(times)) + packer.flush()
    for _ in range(again):
        out = zlib.compress(out, 9)
    return out


def _image(width: int, height: int, data: bytes, kind: bytes, bits: int = 1) -> bytes:
    return stream(
        data,
        b"/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray"
        b" /BitsPerComponent %d /Filter %s" % (width, height, bits, kind),
    )


_DRAW = stream(b"q 612 0 0 792 0 0 cm /I Do Q")
_USES = b"/XObject << /I 5 0 R >>"


def _jbig2(width: int, height: int) -> bytes:
    """A page of that size and a region as large (ITU-T T.88, 7.4.6 and 7.4.8)."""
    info = struct.pack(">IIIIBH", width, height, 0, 0, 0, 0)
    region = struct.pack(">IIIIB", width, height, 0, 0, 0) + b"\x01" + bytes(64)
    return (
        struct.pack(">IBBBI", 0, 48, 0, 1, len(info)) + info
        + struct.pack(">IBBBI", 1, 38, 0, 1, len(region)) + region
    )  # fmt: skip


def _laughs(depth: int, wide: int) -> bytes:
    """Forms that draw further forms, `wide` to the power of `depth` in all."""
    forms = []
    for n in range(depth):
        deeper = b"/XObject << /F %d 0 R >>" % (6 + n) if n < depth - 1 else b""
        drawing = b"/F Do " * wide if n < depth - 1 else b"0 0 9 9 re f "
        head = b"/Type /XObject /Subtype /Form /BBox [0 0 612 792] /Resources << %s >>" % deeper
        forms.append(stream(drawing, head))
    return one_page(stream(b"/F Do"), b"/XObject << /F 5 0 R >>", tuple(forms))


def _pages(count: int) -> bytes:
    """A PDF that really has that many pages."""
    kids = b" ".join(b"%d 0 R" % n for n in range(3, 3 + count))
    tree = b"<< /Type /Pages /Kids [%s] /Count %d >>" % (kids, count)
    page = b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>"
    return pdf([b"<< /Type /Catalog /Pages 2 0 R >>", tree, *[page] * count])


def _labels() -> bytes:
    """Page labels with a prefix of 100,000 letters, for each of 3,000 pages."""
    whole = _pages(3000)
    label = b"/PageLabels << /Nums [0 << /S /D /P (%s) >>] >>" % (b"L" * 100_000)
    return whole.replace(b"/Pages 2 0 R >>", b"/Pages 2 0 R %s >>" % label, 1)


def _png(width: int, height: int, rows: int, extra: bytes = b"") -> bytes:
    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    body = _deflated(bytes(width + 1), rows)
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + extra + chunk(b"IDAT", body)
        + chunk(b"IEND", b"")
    )  # fmt: skip


def _text_chunk() -> bytes:
    data = b"Comment\0\0" + _deflated(bytes(1 << 20), 200)
    return (
        struct.pack(">I", len(data))
        + b"zTXt"
        + data
        + struct.pack(">I", zlib.crc32(b"zTXt" + data))
    )


def _looped_tiff() -> bytes:
    """A directory whose next one is itself."""
    data = bytearray(_saved(Image.new("L", (50, 50), 200), "TIFF"))
    at = struct.unpack_from("<I", data, 4)[0]
    count = struct.unpack_from("<H", data, at)[0]
    struct.pack_into("<I", data, at + 2 + 12 * count, at)
    return bytes(data)


def _frames(count: int) -> bytes:
    """A TIFF whose directories all show the same strip."""
    first = _saved(Image.new("1", (64, 64), 1), "TIFF", compression="group4")
    at = struct.unpack_from("<I", first, 4)[0]
    entries = struct.unpack_from("<H", first, at)[0]
    length = 2 + 12 * entries
    out = bytearray(first)
    link = at + length
    for _ in range(count - 1):
        if len(out) % 2:
            out.append(0)
        struct.pack_into("<I", out, link, len(out))
        link = len(out) + length
        out += first[at : at + length] + bytes(4)
    return bytes(out)


def _djvu(width: int, height: int) -> bytes:
    data = bytearray((SHELF / "Larkmoor booklet.djvu").read_bytes())
    at = data.find(b"INFO")
    while at >= 0:
        struct.pack_into(">HH", data, at + 8, width, height)
        at = data.find(b"INFO", at + 4)
    return bytes(data)


def bombs() -> dict[str, Callable[[], bytes]]:
    """Name of each, and what makes its bytes (some take a few seconds)."""
    spaces, flat = b" " * (1 << 20), bytes(1 << 20)
    big = Image.new("1", (39_000, 6_400), 1)
    white = b"\xff" * (1 << 20)
    return {
        "claims 4e9 x 4e9.png": lambda: _png(0xFFFFFFF, 0xFFFFFFF, 10),
        "15600 x 16000 of nothing.png": lambda: _png(15_600, 16_000, 16_000),
        "40000 x 40000 of nothing.png": lambda: _png(40_000, 40_000, 40_000),
        "zipped comment of 200 MB.png": lambda: _png(100, 100, 100, _text_chunk()),
        "249 million pixels.tif": lambda: _saved(big, "TIFF", compression="group4"),
        "directory that leads to itself.tif": lambda: _looped_tiff(),
        "5000 frames.tif": lambda: _frames(5_000),
        "50000 frames.tif": lambda: _frames(50_000),
        "content of 1 GB.pdf": lambda: one_page(
            stream(_deflated(spaces, 1024), b"/Filter /FlateDecode")
        ),
        "content zipped three times.pdf": lambda: one_page(
            stream(
                _deflated(b"q Q " * (1 << 18), 2000, again=2),
                b"/Filter [/FlateDecode /FlateDecode /FlateDecode]",
            )
        ),
        "picture of 1 GB.pdf": lambda: one_page(
            _DRAW, _USES, (_image(30_000, 33_000, _deflated(flat, 1000), b"/FlateDecode", 8),)
        ),
        "picture of 240 million bits.pdf": lambda: one_page(
            _DRAW, _USES, (_image(15_500, 15_500, _deflated(white, 30), b"/FlateDecode"),)
        ),
        "picture that lies about its size.pdf": lambda: one_page(
            _DRAW, _USES, (_image(2_000_000_000, 2_000_000_000, b"x", b"/FlateDecode"),)
        ),
        "jbig2 of 4e9 x 4e9.pdf": lambda: one_page(
            _DRAW, _USES, (_image(1000, 1000, _jbig2(0xFFFFFFF0, 0xFFFFFFF0), b"/JBIG2Decode"),)
        ),
        "jbig2 of 60000 x 60000.pdf": lambda: one_page(
            _DRAW, _USES, (_image(60_000, 60_000, _jbig2(60_000, 60_000), b"/JBIG2Decode"),)
        ),
        "jbig2 of 15000 x 15000.pdf": lambda: one_page(
            _DRAW, _USES, (_image(15_000, 15_000, _jbig2(15_000, 15_000), b"/JBIG2Decode"),)
        ),
        "forms 10 to the 9.pdf": lambda: _laughs(9, 10),
        "a page that is its own parent.pdf": lambda: pdf(
            [
                b"<< /Type /Catalog /Pages 2 0 R >>",
                b"<< /Type /Pages /Kids [2 0 R 3 0 R] /Count 2 /Parent 2 0 R >>",
                b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>",
            ]
        ),
        "page tree 5000 deep.pdf": lambda: pdf(
            [
                b"<< /Type /Catalog /Pages 2 0 R >>",
                *[b"<< /Type /Pages /Kids [%d 0 R] /Count 1 >>" % n for n in range(3, 5003)],
                b"<< /Type /Page /Parent 5001 0 R /MediaBox [0 0 612 792] >>",
            ]
        ),
        "claims 2e9 pages.pdf": lambda: pdf(
            [
                b"<< /Type /Catalog /Pages 2 0 R >>",
                b"<< /Type /Pages /Kids [3 0 R] /Count 2000000000 >>",
                b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>",
            ]
        ),
        "100000 pages.pdf": lambda: _pages(100_000),
        "page labels of 300 MB.pdf": lambda: _labels(),
        "arrays 100000 deep.pdf": lambda: one_page(
            stream(b"[" * 100_000 + b"]" * 100_000 + b" TJ")
        ),
        "a page 200 km wide.pdf": lambda: one_page(stream(b"0 0 9 9 re f")).replace(
            b"[0 0 612 792]", b"[0 0 6e8 1]  "
        ),
        "claims 65535 x 65535.djvu": lambda: _djvu(65_535, 65_535),
        "claims 15500 x 16000.djvu": lambda: _djvu(15_500, 16_000),
        "claims 1 x 65535.djvu": lambda: _djvu(1, 65_535),
        "one line of 5 MB.txt": lambda: b"MODEL 5D10 " * 454_000,
        "5 MB of form feeds.txt": lambda: b"5D10\f" * 999_000,
        "one cell of 5 MB.csv": lambda: b'maker,model,tubes\nx,"' + b"6SN7 " * 900_000 + b'",\n',
        "2000000 cells.csv": lambda: b"maker,model,tubes\n" + b"," * 2_000_000 + b"\n",
        "quotes that never close.csv": lambda: b"maker,model,tubes\n" + b'"a,b\n' * 500_000,
    }


def write(folder: Path, leave_out: tuple[str, ...] = ()) -> list[Path]:
    """Every bomb as a file in `folder`, but those whose names begin like `leave_out`."""
    paths = []
    for name, make in bombs().items():
        if not name.startswith(leave_out):
            path = folder / name
            path.write_bytes(make())
            paths.append(path)
    return paths
