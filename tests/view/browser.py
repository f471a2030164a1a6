"""A headless browser that is already on this machine; nothing is fetched."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def found() -> str:
    """The path of a browser, "" when there is none."""
    return next((path for name in _NAMES if (path := shutil.which(name))), "")


@contextmanager
def running() -> Iterator[Any]:
    """A headless browser by Playwright. Ask `found()` first."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found(), args=["--disable-gpu"])
        try:
            yield browser
        finally:
            browser.close()
