"""The plug is pulled while `index` runs: nothing read is lost, nothing is read twice."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

from tests.cli.conftest import ROOT, Run

PAGES = 8
ENOUGH = 3  # pages read before the kill


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of scanned sheets, one set each."""
    folder = tmp_path_factory.mktemp("shelf")
    font = ImageFont.load_default(40)
    for n in range(PAGES):
        sheet = Image.new("L", (1700, 1200), 255)
        draw = ImageDraw.Draw(sheet)
        lines = [
            "TILLBROOK RADIO MFG. CO.",
            f"MODEL 6T{n}0   CHASSIS CH-6{n}",
            "PARTS LIST",
            "V1 12BE6 CONVERTER",
            "V2 12BA6 I.F. AMPLIFIER",
            "C1 PAPER CAPACITOR .05 MFD 400 V",
        ]
        for i, line in enumerate(lines):
            draw.text((120, 100 + 90 * i), line, font=font, fill=0)
        sheet.save(folder / f"sheet {n}.png", dpi=(200, 200))
    return folder


def read_so_far(home: Path) -> dict[str, float]:
    """Pages that have a reading, with the seconds it took (different on every reading)."""
    try:
        with sqlite3.connect(f"file:{home / 'catalogue.db'}?mode=ro", uri=True) as db:
            return dict(
                db.execute(
                    "SELECT name, seconds FROM reading JOIN page ON page.id = page_id WHERE raw = 1"
                )
            )
    except sqlite3.OperationalError:  # not made yet
        return {}


def test_a_kill_loses_only_the_pages_in_hand(run: Run, shelf: Path, tmp_path: Path) -> None:
    killed, straight = tmp_path / "killed", tmp_path / "straight"
    command = [sys.executable, "-c", "from cli.app import main; main()", "index", str(shelf)]
    with subprocess.Popen(
        [*command, "--workers", "1", "--home", str(killed)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    ) as process:
        deadline = time.monotonic() + 120
        while len(read_so_far(killed)) < ENOUGH and time.monotonic() < deadline:
            time.sleep(0.02)
        os.killpg(process.pid, signal.SIGKILL)
    before = read_so_far(killed)
    assert ENOUGH <= len(before) < PAGES

    again = run("index", str(shelf), home=killed)
    assert again.returncode == 0, again.stderr
    after = read_so_far(killed)
    assert len(after) == PAGES
    assert {name: after[name] for name in before} == before, "a page was read twice"
    assert f"{PAGES - len(before)} pages read" in again.stderr

    run("index", str(shelf), home=straight)
    for listing in (("list", "--json"), ("list", "--pages", "--text", "--json")):
        assert run(*listing, home=killed).stdout == run(*listing, home=straight).stdout
