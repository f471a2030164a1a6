"""A cluster of three workers for the tests here; skipped by name where Dask is not installed."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cluster.machines import Machines


@pytest.fixture(scope="session")
def machines() -> Iterator[Machines]:
    """A scheduler and three workers on loopback, each a process."""
    pytest.importorskip("distributed", reason="distributed is not installed: no cluster to try")
    with Machines(3) as running:
        yield running


@pytest.fixture
def sheets(tmp_path: Path) -> list[Path]:
    """Small files of which no two are alike."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    made = []
    for n in range(30):
        path = folder / f"sheet {n}.txt"
        path.write_bytes(b"%d %s" % (n, b"Tillbrook 5D10 " * n))
        made.append(path)
    return made
