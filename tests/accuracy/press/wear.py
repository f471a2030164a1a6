"""What years, copiers and scanners do to a page; every word's corners move along."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import cv2
import numpy as np
from PIL import Image, ImageDraw

from tests.accuracy.press.paper import Page, Points
from tests.accuracy.press.photo import holes, smooth


@dataclass(frozen=True)
class Wear:
    """One kind of wear. Angles in degrees, lengths in pixels at 300 dpi; 0 leaves a step out.

    `bitonal` scans to black and white; `copies` is how often the page went through a copier;
    `bleed` the share of the other side's ink that shows; `broken` the mean share of the ink that
    is lost in small gaps.
    """

    name: str
    dpi: int = 300
    bitonal: bool = True
    skew_deg: float = 0.8
    warp_px: float = 0.0
    blur_px: float = 0.7
    yellow: float = 0.0
    bleed: float = 0.0
    broken: float = 0.0
    copies: int = 0
    borders: bool = False
    holes: int = 0
    jpeg: int = 0
    turn_deg: int = 0
    beside: bool = False

    @property
    def suffix(self) -> str:
        """The kind of file a page of this wear is kept in."""
        return ".jpg" if self.jpeg else ".tif"


WEARS = {
    "look": (
        Wear("bitonal 300"),
        Wear("grey, yellowed, jpeg 200", dpi=200, bitonal=False, yellow=0.7, jpeg=55, skew_deg=1),
        Wear("bitonal 150", dpi=150, skew_deg=0.6),
        Wear("photocopied twice", copies=2, skew_deg=1.2),
        Wear("bitonal 400, borders, holes", dpi=400, borders=True, holes=3, skew_deg=1.6),
        Wear("bleed-through, warped", bitonal=False, bleed=0.16, warp_px=9, yellow=0.3, jpeg=70),
        Wear("quarter turn", turn_deg=90),
        Wear("broken strokes", broken=0.08),
        Wear("two pages on one scan", beside=True, borders=True),
        Wear("upside down", turn_deg=180, skew_deg=1.0),
        Wear("grey, blurred", bitonal=False, blur_px=1.9, dpi=240, jpeg=60),
    ),
    "report": (
        Wear("grey 300", bitonal=False, blur_px=1.1, skew_deg=1.4),
        Wear("bitonal 200, borders", dpi=200, borders=True, skew_deg=1.3),
        Wear("upside down", turn_deg=180, skew_deg=1.5),
        Wear("photocopied twice", copies=2, skew_deg=1.7, borders=True),
        Wear("bleed-through, warped", bitonal=False, bleed=0.2, warp_px=13, yellow=0.5, jpeg=60),
        Wear("bitonal 300, holes", holes=2, skew_deg=2.2),
        Wear("two pages on one scan", beside=True, dpi=240),
        Wear("bitonal 150", dpi=150, skew_deg=1.0),
        Wear("quarter turn", turn_deg=270, bitonal=False),
        Wear("broken strokes", broken=0.1, skew_deg=1.1),
        Wear("bitonal 400", dpi=400, skew_deg=0.7),
        Wear("grey, blurred", bitonal=False, blur_px=1.8, dpi=250, jpeg=65),
        Wear("yellowed, jpeg 240", dpi=240, bitonal=False, yellow=1.0, jpeg=45, blur_px=1.3),
    ),
}


def worn(page: Page, how: Wear, seed: int, other: Callable[[], Page]) -> Page:
    """The page after that wear; `other` gives a page for the other side or the other half."""
    rng = np.random.default_rng(seed)
    if how.beside:
        page = _beside(page, other())
    if how.holes:
        holes(page.picture, how.holes)
    if how.warp_px:
        page = _warped(page, how.warp_px, rng)
    for _ in range(how.copies):
        page = _skewed(page, float(rng.uniform(-0.6, 0.6)))
        grey = np.asarray(page.picture, dtype=np.float32)
        page = replace(page, picture=_as_image(_toned(grey, rng)))
    page = _skewed(page, float(rng.uniform(0.4, 1.0) * rng.choice((-1, 1)) * how.skew_deg))
    grey = np.asarray(page.picture, dtype=np.float32)
    if how.bleed:
        behind = np.asarray(other().picture.resize(page.picture.size), dtype=np.float32)[:, ::-1]
        behind = cv2.GaussianBlur(np.ascontiguousarray(behind), (0, 0), 2.0)
        grey = np.minimum(grey, 255 - (255 - behind) * how.bleed)
    if how.dpi != page.dpi:
        page = _resized(replace(page, picture=_as_image(grey)), how.dpi / page.dpi, how.dpi)
        grey = np.asarray(page.picture, dtype=np.float32)
    picture = _bitonal(grey, rng, how) if how.bitonal else _shaded(grey, rng, how)
    if how.borders:
        _borders(picture, rng, how.dpi)
    if how.bitonal:
        picture = picture.convert("1", dither=Image.Dither.NONE)
    page = replace(page, picture=picture, wear=how.name)
    return _turned(page, how.turn_deg) if how.turn_deg else page


def _as_image(grey: np.ndarray) -> Image.Image:
    return Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8))


def _toned(grey: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """One pass through a copier: blurred, specked, then pulled hard toward black and white.

    Set dark, as one does for faint originals: thin strokes roughen and fill in places.
    """
    h, w = grey.shape
    soft = cv2.GaussianBlur(grey, (0, 0), 1.2)
    soft = soft + smooth(rng, w, h, 400) * 10 + smooth(rng, w, h, 4) * 20
    return np.clip((soft - 148) * 3.0 + 128, 0, 255)


def _bitonal(grey: np.ndarray, rng: np.random.Generator, how: Wear) -> Image.Image:
    h, w = grey.shape
    soft = cv2.GaussianBlur(grey, (0, 0), how.blur_px * how.dpi / 300 + 0.2)
    level = 134 + smooth(rng, w, h, 420) * 8 + smooth(rng, w, h, 5) * 12
    white = soft > level
    if how.broken:
        white |= _gaps(rng, w, h, how.broken)
    image = Image.fromarray((white * 255).astype(np.uint8))
    pen = ImageDraw.Draw(image)
    for _ in range(150):
        x, y, r = rng.integers(0, w), rng.integers(0, h), float(rng.choice((0.5, 1, 1, 2, 3)))
        pen.ellipse([x - r, y - r, x + r, y + r], fill=0)
    return image


def _gaps(rng: np.random.Generator, w: int, h: int, share: float) -> np.ndarray:
    """Where ink has flaked off: small flecks over that share of the page, more here than there,
    at most 20 % anywhere, so that strokes break but no word is lost."""
    fleck = smooth(rng, w, h, 3)
    local = np.clip(share * (1 + smooth(rng, w, h, 260)), 0.02, 0.2)
    shares = np.linspace(0.01, 0.21, 21)
    levels = np.quantile(fleck[::7, ::7], 1 - shares)
    return np.asarray(fleck > np.interp(local, shares, levels))


def _shaded(grey: np.ndarray, rng: np.random.Generator, how: Wear) -> Image.Image:
    h, w = grey.shape
    soft = cv2.GaussianBlur(grey, (0, 0), how.blur_px)
    ink = (1 - soft / 255) * (0.86 + smooth(rng, w, h, 260) * 0.06)
    xx = np.linspace(0, 1, w, dtype=np.float32)[None, :]
    paper = 1 - 0.12 * xx**3 + smooth(rng, w, h, 500) * 0.03 + rng.normal(0, 0.02, (h, w))
    if not how.yellow:
        return _as_image(232 * paper * (1 - ink) + 40 * ink)
    tint = np.array((238, 232, 214)) - how.yellow * np.array((14, 34, 74))
    planes = tint[None, None] * (paper * (1 - ink))[..., None] + 44 * ink[..., None]
    return _as_image(planes)


def _borders(image: Image.Image, rng: np.random.Generator, dpi: int) -> None:
    """Black beyond the paper's edge at the left and the bottom, clear of the lettering."""
    pen, (w, h), scale = ImageDraw.Draw(image), image.size, dpi / 300
    ink = 0 if image.mode == "L" else (20, 18, 16)
    near, far = (int(rng.integers(15, 85) * scale) for _ in range(2))
    pen.polygon([(0, 0), (near, 0), (far, h), (0, h)], fill=ink)
    pen.polygon([(0, h), (w, h), (w, h - near // 3), (0, h - near // 2)], fill=ink)


def _beside(page: Page, other: Page) -> Page:
    """Two pages of one height on one scan, the second on the right."""
    height = page.picture.height
    scale = height / other.picture.height
    right = _resized(other, scale, page.dpi)
    both = Image.new("L", (page.picture.width + right.picture.width, height), 255)
    both.paste(page.picture, (0, 0))
    both.paste(right.picture, (page.picture.width, 0))
    shift, lines = page.picture.width, 1 + max(word.line for word in page.words)
    moved = tuple(
        replace(word, corners=np.add(word.corners, (shift, 0)), line=word.line + lines)
        for word in right.words
    )
    return replace(
        page, picture=both, words=page.words + moved, codes=page.codes | other.codes,
        listed=page.listed | other.listed, layout=f"{page.layout} + {other.layout}",
    )  # fmt: skip


def _resized(page: Page, scale: float, dpi: int) -> Page:
    size = (round(page.picture.width * scale), round(page.picture.height * scale))
    filter_ = Image.Resampling.BOX if scale < 1 else Image.Resampling.BICUBIC
    return replace(page.moved(page.picture.resize(size, filter_), lambda p: p * scale), dpi=dpi)


def _skewed(page: Page, angle_deg: float) -> Page:
    """Turned counter-clockwise by a small angle about the middle, size kept."""
    w, h = page.picture.size
    matrix = cv2.getRotationMatrix2D((w / 2, h / 2), angle_deg, 1.0)

    def by(points: Points) -> Points:
        return np.asarray(points @ matrix[:, :2].T + matrix[:, 2], dtype=np.float64)

    return page.moved(page.picture.rotate(angle_deg, Image.Resampling.BICUBIC, fillcolor=255), by)


def _warped(page: Page, amount_px: float, rng: np.random.Generator) -> Page:
    """Rows that rise and fall across the page, as paper does near a spine."""
    w, h = page.picture.size
    phase = float(rng.uniform(0, 6.28))
    xx, yy = np.meshgrid(np.arange(w, dtype=np.float32), np.arange(h, dtype=np.float32))
    rise = amount_px * np.sin(xx[0] / w * 6.28 + phase)
    grey = np.asarray(page.picture)
    bent = cv2.remap(grey, xx, yy - rise[None, :], cv2.INTER_LINEAR, borderValue=255)

    def by(points: Points) -> Points:
        lift = amount_px * np.sin(points[:, 0] / w * 6.28 + phase)
        return points + np.stack([np.zeros(len(points)), lift], axis=1)

    return page.moved(Image.fromarray(bent), by)


def _turned(page: Page, clockwise_deg: int) -> Page:
    """The picture as filed: to be turned clockwise by that much to be upright again."""
    w, h = page.picture.size
    flips = {90: Image.Transpose.ROTATE_90, 180: Image.Transpose.ROTATE_180,
             270: Image.Transpose.ROTATE_270}  # fmt: skip

    def by(points: Points) -> Points:
        x, y = points[:, 0], points[:, 1]
        moved = {90: (y, w - x), 180: (w - x, h - y), 270: (h - y, x)}[clockwise_deg]
        return np.stack(moved, axis=1)

    turned = page.moved(page.picture.transpose(flips[clockwise_deg]), by)
    return replace(turned, turned_deg=clockwise_deg)
