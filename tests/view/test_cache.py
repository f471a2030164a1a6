"""Pictures kept: bounded on disk and in memory, and never a reason to fail."""

from pathlib import Path

from cli.view.cache import PictureCache


def test_a_picture_is_drawn_once(tmp_path: Path) -> None:
    drawn: list[int] = []

    def draw() -> bytes:
        drawn.append(1)
        return b"picture"

    assert PictureCache(tmp_path).get("page", draw) == b"picture"
    assert PictureCache(tmp_path).get("page", draw) == b"picture"  # another run: from the disk
    assert len(drawn) == 1


def test_the_disk_is_bounded(tmp_path: Path) -> None:
    cache = PictureCache(tmp_path, most_bytes=10_000)
    for number in range(100):
        cache.get(f"page {number}", lambda: b"x" * 1_000)
        kept = sum(path.stat().st_size for path in tmp_path.rglob("*") if path.is_file())
        assert kept <= 10_000


def test_a_folder_that_takes_nothing_costs_nothing_but_time(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    cache = PictureCache(tmp_path / "file" / "pictures")
    assert cache.get("page", lambda: b"picture") == b"picture"


def test_names_on_disk_are_sums(tmp_path: Path) -> None:
    PictureCache(tmp_path).get("../../evil", lambda: b"x")
    (kept,) = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert kept.parent.parent == tmp_path
    assert len(kept.name) == 64
