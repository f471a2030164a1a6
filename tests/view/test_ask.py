"""Asking by words, tubes and photos, through the view's own addresses."""

import io
import re
import time
from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient

from cli.view.photos import check_photo
from indexer import InputError, limits
from tests.view.conftest import Names

Post = Callable[..., Any]


def test_the_first_screen_asks(shared: TestClient) -> None:
    body = shared.get("/").text
    assert '<textarea id="q"' in body
    assert 'type="file"' in body
    assert "3 sets on the shelf, 5 pages read" in body


def test_an_answer_says_why_and_shows_its_pages(shared: TestClient, names: Names) -> None:
    body = shared.get("/", params={"q": "tillbrook 5D10"}).text
    assert '<p class="grade">exact</p>' in body
    assert "model prints 5D10" in body
    assert "parts list" in body
    assert f"/iiif/image/{names.second}/full/!240,240/0/default.jpg" in body
    assert f"/look/{names.second}?in={names.entry}&amp;q=tillbrook+5D10" in body


def test_tubes_come_as_an_exchange_in_two_columns(shared: TestClient) -> None:
    body = shared.get("/", params={"q": "12BE6 12BA6 12AV6 50C5 35W4"}).text
    assert body.index("Tillbrook") < body.index("Oxbarrow")
    cells = re.findall(r'<td class="code">(\w+)</td><td class="code">(\w+)</td>', body)
    assert ("12AV6", "12AT6") in cells
    assert ("50C5", "50B5") in cells


def test_kin_by_tubes_and_of_a_set(shared: TestClient, names: Names) -> None:
    asked = shared.get("/kin", params={"tubes": "12BE6 12BA6 12AT6 50B5 35W4"}).text
    assert asked.index("Oxbarrow") < asked.index("Tillbrook")
    assert "122.8 V" in asked
    of_set = shared.get("/kin", params={"of": names.entry}).text
    assert f"/set/{names.entry}" not in of_set
    assert "Oxbarrow" in of_set
    assert shared.get("/kin", params={"tubes": "not tubes"}).status_code == 400
    assert shared.get("/kin", params={"of": "nosuch"}).status_code == 404


def test_nothing_found_says_what_next(shared: TestClient) -> None:
    body = shared.get("/", params={"q": "zzzzz"}).text
    assert "Try fewer words" in body
    assert "Add the tubes" in body


def test_a_question_that_is_none_is_told(shared: TestClient) -> None:
    answer = shared.get("/", params={"q": "---"})
    assert answer.status_code == 400
    assert "no letter or digit" in answer.text
    assert "---" in answer.text  # what was typed is not lost
    long = shared.get("/", params={"q": "a" * (limits.MAX_QUERY_CHARS + 1)})
    assert long.status_code == 400


def test_sets_and_one_set(shared: TestClient, names: Names) -> None:
    body = shared.get("/sets").text
    assert body.index("Oxbarrow") < body.index("Quarrydale") < body.index("Tillbrook")
    one = shared.get(f"/set/{names.entry}").text
    assert "Take the chassis as live" in one
    assert "455 kc" in one
    assert "12BE6" in one
    assert shared.get("/set/nosuch").status_code == 404


def test_a_photo_is_read_and_its_words_can_be_struck(client: TestClient, post: Post) -> None:
    """The readers are replaced by words of a label, so that the way there is tested alone."""
    readings = _label_read(client)
    sent = post("/photo", files={"photo": ("../../etc/passwd", _jpeg(), "image/jpeg")})
    assert sent.status_code == 303
    path = sent.headers["location"]
    assert re.fullmatch(r"/photo/[\w-]{16}", path)
    waiting = client.get(path).text
    assert 'http-equiv="refresh"' in waiting
    readings.set_result(_reading("TILLBROOK RADIO", "MODEL 5D10"))
    body = client.get(path).text
    assert "Read on the photo" in body
    assert '<p class="grade">exact</p>' in body
    struck = client.get(path, params={"strike": "MODEL 5D10", "add": "88-K"}).text
    assert struck.index("Quarrydale") < struck.index("</ol>")
    assert "checked" in struck


def test_readers_that_never_answer_are_given_up(
    client: TestClient, post: Post, monkeypatch: pytest.MonkeyPatch
) -> None:
    _label_read(client)
    path = post("/photo", files={"photo": ("a.jpg", _jpeg(), "image/jpeg")}).headers["location"]
    later = time.monotonic() + 2 * limits.PAGE_TIMEOUT_S + 1
    monkeypatch.setattr("cli.view.photos.time", SimpleNamespace(monotonic=lambda: later))
    answer = client.get(path)
    assert answer.status_code == 422
    assert "could not be read" in answer.text


def test_photos_are_deleted_once_read(client: TestClient, post: Post) -> None:
    readings = _label_read(client)
    box: Any = client.app.state.desk.photos  # type: ignore[attr-defined]
    post("/photo", files={"photo": ("a.jpg", _jpeg(), "image/jpeg")})
    folder: Path = box._folder
    assert len(list(folder.iterdir())) == 1
    readings.set_result(_reading("X"))
    time.sleep(0.05)
    assert not list(folder.iterdir())


def test_a_photo_that_is_none_is_refused(client: TestClient, post: Post) -> None:
    answer = post("/photo", files={"photo": ("a.jpg", b"no picture", "image/jpeg")})
    assert answer.status_code == 422
    assert "no photo that can be read" in answer.text
    assert post("/photo").status_code == 422
    assert client.get("/photo/unknown").status_code == 404


def test_an_oversized_upload_is_refused(client: TestClient, post: Post) -> None:
    most = limits.MAX_PHOTOS * limits.MAX_PHOTO_BYTES + limits.MAX_FORM_BYTES
    long = {"content-length": str(most + 1), "origin": "http://127.0.0.1:8437"}
    assert client.post("/photo", content=b"", headers=long).status_code == 413
    seven = [("photo", ("a.jpg", _jpeg(), "image/jpeg"))] * (limits.MAX_PHOTOS + 1)
    assert post("/photo", files=seven).status_code == 400


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
def test_a_photo_of_too_many_pixels_is_refused_by_its_header() -> None:
    header = io.BytesIO()
    Image.new("1", (20_000, 6_000)).save(header, "PNG")
    with pytest.raises(InputError, match="120 million pixels"):
        check_photo(header.getvalue())
    with pytest.raises(InputError, match="bytes"):
        check_photo(b"x" * (limits.MAX_PHOTO_BYTES + 1))


def _jpeg() -> bytes:
    kept = io.BytesIO()
    Image.new("L", (60, 40), 200).save(kept, "JPEG")
    return kept.getvalue()


def _label_read(client: TestClient) -> "Future[Any]":
    """What the photo's reading will be, in place of two readers' seconds of work."""
    future: Future[Any] = Future()
    desk = client.app.state.desk  # type: ignore[attr-defined]
    desk.pictures.read_photo = lambda path: future
    return future


def _reading(*lines: str) -> Any:
    from indexer.model import Box, PageReading, Word
    from indexer.search.photos import PhotoReading

    words = []
    for row, line in enumerate(lines):
        for place, text in enumerate(line.split()):
            box = Box(place * 200, row * 60, place * 200 + 150, row * 60 + 40)
            words.append(Word(text, box, 0.95, row))
    return PhotoReading(Path("label.jpg"), PageReading(tuple(words), 900, 300, "second"))
