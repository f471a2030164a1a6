"""Pages that an earlier state of the readers read are told, and read anew when asked."""

from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer import Library, indexing
from tests.commands import call


def sheet(path: Path) -> None:
    picture = Image.new("L", (900, 400), 255)
    font = ImageFont.load_default(40)
    ImageDraw.Draw(picture).text((60, 60), "TILLBROOK RADIO\nMODEL 5D10", 0, font)
    picture.save(path)


def test_pages_read_by_earlier_readers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf, home = tmp_path / "shelf", tmp_path / "home"
    shelf.mkdir()
    sheet(shelf / "sheet.png")
    (shelf / "note.txt").write_text("MODEL 5D11\nTUBES: 12BE6 50C5\n")
    told = call("index", str(shelf), "--home", str(home), "--workers", "1").stderr
    assert "earlier version" not in told

    monkeypatch.setattr(indexing, "READERS", indexing.READERS + 1)
    told = call("index", "--home", str(home), "--workers", "1").stderr
    assert "0 pages read" in told
    assert "1 pages were read by an earlier version's readers" in told

    told = call("index", "--home", str(home), "--workers", "1", "--read-again").stderr
    assert "1 pages read" in told
    assert "earlier version" not in told
    with Library(home) as library:
        (card,) = [row for row in library.pages() if row.file == "sheet.png"]
        assert "5D10" in library.reading(library.page(card.name)).text
