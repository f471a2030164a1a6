"""A job in a real browser: mark, note, tick, reading, verdict, packet; a draft that survives."""

from collections.abc import Iterator
from typing import Any

import pypdf
import pytest

from tests.view import browser
from tests.view.conftest import Names
from tests.view.test_browser import NARROW, WIDE, Window, assert_fit

pytestmark = pytest.mark.skipif(not browser.found(), reason="no chromium on this machine")


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser.running() as made:
        yield made


@pytest.fixture
def window(chromium: Any, served: str) -> Iterator[Window]:
    made = Window(chromium, served, viewport=WIDE, accept_downloads=True)
    yield made
    made.close()


def opened_job(page: Any, names: Names) -> str:
    """The address of a job newly opened for the set, with its screen shown."""
    page.goto(f"/set/{names.entry}")
    page.get_by_role("button", name="Open a job for this set").click()
    page.wait_for_url("**/job/*")
    return str(page.url)


def test_from_a_page_to_the_packet(window: Window, names: Names) -> None:
    page = window.page
    job = opened_job(page, names)
    page.goto(f"/look/{names.first}")
    page.get_by_text("Mark", exact=True).click()
    page.get_by_label("A word why").fill("the circuit")
    page.get_by_role("button", name="Mark this page").click()
    assert "Marked for job" in page.get_by_role("status").inner_text()
    page.goto(job)
    page.get_by_label("A new note").fill("hums at low volume")
    page.get_by_role("button", name="Keep the note").click()
    assert page.get_by_text("hums at low volume").is_visible()
    page.get_by_role("link", name="Parts").click()
    page.get_by_label("Reference, as on the drawing").fill("C20")
    page.get_by_label("Value and kind").fill(".05 mfd 400 V paper")
    page.get_by_role("button", name="Add it").click()
    page.get_by_label("C20").check()
    page.get_by_role("button", name="Ticked ones are done").click()
    assert page.locator("tr.done").count() == 1
    page.get_by_role("link", name="Readings").click()
    page.get_by_label("Point", exact=True).fill("R77")
    page.get_by_label("Reads", exact=True).fill("800K")
    page.get_by_label("Right value, if known").fill("470K")
    page.get_by_role("button", name="Keep the readings").click()
    assert "out" in page.locator("tr.is-out").inner_text()
    page.goto(job)
    with page.expect_download() as coming:
        page.get_by_role("button", name="Packet to print").click()
    pages = pypdf.PdfReader(coming.value.path()).pages
    assert len(pages) >= 2


def test_what_was_typed_outlives_the_tab(window: Window, names: Names) -> None:
    page = window.page
    job = opened_job(page, names)
    page.get_by_label("A new note").fill("C8 nearly open")
    page.goto("/sets")
    page.goto(job)
    page.get_by_role("button", name="Take it up again").click()
    assert page.get_by_label("A new note").input_value() == "C8 nearly open"


def test_the_job_by_keys_alone(window: Window, names: Names) -> None:
    page = window.page
    page.goto(f"/set/{names.entry}")
    page.get_by_role("button", name="Open a job for this set").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/job/*")
    note = page.get_by_label("A new note")
    for _ in range(40):
        page.keyboard.press("Tab")
        if note.evaluate("e => e === document.activeElement"):
            break
    page.keyboard.type("by keys")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.locator(".notes").get_by_text("by keys").wait_for()


@pytest.mark.parametrize("size", [WIDE, NARROW])
def test_the_sheets_of_a_job_are_accessible_and_fit(
    chromium: Any, served: str, names: Names, size: dict[str, int]
) -> None:
    window = Window(chromium, served, viewport=size)
    page = window.page
    job = opened_job(page, names)
    page.goto(f"/look/{names.first}")
    page.get_by_text("Mark", exact=True).click()
    page.get_by_role("button", name="Mark this page").click()
    page.goto(job + "/readings")
    page.get_by_label("Point", exact=True).fill("R77")
    page.get_by_label("Reads", exact=True).fill("800K")
    page.get_by_label("Right value, if known").fill("470K")
    page.get_by_role("button", name="Keep the readings").click()
    for sheet in ("", "/parts", "/readings", "/tubes", "/power-up"):
        page.goto(job + sheet)
        assert_fit(page, sheet or "job")
    window.close()
