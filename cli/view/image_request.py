"""The words of an image request, by the IIIF Image API 3.0: region, size, rotation, quality,
format. Section numbers are that document's. Sizes are worked out here, drawing is elsewhere."""

import math
import re
from dataclasses import dataclass

from indexer import Cut, UsageError, limits

TILE_PX = 512
FORMATS = {"jpg": "image/jpeg", "png": "image/png"}
_QUALITIES = ("default", "color", "gray", "bitonal")
_NUMBER = r"\d{1,7}(?:\.\d{1,10})?"
_REGION_PX = re.compile(r"(\d{1,6}),(\d{1,6}),(\d{1,6}),(\d{1,6})")
_REGION_PCT = re.compile(rf"pct:({_NUMBER}),({_NUMBER}),({_NUMBER}),({_NUMBER})")
_SIZE_WH = re.compile(r"(!?)(\d{0,6}),(\d{0,6})")
_SIZE_PCT = re.compile(rf"pct:({_NUMBER})")


@dataclass(frozen=True, slots=True)
class _Region:
    left: int
    top: int
    width: int
    height: int


def parse(
    whole: tuple[int, int], region: str, size: str, rotation: str, quality: str, form: str
) -> Cut:
    """What is asked for, in pixels. `whole` is the page's full width and height.

    Raises UsageError for what the standard calls an error or what is not offered here (sizes
    above the region's own, free angles).
    """
    area = _region(region, *whole)
    width, height = _size(size, area)
    turn, mirrored = _rotation(rotation)
    if quality not in _QUALITIES:
        raise _wrong("quality", quality)
    if form not in FORMATS:
        raise _wrong("format", form)
    return Cut(
        area.left, area.top, area.width, area.height, width, height, turn, mirrored, quality, form
    )


def canonical(whole: tuple[int, int], part: Cut) -> str:
    """The one address for what is asked for (section 4.7), after the page's own part."""
    region = f"{part.left},{part.top},{part.width},{part.height}"
    if region == f"0,0,{whole[0]},{whole[1]}":
        region = "full"
    size = f"{part.out_width},{part.out_height}"
    if (part.out_width, part.out_height) == _largest(part.width, part.height):
        size = "max"
    turn = f"{'!' if part.mirrored else ''}{part.turn_deg}"
    return f"{region}/{size}/{turn}/{part.quality}.{part.form}"


def scale_factors(width: int, height: int) -> list[int]:
    """Powers of two down to the one at which the page is a single tile."""
    factors = [1]
    while max(width, height) / factors[-1] > TILE_PX:
        factors.append(factors[-1] * 2)
    return factors


def _region(text: str, width: int, height: int) -> _Region:
    """Section 4.1: cut off at the page's edges; an error when nothing is left."""
    if text == "full":
        return _Region(0, 0, width, height)
    if text == "square":
        side = min(width, height)
        return _Region((width - side) // 2, (height - side) // 2, side, side)
    if found := _REGION_PX.fullmatch(text):
        left, top, wide, high = (int(part) for part in found.groups())
    elif found := _REGION_PCT.fullmatch(text):
        shares = [float(part) / 100 for part in found.groups()]
        left, top = round(shares[0] * width), round(shares[1] * height)
        wide, high = round(shares[2] * width), round(shares[3] * height)
    else:
        raise _wrong("region", text)
    wide, high = min(wide, width - left), min(high, height - top)
    if wide <= 0 or high <= 0:
        raise UsageError("That region holds nothing of the page.")
    return _Region(left, top, wide, high)


def _size(text: str, area: _Region) -> tuple[int, int]:
    """Section 4.2, without upscaling (`^`)."""
    if text == "max":
        return _largest(area.width, area.height)
    if found := _SIZE_PCT.fullmatch(text):
        share = float(found[1]) / 100
        width, height = round(area.width * share), round(area.height * share)
    elif (found := _SIZE_WH.fullmatch(text)) and (found[2] or found[3]):
        width, height = _width_and_height(found[1], found[2], found[3], area)
    else:
        raise _wrong("size", text)
    if width > area.width or height > area.height:
        raise UsageError("The size asked for is above the region's own.")
    if width <= 0 or height <= 0:
        raise UsageError("The size asked for is nothing.")
    if width * height > limits.MAX_SHOWN_PIXELS:
        raise UsageError("That is more than one picture may hold.", "Ask for tiles.")
    return width, height


def _width_and_height(fitted: str, wide: str, high: str, area: _Region) -> tuple[int, int]:
    if wide and high:
        width, height = int(wide), int(high)
        if not fitted:
            return width, height
        scale = min(width / area.width, height / area.height, 1.0)
        return max(1, round(area.width * scale)), max(1, round(area.height * scale))
    if fitted:
        raise _wrong("size", f"{fitted}{wide},{high}")
    if wide:
        return int(wide), max(1, round(area.height * int(wide) / area.width))
    return max(1, round(area.width * int(high) / area.height)), int(high)


def _largest(width: int, height: int) -> tuple[int, int]:
    """The full size, or the largest within MAX_SHOWN_PIXELS (`maxArea`, section 5.4)."""
    if width * height <= limits.MAX_SHOWN_PIXELS:
        return width, height
    scale = math.sqrt(limits.MAX_SHOWN_PIXELS / (width * height))
    return max(1, int(width * scale)), max(1, int(height * scale))


def _rotation(text: str) -> tuple[int, bool]:
    """Section 4.3, by quarter turns; "!" mirrors first."""
    mirrored, turn = text.startswith("!"), text.removeprefix("!")
    if turn not in ("0", "90", "180", "270"):
        raise _wrong("rotation", text)
    return int(turn), mirrored


def _wrong(what: str, text: str) -> UsageError:
    return UsageError(f"The {what} {text[:40]} is not understood or not offered here.")
