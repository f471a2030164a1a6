"""`python -m tests.view.screens DIR [HOME]`: pictures of the main screens, to be looked at.

Without HOME the small drawn shelf is shown; with one, that library, of which its first set of
three pages or more is opened. Wide and light, narrow and dark.
"""

import sys
import tempfile
from pathlib import Path
from typing import Any

from indexer import Library
from tests.view import browser, shelf
from tests.view.conftest import Names, names_of, serving
from tests.view.paths import PATHS

_SIZES = {
    "wide": {"viewport": {"width": 1920, "height": 1080}, "color_scheme": "light"},
    "narrow": {"viewport": {"width": 360, "height": 740}, "color_scheme": "dark"},
}


def main(arguments: list[str]) -> int:
    """Writes NAME-SIZE.png for every screen; 0 when all were shot."""
    if not arguments or not browser.found():
        print("Give a folder; a chromium must be on the PATH.", file=sys.stderr)
        return 2
    target = Path(arguments[0])
    target.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        home = Path(arguments[1]) if len(arguments) > 1 else Path(name) / "home"
        if len(arguments) < 2:
            shelf.draw(Path(name) / "shelf")
            shelf.read(Path(name) / "shelf", home)
        names = _names(home)
        with serving(home) as address, browser.running() as chromium:
            for size, options in _SIZES.items():
                page = chromium.new_context(base_url=address, **options).new_page()
                for screen, pattern in PATHS.items():
                    _shoot(page, names.path(pattern), target / f"{screen}-{size}.png")
    print(f"{len(_SIZES) * len(PATHS)} pictures in {target}")
    return 0


def _shoot(page: Any, path: str, target: Path) -> None:
    page.goto(path)
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(300)  # the last tile is painted on the next frame
    page.screenshot(path=str(target))


def _names(home: Path) -> Names:
    try:
        return names_of(home)
    except (StopIteration, ValueError):
        with Library(home) as library:
            for entry in library.all_entries():
                cards = library.entries.cards(entry.id)
                if len(cards) >= 3:
                    return Names(entry.id, *(card.name for card in cards[:3]))
    raise SystemExit("No set of three pages is in that library.")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
