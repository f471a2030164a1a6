"""Small sound files of every format that is read, to be damaged."""

import io
import os
from pathlib import Path

import img2pdf
from PIL import Image, ImageDraw, ImageFont

SHELF = Path(__file__).parents[2] / "sample_library" / "shelf"
_LARGEST = 700_000  # bytes: larger seeds only slow the run
_SUFFIXES = (".pdf", ".djvu", ".tif", ".jpg", ".png", ".txt", ".md")


def sheet(words: str, size: tuple[int, int] = (900, 1200), mode: str = "L") -> Image.Image:
    """A typed page."""
    made = Image.new("L", size, 255)
    font = ImageFont.load_default(36)
    for n, line in enumerate(words.split("\n")):
        ImageDraw.Draw(made).text((60, 60 + 60 * n), line, font=font, fill=0)
    return made.convert(mode)


def _saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def drawn() -> dict[str, bytes]:
    """Files made here: each sort of compression that scanners write."""
    pages = [sheet(f"TILLBROOK RADIO\nMODEL 6T{n}0\nV1 12BE6\nV2 12BA6") for n in range(4)]
    bits = [page.convert("1") for page in pages]
    grey, colour = pages[0], pages[0].convert("RGB")
    rest: dict[str, object] = {"save_all": True, "append_images": bits[1:]}
    jpeg = _saved(colour, "JPEG", quality=70)
    return {
        "g4.tif": _saved(bits[0], "TIFF", compression="group4", **rest),
        "lzw.tif": _saved(grey, "TIFF", compression="tiff_lzw"),
        "deflate.tif": _saved(colour, "TIFF", compression="tiff_adobe_deflate"),
        "jpeg.tif": _saved(grey, "TIFF", compression="jpeg"),
        "packbits.tif": _saved(bits[0], "TIFF", compression="packbits"),
        "plain.jpg": jpeg,
        "progressive.jpg": _saved(colour, "JPEG", progressive=True),
        "grey.png": _saved(grey, "PNG"),
        "bits.png": _saved(bits[0], "PNG"),
        "palette.png": _saved(colour.convert("P"), "PNG"),
        "page.webp": _saved(colour, "WEBP"),
        "scan.pdf": bytes(img2pdf.convert([jpeg, _saved(grey, "PNG")])),
        "fax.pdf": bytes(img2pdf.convert([_saved(bits[0], "TIFF", compression="group4")])),
        "set.txt": b"MODEL 5D10\nCHASSIS CH-41A\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 12AV6\f2\n",
        "set.md": "# Tillbrook 5D10\n\nTUBES: 12BE6 12BA6 35W4 - 455 kc, 0.05 µF\n".encode(),
        "list.csv": b'maker,model,tubes,where\nTillbrook,5D10,"12BE6, 12BA6",drawer 2\n',
    }


def seeds() -> dict[str, bytes]:
    """Name and bytes of each: those drawn here, the sample shelf's, and, where BENCHFOLIO_SCANS
    names them, real ones (JBIG2, DjVu of other makers)."""
    found = drawn()
    folders = [SHELF, *(path for path in SHELF.iterdir() if path.is_dir())]
    if scans := os.environ.get("BENCHFOLIO_SCANS"):
        real = (path for path in Path(scans).iterdir() if path.is_dir())
        folders += sorted(path for path in real if path.name != "corrupt_cc0")
    for folder in folders:
        for path in sorted(folder.iterdir()):
            if path.suffix in _SUFFIXES and 100 < path.stat().st_size <= _LARGEST:
                found[f"{folder.name} {path.name}"] = path.read_bytes()
    return found


def corpus() -> list[Path]:
    """Real malformed PDFs (openpreserve, CC0), where BENCHFOLIO_SCANS names them."""
    return sorted(Path(os.environ.get("BENCHFOLIO_SCANS", "")).glob("corrupt_cc0/*.pdf"))
