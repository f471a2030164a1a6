"""What a file gives when it is opened: a source of pages, each drawn and read the same way."""

from collections.abc import Iterator
from enum import Enum
from types import TracebackType
from typing import Protocol, Self

from PIL import Image

from indexer import limits
from indexer.errors import NothingFound
from indexer.model import PageReading

# How sure an embedded word is when it lies behind or over a picture of the page: some reader
# put it there, and the file does not say how well. Text that the page itself prints counts 1.
LAYER_CONFIDENCE = 0.7

POINTS_PER_INCH = 72.0


class FileKind(str, Enum):
    """What a file holds, judged by its content."""

    PDF = "pdf"
    DJVU = "djvu"
    TIFF = "tiff"
    IMAGE = "image"
    NOTES = "notes"
    NONE = "none"


class SourcePage(Protocol):
    """One page of a file. Boxes and pictures are upright by the file's own word (PDF /Rotate,
    EXIF or DjVu turn); a page that was scanned sideways is still sideways here."""

    @property
    def number(self) -> int:
        """Place in the file, from 1."""

    @property
    def printed(self) -> str:
        """The page label kept by the file ("iv", "2-17"); "" if it keeps none."""

    @property
    def size_pt(self) -> tuple[float, float] | None:
        """Upright width and height in points (1/72 inch); None where the file gives no
        believable measure."""

    @property
    def has_picture(self) -> bool:
        """Whether the page shows anything that a reader of pictures could add to `embedded`."""

    @property
    def reason(self) -> str:
        """What is not whole about this page, in plain words; "" when nothing is known. Some
        damage shows only when the page is worked on: ask after `embedded` or `draw`."""

    @property
    def embedded(self) -> PageReading | None:
        """Text kept by the file, in pixels of the default `draw_size()`; None if there is none.
        Never raises for a damaged text layer: that gives None and a `reason`."""

    def draw_size(
        self, max_side_px: int | None = None, dpi: float | None = None
    ) -> tuple[int, int]:
        """Width and height in pixels of what `draw` returns for the same arguments.

        Raises PageError for a page that can't be found, TooLarge for one beyond the bounds.
        """

    def draw(self, max_side_px: int | None = None, dpi: float | None = None) -> Image.Image:
        """The upright page, mode L or RGB.

        Without arguments at the size meant for reading: the page's own pixels, or
        RENDER_DPI where it has none, with the longest side within RENDER_MIN_SIDE_PX and
        RENDER_MAX_SIDE_PX. `dpi` asks for another resolution, `max_side_px` for another bound
        on the longest side (above RENDER_MAX_SIDE_PX to see a fold-out in full).
        Raises PageError when it can't be drawn, TooLarge beyond the bounds.
        """


class Source(Protocol):
    """An open file. Use it in a `with` block, in the process and thread that opened it."""

    @property
    def kind(self) -> FileKind: ...

    @property
    def page_count(self) -> int:
        """Pages in the file, 1 to MAX_FILE_PAGES."""

    @property
    def title(self) -> str:
        """The title in the document's metadata; "" if none. Often wrong: a hint, no more."""

    @property
    def reason(self) -> str:
        """What is odd about the file ("cut short", "named .tif but ..."); "" if nothing is."""

    def page(self, number: int) -> SourcePage:
        """The page at `number`, from 1. Raises NothingFound beyond the ends."""

    def close(self) -> None:
        """Let go of the file. May be called twice."""

    def __enter__(self) -> Self: ...

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None: ...

    def __iter__(self) -> Iterator[SourcePage]: ...


class OpenFile:
    """What every source shares: the `with` block, going through the pages, the number check."""

    kind = FileKind.NONE
    page_count = 0
    damage = ""  # what is not whole, for the file and each of its pages
    misnamed = ""  # the suffix says another kind than the content

    @property
    def title(self) -> str:
        return ""

    @property
    def reason(self) -> str:
        return joined(self.misnamed, self.damage)

    def close(self) -> None:
        """Let go of the file."""

    def page(self, number: int) -> SourcePage:
        raise NotImplementedError

    def check_number(self, number: int) -> None:
        """Raise NothingFound unless the file has a page `number`."""
        if not 1 <= number <= self.page_count:
            raise NothingFound(
                f"There is no page {number}: the file has {self.page_count}.",
                "Pages count from 1.",
            )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def __iter__(self) -> Iterator[SourcePage]:
        return (self.page(number) for number in range(1, self.page_count + 1))


def joined(*reasons: str) -> str:
    """The reasons that say something, as one line."""
    return "; ".join(reason for reason in reasons if reason)


def fit(
    width: float,
    height: float,
    natural_dpi: float | None = None,
    max_side_px: int | None = None,
    dpi: float | None = None,
) -> tuple[int, int]:
    """Pixels to draw a page at whose natural size is `width` by `height` pixels.

    `natural_dpi` is the resolution of that natural size (RENDER_DPI when unknown); it matters
    only when `dpi` asks for another. The longest side ends at or below `max_side_px` (default
    RENDER_MAX_SIDE_PX, never above MAX_SIDE_PX), the area at or below MAX_PAGE_PIXELS. Without
    `dpi`, pages smaller than RENDER_MIN_SIDE_PX are enlarged to it. The same arguments always
    give the same size.
    """
    longest = max(width, height)
    side = longest
    if dpi is not None:
        side = longest * dpi / (natural_dpi or limits.RENDER_DPI)
    elif side < limits.RENDER_MIN_SIDE_PX:
        side = limits.RENDER_MIN_SIDE_PX
    side = min(side, max_side_px or limits.RENDER_MAX_SIDE_PX, limits.MAX_SIDE_PX)
    area_side = longest * (limits.MAX_PAGE_PIXELS / (width * height)) ** 0.5
    scale = min(side, area_side) / longest
    return max(1, round(width * scale)), max(1, round(height * scale))


def believable_dpi(dpi: float | None) -> float | None:
    """`dpi` when a scanner or camera could have meant it (50 to 2,500), else None.

    Common practice, no source: headers often carry 0, 1, 72 by default or garbage; 72 and 96
    pass here, and only ever change the size in points.
    """
    return dpi if dpi is not None and 50 <= dpi <= 2_500 else None
