"""Pages of every kind of source, drawn for the packet's tests, each with the word it shows."""

from pathlib import Path

from fpdf import FPDF
from PIL import Image, ImageDraw, ImageFont

from indexer.bench.marked import PacketPage
from indexer.model import Box, PageReading, PageRef, Word
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord, Mark

JOB = JobRecord(
    7, "Kitchen set", "2026-03-01T10:00:00", tubes=("12BE6", "12BA6", "12AV6", "50C5", "35W4")
)
WORD_BOX = Box(300, 400, 900, 500)  # pixels of an upright page of 1,700 x 2,200 at 200 dpi
SIZE = (1700, 2200)


def drawn_page(word: str, *, size: tuple[int, int] = SIZE, border: int = 0) -> Image.Image:
    """A grey page with one word that fills WORD_BOX, a frame, and a black scanner border."""
    picture = Image.new("L", size, 245)
    pen = ImageDraw.Draw(picture)
    font = ImageFont.load_default(100)
    left, top, right, bottom = pen.textbbox((0, 0), word, font=font)
    letters = Image.new("L", (int(right), int(bottom)), 255)
    ImageDraw.Draw(letters).text((0, 0), word, fill=0, font=font)
    ink = letters.crop((int(left), int(top), int(right), int(bottom)))
    ink = ink.resize((int(WORD_BOX.width), int(WORD_BOX.height)))
    picture.paste(ink, (int(WORD_BOX.left), int(WORD_BOX.top)))
    pen.rectangle((200, 1000, size[0] - 200, size[1] - 300), outline=0, width=6)
    if border:
        pen.rectangle((size[0] - border, 0, size[0], size[1]), fill=5)
    return picture


def reading(word: str, *, size: tuple[int, int] = SIZE, turn: int = 0) -> PageReading:
    """A reading that found the word in its box, on a page that `turn` sets upright."""
    return PageReading((Word(word, WORD_BOX, 0.95),), *size, "tesseract", rotation_deg=turn)


def page(path: Path, number: int, read: PageReading, *kinds: str) -> PacketPage:
    """A marked page in that file."""
    ref = PageRef(f"{path.name}", number)
    card = PageCard(1, ref, "bcdfgh", path.parent, path.name, "", kinds)
    return PacketPage(card, Mark(ref, "circuit", path.name), read)


def jpeg(folder: Path, word: str, *, turn: int = 0, mark: int = 1, border: int = 0) -> Path:
    """A JPEG; `turn` is what sets it upright again, `mark` its EXIF orientation."""
    path = folder / f"{word}.jpg"
    exif = Image.Exif()
    exif[274] = mark
    picture = drawn_page(word, border=border).rotate(turn, expand=True)
    picture.save(path, "JPEG", quality=80, dpi=(200, 200), exif=exif)
    return path


def tiff(folder: Path, *words: str, compression: str = "group4") -> Path:
    """A TIFF of bitonal frames, in several strips each, as Pillow writes them."""
    path = folder / f"{words[0]}.tif"
    frames = [drawn_page(word).convert("1", dither=Image.Dither.NONE) for word in words]
    frames[0].save(
        path,
        save_all=True,
        append_images=frames[1:],
        compression=compression,
        dpi=(200, 200),
    )
    return path


def vector_pdf(folder: Path, word: str, *, rotate: int = 0) -> Path:
    """A PDF of real lines and type, which a scale or a bitmap would spoil."""
    path = folder / f"{word}.pdf"
    document = FPDF(unit="pt", format=(612, 792))
    document.add_page()
    document.set_font("Helvetica", "", 30)
    document.text(100, 180, word)
    document.rect(72, 360, 468, 320)
    document.output(str(path))
    if rotate:
        from pypdf import PdfWriter

        writer = PdfWriter(clone_from=str(path))
        writer.pages[0].rotate(rotate)
        writer.write(str(path))
    return path
