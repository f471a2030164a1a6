"""An outsider's requests are refused, one each; text from scans is never markup."""

import shutil
from pathlib import Path
from typing import Any

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from cli.view import paper
from cli.view.app import SCREENS, build_app
from cli.view.settings import Settings, kept_secret
from indexer import limits
from tests.view.conftest import BASE, Names, token_from
from tests.view.shelf import SCRIPT

POSTS = sorted(
    route.path
    for screen in SCREENS
    for route in screen.routes
    if isinstance(route, Route) and "POST" in (route.methods or ())
)


@pytest.mark.parametrize(
    "host", ["bench.example:8437", "127.0.0.1.example:8437", "127.0.0.1:80", "192.0.2.7:8437", ""]
)
def test_a_wrong_host_is_refused(shared: TestClient, host: str) -> None:
    assert shared.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("host", ["127.0.0.1:8437", "localhost:8437", "[::1]:8437"])
def test_our_own_hosts_are_served(shared: TestClient, host: str) -> None:
    assert shared.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("path", POSTS)
def test_every_form_wants_its_token(shared: TestClient, path: str) -> None:
    path = path.format_map(_Any())
    for data in ({}, {"token": "0" * 64}):
        answer = shared.post(path, data=data, headers={"origin": BASE})
        assert answer.status_code == 403
        assert "not from this page" in answer.text


class _Any(dict[str, str]):
    def __missing__(self, key: str) -> str:
        return "1"


def test_the_token_of_another_session_does_not_do(shared: TestClient) -> None:
    token = token_from(shared)
    shared.cookies.clear()
    answer = shared.post("/photo", data={"token": token}, headers={"origin": BASE})
    assert answer.status_code == 403


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://bench.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "https://127.0.0.1:8437"},
        {"sec-fetch-site": "cross-site"},
        {},
    ],
)
def test_forms_from_elsewhere_are_refused(shared: TestClient, headers: dict[str, str]) -> None:
    data = {"token": token_from(shared)}
    answer = shared.post("/photo", data=data, headers=headers)
    assert answer.status_code == 403
    assert "own pages only" in answer.text


@pytest.mark.parametrize("method", ["PUT", "DELETE", "TRACE", "PATCH"])
def test_other_methods_are_refused(shared: TestClient, method: str) -> None:
    assert shared.request(method, "/").status_code == 405


@pytest.mark.parametrize(
    "path",
    [
        "/static/../../pyproject.toml",
        "/static/..%2f..%2fapp.py",
        "/static/%2e%2e%2fapp.py",
        "/static//etc/passwd",
        "/look/..%2f..%2fetc%2fpasswd",
        "/look/%2fetc%2fpasswd%231",
        "/iiif/image/..%2f..%2fcatalogue.db/info.json",
        "/iiif/image/%2fetc%2fpasswd/full/max/0/default.jpg",
        "/iiif/set/..%2f../manifest.json",
        "/iiif/job/..%2f1/manifest.json",
        "/iiif/page/..%2f/words.json",
        "/set/..%2f..%2fetc",
        "/photo/..%2f..%2fetc",
    ],
)
def test_names_never_reach_the_file_system(shared: TestClient, path: str) -> None:
    answer = shared.get(path)
    assert answer.status_code in (400, 404)
    assert "root:" not in answer.text
    assert "Traceback" not in answer.text


def test_a_file_outside_the_library_is_not_a_page(shared: TestClient) -> None:
    assert shared.get("/look/catalogue.db%231").status_code == 404


def test_script_in_a_scanned_text_stays_text(shared: TestClient, names: Names) -> None:
    for path in (f"/look/{names.second}", f"/look/{names.second}?q=alert", "/?q=alert+script"):
        body = shared.get(path).text
        assert "alert(1)" in body or path.startswith("/?")
        assert SCRIPT not in body
    words = shared.get(f"/iiif/page/{names.second}/words.json")
    assert words.headers["x-content-type-options"] == "nosniff"
    assert words.headers["content-type"].startswith("application/ld+json")


@pytest.mark.parametrize("path", ["/", "/look/nosuch", "/sets", "/kin", "/photo/none"])
def test_script_in_a_question_stays_text(shared: TestClient, path: str) -> None:
    asked = {"q": SCRIPT, "tubes": SCRIPT, "of": SCRIPT, "beside": SCRIPT, "from": SCRIPT}
    body = shared.get(path, params=asked).text
    assert SCRIPT not in body
    assert "<script>" not in body


