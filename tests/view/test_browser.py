"""The view in a real browser: by hand, by keys alone, at both widths, with nothing to complain of.

axe-core, the rules of which follow WCAG 2.2, comes with `axe-playwright-python`.
"""

import io
from collections.abc import Iterator
from typing import Any

import pytest
from PIL import Image, ImageDraw, ImageFont

from tests.view import browser
from tests.view.conftest import Names
from tests.view.paths import PATHS

pytestmark = pytest.mark.skipif(not browser.found(), reason="no chromium on this machine")

NARROW = {"width": 360, "height": 740}
WIDE = {"width": 1920, "height": 1080}
_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser.running() as made:
        yield made


class Window:
    """A page of the browser that keeps what its console complains of."""

    def __init__(self, chromium: Any, address: str, **options: Any) -> None:
        self._context = chromium.new_context(base_url=address, **options)
        self.page = self._context.new_page()
        self.complaints: list[str] = []
        self.page.on("console", self._heard)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _heard(self, message: Any) -> None:
        if message.type in ("error", "warning") and "404" not in message.text:
            self.complaints.append(message.text)

    def settled(self, pane: int = 0) -> dict[str, float]:
        """Waits until every tile that is wanted is drawn; what the sheet says of itself."""
        self.page.wait_for_function(
            "n => document.querySelectorAll('canvas')[n]?.dataset.missing === '0'", arg=pane
        )
        said = self.page.locator("canvas").nth(pane).evaluate("c => ({...c.dataset})")
        return {name: float(value) for name, value in said.items()}

    def close(self) -> None:
        self._context.close()
        assert self.complaints == []


@pytest.fixture
def wide(chromium: Any, served: str) -> Iterator[Window]:
    made = Window(chromium, served, viewport=WIDE)
    yield made
    made.close()


@pytest.fixture
def narrow(chromium: Any, served: str) -> Iterator[Window]:
    made = Window(chromium, served, viewport=NARROW, color_scheme="dark", has_touch=True)
    yield made
    made.close()


def test_ask_look_zoom(wide: Window, names: Names) -> None:
    page = wide.page
    page.goto("/")
    page.get_by_label("What does the set say?").fill("tillbrook 5D10")
    page.get_by_role("button", name="Find its pages").click()
    assert page.locator(".grade").first.inner_text() == "exact"
    page.locator(".match").first.locator(".pages a").nth(2).click()
    before = wide.settled()
    assert before["level"] >= 2
    canvas = page.locator("canvas")
    canvas.hover(position={"x": 700, "y": 300})
    for _ in range(4):
        page.mouse.wheel(0, -600)
    after = wide.settled()
    assert after["level"] == 0
    box = canvas.bounding_box()
    for _ in range(8):  # dragged across the fold-out; tiles held stay few
        page.mouse.move(box["x"] + 1500, box["y"] + 500)
        page.mouse.down()
        page.mouse.move(box["x"] + 300, box["y"] + 200, steps=4)
        page.mouse.up()
    assert wide.settled()["held"] <= 64
    page.get_by_role("button", name="Turn").click()
    assert wide.settled()["level"] >= 2
    page.get_by_role("button", name="Invert").click()
    assert page.locator(".panes.invert").count() == 1
    page.reload()
    wide.settled()
    assert page.locator(".panes.invert").count() == 1  # kept, as if the tab had been closed
    page.get_by_role("button", name="Invert").click()


