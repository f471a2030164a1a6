"""A small shelf read once, and the view over a copy of it: by a test client, or really served."""

import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from cli.view.app import build_app
from cli.view.settings import Settings
from indexer import Library
from tests.view import shelf

ROOT = Path(__file__).parents[2]
BASE = "http://127.0.0.1:8437"

Post = Callable[..., object]


@dataclass(frozen=True)
class Names:
    """Short names on the drawn shelf."""

    entry: str
    first: str
    second: str
    foldout: str

    def path(self, pattern: str) -> str:
        return pattern.format(**self.__dict__)


@pytest.fixture(scope="session")
def view_shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The home of the drawn shelf, read. Copy it before writing."""
    folder = tmp_path_factory.mktemp("view")
    shelf.draw(folder / "shelf")
    shelf.read(folder / "shelf", folder / "home")
    return folder / "home"


@pytest.fixture(scope="session")
def names(view_shelf: Path) -> Names:
    return names_of(view_shelf)


def names_of(home: Path) -> Names:
    """The short names in a home that holds the drawn shelf."""
    with Library(home) as library:
        entry = next(e for e in library.all_entries() if "5D10" in e.models)
        first, second, foldout = (card.name for card in library.entries.cards(entry.id))
    return Names(entry.id, first, second, foldout)


@pytest.fixture(scope="session")
def shared(view_shelf: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """One view for all tests that only read."""
    home = Path(shutil.copytree(view_shelf, tmp_path_factory.mktemp("shared") / "home"))
    with TestClient(
        build_app(Settings(home, warm=False)), base_url=BASE, follow_redirects=False
    ) as client:
        yield client


@pytest.fixture
def client(view_shelf: Path, tmp_path: Path) -> Iterator[TestClient]:
    """A view over a copy that the test may write to."""
    home = Path(shutil.copytree(view_shelf, tmp_path / "home"))
    with TestClient(
        build_app(Settings(home, warm=False)), base_url=BASE, follow_redirects=False
    ) as made:
        yield made


@pytest.fixture
def post(client: TestClient) -> Post:
    """`post(path, data, files=…)` as a form on one of our own pages would send it."""

    def send(path: str, data: dict[str, object] | None = None, **more: object) -> object:
        fields = {"token": token_from(client)} | (data or {})
        return client.post(path, data=fields, headers={"origin": BASE}, **more)

    return send


def token_from(client: TestClient) -> str:
    """The form token of the client's session."""
    found = re.search(r'name="token" value="([0-9a-f]{64})"', client.get("/").text)
    assert found
    return found[1]


@pytest.fixture(scope="session")
def served(view_shelf: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a view served by the command itself."""
    home = Path(shutil.copytree(view_shelf, tmp_path_factory.mktemp("served") / "home"))
    with serving(home) as address:
        yield address


class serving:  # noqa: N801 - used as a `with` block
    """The view of a home served by the command on a free port, until the block ends."""

    def __init__(self, home: Path, *options: str) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self._port = free.getsockname()[1]
        self._home = home
        self._options = options

    def __enter__(self) -> str:
        self._process = subprocess.Popen(
            [sys.executable, "-c", "from cli.app import main; main()", "view", "--port",
             str(self._port), "--home", str(self._home), *self._options],
            cwd=ROOT,
        )  # fmt: skip
        address = f"http://127.0.0.1:{self._port}"
        for _ in range(200):
            try:
                urllib.request.urlopen(address + "/sets", timeout=5).close()
                return address
            except OSError:
                time.sleep(0.05)
        self.__exit__()
        raise AssertionError("the view did not start")

    def __exit__(self, *_: object) -> None:
        self._process.terminate()
        self._process.wait(20)
