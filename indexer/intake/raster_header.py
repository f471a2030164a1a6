"""What a bitmap file says of itself before any pixel is decoded: frames, sizes, names."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from PIL import ExifTags, Image

from indexer import limits
from indexer.intake.quiet import cleaned, os_trouble, quiet
from indexer.intake.shape import believable_dpi

# Only these: Pillow would also start other programs for some formats.
_FORMATS = (
    "TIFF", "JPEG", "MPO", "PNG", "WEBP", "GIF", "BMP", "DIB", "PPM", "JPEG2000", "AVIF",
)  # fmt: skip
PAGE_NAME, DOCUMENT_NAME = 285, 269  # TIFF 6.0 tags


@dataclass(frozen=True, slots=True)
class Header:
    """One frame; sizes are upright, `dpi` None when it can't be believed."""

    width: int
    height: int
    dpi: float | None
    printed: str


@contextmanager
def opened(path: Path, frame: int = 0) -> Iterator[Image.Image]:
    """The image at `frame`, not decoded yet, with Pillow kept quiet and its handle closed after.

    Raises InputError for what the operating system refuses; Pillow's own errors pass through.
    """
    Image.init()
    known = [name for name in _FORMATS if name in Image.OPEN]
    try:
        stream = path.open("rb")
    except OSError as error:
        raise os_trouble(path, error) from error
    with quiet(), stream, Image.open(stream, formats=known) as image:
        if frame:
            image.seek(frame)
        yield image


def frames(image: Image.Image) -> tuple[dict[int, str], int, str]:
    """A TIFF's page names by frame from 1, how many frames it has, and a reason when the rest of
    them can't be reached."""
    count, broken = 1, 0
    names = {1: text_tag(image, PAGE_NAME)}
    while count + broken <= limits.MAX_FILE_PAGES:
        try:
            image.seek(count + broken)
        except EOFError:
            # A frame of an unknown sort keeps its number when sound frames follow it.
            break
        except Exception:
            broken += 1
            if broken > 1:  # the chain of frames itself is broken
                break
        else:
            count, broken = count + broken + 1, 0
            names[count] = text_tag(image, PAGE_NAME)
    return names, count, f"the file is cut short or damaged after page {count}" if broken else ""


def read_header(image: Image.Image) -> Header:
    """The header of the frame in hand. Raises ValueError for an empty picture."""
    width, height = image.size
    # For TIFF, Pillow's size is upright already. PNG is decoded whole in search of its EXIF: not
    # before the bounds are known to hold.
    if image.format != "TIFF" and width * height <= limits.MAX_PAGE_PIXELS:
        try:
            turn = image.getexif().get(ExifTags.Base.Orientation, 1)
        except Exception:  # damaged EXIF: drawn as stored
            turn = 1
        if turn in (5, 6, 7, 8):
            width, height = height, width
    if width < 1 or height < 1:
        raise ValueError("empty picture")
    return Header(width, height, _dpi(image), text_tag(image, PAGE_NAME))


def _dpi(image: Image.Image) -> float | None:
    """The finer of the two resolutions, None when absent or unbelievable."""
    try:
        across, down = image.info.get("dpi", (0, 0))
        return believable_dpi(max(float(across), float(down)))
    except (TypeError, ValueError, ZeroDivisionError):
        return None


def text_tag(image: Image.Image, number: int) -> str:
    """A TIFF tag's text, "" where the image has none."""
    value = getattr(image, "tag_v2", {}).get(number, "")
    return cleaned(value) if isinstance(value, str) else ""