def test_the_picture_is_what_the_page_shows(wide: Window, names: Names) -> None:
    """Pixels on the screen against the page drawn by the server."""
    page = wide.page
    page.goto(f"/look/{names.first}")
    wide.settled()
    page.evaluate("document.activeElement.blur()")  # its frame would be in the picture
    box = page.locator("canvas").bounding_box()
    shot = Image.open(io.BytesIO(page.screenshot(clip=box))).convert("L")
    scale = box["height"] / 3300
    width = round(2550 * scale)
    left = round((box["width"] - width) / 2)
    body = page.request.get(f"/iiif/image/{names.first}/full/{width},/0/gray.jpg").body()
    expected = Image.open(io.BytesIO(body)).resize((width, round(box["height"])))
    shown = shot.crop((left, 0, left + width, round(box["height"])))
    small = (shown.width // 8, shown.height // 8)
    pairs = zip(shown.resize(small).tobytes(), expected.resize(small).tobytes(), strict=True)
    differing = sum(abs(a - b) > 60 for a, b in pairs)
    assert differing < 0.01 * small[0] * small[1]


def test_by_keys_alone(wide: Window, names: Names) -> None:
    page = wide.page
    page.goto("/")
    _tab_to(page, "textarea")
    page.keyboard.type("tillbrook 5D10")
    _tab_to(page, "button")
    page.keyboard.press("Enter")
    page.wait_for_url("**/?q=*")
    _tab_to(page, ".pages a")
    page.keyboard.press("Enter")
    page.wait_for_url("**/look/**")
    start = wide.settled()["level"]
    for _ in range(6):
        page.keyboard.press("+")
    assert wide.settled()["level"] < start
    for key in ("ArrowLeft", "ArrowDown", "m", "t", "c", "c", "0"):
        page.keyboard.press(key)
    wide.settled()
    page.keyboard.press("PageDown")
    page.wait_for_url(f"**/look/{names.second}**")
    wide.settled()
    _tab_to(page, "[data-do=turn]", back=True)  # out of the page again: no trap


def test_fingers_on_a_small_screen(narrow: Window, names: Names) -> None:
    page = narrow.page
    page.goto(f"/look/{names.first}?q=12BE6")
    start = narrow.settled()
    page.evaluate("""() => {
      const canvas = document.querySelector("canvas");
      const box = canvas.getBoundingClientRect();
      const send = (kind, id, x, y) => canvas.dispatchEvent(new PointerEvent(kind, {
        pointerId: id, pointerType: "touch", clientX: box.left + x, clientY: box.top + y,
        bubbles: true }));
      canvas.setPointerCapture = () => {};
      send("pointerdown", 1, 150, 150); send("pointerdown", 2, 190, 150);
      for (let n = 1; n <= 10; n += 1) {
        send("pointermove", 1, 150 - n * 10, 150); send("pointermove", 2, 190 + n * 10, 150);
      }
      send("pointerup", 1, 50, 150); send("pointerup", 2, 290, 150);
    }""")
    assert narrow.settled()["level"] < start["level"]
    page.get_by_role("button", name="Next word").click()
    narrow.settled()


def test_two_pages_side_by_side(wide: Window, names: Names) -> None:
    page = wide.page
    page.goto(f"/look/{names.first}")
    page.locator("summary", has_text="Beside").click()
    page.get_by_label("Page to show beside this one").select_option(names.second)
    page.get_by_role("button", name="Show it").click()
    wide.settled(0)
    wide.settled(1)
    boxes = [page.locator("canvas").nth(n).bounding_box() for n in (0, 1)]
    assert boxes[0]["x"] + boxes[0]["width"] <= boxes[1]["x"] + 4
    assert boxes[0]["height"] > 600


def test_without_script(chromium: Any, served: str, names: Names) -> None:
    window = Window(chromium, served, viewport=WIDE, java_script_enabled=False)
    page = window.page
    page.goto("/?q=tillbrook+12BE6")
    page.locator(".pages a").first.click()
    picture = page.locator(".still img")
    assert picture.is_visible()
    assert page.locator(".still .mark").first.is_visible()
    page.get_by_role("link", name="turn").click()
    page.get_by_role("link", name="near").click()
    box = picture.bounding_box()
    assert box["width"] > box["height"] > 1000
    page.get_by_role("link", name="Next").click()
    assert "2 of 3" in page.locator(".leaf").inner_text()
    window.close()


def test_a_photo_is_asked_by(wide: Window) -> None:
    label = Image.new("L", (900, 320), 235)
    pen = ImageDraw.Draw(label)
    font = ImageFont.load_default(60)
    for row, text in enumerate(("TILLBROOK RADIO MFG. CO.", "MODEL 5D10", "CHASSIS CH-41A")):
        pen.text((40, 30 + row * 90), text, fill=20, font=font)
    kept = io.BytesIO()
    label.save(kept, "JPEG")
    page = wide.page
    page.goto("/")
    photo = {"name": "label.jpg", "mimeType": "image/jpeg", "buffer": kept.getvalue()}
    page.get_by_label("Or photos of").set_input_files(photo)
    page.get_by_role("button", name="Read the photos").click()
    page.get_by_text("Read on the photo").wait_for(timeout=60_000)
    assert page.locator(".grade").first.inner_text() in ("exact", "same chassis")
    assert "Tillbrook" in page.locator(".match h2").first.inner_text()


@pytest.mark.parametrize("size", ["wide", "narrow"])
def test_every_screen_is_accessible_and_fits(
    size: str, names: Names, request: pytest.FixtureRequest
) -> None:
    window: Window = request.getfixturevalue(size)
    for name, pattern in PATHS.items():
        window.page.goto(names.path(pattern))
        if "look" in pattern and name != "trouble":
            window.settled()
        assert_fit(window.page, name)


def assert_fit(page: Any, name: str) -> None:
    """The page open now breaks no rule of axe, keeps within its width and has large targets."""
    from axe_playwright_python.sync_playwright import Axe

    options = {"runOnly": {"type": "tag", "values": _RULES}}
    found = Axe().run(page, options=options).response
    assert found["passes"], name
    problems = [
        (item["id"], [node["html"][:120] for node in item["nodes"]]) for item in found["violations"]
    ]
    assert problems == [], name
    across = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert across[0] <= across[1], f"{name} scrolls sideways"
    low = page.evaluate(
        "[...document.querySelectorAll('.key, textarea, input, select, nav a')]"
        ".filter(e => e.offsetParent && e.type !== 'hidden' && e.type !== 'checkbox')"
        ".map(e => e.getBoundingClientRect().height).filter(h => h < 44)"
    )
    assert low == [], f"{name} has targets under 44 pixels"


def _tab_to(page: Any, selector: str, *, back: bool = False) -> None:
    """Presses Tab until what `selector` names has the focus."""
    for _ in range(40):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        if page.evaluate("s => document.activeElement.matches(s)", selector):
            return
    raise AssertionError(f"Tab never came to {selector}")
