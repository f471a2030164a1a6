"""Draws the whole shelf and its ground truth: python -m sample_library.drawing [FOLDER]."""

from __future__ import annotations

import random
import shutil
import sys
import time
from pathlib import Path

from PIL import Image

from . import annual, binding, loose, notes, photos, sets_annual, sets_loose
from .sheet import Printed, Sheet
from .truth import Truth
from .wear import bitonal, photocopy

HOME = Path(__file__).resolve().parents[1]


def _scan(sheet: Sheet, seed: int, holes: int = 0) -> Image.Image:
    """A bitonal scan with its own skew and tone."""
    rng = random.Random(seed)
    return bitonal(sheet.image, seed, rng.uniform(-0.9, 0.9), rng.uniform(-2, 32), holes=holes)


def draw_annual(shelf: Path, truth: Truth) -> None:
    """The bound annual as one image-only PDF."""
    leaves = annual.leaves()
    pages = []
    for n, leaf in enumerate(leaves, 1):
        sheet = leaf.draw()
        pages.append(_scan(sheet, 4000 + n))
        truth.page(annual.FILE, n, leaf.printed, sheet.printed)
    binding.pdf(
        shelf / annual.FILE, pages, [leaf.printed for leaf in leaves], "Service annual, volume 4"
    )


def draw_booklet(shelf: Path, truth: Truth) -> None:
    """The DjVu booklet, one of its pages with a hidden text layer."""
    pages, hidden = [], {}
    for n, (printed, sheet) in enumerate(loose.booklet(), 1):
        if n == 6:
            hidden[n] = sheet
        pages.append(_scan(sheet, 4100 + n, holes=3))
        truth.page(loose.BOOKLET_FILE, n, printed, sheet.printed)
    binding.djvu(shelf / loose.BOOKLET_FILE, pages, hidden)


def draw_frames(shelf: Path, truth: Truth) -> None:
    """The four-frame TIFF."""
    pages = []
    for n, sheet in enumerate(loose.frames(), 1):
        pages.append(_scan(sheet, 4200 + n, holes=2))
        truth.page(loose.TIFF_FILE, n, None, sheet.printed)
    binding.tiff(shelf / loose.TIFF_FILE, pages)


def _scaled(sheet: Sheet, dpi: int) -> Image.Image:
    w, h = sheet.image.size
    return sheet.image.resize((w * dpi // 300, h * dpi // 300), Image.Resampling.LANCZOS)


def draw_sheets(shelf: Path, truth: Truth) -> None:
    """Loose sheets: upside down, sideways, grey, yellowed."""
    down = loose.whole(sets_loose.O31T, "31-T", "schematic", "voltage", "notes")
    image = photocopy(_scaled(down, 250), 51, 0.6).rotate(180)
    binding.jpeg(shelf / "loose/IMG_0231.jpg", image, 62)
    truth.page("loose/IMG_0231.jpg", 1, None, down.printed, 180)
    side = loose.whole(sets_loose.QQ58, "Q-58", "schematic", "layout", "voltage")
    image = photocopy(_scaled(side, 250), 52, -0.7, (246, 238, 214)).rotate(90, expand=True)
    binding.jpeg(shelf / "loose/scan0007.jpg", image, 62)
    truth.page("loose/scan0007.jpg", 1, None, side.printed, 90)
    for n, names in ((1, ("schematic", "voltage", "notes")), (2, ("parts", "alignment", "layout"))):
        sheet = loose.whole(sets_loose.VM37, f"M-37 {n}", *names, first=n == 1)
        file = f"loose/vantrice m37 sheet {n}.png"
        binding.png(shelf / file, photocopy(_scaled(sheet, 225), 53 + n, 0.8 - n * 0.6, None, 2.5))
        truth.page(file, 1, None, sheet.printed)
    for n, names in (
        (1, ("schematic:1900", "voltage")),
        (2, ("parts", "alignment", "notes", "layout")),
    ):
        sheet = loose.whole(sets_loose.O190, f"190-X {n}", *names, first=n == 1)
        file = f"loose/oxbarrow 190 {'ab'[n - 1]}.jpg"
        binding.jpeg(
            shelf / file, photocopy(_scaled(sheet, 250), 55 + n, 2.4 - n * 0.5, (236, 214, 160)), 60
        )
        truth.page(file, 1, None, sheet.printed)


def draw_photos(shelf: Path, truth: Truth) -> None:
    """Label photographs, each an entry of its own."""
    octal = ["12SA7", "12SK7", "12SQ7", "50L6", "35Z5"]
    for file, image, set_id, maker, models, chassis, tubes, kind in (
        (
            "photos/chassis stamp.jpg",
            photos.chassis_stamp(),
            "photo-tillbrook-ch-41a",
            "Tillbrook",
            [],
            ["CH-41A"],
            [],
            "cover or other",
        ),
        (
            "photos/inside cabinet.jpg",
            photos.layout_label(),
            "photo-vantrice-12-l",
            "Vantrice",
            ["12-L"],
            [],
            octal,
            "tube layout",
        ),
        (
            "photos/P1010044.jpg",
            photos.rating_label(),
            "photo-larkmoor-62-c",
            "Larkmoor",
            ["62-C"],
            ["LK-62"],
            octal,
            "cover or other",
        ),
    ):
        truth.enter(set_id, maker, models, chassis, tubes, None, None, "series string")
        what = Printed()
        what.kind(kind, set_id)
        what.add("models", models)
        what.add("chassis", chassis)
        what.tubes(set_id, tubes)
        binding.jpeg(shelf / file, image, 82)
        truth.page(file, 1, None, what)


def main(home: Path) -> None:
    """Draw everything under home, replacing what the shelf had."""
    shelf = home / "shelf.new"
    shutil.rmtree(shelf, ignore_errors=True)
    for folder in ("loose", "photos"):
        (shelf / folder).mkdir(parents=True)
    truth = Truth()
    for rx in (*sets_annual.ALL, *sets_loose.BOOKLET, *sets_loose.LOOSE):
        truth.receiver(rx)
    for step in (draw_annual, draw_booklet, draw_frames, draw_sheets, draw_photos, notes.write):
        start = time.perf_counter()
        step(shelf, truth)
        print(f"{step.__name__}: {time.perf_counter() - start:.1f} s", file=sys.stderr)
    shutil.rmtree(home / "shelf", ignore_errors=True)
    shelf.rename(home / "shelf")
    truth.write(home / "truth.json")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HOME)
