"""What many tests share: the real files to read, and a part of the sample shelf read once."""

import os
import shutil
from pathlib import Path

import pytest

from indexer import Library

SAMPLE_LIBRARY = Path(__file__).parent.parent / "sample_library"


@pytest.fixture(scope="session")
def scans() -> Path:
    """The folder of real scans that BENCHFOLIO_SCANS names; the test is skipped without it."""
    named = os.environ.get("BENCHFOLIO_SCANS")
    if not named:
        pytest.skip("BENCHFOLIO_SCANS is not set: no folder of real scans to read")
    return Path(named)


@pytest.fixture(scope="session")
def read_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home in which the sample shelf's loose sheets, photos and notes have been read by both
    readers. Copy it before writing. The whole shelf is read by `tests.accuracy.sample_shelf`.
    """
    folder = tmp_path_factory.mktemp("sample")
    shelf = folder / "shelf"
    for part in ("loose", "photos", "my notes"):
        shutil.copytree(SAMPLE_LIBRARY / "shelf" / part, shelf / part)
    with Library(folder / "home") as library:
        library.index([shelf])
    return folder / "home"


@pytest.fixture
def home(read_home: Path, tmp_path: Path) -> Path:
    """The read home, a copy that the test may write to."""
    return Path(shutil.copytree(read_home, tmp_path / "home"))
