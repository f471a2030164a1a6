"""Page pictures against the IIIF Image API 3.0: by its validator from PyPI (`iiif-validator`),
and by the sections of the standard named beside each check."""

import importlib
import io
import json
import random
import shutil
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from PIL import Image, ImageDraw
from starlette.testclient import TestClient

from indexer import Library
from tests.view.conftest import BASE, Names, serving

# Offered by no level up to 2 (compliance document 3.0, section 3), and not here:
# sizes above the page, free angles, formats beside JPEG and PNG.
_NOT_OFFERED = {
    "size_up", "rot_full_non90", "rot_region_non90", "format_gif", "format_jp2", "format_pdf",
    "format_tif", "format_webp", "format_conneg", "info_xml",
}  # fmt: skip
# It holds `!w,h` above the region for an error; section 4.2 asks for the largest picture that is
# not larger than the region. Its other checks of that kind stand in the refusals below.
_MISTAKEN = {"size_noup"}


def _validator() -> Any:
    """Only its checks of PDF and JPEG 2000, which are not run here, use libmagic: a machine
    without that library can run the others."""
    sys.modules.setdefault("magic", ModuleType("magic"))
    return importlib.import_module("iiif_validator.validator")


def test_the_validator_is_content(tmp_path: Path) -> None:
    validator = _validator()
    (tmp_path / "shelf").mkdir()
    _squares(validator).save(tmp_path / "shelf" / "squares.png")
    with Library(tmp_path / "home") as library:  # catalogued, not read: nothing is printed on it
        folder = library.catalogue.folder_id(tmp_path / "shelf")
        library.catalogue.put_file(folder, "squares.png", 1, 1, sha256="squares")
        library.catalogue.put_content("squares", "image", "", "squares.png", [""])
        (page,) = library.pages()
    suite = validator.TestSuite(validator.ValidationInfo())
    failed = {}
    with serving(tmp_path / "home", "--viewer", "*") as address:
        server = address.removeprefix("http://")
        run = [name for name in suite.list_tests("3.0") if name not in _NOT_OFFERED | _MISTAKEN]
        random.seed(1)  # it asks for random sizes and squares
        for name in run:
            asking = validator.ImageAPI(page.name, server, "iiif/image", version="3.0", debug=False)
            try:
                suite.run_test(name, asking)
            except Exception as error:  # the validator raises whatever its check raised
                failed[name] = repr(error)
                continue
            if asking.exception is not None:
                failed[name] = str(asking.exception)
    assert len(run) >= 30
    assert failed == {}


def _squares(validator: Any) -> Image.Image:
    """The validator's picture: ten by ten squares of 100 pixels in the colours it expects."""
    colours = validator.ValidationInfo().colorInfo
    picture = Image.new("RGB", (1000, 1000))
    pen = ImageDraw.Draw(picture)
    for x in range(10):
        for y in range(10):
            corner = (x * 100, y * 100)
            pen.rectangle((*corner, corner[0] + 99, corner[1] + 99), fill=colours[x][y])
    return picture


def test_info_describes_the_whole_page(shared: TestClient, names: Names) -> None:
    answer = shared.get(f"/iiif/image/{names.foldout}/info.json")
    info = answer.json()
    assert (info["width"], info["height"]) == (10_000, 6_000)
    assert info["id"] == f"{BASE}/iiif/image/{names.foldout}"  # section 5.1
    tiles = info["tiles"][0]
    assert tiles["scaleFactors"] == [1, 2, 4, 8, 16, 32]  # section 5.4
    assert info["maxArea"] >= 4_000_000


@pytest.mark.parametrize(
    ("asked", "size"),
    [
        ("full/max/0/default.jpg", (2550, 3300)),  # section 4.2
        ("square/max/0/default.jpg", (2550, 2550)),  # section 4.1
        ("full/500,/0/default.jpg", (500, 647)),
        ("full/,500/0/default.png", (386, 500)),
        ("full/!500,500/0/gray.jpg", (386, 500)),
        ("full/pct:10/0/bitonal.png", (255, 330)),
        ("pct:0,0,50,50/max/0/color.jpg", (1275, 1650)),
        ("2500,3200,512,512/max/0/default.jpg", (50, 100)),  # cut off at the edge
        ("0,0,1024,512/256,128/90/default.jpg", (128, 256)),  # section 4.3: turned last
        ("full/100,200/!0/default.jpg", (100, 200)),
        ("0,0,100,100/!2000,3000/0/default.jpg", (100, 100)),
    ],
)
def test_sizes(shared: TestClient, names: Names, asked: str, size: tuple[int, int]) -> None:
    answer = shared.get(f"/iiif/image/{names.first}/{asked}")
    assert answer.status_code == 200
    assert Image.open(io.BytesIO(answer.content)).size == size


