"""`python -m tests.accuracy.press.pages FOLDER --split look --pages 12` draws pages to look at."""

import argparse
import random
from collections.abc import Iterator
from pathlib import Path

from PIL import Image, ImageDraw

from tests.accuracy.press.drawings import schematic_page
from tests.accuracy.press.labels import label_photo
from tests.accuracy.press.paper import Page
from tests.accuracy.press.text_pages import text_page
from tests.accuracy.press.wear import WEARS, worn

GROUPS = ("text", "schematic", "photo")
_SEEDS = {"look": 1_000, "report": 77_000}


def press(split: str, count: int) -> Iterator[Page]:
    """`count` pages of a split, text, schematics and photos in turn. The same call draws the
    same pages."""
    for n in range(count):
        yield one_page(split, n)


def one_page(split: str, n: int) -> Page:
    """Page `n` (from 0) of a split."""
    group, number = GROUPS[n % 3], n // 3
    seed = f"{split}-{group}-{number + _SEEDS[split]}"
    if group == "photo":
        return label_photo(seed, split, number)
    wears = WEARS[split]
    how = wears[(number + (5 if group == "schematic" else 0)) % len(wears)]
    draw = text_page if group == "text" else schematic_page

    def other() -> Page:
        if how.beside and group == "schematic":
            return text_page(seed + "other", split, number + 2)
        return draw(seed + "other", split, number + 1)

    return worn(draw(seed, split, number), how, random.Random(seed).randrange(1 << 30), other)


def save(page: Page, folder: Path, n: int) -> Path:
    """Writes the page's picture as a scanner or camera would, and returns where."""
    jpeg = page.group == "photo" or page.picture.mode == "RGB"
    path = folder / f"{n:03d}.{'jpg' if jpeg else 'tif'}"
    dpi = (page.dpi, page.dpi)
    if jpeg:
        page.picture.save(path, quality=72 if page.group == "photo" else 55, dpi=dpi)
    elif page.picture.mode == "1":
        page.picture.save(path, compression="group4", dpi=dpi)
    else:
        page.picture.save(path, compression="tiff_lzw", dpi=dpi)
    return path


def with_boxes(page: Page) -> Image.Image:
    """A colour copy with every word's frame, to check the truth by eye."""
    shown = page.picture.convert("RGB")
    pen = ImageDraw.Draw(shown)
    for word in page.words:
        corners = [(float(x), float(y)) for x, y in word.corners]
        pen.polygon(corners, outline=(200, 0, 60) if word.way == 0 else (0, 80, 220))
    return shown


def main() -> None:
    """Draws pages into a folder, each with a copy that shows the truth."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--split", choices=sorted(WEARS), default="look")
    parser.add_argument("--pages", type=int, default=12)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    for n, page in enumerate(press(given.split, given.pages)):
        path = save(page, given.folder, n)
        with_boxes(page).save(path.with_suffix(".boxes.png"))
        print(path.name, page.group, page.layout, page.wear, f"{len(page.words)} words", sep="; ")


if __name__ == "__main__":
    main()
