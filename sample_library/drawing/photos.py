"""Photographs of labels: drawn flat, then put in perspective with uneven light."""

from __future__ import annotations

import math

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from .fonts import face
from .wear import _smooth

Colour = tuple[int, int, int]
W_PX, H_PX = 2000, 1500


def _perspective(size: tuple[int, int], corners: list[tuple[float, float]]) -> list[float]:
    """Coefficients that lay a flat picture of that size on four corners (clockwise)."""
    w, h = size
    rows, right = [], []
    for (x, y), (u, v) in zip(corners, ((0, 0), (w, 0), (w, h), (0, h)), strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return [float(v) for v in np.linalg.solve(np.array(rows), np.array(right))]


def _shoot(
    flat: Image.Image,
    ground: Image.Image,
    corners: list[tuple[float, float]],
    seed: int,
    glare: tuple[float, float, float],
    blur: float,
) -> Image.Image:
    """Lay the label on its ground, light it from one side, add glare, blur and sensor noise."""
    rng = np.random.default_rng(seed)
    terms = _perspective(flat.size, corners)
    lay = flat.transform((W_PX, H_PX), Image.Transform.PERSPECTIVE, terms, Image.Resampling.BICUBIC)
    scene = ground.copy()
    shadow = Image.new("L", (W_PX, H_PX), 0)
    ImageDraw.Draw(shadow).polygon([(x + 10, y + 12) for x, y in corners], fill=110)
    scene.paste((20, 18, 16), (0, 0), shadow.filter(ImageFilter.GaussianBlur(9)))
    scene.paste(lay, (0, 0), lay.getchannel("A"))
    light = np.asarray(scene.convert("RGB"), dtype=np.float32)
    yy, xx = np.mgrid[0:H_PX, 0:W_PX].astype(np.float32)
    fall = 1.06 - 0.34 * (xx / W_PX) ** 1.3 - 0.16 * (yy / H_PX)
    fall += _smooth(rng, W_PX, H_PX, 300) * 0.03
    gx, gy, gr = glare
    shine = np.exp(-(((xx - gx) / gr) ** 2 + ((yy - gy) / (gr * 0.5)) ** 2))
    light = light * fall[..., None] + shine[..., None] * 95
    soft = Image.fromarray(np.clip(light, 0, 255).astype(np.uint8)).filter(
        ImageFilter.GaussianBlur(blur)
    )
    noisy = np.asarray(soft, dtype=np.float32) + rng.standard_normal((H_PX, W_PX, 1)) * 4
    return Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))