@pytest.mark.parametrize(
    "asked",
    [
        "full/^9000,/0/default.jpg",  # upscaling
        "full/9000,/0/default.jpg",  # section 4.2: above the region without ^
        "full/,9000/0/default.jpg",
        "full/9000,9000/0/default.jpg",
        "full/pct:200/0/default.jpg",
        "3000,0,10,10/max/0/default.jpg",  # section 4.1: beyond the page
        "0,0,0,10/max/0/default.jpg",
        "0,0,10,10/0,/0/default.jpg",
        "full/max/45/default.jpg",
        "full/max/0/sepia.jpg",
        "full/max/0/default.gif",
        "full/full/0/default.jpg",  # version 2 wording
        "pct:NaN,0,1,1/max/0/default.jpg",
        "full/max/0/default",
    ],
)
def test_what_is_not_offered_is_refused(shared: TestClient, names: Names, asked: str) -> None:
    assert shared.get(f"/iiif/image/{names.first}/{asked}").status_code == 400


def test_tiles_join_to_the_page(shared: TestClient, names: Names) -> None:
    """Tiles as section 5.4 lays them, beside the whole page drawn by the library itself."""
    address = f"/iiif/image/{names.first}"
    joined = Image.new("L", (2550, 3300))
    for x in range(0, 2550, 512):
        for y in range(0, 3300, 512):
            region = f"{x},{y},{min(512, 2550 - x)},{min(512, 3300 - y)}"
            tile = shared.get(f"{address}/{region}/max/0/gray.png").content
            joined.paste(Image.open(io.BytesIO(tile)), (x, y))
    whole = Image.open(io.BytesIO(shared.get(f"{address}/full/max/0/gray.png").content))
    assert joined.tobytes() == whole.convert("L").tobytes()


def test_a_fold_out_is_given_in_bounds(shared: TestClient, names: Names) -> None:
    """Section 5.4: `max` is within maxArea."""
    answer = shared.get(f"/iiif/image/{names.foldout}/full/max/0/default.jpg")
    width, height = Image.open(io.BytesIO(answer.content)).size
    assert 20_000_000 < width * height <= 25_000_000


def test_links_and_kinds(shared: TestClient, names: Names) -> None:
    answer = shared.get(f"/iiif/image/{names.first}/0,0,2550,3300/2550,/0/default.jpg")
    assert answer.headers["content-type"] == "image/jpeg"
    own = f"<{BASE}/iiif/image/{names.first}/full/max/0/default.jpg>"  # section 4.7
    assert f'{own};rel="canonical"' in answer.headers["link"]
    redirect = shared.get(f"/iiif/image/{names.first}")
    assert redirect.status_code == 303  # section 2
    plain = shared.get(redirect.headers["location"], headers={"accept": "application/json"})
    assert plain.headers["content-type"] == "application/json"
    json.loads(plain.text)


def test_a_turned_and_skewed_page_is_shown_upright(tmp_path: Path) -> None:
    """The part of a page equals that part of the picture the library draws."""
    from indexer import Cut, PictureWork, Sheet
    from indexer.model import PageReading
    from indexer.reading.clean import straighten, turn

    picture = Image.new("L", (600, 400), 255)
    ImageDraw.Draw(picture).rectangle((150, 100, 420, 260), fill=0)
    path = tmp_path / "page.png"
    picture.save(path)
    reading = PageReading((), 400, 600, "", rotation_deg=90, skew_deg=2.0)
    upright = straighten(turn(picture, 90), 2.0)
    with PictureWork(1) as work:
        sheet = Sheet.of(path, 1, reading)
        assert work.size(sheet) == (400, 600)
        body = work.cut(sheet, Cut(100, 100, 200, 300, 200, 300, form="png"))
    shown = Image.open(io.BytesIO(body)).convert("L")
    expected = upright.crop((100, 100, 300, 400))
    differing = sum(
        abs(a - b) > 64 for a, b in zip(shown.tobytes(), expected.tobytes(), strict=True)
    )
    assert differing < 0.01 * 200 * 300


def test_a_picture_known_is_not_sent_again(shared: TestClient, names: Names) -> None:
    address = f"/iiif/image/{names.first}/full/!200,200/0/default.jpg"
    tag = shared.get(address).headers["etag"]
    again = shared.get(address, headers={"if-none-match": tag})
    assert (again.status_code, again.content) == (304, b"")


def test_pages_that_are_gone_say_so(client: TestClient, names: Names, view_shelf: Path) -> None:
    home = Path(client.app.state.desk.settings.home)  # type: ignore[attr-defined]
    with Library(home) as library:
        folder = next(iter(library.catalogue.folders().values()))
        moved = shutil.copytree(folder, home / "elsewhere")
        library.catalogue.db.execute("UPDATE folder SET path = ?", [str(home / "gone")])
    assert moved.is_dir()
    answer = client.get(f"/iiif/image/{names.first}/info.json")
    assert answer.status_code == 422
    assert "not where it was" in answer.text
    assert "not where it was" in client.get(f"/look/{names.first}").text
