"""A page picture made fit to read, and what the picture itself tells."""

import math

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from indexer.model import PageReading, PictureFacts

cv2.setNumThreads(1)  # pages are read in processes, one core each

Gray = NDArray[np.uint8]

_LOOK_SIDE_PX = 1000  # measures are taken on a small copy: enough for lines and rows of text
_SPREAD = 1.15  # width over height from which a picture may show two pages
_FEW_PX = 200  # the paper's tone is taken from so many pixels a side
_STRIP_PX = 120  # width to which rows are pressed while their slope is sought
_MAX_SKEW_DEG = 4.0
_SURE_GAIN = 1.08  # how much sharper the rows must get before a page is straightened
_PHOTO_TONE = 0.25  # share of middling tones from which a picture is a photo
_LONG_STROKE_SHARE = 0.05  # of the longer side
_BLACK, _PAPER_STEP = 0.55, 4  # of the paper, whose tone is taken from each fourth pixel
_PLATE_PX, _PLATE_BLACK = (32, 8), 0.6  # a word white on black on a small copy; how black it is
_MOST_LETTER, _LEAST_LETTERS = 0.03, 20  # a letter's size, of the longer side; how many to judge by


def in_grey(picture: Image.Image) -> Image.Image:
    """The picture in greys; the same one, not a copy, if it is in them."""
    return picture if picture.mode == "L" else picture.convert("L")


def small_copy(picture: Image.Image, side_px: int = _LOOK_SIDE_PX) -> Image.Image:
    """A grey copy whose longer side is at most `side_px`; the picture itself if it is one."""
    copy = in_grey(picture)
    if max(copy.size) <= side_px:
        return copy
    scale = side_px / max(copy.size)
    size = (max(1, round(copy.width * scale)), max(1, round(copy.height * scale)))
    return copy.resize(size, Image.Resampling.BOX, reducing_gap=2.0)


