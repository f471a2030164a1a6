"""`python -m tests.speed.view`: how soon a page is seen, on a library of 10,000 pages.

The pages are twenty kinds of scan (fax TIFF, grey JPEG, PDF with either) under 10,000 names, and a
fold-out of 10,000 x 6,000 pixels. Printed: the first picture of a page, tiles of pages in hand,
each beside decoding the same page with Pillow, fifty requests at once, and the memory of a
browser panning over the fold-out. Exits with 1 beyond 300 ms (first picture, 95th percentile),
60 ms (tile, 95th percentile), 150 MB, or when a request fails.
"""

import io
import random
import statistics
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx2
import img2pdf
from PIL import Image, ImageDraw, ImageFont

from indexer import Library
from indexer.store.connect import writing
from tests.view import browser
from tests.view.conftest import serving

FIRST_MS, TILE_MS, BROWSER_MB = 300, 60, 150
PAGES, FILES, ASKED = 10_000, 20, 60
FOLDOUT_PX = (10_000, 6_000)


def main() -> int:
    """Draws the library, serves it, asks; 0 when within the bounds."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        names = _make(folder)
        with serving(folder / "home") as address, httpx2.Client(base_url=address) as client:
            client.get(f"/iiif/image/{names[-2]}/info.json")  # the drawing processes are up
            beyond = _first_pictures(client, names[:-1], folder)
            beyond += _tiles(client, names[:-1])
            beyond += _tiles(client, names[-1:])
            beyond += _fifty(address, names[:-1])
            beyond += _browser(address, names[-1])
    return int(beyond > 0)


def _first_pictures(client: httpx2.Client, names: list[str], folder: Path) -> int:
    """From asking for a page never seen to having its picture at the width of a screen."""
    taken, ratios = [], []
    for name in random.Random(1).sample(names, ASKED):
        started = time.perf_counter()
        client.get(f"/look/{name}").raise_for_status()
        client.get(f"/iiif/image/{name}/full/1024,/0/default.jpg").raise_for_status()
        taken.append((time.perf_counter() - started) * 1000)
        ratios.append(taken[-1] / _pillow_ms(folder, names.index(name) % FILES))
    return _told("first picture of a page", taken, FIRST_MS, ratios)


def _tiles(client: httpx2.Client, names: list[str]) -> int:
    """Tiles as a person zooms: the first page picture is there, then parts at every depth."""
    taken = []
    chance = random.Random(2)
    for name in chance.sample(names, min(len(names), 12)):
        client.get(f"/look/{name}").raise_for_status()
        info = client.get(f"/iiif/image/{name}/info.json").json()
        for factor in reversed(info["tiles"][0]["scaleFactors"]):
            side = 512 * factor
            for _ in range(6 if len(names) > 1 else 30):
                x = chance.randrange(0, info["width"], side)
                y = chance.randrange(0, info["height"], side)
                w, h = min(side, info["width"] - x), min(side, info["height"] - y)
                size = f"{-(-w // factor)},{-(-h // factor)}"
                started = time.perf_counter()
                answer = client.get(f"/iiif/image/{name}/{x},{y},{w},{h}/{size}/0/default.jpg")
                taken.append((time.perf_counter() - started) * 1000)
                answer.raise_for_status()
    what = "tile" if len(names) > 1 else "tile of the fold-out"
    return _told(what, taken, TILE_MS)


def _fifty(address: str, names: list[str]) -> int:
    """Fifty requests at once: screens, questions, pictures and tiles."""
    chance = random.Random(3)
    kinds = (
        "/look/{0}", "/iiif/image/{0}/info.json", "/iiif/image/{0}/full/!240,240/0/default.jpg",
        "/iiif/image/{0}/0,0,512,512/512,512/0/default.jpg", "/?q=tillbrook",
    )  # fmt: skip
    paths = [kinds[n % len(kinds)].format(chance.choice(names)) for n in range(50)]

    def ask(path: str) -> int:
        return httpx2.get(address + path, timeout=60).status_code

    started = time.perf_counter()
    with ThreadPoolExecutor(50) as threads:
        answers = list(threads.map(ask, paths))
    failed = sum(status != 200 for status in answers)
    seconds = time.perf_counter() - started
    print(f"50 requests at once: {seconds:.2f} s, {failed} failed")
    return failed


def _browser(address: str, name: str) -> int:
    """Memory that a browser's page process holds for itself, before and after panning."""
    if not browser.found():
        print("browser memory: not measured, no chromium on this machine")
        return 0
    with browser.running() as chromium:
        page = chromium.new_page(viewport={"width": 1920, "height": 1080})
        page.goto(f"{address}/sets")
        before = _renderer_mb()
        page.goto(f"{address}/look/{name}")
        _settled(page)
        box = page.locator("canvas").bounding_box()
        page.mouse.move(900, 500)
        for _ in range(4):
            page.mouse.wheel(0, -600)
        _settled(page)
        most = _renderer_mb()
        frames: list[float] = []
        for step in range(40):
            page.mouse.move(box["x"] + 1600, box["y"] + 400)
            page.mouse.down()
            started = time.perf_counter()
            page.mouse.move(box["x"] + 500, box["y"] + 400 + (step % 5 - 2) * 120, steps=5)
            frames.append((time.perf_counter() - started) * 1000 / 5)
            page.mouse.up()
            most = max(most, _renderer_mb())
        _settled(page)
        most = max(most, _renderer_mb())
        held = page.locator("canvas").evaluate("c => c.dataset.held")
    print(
        f"browser over the fold-out: {most:.0f} MB, {before:.0f} MB before, {held} tiles held;"
        f" a step of panning {statistics.median(frames):.0f} ms"
    )
    return int(most > BROWSER_MB)


