"""Photos kept by content: byte for byte, in copies too, and never outside their folder."""

import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from indexer.errors import InputError
from indexer.store import keeping
from indexer.store.job_rows import Photo
from indexer.store.photos import PhotoFolder
from indexer.store.records import Records


@pytest.fixture
def photos(tmp_path: Path) -> PhotoFolder:
    return PhotoFolder(tmp_path / "photos")


@pytest.fixture
def records(tmp_path: Path, photos: PhotoFolder) -> Records:
    made = Records(tmp_path / "records.db")
    job = made.open_job("with a photo")
    sha256 = photos.put(b"a picture", ".jpg")
    made.bench.add_photo(job, Photo(sha256, ".jpg", "front.jpg", "2026-03-01", "as it came in"))
    return made


def test_a_photo_is_named_by_its_bytes_and_kept_once(photos: PhotoFolder) -> None:
    """The name is the SHA-256 that the standard library computes (FIPS 180-4)."""
    first, again = photos.put(b"one", ".png"), photos.put(b"one", ".png")
    assert first == again == hashlib.sha256(b"one").hexdigest()
    assert [path.name for path in photos.folder.iterdir()] == [first + ".png"]
    assert photos.read(first + ".png") == b"one"
    photos.path(first + ".png").write_bytes(b"spoilt")
    assert photos.read(first + ".png") is None


@pytest.mark.parametrize("name", ["../records.db", "a.jpg", "a" * 64, "a" * 64 + ".exe", ""])
def test_nothing_else_can_be_named(photos: PhotoFolder, name: str) -> None:
    with pytest.raises(InputError):
        photos.path(name)


def test_a_copy_brings_its_photos_along(
    records: Records, photos: PhotoFolder, tmp_path: Path
) -> None:
    assert keeping.back_up(records, tmp_path / "copy.db", photos) == []
    other, others = Records(tmp_path / "other.db"), PhotoFolder(tmp_path / "others")
    keeping.restore(other, tmp_path / "copy.db", others)
    (photo,) = other.jobs()[0].photos
    assert others.read(photo.kept_as) == b"a picture"


def test_a_lost_photo_is_said_and_costs_nothing_else(
    records: Records, photos: PhotoFolder, tmp_path: Path
) -> None:
    for path in photos.folder.iterdir():
        path.unlink()
    (line,) = keeping.back_up(records, tmp_path / "copy.db", photos)
    assert "front.jpg" in line
    other = Records(tmp_path / "other.db")
    keeping.restore(other, tmp_path / "copy.db", PhotoFolder(tmp_path / "others"))
    assert len(other.jobs()[0].photos) == 1


def test_a_copy_whose_photo_was_changed_is_refused(
    records: Records, photos: PhotoFolder, tmp_path: Path
) -> None:
    keeping.back_up(records, tmp_path / "copy.db", photos)
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        copy.execute("UPDATE kept_photo SET bytes = ?", [b"another"])
        copy.commit()
    other = Records(tmp_path / "other.db")
    with pytest.raises(InputError, match="damaged"):
        keeping.restore(other, tmp_path / "copy.db", PhotoFolder(tmp_path / "others"))
    assert other.jobs() == []
