"""What years and scanners do to a page, from a seed: skew, uneven copying, specks, edges."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

Grey = NDArray[np.float32]


def _smooth(rng: np.random.Generator, w: int, h: int, cell: int) -> Grey:
    """A smooth random field in about -1..1 with features of cell pixels."""
    small = rng.standard_normal((h // cell + 2, w // cell + 2)).astype(np.float32)
    big = Image.fromarray(small).resize((w, h), Image.Resampling.BICUBIC)
    return np.asarray(big, dtype=np.float32)


def skew(image: Image.Image, degrees: float, paper: int = 255) -> Image.Image:
    """Turn the page a little, keeping its size."""
    return image.rotate(degrees, Image.Resampling.BICUBIC, fillcolor=paper)


def bitonal(
    page: Image.Image,
    seed: int,
    degrees: float,
    tone: float = 0.0,
    edge: bool = True,
    holes: int = 0,
) -> Image.Image:
    """A black-and-white scan of the page; tone > 0 makes strokes bolder, < 0 breaks them."""
    rng = np.random.default_rng(seed)
    if holes:
        _holes(page, holes)
    soft = skew(page, degrees).filter(ImageFilter.GaussianBlur(0.9))
    grey = np.asarray(soft, dtype=np.float32)
    h, w = grey.shape
    uneven = _smooth(rng, w, h, 420) * 9 + _smooth(rng, w, h, 5) * 18
    out = (grey > 128 + tone + uneven).astype(np.uint8) * 255
    result = Image.fromarray(out)
    _specks(result, rng, 130)
    if edge:
        _edges(result, rng)
    return result.convert("1", dither=Image.Dither.NONE)


def _holes(page: Image.Image, count: int) -> None:
    pen = ImageDraw.Draw(page)
    for i in range(count):
        y = page.height * (i + 1) / (count + 1)
        pen.ellipse([18, y - 40, 98, y + 40], fill=0)


def _specks(image: Image.Image, rng: np.random.Generator, count: int) -> None:
    pen = ImageDraw.Draw(image)
    for _ in range(count):
        x, y = rng.integers(0, image.width), rng.integers(0, image.height)
        r = float(rng.choice([0.5, 1, 1, 1.5, 2, 3]))
        pen.ellipse([x - r, y - r, x + r * rng.uniform(0.6, 1.6), y + r], fill=0)
    for _ in range(int(rng.integers(0, 3))):
        x, y = rng.integers(0, image.width), rng.integers(0, image.height)
        pen.line([(x, y), (x + rng.integers(-60, 60), y + rng.integers(20, 90))], fill=0, width=2)


def _edges(image: Image.Image, rng: np.random.Generator) -> None:
    """A ragged black border where the scanner saw past the paper."""
    pen = ImageDraw.Draw(image)
    w, h = image.size
    for side in rng.permutation(4)[: int(rng.integers(1, 3))]:
        depth = int(rng.integers(12, 60))
        lean = int(rng.integers(-10, 34))
        far = max(2, depth + lean)
        pen.polygon(
            {
                0: [(0, 0), (depth, 0), (far, h), (0, h)],
                1: [(w, 0), (w - depth, 0), (w - far, h), (w, h)],
                2: [(0, 0), (w, 0), (w, depth // 2), (0, far // 2)],
                3: [(0, h), (w, h), (w, h - depth // 2), (0, h - far // 2)],
            }[int(side)],
            fill=0,
        )


def photocopy(
    page: Image.Image,
    seed: int,
    degrees: float,
    tint: tuple[int, int, int] | None = None,
    grain: float = 5.0,
) -> Image.Image:
    """A grey or tinted scan: paper tone, shading toward one side, stains and grain."""
    rng = np.random.default_rng(seed)
    soft = skew(page, degrees, 236).filter(ImageFilter.GaussianBlur(1.0))
    ink = 1 - np.asarray(soft, dtype=np.float32) / 255
    h, w = ink.shape
    yy, xx = np.mgrid[0:h, 0:w].astype(np.float32)
    shade = 1 - 0.10 * (xx / w) ** 3 - 0.06 * (1 - yy / h) ** 4
    shade += (
        _smooth(rng, w, h, 500) * 0.02
        + rng.standard_normal((h, w)).astype(np.float32) * grain / 255
    )
    for _ in range(2):
        cx, cy, r = rng.uniform(0, w), rng.uniform(0, h), rng.uniform(140, 420)
        d = np.hypot(xx - cx, yy - cy) / r
        shade -= 0.05 * np.exp(-((d - 1) ** 2) * 60) + 0.02 * (d < 1)
    paper = shade * 226 if tint is None else shade
    weight = ink * (0.9 + _smooth(rng, w, h, 260) * 0.05)
    if tint is None:
        grey = paper * (1 - weight) + 42 * weight
        return Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8))
    planes = [
        np.clip(c * paper * (1 - weight) + dark * weight, 0, 255).astype(np.uint8)
        for c, dark in zip(tint, (56, 46, 40), strict=True)
    ]
    return Image.fromarray(np.dstack(planes))
