"""A label as a camera sees it: wood behind, perspective, uneven light, glare, noise."""

from dataclasses import replace

import cv2
import numpy as np
from PIL import Image, ImageDraw

from tests.accuracy.press.paper import Page, Paper, Points


def photographed(paper: Paper, split: str, layout: str) -> Page:
    """The paper's page as a photo; the light is low on some, glare falls on all."""
    rng = np.random.default_rng(paper.rng.randrange(1 << 30))
    hard = split == "report"
    wide, high = paper.image.size
    size = ((2400, 1800), (2000, 1500), (1600, 1200), (1280, 960))[int(rng.integers(4))]
    ink = 1 - np.asarray(paper.image, dtype=np.float32) / 255
    tone = np.array(((214, 190, 146), (226, 212, 178), (196, 186, 170))[int(rng.integers(3))])
    flat = tone * (1 - ink[..., None] * 0.8) + smooth(rng, *paper.image.size, 120)[..., None] * 7
    base = smooth(rng, *size, 200) * 10 + np.repeat(rng.normal(0, 7, (size[1], 1)), size[0], 1)
    scene = np.array((112, 80, 54)) + base[..., None]
    w, h = size
    slack = 0.11 if hard else 0.08
    corners = np.array([(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)])
    corners = (corners + rng.uniform(-slack, slack, (4, 2))) * (w, h)
    source = np.array([(0, 0), (wide, 0), (wide, high), (0, high)], dtype=np.float32)
    lay = cv2.getPerspectiveTransform(source, corners.astype(np.float32))
    mask = cv2.warpPerspective(np.ones((high, wide), np.float32), lay, size, flags=cv2.INTER_AREA)
    laid = cv2.warpPerspective(flat.astype(np.float32), lay, size, flags=cv2.INTER_LINEAR)
    scene = scene * (1 - mask[..., None]) + laid * mask[..., None]
    yy, xx = np.mgrid[0:h, 0:w].astype(np.float32)
    dark = float(rng.choice((1.0, 0.75, 0.4 if hard else 0.5)))
    light = dark * (1.05 - rng.uniform(0.2, 0.5) * (xx / w) - 0.15 * (yy / h))
    gx, gy, gr = rng.uniform(0, w), rng.uniform(0, h), rng.uniform(0.08, 0.16) * w
    glare = np.exp(-(((xx - gx) / gr) ** 2 + ((yy - gy) / (gr * 0.6)) ** 2)) * rng.uniform(40, 110)
    scene = scene * light[..., None] + glare[..., None]
    scene = cv2.GaussianBlur(scene, (0, 0), float(rng.uniform(0.6, 1.9 if hard else 1.6)))
    scene = scene + rng.normal(0, rng.uniform(2, 7), scene.shape)
    picture = Image.fromarray(np.clip(scene, 0, 255).astype(np.uint8))

    def by(points: Points) -> Points:
        full = np.c_[points, np.ones(len(points))] @ lay.T
        return np.asarray(full[:, :2] / full[:, 2:], dtype=np.float64)

    wear = "photo, low light" if dark < 0.7 else "photo"
    return replace(paper.page("photo", f"{layout} {w} x {h}").moved(picture, by), wear=wear)


def smooth(rng: np.random.Generator, w: int, h: int, cell: int) -> np.ndarray:
    """A smooth chance field in about -1 … 1 with features of `cell` pixels."""
    small = rng.standard_normal((h // cell + 2, w // cell + 2)).astype(np.float32)
    big = Image.fromarray(small).resize((w, h), Image.Resampling.BICUBIC)
    return np.asarray(big, dtype=np.float32)


def holes(image: Image.Image, count: int) -> None:
    """Punch holes down the left edge."""
    pen = ImageDraw.Draw(image)
    for n in range(count):
        y = image.height * (n + 1) / (count + 1)
        pen.ellipse([20, y - 40, 100, y + 40], fill=0)