def test_every_answer_carries_the_policy(shared: TestClient, names: Names) -> None:
    for path in ("/", "/nosuch", f"/look/{names.first}", f"/iiif/image/{names.first}/info.json"):
        headers = shared.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"
        assert "access-control-allow-origin" not in headers


def test_no_template_holds_inline_script_or_style() -> None:
    folder = Path(paper.__file__).parent / "templates"
    for template in folder.glob("*.html"):
        text = template.read_text(encoding="utf-8")
        assert "|safe" not in text.replace(" ", "")
        assert " style=" not in text, template
        assert "<style" not in text, template
        assert " onclick" not in text, template
        for part in text.split("<script")[1:]:
            assert "src=" in part.split(">")[0], template
            assert part.split(">", 1)[1].startswith("</script>"), template
        assert "http://" not in text, template
        assert "https://" not in text, template


def test_an_oversized_form_is_refused_before_it_is_read(shared: TestClient) -> None:
    token = token_from(shared)
    large = {"token": token, "code": "x" * (limits.MAX_FORM_BYTES + 1)}
    assert shared.post("/code", data=large, headers={"origin": BASE}).status_code == 413


def test_a_body_that_lies_about_its_length_is_cut_off(shared: TestClient) -> None:
    def endless() -> Any:
        for _ in range(40):
            yield b"a=" + b"x" * 10_000

    answer = shared.post(
        "/code",
        content=endless(),
        headers={"origin": BASE, "content-type": "application/x-www-form-urlencoded"},
    )
    assert answer.status_code == 413


def test_a_named_viewer_may_read_pages_and_nothing_else(view_shelf: Path, names: Names) -> None:
    settings = Settings(view_shelf, viewers=("https://viewer.example",), warm=False)
    image = f"/iiif/image/{names.first}/info.json"
    with TestClient(build_app(settings), base_url=BASE) as client:
        for origin, allowed in (("https://viewer.example", True), ("https://other.example", False)):
            headers = client.get(image, headers={"origin": origin}).headers
            assert (headers.get("access-control-allow-origin") == origin) is allowed
            plain = client.get("/", headers={"origin": origin}).headers
            assert "access-control-allow-origin" not in plain


def test_cookies_are_not_for_scripts_and_not_on_pictures(shared: TestClient, names: Names) -> None:
    shared.cookies.clear()
    image = shared.get(f"/iiif/image/{names.first}/full/!100,100/0/default.jpg")
    assert "set-cookie" not in image.headers
    cookie = shared.get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_the_secret_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    first = kept_secret(tmp_path)
    assert kept_secret(tmp_path) == first
    assert (tmp_path / "view.secret").stat().st_mode & 0o077 == 0


class TestLocalNetwork:
    """With --lan a one-time code is wanted before anything is shown."""

    @pytest.fixture
    def lan(self, view_shelf: Path, tmp_path: Path) -> Any:
        home = Path(shutil.copytree(view_shelf, tmp_path / "home"))
        codes: list[str] = []
        app = build_app(Settings(home, host="0.0.0.0", lan=True, warm=False), codes.append)
        with TestClient(app, base_url=BASE, follow_redirects=False) as client:
            yield client, codes

    def test_nothing_is_shown_without_the_code(self, lan: Any, names: Names) -> None:
        client, _ = lan
        assert client.get("/").headers["location"] == "/code"
        assert client.get(f"/look/{names.first}").headers["location"] == "/code"
        image = client.get(f"/iiif/image/{names.first}/full/max/0/default.jpg")
        assert image.status_code == 403
        assert client.post("/photo", headers={"origin": BASE}).status_code == 403

    def test_a_code_lets_one_device_in(self, lan: Any) -> None:
        client, codes = lan
        data = {"code": codes[-1].upper(), "token": self._token(client)}
        answer = client.post("/code", data=data, headers={"origin": BASE})
        assert answer.headers["location"] == "/"
        assert client.get("/").status_code == 200
        assert len(codes) == 2
        client.cookies.clear()  # another device with the same code
        data["token"] = self._token(client)
        assert client.post("/code", data=data, headers={"origin": BASE}).status_code == 403

    def test_guessing_changes_the_code_and_closes_the_door(self, lan: Any) -> None:
        client, codes = lan
        for _ in range(5):
            data = {"code": "wrong", "token": self._token(client)}
            assert client.post("/code", data=data, headers={"origin": BASE}).status_code == 403
        assert len(codes) == 2
        data = {"code": codes[-1], "token": self._token(client)}
        assert client.post("/code", data=data, headers={"origin": BASE}).status_code == 403

    @staticmethod
    def _token(client: TestClient) -> str:
        return client.get("/code").text.split('name="token" value="')[1][:64]
