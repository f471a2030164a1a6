"""The job's screens through a test client: open, mark, note, tick, read, use, print."""

import io
import re

import pypdf
import pytest
from PIL import Image
from starlette.testclient import TestClient

from indexer import Library
from tests.view.conftest import Names, Post


@pytest.fixture
def job(post: Post, names: Names) -> str:
    """The address of a job opened for the drawn set, with its first page marked."""
    sent = post("/jobs", {"entry": names.entry, "symptom": "hums", "page": names.first})
    assert sent.status_code == 303
    return str(sent.headers["location"])


def test_a_job_for_a_set_shows_its_page_and_is_found_by_its_words(
    client: TestClient, job: str, names: Names
) -> None:
    text = client.get(job).text
    assert "hums" in text and f"/look/{names.first}" in text
    assert job in client.get("/jobs?q=hums").text
    assert job not in client.get("/jobs?q=nosuchword").text


def test_a_job_for_a_set_typed_in_words(client: TestClient, post: Post) -> None:
    sent = post("/jobs", {"set": "Oxbarrow 77 12BE6 12BA6 12AV6 50C5 35W4"})
    assert "12BE6" in client.get(sent.headers["location"]).text
    assert post("/jobs", {"set": ""}).status_code == 400


def test_a_page_is_marked_from_the_look_screen_and_moved(
    client: TestClient, post: Post, job: str, names: Names
) -> None:
    number = job.rpartition("/")[2]
    assert f'value="{number}"' in client.get(f"/look/{names.second}").text
    sent = post("/mark", {"job": number, "page": names.second, "why": "parts list"})
    assert sent.status_code == 303
    assert f"Marked for job {number}" in client.get(sent.headers["location"]).text
    assert post(job, {"do": "up", "number": "2"}).status_code == 303
    text = client.get(job).text
    assert text.index(f"/look/{names.second}") < text.index(f"/look/{names.first}")
    post(job, {"do": "unmark", "number": "1"})
    assert f"/look/{names.second}" not in client.get(job).text


def test_notes_are_shown_as_typed_and_never_as_markup(
    client: TestClient, post: Post, job: str
) -> None:
    post(job, {"do": "note", "text": "<script>alert(1)</script> C3 leaks"})
    text = client.get(job).text
    assert "C3 leaks" in text and "<script>alert" not in text


def test_closing_deleting_and_bringing_back(client: TestClient, post: Post, job: str) -> None:
    post(job, {"do": "close", "outcome": "C3 open, replaced"})
    assert "C3 open, replaced" in client.get(job).text
    post(job, {"do": "delete"})
    assert job not in client.get("/jobs").text
    assert job in client.get("/jobs?deleted=yes").text
    assert post(job, {"do": "note", "text": "late"}).status_code == 400
    post(job, {"do": "undelete"})
    assert job in client.get("/jobs").text


def test_photos_are_kept_shown_and_bounded(client: TestClient, post: Post, job: str) -> None:
    data = io.BytesIO()
    Image.new("RGB", (40, 30), "red").save(data, "JPEG")
    number = job.rpartition("/")[2]
    files = {"photo": ("../../evil.jpg", data.getvalue(), "image/jpeg")}
    assert post("/job/photo", {"job": number, "why": "label"}, files=files).status_code == 303
    found = re.search(rf"{job}/photo/([0-9a-f]{{64}})", client.get(job).text)
    assert found
    shown = client.get(found[0])
    assert shown.content == data.getvalue() and shown.headers["content-type"] == "image/jpeg"
    assert client.get(f"{job}/photo/{'0' * 64}").status_code == 404
    none = {"photo": ("x.jpg", b"no photo at all", "image/jpeg")}
    assert post("/job/photo", {"job": number}, files=none).status_code == 422


def test_parts_are_added_ticked_and_struck(client: TestClient, post: Post, job: str) -> None:
    post(f"{job}/parts", {"do": "add", "reference": "C20", "words": ".05 mfd 400 V paper"})
    assert "0.047" in client.get(f"{job}/parts").text
    assert post(f"{job}/parts", {"do": "done"}).status_code == 400
    post(f"{job}/parts", {"do": "done", "reference": ["C20"]})
    assert '<tr class="done">' in client.get(f"{job}/parts").text


def test_a_reading_gets_its_verdict_and_its_plot(client: TestClient, post: Post, job: str) -> None:
    reading = {"own_point": "R77", "own_reads": "800K", "own_nominal": "470K"}
    post(f"{job}/readings", reading)
    text = client.get(f"{job}/readings").text
    assert 'class="is-out"' in text and 'aria-label="R77 reads 800K, out' in text
    assert post(f"{job}/readings", {"point": ["R77"], "reads": [""]}).status_code == 400


def test_a_spare_goes_from_the_drawer_into_the_job_and_back(
    client: TestClient, post: Post, job: str
) -> None:
    post("/drawer", {"do": "add", "tube": "12BE6", "count": "2", "place": "tray 3"})
    assert "tray 3" in client.get("/drawer").text
    assert "Use a spare 12BE6" in client.get(f"{job}/tubes").text
    post(f"{job}/tubes", {"do": "use", "spare": "12BE6", "tube": "12BE6"})
    assert "Put 12BE6 back" in client.get(f"{job}/tubes").text
    post(f"{job}/tubes", {"do": "back", "spare": "12BE6"})
    assert "Put 12BE6 back" not in client.get(f"{job}/tubes").text
    assert post("/drawer", {"do": "take", "tube": "12BE6", "count": "0"}).status_code == 400


def test_the_power_up_sheet_draws_the_string_and_warns(client: TestClient, job: str) -> None:
    text = client.get(f"{job}/power-up").text
    assert "Chassis live: likely" in text and "Local codes" in text
    assert "of a 117 V line" in text and 'class="string"' in text


def test_the_packet_is_a_pdf_with_the_marked_page(client: TestClient, post: Post, job: str) -> None:
    sent = post(f"{job}/packet", {"paper": "A4", "foldouts": "tile"})
    assert sent.headers["content-type"] == "application/pdf"
    pages = pypdf.PdfReader(io.BytesIO(sent.content)).pages
    assert len(pages) >= 2 and "hums" in pages[0].extract_text()
    assert post(f"{job}/packet", {"paper": "A0"}).status_code == 400


@pytest.mark.parametrize("path", ["/job/999", "/job/x", "/job/9999999999", "/job/1/../../etc"])
def test_a_job_that_is_not_there(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_what_was_typed_is_in_the_records(client: TestClient, post: Post, job: str) -> None:
    post(job, {"do": "note", "text": "kept"})
    home = client.app.state.desk.settings.home
    with Library(home) as library:
        assert [note.text for note in library.job(int(job.rpartition("/")[2])).notes] == ["kept"]