def _settled(page: Any) -> None:
    page.wait_for_function("() => document.querySelector('canvas').dataset.missing === '0'")


def _renderer_mb() -> float:
    """The largest page process's own memory, shared parts left out."""
    listed = subprocess.run(["pgrep", "-f", "type=renderer"], capture_output=True, text=True)
    out = [0.0]
    for pid in listed.stdout.split():
        try:
            rows = Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="ascii").splitlines()
        except OSError:
            continue
        private = [int(row.split()[1]) for row in rows if row.startswith("Private_")]
        out.append(sum(private) / 1024)
    return max(out)


def _told(what: str, taken: list[float], bound: float, ratios: list[float] | None = None) -> int:
    taken.sort()
    worst = taken[int(len(taken) * 0.95)]
    beside = f", {statistics.median(ratios):.2f} of decoding it with Pillow" if ratios else ""
    print(
        f"{what}: median {statistics.median(taken):.0f} ms, 95th percentile {worst:.0f} ms{beside}"
    )
    return int(worst > bound)


# -- the library


def _make(folder: Path) -> list[str]:
    """Files and a catalogue of 10,000 pages; names in order, the fold-out last."""
    (folder / "shelf").mkdir()
    paths = [_file(folder / "shelf", number) for number in range(FILES)]
    fold = folder / "shelf" / "fold.tif"
    _sheet(FOLDOUT_PX, 99).convert("1").save(fold, compression="group4")
    with Library(folder / "home") as library, writing(library.catalogue.db):
        shelf_id = library.catalogue.folder_id(folder / "shelf")
        copies = PAGES // FILES
        for number in range(copies * FILES):
            path = paths[number % FILES]
            link = path.with_name(f"{number:05} {path.name}")
            link.symlink_to(path.name)
            library.catalogue.put_file(shelf_id, link.name, 1, 1, sha256=f"{number:064}")
            library.catalogue.put_content(f"{number:064}", "image", "", "all", [""])
        library.catalogue.put_file(shelf_id, fold.name, 1, 1, sha256="fold")
        library.catalogue.put_content("fold", "tiff", "", "all", [""])
        rows = {row.file: row.name for row in library.pages()}
    ordered = sorted(file for file in rows if file != fold.name)
    return [rows[file] for file in ordered] + [rows[fold.name]]


def _file(folder: Path, number: int) -> Path:
    picture = _sheet((2550, 3300), number)
    kind = number % 4
    if kind in (0, 2):
        body = io.BytesIO()
        picture.save(body, "JPEG", quality=80, dpi=(300, 300))
    else:
        body = io.BytesIO()
        picture.convert("1").save(body, "TIFF", compression="group4", dpi=(300, 300))
    suffix = ("jpg", "tif", "pdf", "pdf")[kind]
    path = folder / f"scan{number}.{suffix}"
    path.write_bytes(img2pdf.convert(body.getvalue()) if suffix == "pdf" else body.getvalue())
    (folder / f"scan{number}.bare").write_bytes(body.getvalue())
    return path


def _pillow_ms(folder: Path, number: int) -> float:
    """Decoding the scan itself, from the file to pixels in memory."""
    started = time.perf_counter()
    with Image.open(folder / "shelf" / f"scan{number}.bare") as picture:
        picture.load()
    return (time.perf_counter() - started) * 1000


def _sheet(size: tuple[int, int], seed: int) -> Image.Image:
    chance = random.Random(seed)
    picture = Image.new("L", size, 250)
    pen = ImageDraw.Draw(picture)
    font = ImageFont.load_default(34)
    for y in range(60, size[1] - 60, 60):
        line = " ".join(chance.choice(("12BE6", "470K", ".05", "CHASSIS", "V3")) for _ in range(40))
        pen.text((80, y), line[: size[0] // 26], fill=10, font=font)
    for _ in range(size[0] // 20):
        x, y = chance.randrange(size[0]), chance.randrange(size[1])
        pen.line((x, y, x + chance.randrange(600), y), fill=0, width=4)
    return picture


if __name__ == "__main__":
    sys.exit(main())
