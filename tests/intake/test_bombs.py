"""Files that unfold to something enormous are refused or bounded before they cost anything."""

import time

import pytest
from PIL import PngImagePlugin

from indexer import limits
from indexer.errors import TooLarge
from indexer.intake.lists import list_in
from indexer.intake.notes import NotesSource
from indexer.intake.sources import open_source
from tests.endurance import bombs
from tests.endurance.seeds import SHELF


def within(seconds):
    return time.monotonic() + seconds


def test_a_png_beyond_the_bounds_is_refused_undecoded(tmp_path, monkeypatch):
    path = tmp_path / "huge.png"
    path.write_bytes(bombs._png(40_000, 40_000, 100))
    monkeypatch.setattr(
        PngImagePlugin.PngImageFile, "load", lambda image: pytest.fail("it was decoded")
    )
    with open_source(path) as source, pytest.raises(TooLarge):
        source.page(1).draw()


def test_the_names_of_many_frames_are_read_in_one_pass(tmp_path):
    path = tmp_path / "many.tif"
    path.write_bytes(bombs._frames(1_500))
    until = within(20)  # 1.5 million directories if each frame were sought from the first one
    with open_source(path) as source:
        assert [source.page(n).printed for n in range(1, source.page_count + 1)] == [""] * 1_500
    assert time.monotonic() < until


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("line.txt", b"MODEL 5D10 " * 100_000),
        ("cell.csv", b'maker,model,tubes\nx,"' + b"6SN7 " * 200_000 + b'",\n'),
    ],
)
def test_one_endless_line_is_laid_out_in_time(tmp_path, name, data):
    path = tmp_path / name
    path.write_bytes(data)
    until = within(20)
    with NotesSource(path) as source:
        assert source.page_count > 10
        assert source.page(2).embedded.words
    assert time.monotonic() < until


def test_a_note_of_too_many_pages_is_refused(tmp_path):
    path = tmp_path / "feeds.txt"
    path.write_bytes(b"5D10\f" * (limits.MAX_FILE_PAGES + 1))
    with pytest.raises(TooLarge, match="20,001 pages"):
        NotesSource(path)


def test_quotes_that_never_close_end_the_list_in_time():
    until = within(20)
    found = list_in("maker,model,tubes\n" + '"a,b\n' * 200_000)
    assert len(found.troubles) == 501
    assert "left out" in found.troubles[-1][1]
    assert time.monotonic() < until


def test_page_labels_and_titles_are_kept_short(tmp_path):
    path = tmp_path / "labels.pdf"
    path.write_bytes(bombs._labels())
    with open_source(path) as source:
        assert len(source.page(1).printed) <= limits.MAX_LABEL_CHARS


@pytest.mark.parametrize("size", [(65_535, 65_535), (1, 65_535)])
def test_a_djvu_that_lies_about_its_size_is_refused(tmp_path, size):
    path = tmp_path / "lies.djvu"
    path.write_bytes(bombs._djvu(*size))
    assert SHELF.is_dir()
    with open_source(path) as source, pytest.raises(TooLarge):
        source.page(1).draw()
