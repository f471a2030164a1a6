"""The second reader's pass: in which order, resumed after a stop, an engine that hangs."""

import os
import stat
import time
from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer import indexing
from indexer.errors import PageError
from indexer.model import PageReading, PageRef, PageState
from indexer.reading import tesseract
from indexer.store.catalogue import Catalogue, PageTask

CODES = ("P419P", "V351F", "K672N")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three sheets of print, the last one the newest."""
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    face = ImageFont.load_default(46)
    for n, code in enumerate(CODES):
        sheet = Image.new("L", (1300, 500), 255)
        lines = ("LARKMOOR RADIO", f"MODEL {code}  5 TUBES", "12BE6 12BA6 12AV6 50C5 35W4")
        for k, text in enumerate(lines):
            ImageDraw.Draw(sheet).text((80, 80 + 110 * k), text, font=face, fill=0)
        path = shelf / f"{code}.png"
        sheet.save(path)
        os.utime(path, (1_700_000_000 + n, 1_700_000_000 + n))
    return shelf


def hangs_on_one(path: Path, number: int, first: PageReading) -> tuple[PageReading, PageReading]:
    """Stands in for the second reader: never comes back from one page."""
    if path.stem == CODES[1]:
        time.sleep(60)
    return PageReading((), 1, 1, "second"), first


def test_an_engine_that_hangs_costs_only_that_page(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = Catalogue(tmp_path / "catalogue.db")
    indexing.index(catalogue, [folder], workers=1, quick=True)
    waiting = len(catalogue.tasks(PageState.READ))
    assert waiting == 3
    monkeypatch.setattr(indexing, "read_second", hangs_on_one)
    monkeypatch.setattr(indexing, "PAGE_TIMEOUT_S", 1.0)
    summary = indexing.index(catalogue, [folder], workers=1)
    assert summary.pages_read == 0  # the first reader's work is kept
    assert summary.pages_read_again == 2
    assert [reason for _, reason in summary.failed] == ["took longer than 1 s"]
    assert not catalogue.tasks(PageState.READ)
    hung = catalogue.pages("page.reason != ''")
    assert [(Path(row.file).stem, row.state) for row in hung] == [(CODES[1], "done")]
    kept = catalogue.reading(hung[0].page_id)
    assert kept is not None
    assert "12BE6" in kept.text
    catalogue.close()


def test_pages_asked_for_come_first_then_the_newest_files(folder: Path) -> None:
    tasks = [
        PageTask(n, PageRef(code, page), folder / f"{code}.png")
        for n, code in enumerate(CODES)
        for page in (1, 2)
    ]
    order = indexing.in_turn(tasks, {PageRef(CODES[0], 2)})
    assert [(task.ref.sha256, task.ref.page) for task in order] == [
        (CODES[0], 2),
        (CODES[2], 1),
        (CODES[2], 2),
        (CODES[1], 1),
        (CODES[1], 2),
        (CODES[0], 1),
    ]


def test_a_first_engine_that_hangs_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import pytesseract

    program = tmp_path / "sleeper"
    program.write_text(
        '#!/bin/sh\n[ "$1" = --version ] && echo tesseract 5.5.0 && exit\nexec sleep 60\n'
    )
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    tesseract.engine()
    monkeypatch.setattr(pytesseract.pytesseract, "tesseract_cmd", str(program))
    started = time.monotonic()
    with pytest.raises(PageError, match="gave up"):
        tesseract.read(Image.new("L", (200, 100), 255), timeout_s=1)
    assert time.monotonic() - started < 10
