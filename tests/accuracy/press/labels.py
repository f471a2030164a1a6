"""Labels glued inside cabinets, photographed: sockets with their tubes, or a rating plate."""

import math

import cv2
import numpy as np
from PIL import Image, ImageDraw

from tests.accuracy.press.faces import families
from tests.accuracy.press.paper import Page, Paper, Points
from tests.accuracy.press.sets import EXTRAS, make_set
from tests.accuracy.press.wording import JOBS

_W, _H = 1560, 1060


def label_photo(seed: str, split: str, number: int) -> Page:
    """The photo of that number: a layout or a rating label in perspective, light uneven."""
    paper = Paper(seed, _W, _H)
    kind = families(split)[(number * 2 + 1) % len(families(split))]
    one = make_set(paper.rng, split)
    paper.pen.rectangle([20, 20, _W - 20, _H - 20], outline=0, width=6)
    paper.put(_W / 2, 90, f"{one.maker.upper()} RADIO CORP.", kind.bold, 58, "mm")
    paper.codes.update([one.models[0], one.chassis])
    words = f"MODEL {one.models[0]}   CHASSIS {one.chassis}"
    paper.put(_W / 2, 176, words, kind.bold, 54, "mm")
    extra = paper.rng.sample(EXTRAS, paper.rng.randrange(0, 4))
    tubes = [*one.tubes, *extra]
    if number % 3 == 2:
        for n in range(0, len(tubes), 4):
            line = "   ".join(tubes[n : n + 4])
            paper.put(_W / 2, 380 + 26 * n, line, kind.bold, 64, "mm")
        paper.put(_W / 2, 700, "105-125 VOLTS  30 WATTS", kind.body, 52, "mm")
    else:
        _sockets(paper, kind.bold, kind.body, tubes)
    caution = "REPLACE TUBES ONLY WITH THE SAME TYPES"
    paper.put(_W / 2, _H - 70, caution, kind.body, 40, "mm")
    return _photographed(paper, split)


def _sockets(paper: Paper, bold: str, body: str, tubes: list[str]) -> None:
    across = min(4, -(-len(tubes) // 2))
    for n, tube in enumerate(tubes):
        row, column = divmod(n, across)
        x = _W * (column + 0.5) / across + paper.rng.randrange(-25, 25)
        y = 370 + row * 300
        radius = 104
        paper.pen.ellipse([x - radius, y - radius, x + radius, y + radius], outline=0, width=6)
        for k in range(8):
            a = 2 * math.pi * (k + 0.5) / 8
            dx, dy = x + math.cos(a) * 84, y + math.sin(a) * 84
            paper.pen.ellipse([dx - 6, dy - 6, dx + 6, dy + 6], fill=0)
        size = 46 if len(tube) < 7 else 36
        paper.put(x, y, tube, bold, size, "mm")
        paper.put(x, y + 130, JOBS[min(n, 5)].upper()[:18], body, 30, "mm")


def _photographed(paper: Paper, split: str) -> Page:
    rng = np.random.default_rng(paper.rng.randrange(1 << 30))
    hard = split == "report"
    size = ((2400, 1800), (2000, 1500), (1600, 1200), (1280, 960))[int(rng.integers(4))]
    ink = 1 - np.asarray(paper.image, dtype=np.float32) / 255
    tone = np.array(((214, 190, 146), (226, 212, 178), (196, 186, 170))[int(rng.integers(3))])
    flat = tone * (1 - ink[..., None] * 0.8) + smooth(rng, _W, _H, 120)[..., None] * 7
    base = smooth(rng, *size, 200) * 10 + np.repeat(rng.normal(0, 7, (size[1], 1)), size[0], 1)
    scene = np.array((112, 80, 54)) + base[..., None]
    w, h = size
    slack = 0.11 if hard else 0.08
    corners = np.array([(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)])
    corners = (corners + rng.uniform(-slack, slack, (4, 2))) * (w, h)
    source = np.array([(0, 0), (_W, 0), (_W, _H), (0, _H)], dtype=np.float32)
    lay = cv2.getPerspectiveTransform(source, corners.astype(np.float32))
    mask = cv2.warpPerspective(np.ones((_H, _W), np.float32), lay, size, flags=cv2.INTER_AREA)
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
    page = paper.page("photo", f"{w} x {h}").moved(picture, by)
    return Page(**{**{k: getattr(page, k) for k in page.__dataclass_fields__}, "wear": wear})


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
