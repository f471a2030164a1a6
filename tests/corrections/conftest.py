"""The small library of `shelf`, catalogued once; each test gets a copy."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from indexer import Library
from tests.corrections.shelf import library_in


@pytest.fixture(scope="session")
def catalogued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("corrected")
    library_in(folder).close()
    return folder / "home"


@pytest.fixture
def library(catalogued: Path, tmp_path: Path) -> Any:
    shutil.copytree(catalogued, tmp_path / "home")
    with Library(tmp_path / "home") as opened:
        yield opened
