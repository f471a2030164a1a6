"""Walking a library: order, hidden things, links, loops, pipes, odd names."""

import os
import sys
from pathlib import Path

import pytest

from indexer import limits
from indexer.file_names import find_again
from indexer.intake.walk import Found, walk


def names(found: list[Found]) -> list[str]:
    return [one.name for one in found if not one.skipped]


def reasons(found: list[Found]) -> dict[str, str]:
    return {one.name: one.skipped for one in found if one.skipped}


def put(path, data=b"x"):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def test_sorted_relative_names_sizes_and_times(tmp_path):
    for name in ("b/2.pdf", "a.pdf", "b/1.tif", "c.txt"):
        put(tmp_path / name, b"12345")
    found = list(walk([tmp_path]))
    assert names(found) == ["a.pdf", "b/1.tif", "b/2.pdf", "c.txt"]
    assert {one.size for one in found} == {5}
    assert found[0].mtime_ns == (tmp_path / "a.pdf").stat().st_mtime_ns
    assert found[1].path == tmp_path / "b" / "1.tif"
    assert found[1].folder == tmp_path


def test_hidden_files_and_folders_are_left_out_without_a_word(tmp_path):
    put(tmp_path / ".cache/a.pdf")
    put(tmp_path / ".b.pdf")
    put(tmp_path / "c.pdf")
    assert [one.name for one in walk([tmp_path])] == ["c.pdf"]


def test_links_to_files_are_followed_once(tmp_path):
    outside = put(tmp_path / "elsewhere/annual.pdf")
    shelf = tmp_path / "shelf"
    inside = put(shelf / "z.pdf")
    (shelf / "a-link.pdf").symlink_to(outside)
    (shelf / "b-link.pdf").symlink_to(outside)
    (shelf / "c-link.pdf").symlink_to(inside)
    (shelf / "dead.pdf").symlink_to(shelf / "gone.pdf")
    (shelf / "me.pdf").symlink_to(shelf / "me.pdf")
    found = list(walk([shelf]))
    assert names(found) == ["a-link.pdf", "z.pdf"]
    why = reasons(found)
    assert "same file" in why["b-link.pdf"]
    assert "same file" in why["c-link.pdf"]
    assert "link to nothing" in why["dead.pdf"]
    assert "leads back" in why["me.pdf"]


def test_folder_links_are_followed_once_and_loops_reported(tmp_path):
    put(tmp_path / "nas/x.pdf")
    (tmp_path / "nas/back").symlink_to(tmp_path / "nas")
    shelf = tmp_path / "shelf"
    put(shelf / "deep/y.pdf")
    (shelf / "deep/up").symlink_to(shelf)
    (shelf / "above").symlink_to(tmp_path)
    (shelf / "n1").symlink_to(tmp_path / "nas")
    (shelf / "n2").symlink_to(tmp_path / "nas")
    found = list(walk([shelf]))
    assert names(found) == ["deep/y.pdf", "n1/x.pdf"]
    why = reasons(found)
    assert set(why) == {"above", "deep/up", "n1/back", "n2"}
    assert all("leads back" in why[name] for name in ("above", "deep/up", "n1/back"))
    assert "read elsewhere" in why["n2"]


def test_pipes_are_reported_and_not_opened(tmp_path):
    os.mkfifo(tmp_path / "pipe.pdf")
    found = list(walk([tmp_path]))
    assert reasons(found) == {"pipe.pdf": "a pipe, not a file"}


def test_trees_that_are_too_deep_are_reported(tmp_path):
    deep = tmp_path
    for _ in range(limits.MAX_FOLDER_DEPTH + 3):
        deep = deep / "d"
    put(deep / "lost.pdf")
    put(tmp_path / "d/found.pdf")
    found = list(walk([tmp_path]))
    assert names(found) == ["d/found.pdf"]
    (why,) = reasons(found).values()
    assert f"deeper than {limits.MAX_FOLDER_DEPTH}" in why


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read every folder")
def test_unreadable_folders_are_reported(tmp_path):
    put(tmp_path / "locked/a.pdf")
    put(tmp_path / "open.pdf")
    (tmp_path / "locked").chmod(0)
    try:
        found = list(walk([tmp_path]))
    finally:
        (tmp_path / "locked").chmod(0o755)
    assert names(found) == ["open.pdf"]
    assert "permission denied" in reasons(found)["locked"]


def test_refusals_of_the_system_become_reasons(tmp_path, monkeypatch):
    put(tmp_path / "locked/a.pdf")
    put(tmp_path / "open.pdf")
    real = os.scandir

    def guarded(path):
        if str(path).endswith("locked"):
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr("indexer.intake.walk.os.scandir", guarded)
    found = list(walk([tmp_path]))
    assert names(found) == ["open.pdf"]
    assert reasons(found) == {"locked": "the folder can't be read: permission denied"}


@pytest.mark.skipif(sys.platform != "linux", reason="names of any bytes are a Linux matter")
def test_names_that_are_not_text_can_be_shown_stored_and_found_again(tmp_path):
    raw = os.fsencode(tmp_path) + b"/caf\xe9\n\xc3\xa9.pdf"
    put(Path(os.fsdecode(raw)))
    put(tmp_path / "back\\x41slash.pdf")
    found = {one.name: one for one in walk([tmp_path])}
    assert set(found) == {"caf\\xe9\\x0aé.pdf", "back\\x41slash.pdf"}
    for name, one in found.items():
        name.encode("utf-8")
        assert name.isprintable()
        assert find_again(tmp_path, name) == one.path
        assert one.path.exists()


def test_overlapping_missing_and_single_file_roots(tmp_path):
    put(tmp_path / "a/b/1.pdf")
    put(tmp_path / "a/2.pdf")
    found = list(walk([tmp_path / "a/b", tmp_path / "a", tmp_path / "gone", tmp_path / "a/2.pdf"]))
    assert names(found) == ["1.pdf", "2.pdf"]
    assert reasons(found) == {
        "b": "the same folder as one that is read elsewhere",
        "gone": "not there",
        "2.pdf": "the same file as one that is read elsewhere",
    }