def ink_mask(gray: Gray) -> NDArray[np.bool_]:
    """Where there is ink: darker than its surroundings (a local mean), so uneven light is even."""
    window = 2 * (max(15, min(gray.shape) // 20) // 2) + 1
    mean = cv2.blur(gray, (window, window), borderType=cv2.BORDER_REPLICATE)
    ink = cv2.compare(gray, cv2.convertScaleAbs(mean, alpha=0.85), cv2.CMP_LT)
    return np.asarray(ink, dtype=np.bool_)


def skew_deg(picture: Image.Image) -> float:
    """The counter-clockwise turn in degrees (within ±4) that levels the text rows; 0 when unsure.

    Rows of text are sharpest when level: the variance of row sums is compared over small turns.
    Only lettering is looked at: a sheet's edge or a drawing's lines may lie otherwise.
    """
    gray = np.asarray(small_copy(picture))
    mask = _lettering(gray)
    if mask.sum() < 300:
        return 0.0
    height, width = mask.shape
    strip = cv2.resize(mask.astype(np.uint8) * 255, (_STRIP_PX, height), None, 0, 0, cv2.INTER_AREA)

    narrow = cv2.resize(strip, (_STRIP_PX // 2, height), None, 0, 0, cv2.INTER_AREA)

    def sharpness(angle: float, rough: bool = False) -> float:
        seen = narrow if rough else strip
        across = seen.shape[1]  # rows slide instead of turning: much less to move
        rise = np.tan(np.radians(angle)) * width / across
        slide = np.array([[1, 0, 0], [-rise, 1, rise * across / 2]])
        how = cv2.INTER_NEAREST if rough else cv2.INTER_LINEAR
        rows = cv2.warpAffine(seen, slide, (across, height), flags=how).sum(axis=1, dtype=float)
        return float(np.square(np.diff(rows)).sum())

    level = sharpness(0.0)
    steps = np.arange(-_MAX_SKEW_DEG, _MAX_SKEW_DEG + 0.1, 0.5)
    coarse = max(steps, key=lambda angle: sharpness(angle, rough=True))
    best = max(np.arange(coarse - 0.4, coarse + 0.41, 0.1), key=sharpness)
    if level <= 0 or sharpness(float(best)) < _SURE_GAIN * level or abs(best) < 0.25:
        return 0.0
    return round(float(best), 1)


def _lettering(gray: Gray) -> NDArray[np.bool_]:
    """Ink in blobs the size of letters; on photos, whose ground is blobs too, ink not in lines."""
    mask = ink_mask(gray)
    if _tone_share(gray) >= _PHOTO_TONE:
        length = max(10, int(max(gray.shape) * _LONG_STROKE_SHARE))
        return mask & ~(_runs(mask, length) | _runs(mask.T, length).T)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    widths, heights = stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT]
    side = max(gray.shape)
    letters = (heights >= 3) & (heights <= 0.03 * side) & (widths <= 0.08 * side)
    letters[0] = False  # the paper
    return np.asarray(letters[labels], dtype=np.bool_)


def runs_along(mask: Gray, letter_px: float) -> tuple[int, int]:
    """How many runs of two or more letters lie level, and how many stand, by what `letters` gave.

    On upright pages and drawings hardly half as many stand as lie; on those filed sideways it is
    the other way about.
    """
    return _runs_along(mask, letter_px), _runs_along(np.ascontiguousarray(mask.T), letter_px)


def letters(gray: Gray) -> tuple[Gray, float]:
    """A mask (0 or 1) of the blobs of the usual letter's size, and that size in pixels; all 0 when
    there are hardly any."""
    ink = ink_mask(gray).astype(np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    sides = stats[:, cv2.CC_STAT_WIDTH : cv2.CC_STAT_HEIGHT + 1].max(axis=1)
    fit = (sides >= 4) & (sides <= _MOST_LETTER * max(gray.shape))
    fit[0] = False  # the paper
    if fit.sum() < _LEAST_LETTERS:
        return np.zeros_like(ink), 0.0
    counts = np.cumsum(np.bincount(sides[fit], minlength=sides[fit].max() + 2))
    sizes = np.arange(4, int(sides[fit].max()) + 1)
    upto = np.minimum((1.5 * sizes).astype(int), len(counts) - 1)
    alike = counts[upto] - counts[np.ceil(0.6 * sizes).astype(int) - 1]
    letter_px = float(sizes[(alike * sizes).argmax()])  # symbols are larger, but fewer
    fit &= (sides >= 0.6 * letter_px) & (sides <= 1.5 * letter_px)
    return np.asarray(fit[labels], dtype=np.uint8), letter_px


def _runs_along(mask: Gray, letter_px: float) -> int:
    """Runs of letters side by side, at least twice as wide as high."""
    if not letter_px:
        return 0
    gap = max(2, round(0.5 * letter_px))
    framed = cv2.copyMakeBorder(mask, gap, gap, gap, gap, cv2.BORDER_CONSTANT, value=(0, 0, 0, 0))
    joined = cv2.morphologyEx(framed, cv2.MORPH_CLOSE, np.ones((1, gap), np.uint8))
    stats = cv2.connectedComponentsWithStats(joined, connectivity=4)[2][1:]
    wide, high = stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT]
    fit = (wide >= 2 * high) & (high >= 0.6 * letter_px) & (high <= 1.7 * letter_px)
    return int(fit.sum())


def straighten(picture: Image.Image, angle_deg: float) -> Image.Image:
    """The picture turned by a small angle, same size, corners filled with paper."""
    if not angle_deg:
        return picture
    pixels = np.asarray(picture if picture.mode in ("L", "RGB") else picture.convert("L"))
    step = max(1, max(pixels.shape[:2]) // _FEW_PX)
    paper = int(np.percentile(pixels[step // 2 :: step, step // 2 :: step], 80))
    return Image.fromarray(_rotated(pixels, angle_deg, paper, cv2.INTER_LINEAR))


def _rotated(pixels: Gray, angle_deg: float, fill: int, how: int) -> Gray:
    """Pixels turned counter-clockwise about the middle, same size."""
    height, width = pixels.shape[:2]
    matrix = cv2.getRotationMatrix2D(((width - 1) / 2, (height - 1) / 2), angle_deg, 1.0)
    turned = cv2.warpAffine(
        pixels, matrix, (width, height), flags=how, borderValue=(fill, fill, fill, fill)
    )
    return np.asarray(turned, dtype=np.uint8)


def turn(picture: Image.Image, clockwise_deg: int) -> Image.Image:
    """The picture turned by quarter turns, without loss."""
    turns = {
        90: Image.Transpose.ROTATE_270,
        180: Image.Transpose.ROTATE_180,
        270: Image.Transpose.ROTATE_90,
    }
    return picture.transpose(turns[clockwise_deg]) if clockwise_deg % 360 else picture


def look(picture: Image.Image) -> PictureFacts:
    """Ink, long strokes, rows of small blobs and continuous tone, each as a share (0 to 1)."""
    copy = small_copy(picture)
    gray = np.asarray(copy)
    mask = ink_mask(gray)
    total = float(mask.sum())
    if total == 0:
        return PictureFacts(phash=perceptual_hash(copy))
    length = max(10, int(max(gray.shape) * _LONG_STROKE_SHARE))
    strokes = _runs(mask, length) | _runs(mask.T, length).T
    return PictureFacts(
        ink=round(total / mask.size, 4),
        long_lines=round(float((strokes & mask).sum()) / total, 4),
        text_like=round(_text_share(mask & ~strokes), 4),
        photo_like=round(_tone_share(gray), 4),
        phash=perceptual_hash(copy),
    )


def may_show_plates(picture: Image.Image) -> bool:
    """Whether a grey picture has black patches long enough to hold a word printed white on black.

    Heavy print counts as such too: none may be missed. Taken on a small copy.
    """
    gray = np.asarray(small_copy(picture))
    paper = int(np.percentile(gray[::_PAPER_STEP, ::_PAPER_STEP], 80))
    black = cv2.compare(gray, np.full_like(gray, int(_BLACK * paper)), cv2.CMP_LT)
    along, across = _PLATE_PX, _PLATE_PX[::-1]
    return any(cv2.blur(black, size).max() >= 255 * _PLATE_BLACK for size in (along, across))


def unread_share(picture: Image.Image, reading: PageReading) -> float:
    """Share (0 to 1) of the page that holds ink like lettering or symbols where nothing was read;
    of a wide page, the greater one of its two halves.

    `picture` is the page as filed; it is laid as the reading lay it. On 50 drawn pages lists and
    charts stay under 0.07, schematics are over 0.11.
    """
    copy = straighten(turn(small_copy(picture), reading.rotation_deg), reading.skew_deg)
    mask = ink_mask(np.asarray(copy))
    length = max(10, int(max(mask.shape) * _LONG_STROKE_SHARE))
    mask &= ~(_runs(mask, length) | _runs(mask.T, length).T)
    scale = copy.width / max(1, reading.width_px)
    read = np.zeros_like(mask)
    for word in reading.words:
        if word.confidence >= 0.5:
            top, left = (max(0, int(side * scale) - 3) for side in (word.box.top, word.box.left))
            read[top : int(word.box.bottom * scale) + 3, left : int(word.box.right * scale) + 3] = 1
    halves = 2 if copy.width >= _SPREAD * copy.height else 1  # one of two pages may be a drawing
    return max(
        _unread(*half)
        for half in zip(
            np.array_split(mask, halves, axis=1), np.array_split(read, halves, axis=1), strict=True
        )
    )


def _unread(ink: NDArray[np.bool_], read: NDArray[np.bool_]) -> float:
    """Share of the squares that hold lettering where hardly anything was read."""
    density, covered = _cells(ink), _cells(read)
    lettering = (density > 0.04) & (density < 0.5)
    return float((lettering & (covered < 0.2)).mean()) if lettering.size else 0.0


def perceptual_hash(picture: Image.Image) -> str:
    """A 64-bit hash (16 hex digits) that changes little between two scans of one page:
    the signs of the lowest cosine frequencies of a 32 x 32 copy."""
    side, keep = 32, 8
    values = np.asarray(
        picture.convert("L").resize((side, side), Image.Resampling.BOX), dtype=np.float64
    )
    k, n = np.arange(keep)[:, None], np.arange(side)[None, :]
    basis = np.cos(np.pi * k * (2 * n + 1) / (2 * side))
    low = basis @ values @ basis.T
    bits = (low > np.median(low)).flatten()
    return f"{int(''.join('1' if bit else '0' for bit in bits), 2):016x}"


def _runs(mask: NDArray[np.bool_], length: int) -> NDArray[np.bool_]:
    """Pixels that lie in a horizontal run of ink at least `length` long (made odd)."""
    kernel = np.ones((1, length | 1), np.uint8)
    opened = cv2.morphologyEx(
        mask.astype(np.uint8),
        cv2.MORPH_OPEN,
        kernel,
        borderType=cv2.BORDER_CONSTANT,
        borderValue=(0, 0, 0, 0),
    )
    return np.asarray(opened, dtype=np.bool_)


def _text_share(mask: NDArray[np.bool_]) -> float:
    """Share of cells whose ink is in the middling range that lettering has."""
    density = _cells(mask)
    return float(((density > 0.06) & (density < 0.5)).mean()) if density.size else 0.0


def _cells(mask: NDArray[np.bool_], cell: int = 20) -> NDArray[np.float64]:
    """The share of set pixels in each square of `cell` pixels; what is left over is dropped."""
    height, width = (side - side % cell for side in mask.shape)
    cells = mask[:height, :width].reshape(height // cell, cell, width // cell, cell)
    share: NDArray[np.float64] = cells.mean(axis=(1, 3))
    return share


def _tone_share(gray: Gray) -> float:
    """Share of pixels that are neither paper nor ink: high for photographs, low for scans."""
    tones = np.bincount(gray.ravel(), minlength=256)
    upto = np.cumsum(tones)
    low, high = (int(np.searchsorted(upto, share * upto[-1])) for share in (0.02, 0.9))
    if high - low < 20:
        return 0.0
    edge = 0.25 * (high - low)
    first, last = int(low + edge) + 1, math.ceil(high - edge)
    return float(tones[first:last].sum() / upto[-1])
