"""Manifests by the IIIF Presentation API 3.0: the published rules named beside each check, and
read back by iiif-prezi3, whose types follow the standard's schema."""

import re
from typing import Any

import pytest
from iiif_prezi3 import AnnotationPage, Manifest
from starlette.testclient import TestClient

from indexer import Library
from tests.view.conftest import BASE, Names

CONTEXT = "http://iiif.io/api/presentation/3/context.json"


@pytest.fixture(scope="module")
def manifest(shared: TestClient, names: Names) -> dict[str, Any]:
    answer = shared.get(f"/iiif/set/{names.entry}/manifest.json")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == f'application/ld+json;profile="{CONTEXT}"'
    data: dict[str, Any] = answer.json()
    return data


def test_it_is_a_manifest_of_the_standard(manifest: dict[str, Any], names: Names) -> None:
    Manifest(**manifest)
    assert manifest["@context"] == CONTEXT  # section 4.6
    assert manifest["id"] == f"{BASE}/iiif/set/{names.entry}/manifest.json"  # 3.2: its own address
    assert manifest["type"] == "Manifest"
    assert manifest["label"] == {"none": ["Tillbrook 5D10; chassis CH-41A"]}  # 4.2 language map
    assert len(manifest["items"]) == 3  # 5.2: at least one canvas


def test_every_canvas_is_painted_with_its_whole_page(manifest: dict[str, Any]) -> None:
    ids = set()
    for canvas in manifest["items"]:
        assert canvas["type"] == "Canvas"
        assert "#" not in canvas["id"]  # 5.3
        assert canvas["height"] > 0 and canvas["width"] > 0
        ((painting,),) = [page["items"] for page in canvas["items"]]  # 5.3: annotation pages
        assert painting["motivation"] == "painting"
        assert painting["target"] == canvas["id"]  # 5.6
        body = painting["body"]
        assert body["type"] == "Image"
        (service,) = body["service"]
        assert service["type"] == "ImageService3"
        assert service["profile"] == "level2"
        ids.add(canvas["id"])
    assert len(ids) == 3


def test_its_pictures_can_be_fetched(shared: TestClient, manifest: dict[str, Any]) -> None:
    canvas = manifest["items"][2]
    body = canvas["items"][0]["items"][0]["body"]
    for address in (body["id"], canvas["thumbnail"][0]["id"]):
        answer = shared.get(address)
        assert answer.status_code == 200
        assert answer.headers["content-type"] == "image/jpeg"
    info = shared.get(f"{body['service'][0]['id']}/info.json").json()
    assert (info["width"], info["height"]) == (canvas["width"], canvas["height"])


def test_the_words_are_annotations_on_the_canvas(
    shared: TestClient, manifest: dict[str, Any]
) -> None:
    canvas = manifest["items"][0]
    (reference,) = canvas["annotations"]  # 5.3: not painting, so not among its items
    words = shared.get(reference["id"]).json()
    AnnotationPage(**words)
    assert words["id"] == reference["id"]
    assert words["type"] == "AnnotationPage"
    texts = [item["body"]["value"] for item in words["items"]]
    assert "12BE6" in texts
    for item in words["items"]:
        assert item["motivation"] == "supplementing"
        assert item["body"]["type"] == "TextualBody"
        found = re.fullmatch(r"(.+)#xywh=(\d+),(\d+),(\d+),(\d+)", item["target"])
        assert found
        assert found[1] == canvas["id"]
        x, y, width, height = (int(part) for part in found.groups()[1:])
        assert x + width <= canvas["width"]
        assert y + height <= canvas["height"]


def test_a_job_has_a_manifest_of_its_marked_pages(client: TestClient, names: Names) -> None:
    home = client.app.state.desk.settings.home  # type: ignore[attr-defined]
    with Library(home) as library:
        job = library.open_job("kitchen set", library.entry(names.entry), "hum")
        pages = [library.page(names.second), library.page(names.first)]
        library.mark(job.id, pages, "on the bench")
    answer = client.get(f"/iiif/job/{job.id}/manifest.json")
    made = Manifest(**answer.json())
    assert [canvas.id for canvas in made.items] == [
        f"{BASE}/iiif/page/{name}/canvas" for name in (names.second, names.first)
    ]
    assert "on the bench" in answer.text
    assert client.get("/iiif/job/99/manifest.json").status_code == 404
    assert client.get("/iiif/job/nine/manifest.json").status_code == 404


def test_what_is_not_there(shared: TestClient) -> None:
    assert shared.get("/iiif/set/nosuch/manifest.json").status_code == 404
    assert shared.get("/iiif/page/nosuch/words.json").status_code == 404
