"""Two views of one home at once: what is written in one is seen in the other, and none is lost."""

import re
import socket
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import httpx2
import pytest

from indexer import Library, check_home
from tests.commands import call
from tests.endurance.places import NOTE
from tests.view.conftest import serving

PAGES = 16  # of the shelf; every second one is marked in the one view, the rest in the other
NOTES = 10  # typed in each view meanwhile


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("views")
    shelf = folder / "shelf"
    shelf.mkdir()
    for n in range(PAGES):
        (shelf / f"set {n}.txt").write_text(NOTE.format(n=n + 10))
    with Library(folder / "home") as library:
        library.index([shelf], workers=1)
    return folder / "home"


@pytest.fixture(scope="module")
def views(home: Path) -> Iterator[list[httpx2.Client]]:
    """Two of them, each with a browser of its own."""
    with ExitStack() as open_ones:
        addresses = [open_ones.enter_context(serving(home)) for _ in "12"]
        yield [
            open_ones.enter_context(httpx2.Client(base_url=address, timeout=60))
            for address in addresses
        ]


def send(view: httpx2.Client, path: str, **fields: str) -> httpx2.Response:
    """A form as one of the view's own pages sends it."""
    token = re.search(r'name="token" value="([0-9a-f]{64})"', view.get("/jobs").text)
    assert token
    origin = str(view.base_url).rstrip("/")
    return view.post(path, data={"token": token[1], **fields}, headers={"origin": origin})


def test_two_views_of_one_home_lose_nothing(home: Path, views: list[httpx2.Client]) -> None:
    one, other = views
    opened = send(one, "/jobs", set="Tillbrook 10T1 12BE6 12BA6 35W4")
    assert opened.status_code == 303
    job = opened.headers["location"].partition("?")[0]
    assert send(one, job, do="note", text="typed in the one").status_code == 303
    assert "typed in the one" in other.get(job).text
    assert send(other, job, do="note", text="typed in the other").status_code == 303
    assert "typed in the other" in one.get(job).text

    with Library(home) as library:
        pages = [page.name for page in library.pages()]
    number, together = job.rpartition("/")[2], threading.Barrier(4)

    def mark(side: int) -> set[int]:
        together.wait(30)
        return {
            send(views[side], "/mark", job=number, page=page, why=f"side {side}").status_code
            for page in pages[side::2]
        }

    def note(side: int) -> set[int]:
        together.wait(30)
        return {
            send(views[side], job, do="note", text=f"note {side}-{n}").status_code
            for n in range(NOTES)
        }

    with ThreadPoolExecutor(4) as threads:
        asked = [threads.submit(what, side) for what in (mark, note) for side in (0, 1)]
        assert [one.result() for one in asked] == [{303}] * 4
    with Library(home) as library:
        kept = library.job(int(number))
        marked = [card.card.name for card in library.marked_pages(kept.id) if card.card]
    assert sorted(marked) == sorted(pages)
    wanted = {f"note {side}-{n}" for side in (0, 1) for n in range(NOTES)}
    assert {one.text for one in kept.notes} == wanted | {"typed in the one", "typed in the other"}
    for view in views:
        shown = view.get(job).text
        assert all(text in shown for text in wanted)
    assert check_home(home).findings == ()


def test_both_mark_the_same_page_at_the_same_moment(home: Path, views: list[httpx2.Client]) -> None:
    job = send(views[0], "/jobs", set="Tillbrook 10T1").headers["location"].partition("?")[0]
    with Library(home) as library:
        page = next(iter(library.pages())).name
    together = threading.Barrier(2)

    def mark(view: httpx2.Client) -> int:
        together.wait(30)
        return send(view, "/mark", job=job.rpartition("/")[2], page=page, why="one").status_code

    with ThreadPoolExecutor(2) as threads:
        assert list(threads.map(mark, views)) == [303, 303]
    with Library(home) as library:
        kept = library.job(int(job.rpartition("/")[2]))
        assert [mark.why for mark in kept.marks] == ["one"]


def test_a_second_view_where_one_listens_already_says_what_to_do(home: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = call("view", "--port", str(port), home=home)
    assert done.returncode == 3
    what, todo = done.stderr.splitlines()
    assert what.startswith(f"Port {port} can't be used (")
    assert todo == "Choose another: benchfolio view --port 8500"
