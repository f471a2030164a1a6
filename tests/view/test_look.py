"""Looking at a page without script: everything is in the address; words are marked."""

import re
from collections.abc import Callable
from typing import Any

from starlette.testclient import TestClient

from indexer import marked
from indexer.model import Box, PageReading, Word
from indexer.search.query import understand
from tests.view.conftest import Names

Post = Callable[..., Any]


def test_a_page_with_its_neighbours(shared: TestClient, names: Names) -> None:
    body = shared.get(f"/look/{names.second}").text
    assert "2 of 3" in body
    assert f'rel="prev" href="/look/{names.first}?in={names.entry}"' in body
    assert f'rel="next" href="/look/{names.foldout}?in={names.entry}"' in body
    assert "50-30 MFD" in body  # the words read, for who can't see the picture


def test_words_asked_for_are_marked_where_they_stand(shared: TestClient, names: Names) -> None:
    """Marks against where the drawn page puts the words: 12 pt at a margin of 10 mm."""
    body = shared.get(f"/look/{names.first}", params={"q": "12BE6"}).text
    assert "1 marked" in body
    found = re.findall(r'class="mark" x="(-?\d+)" y="(\d+)" width="(\d+)" height="(\d+)"', body)
    ((x, y, width, height),) = [tuple(map(int, mark)) for mark in found]
    line_px = 300 / 25.4
    assert abs(y + height / 2 - (10 + 9 * 5.5) * line_px) < 25  # the sixth line of nine mm
    assert 10 * line_px < x < 40 * line_px
    assert 60 < width < 250


def test_two_pages_side_by_side(shared: TestClient, names: Names) -> None:
    body = shared.get(f"/look/{names.first}?beside={names.second}").text
    assert body.count('class="pane"') == 2
    assert 'class="panes two"' in body
    assert shared.get(f"/look/{names.first}?beside=nosuch").status_code == 404


def test_turn_and_zoom_without_script(shared: TestClient, names: Names) -> None:
    body = shared.get(f"/look/{names.first}?turn=90&zoom=near&q=12BE6").text
    picture = re.search(r'src="(/iiif/image/[^"]+)" width="(\d+)" height="(\d+)"', body)
    assert picture
    assert picture[1].endswith("/90/default.jpg")
    assert int(picture[2]) > int(picture[3])
    assert "rotate(90)" in body
    assert shared.get(picture[1]).status_code == 200
    odd = shared.get(f"/look/{names.first}?turn=17&zoom=huge")
    assert odd.status_code == 200
    assert "/0/default.jpg" in odd.text


def test_a_page_that_is_not_there(shared: TestClient) -> None:
    assert shared.get("/look/nosuch").status_code == 404


def test_a_page_named_twice_is_told(client: TestClient, names: Names) -> None:
    """Two pages may share a short name; links then name them by their place in the catalogue."""
    desk = client.app.state.desk  # type: ignore[attr-defined]
    with desk.library() as library:
        library.catalogue.db.execute(
            "UPDATE page SET name = ? WHERE name = ?", [names.first, names.second]
        )
    answer = client.get(f"/look/{names.first}")
    assert answer.status_code == 400
    assert "2 pages are called" in answer.text
    handles = re.findall(r'href="/look/(~\d+)\?', client.get(f"/set/{names.entry}").text)
    assert len(set(handles)) == 2
    body = client.get(f"/look/{handles[1]}").text
    assert "2 of 3" in body
    picture = re.search(r'src="(/iiif/image/~\d+/[^"]+)"', body)
    assert picture
    assert client.get(picture[1]).status_code == 200
    assert client.get("/look/~999").status_code == 404


def test_pages_read_anew_meanwhile_are_shown_anew(client: TestClient, names: Names) -> None:
    """Another program writes the catalogue: the picture follows the new reading."""
    from dataclasses import replace

    from indexer import Library

    info = f"/iiif/image/{names.first}/info.json"
    before = client.get(info).json()
    home = client.app.state.desk.settings.home  # type: ignore[attr-defined]
    with Library(home) as library:
        card = library.page(names.first)
        turned = replace(library.reading(card), rotation_deg=90)
        library.catalogue.put_second(card.page_id, turned, turned)
    after = client.get(info).json()
    assert (after["width"], after["height"]) == (before["height"], before["width"])


def test_marks_follow_codes_tubes_and_misread_letters() -> None:
    def line(number: int, *texts: str) -> list[Word]:
        return [
            Word(text, Box(n * 100, number * 50, n * 100 + 90, number * 50 + 40), 0.9, number)
            for n, text in enumerate(texts)
        ]

    reading = PageReading(
        (
            *line(0, "TILLBROOK", "MODEL", "SD1O,"),
            *line(1, "CHASSIS", "CH", "41A"),
            *line(2, "6SN7-GT", "R470", "470K"),
        ),
        1000,
        1000,
        "",
    )
    asked = understand("tillbrook 5D10 chassis CH-41A 6SN7", {"TILLBROOK": "Tillbrook"})
    texts = [text for _, text in marked(reading, asked)]
    assert texts == ["TILLBROOK", "SD1O,", "CH 41A", "6SN7-GT"]
    (box,) = [box for box, text in marked(reading, asked) if text == "CH 41A"]
    assert (box.left, box.right) == (100, 290)