def _metal(seed: int) -> Image.Image:
    """Plated steel with rubbed streaks, rust near the edges, and a few screws."""
    rng = np.random.default_rng(seed)
    streak = np.repeat(rng.standard_normal((H_PX, W_PX // 40)).astype(np.float32), 40, axis=1) * 5
    tone = 158 + streak + _smooth(rng, W_PX, H_PX, 350) * 12
    rust = np.clip(_smooth(rng, W_PX, H_PX, 45) - 1.5, 0, 1)
    planes = [tone - rust * 60, tone - 4 - rust * 85, tone - 16 - rust * 105]
    out = Image.fromarray(np.dstack([np.clip(p, 0, 255).astype(np.uint8) for p in planes]))
    pen = ImageDraw.Draw(out)
    for x, y in ((140, 160), (1850, 1330)):
        pen.ellipse(
            [x - 60, y - 60, x + 60, y + 60], fill=(112, 108, 98), outline=(60, 58, 52), width=6
        )
        pen.line([(x - 42, y - 30), (x + 42, y + 30)], fill=(48, 46, 42), width=12)
    return out


def _wood(seed: int) -> Image.Image:
    """The inside of a cabinet: brown, with grain."""
    rng = np.random.default_rng(seed)
    grain = np.repeat(rng.standard_normal((H_PX // 6, 1)).astype(np.float32), 6, axis=0)
    tone = grain * 9 + _smooth(rng, W_PX, H_PX, 200)[: H_PX // 6 * 6] * 8
    planes = [base + tone for base in (116, 82, 54)]
    return Image.fromarray(np.dstack([np.clip(p, 0, 255).astype(np.uint8) for p in planes])).resize(
        (W_PX, H_PX)
    )


def _paper(w: int, h: int, tone: Colour, seed: int, torn: bool = False) -> Image.Image:
    """Aged paper with blotches and, if torn, a missing corner."""
    rng = np.random.default_rng(seed)
    field = _smooth(rng, w, h, 130) * 7 + _smooth(rng, w, h, 30) * 2.5
    out = Image.fromarray(np.dstack([np.clip(c + field, 0, 255).astype(np.uint8) for c in tone]))
    out = out.convert("RGBA")
    if torn:
        hole = Image.new("L", (w, h), 255)
        edge = [(w, h), (w - 190, h)]
        edge += [
            (w - 190 + i * 22 + int(rng.integers(-9, 9)), h - i * 17 - int(rng.integers(0, 14)))
            for i in range(1, 9)
        ] + [(w, h - 170)]
        ImageDraw.Draw(hole).polygon(edge, fill=0)
        out.putalpha(hole)
    return out


def _lines(image: Image.Image, rows: list[tuple[str, str, int, float]], ink: Colour) -> None:
    pen = ImageDraw.Draw(image)
    for words, font, size, y in rows:
        pen.text((image.width / 2, y), words, fill=ink, font=face(font, size), anchor="mm")


def chassis_stamp() -> Image.Image:
    """An ink stamp on the rear apron of a chassis, with its serial number struck in."""
    flat = Image.new("RGBA", (1500, 620), (0, 0, 0, 0))
    mask = Image.new("L", flat.size, 0)
    pen = ImageDraw.Draw(mask)
    pen.rounded_rectangle([20, 20, 1480, 600], 30, outline=225, width=8)
    for words, size, y in (
        ("TILLBROOK RADIO MFG. CO.", 84, 110),
        ("CHASSIS  CH-41A", 132, 265),
        ("105-125 VOLTS  A.C. OR D.C.  35 WATTS", 56, 400),
        ("SERIAL  48213", 78, 510),
    ):
        pen.text(
            (750, y),
            words,
            fill=228,
            font=face("stencil" if "SER" in words else "sans bold", size),
            anchor="mm",
        )
    rng = np.random.default_rng(71)
    worn = np.asarray(mask, dtype=np.float32) * np.clip(
        1.0 + _smooth(rng, 1500, 620, 12) * 0.17, 0.45, 1
    )
    ink = Image.new("RGBA", flat.size, (34, 36, 58, 255))
    ink.putalpha(Image.fromarray(np.clip(worn, 0, 255).astype(np.uint8)))
    ground = _metal(72)
    corners = [(250.0, 420.0), (1720.0, 330.0), (1760.0, 960.0), (230.0, 1010.0)]
    terms = _perspective(flat.size, corners)
    lay = ink.transform((W_PX, H_PX), Image.Transform.PERSPECTIVE, terms, Image.Resampling.BICUBIC)
    ground.paste(lay, (0, 0), lay.getchannel("A"))
    empty = Image.new("RGBA", flat.size, (0, 0, 0, 0))
    return _shoot(
        empty,
        ground,
        [(-90.0, -90.0), (-80.0, -90.0), (-80.0, -80.0), (-90.0, -80.0)],
        73,
        (1500, 260, 330),
        1.5,
    )


def layout_label() -> Image.Image:
    """A paper label with the tubes drawn as sockets, glued inside a cabinet."""
    flat = _paper(1560, 1040, (208, 184, 138), 81)
    ink = (44, 34, 28)
    pen = ImageDraw.Draw(flat)
    pen.rectangle([24, 24, 1536, 1016], outline=ink, width=6)
    _lines(
        flat,
        [
            ("VANTRICE RADIO AND PHONOGRAPH CORP.", "geometric bold", 58, 86),
            ("MODEL 12-L      TUBE LAYOUT", "sans bold", 66, 174),
            ("REPLACE TUBES ONLY WITH THE SAME TYPES. 105-125 VOLTS A.C. OR D.C.", "sans", 37, 968),
        ],
        ink,
    )
    sockets = (
        ("12SA7", "CONVERTER", 250, 390),
        ("12SK7", "I.F. AMP.", 640, 390),
        ("12SQ7", "DET. & AUDIO", 1040, 430),
        ("50L6", "OUTPUT", 900, 730),
        ("35Z5", "RECTIFIER", 480, 730),
    )
    for tube, job, x, y in sockets:
        pen.ellipse([x - 122, y - 122, x + 122, y + 122], outline=ink, width=7)
        for k in range(8):
            a = 2 * math.pi * (k + 0.5) / 8
            px, py = x + math.cos(a) * 98, y + math.sin(a) * 98
            pen.ellipse([px - 7, py - 7, px + 7, py + 7], fill=ink)
        pen.text((x, y), tube, fill=ink, font=face("sans bold", 54), anchor="mm")
        pen.text((x, y + 152), job, fill=ink, font=face("sans", 36), anchor="mm")
    pen.rectangle([1220, 560, 1480, 860], outline=ink, width=6)
    pen.text((1350, 710), "SPEAKER", fill=ink, font=face("sans", 44), anchor="mm")
    return _shoot(
        flat,
        _wood(82),
        [(190.0, 180.0), (1790.0, 110.0), (1850.0, 1290.0), (140.0, 1380.0)],
        83,
        (520, 330, 260),
        1.3,
    )


def rating_label() -> Image.Image:
    """A small printed label with a corner torn away: maker, model, chassis, rating."""
    flat = _paper(1400, 900, (222, 208, 172), 91, torn=True)
    ink = (60, 24, 22)
    pen = ImageDraw.Draw(flat)
    gone = flat.getchannel("A")
    pen.rectangle([26, 26, 1374, 874], outline=ink, width=8)
    flat.putalpha(gone)
    _lines(
        flat,
        [
            ("LARKMOOR", "roman bold", 150, 138),
            ("MFG. COMPANY", "roman", 58, 238),
            ("MODEL 62-C", "roman bold", 118, 376),
            ("CHASSIS LK-62", "roman bold", 92, 506),
            ("TUBES  12SA7  12SK7  12SQ7  50L6  35Z5", "sans bold", 58, 622),
            ("105-120 VOLTS  A.C. - D.C.  30 WATTS", "sans", 52, 712),
            ("DO NOT GROUND THIS SET", "sans", 44, 796),
        ],
        ink,
    )
    return _shoot(
        flat,
        _wood(92),
        [(300.0, 250.0), (1660.0, 330.0), (1620.0, 1230.0), (340.0, 1270.0)],
        93,
        (1180, 420, 300),
        1.5,
    )
