"""Check, doubts and the shelf: what was read over the page, corrections, reading progress."""

import re

from starlette.testclient import TestClient

from indexer import Library
from tests.view.conftest import Names, Post


def test_the_words_read_lie_over_the_page(client: TestClient, names: Names) -> None:
    text = client.get(f"/check/{names.first}").text
    assert 'class="sure"' in text and f"/iiif/image/{names.first}/full/" in text
    assert "5D10" in text and "<script>" not in text


def test_a_correction_is_kept_shown_and_taken_back(
    client: TestClient, post: Post, names: Names
) -> None:
    path = f"/check/{names.first}"
    with Library(client.app.state.desk.settings.home) as library:
        entry = library.entry(names.entry)
    as_it_is = {
        "entry": entry.id,
        "maker": entry.maker,
        "models": "\n".join(entry.models),
        "chassis": "\n".join(entry.chassis),
        "tubes": " ".join(tube.printed or tube.type for tube in entry.tubes),
        "year": str(entry.year or ""),
    }
    assert post(path, as_it_is | {"do": "set"}).status_code == 400  # nothing was changed
    sent = post(path, as_it_is | {"do": "set", "models": "00123"})
    assert sent.status_code == 303
    text = client.get(sent.headers["location"]).text
    assert "00123" in text
    assert "00123" in client.get("/?q=00123").text  # found at once
    number = re.search(r'name="number" value="(\d+)"', text)
    assert number
    back = post(path, {"do": "undo", "number": number[1], "entry": entry.id})
    assert "00123" not in client.get(back.headers["location"]).text


def test_kinds_of_a_page(client: TestClient, post: Post, names: Names) -> None:
    sent = post(f"/check/{names.second}", {"do": "kinds", "kind": ["tube layout"]})
    assert sent.status_code == 303
    assert 'value="tube layout" checked' in client.get(sent.headers["location"]).text
    assert post(f"/check/{names.second}", {"do": "kinds"}).status_code == 400


def test_what_can_not_be_corrected_is_said(client: TestClient, post: Post, names: Names) -> None:
    path = f"/check/{names.first}"
    bad = {"do": "set", "entry": names.entry, "maker": "x", "tubes": "NOTATUBE", "year": ""}
    assert post(path, bad).status_code == 400
    assert post(path, {"do": "set", "entry": names.entry, "year": "19x"}).status_code == 400
    assert post(path, {"do": "sing"}).status_code == 400
    assert client.get("/check/nosuch").status_code == 404


def test_doubts_are_listed_with_the_part_of_the_page(client: TestClient, names: Names) -> None:
    text = client.get("/doubts").text
    assert "What deserves a look" in text
    for region in re.findall(r"/iiif/image/[^/]+/(pct:[^/]+)/", text)[:3]:
        assert (
            client.get(f"/iiif/image/{names.first}/{region}/!90,90/0/default.jpg").status_code
            == 200
        )


def test_the_shelf_shows_how_far_reading_is(client: TestClient) -> None:
    counts = client.get("/shelf.json").json()
    assert sum(piece["count"] for piece in counts["pieces"]) == counts["total"] > 0
    shares = sum(piece["share"] for piece in counts["pieces"])
    assert 99.9 < shares < 100.1
    assert "read by all readers" in client.get("/shelf").text
