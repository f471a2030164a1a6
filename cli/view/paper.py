"""Screens written out: templates with everything escaped, and pages of trouble."""

import hashlib
import mimetypes
from functools import cache
from importlib.resources import files
from typing import Any
from urllib.parse import quote, urlencode

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from cli.common import shown_codes
from cli.view.desk import desk_of
from cli.view.safety import form_token


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("cli.view", "templates"),
        autoescape=True,  # text from scans is never trusted
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals.update(static=static_path, address=address, shown_codes=shown_codes)
    return made


def show(request: Request, template: str, status: int = 200, **values: Any) -> Response:
    """A screen. Every template may use `token` (for forms), `nav`, `here` (the path)."""
    desk = desk_of(request)
    body = (
        _environment()
        .get_template(template)
        .render(
            token=form_token(desk.settings.secret, request.scope["bench_session"]),
            nav=request.app.state.nav,
            here=request.url.path,
            **values,
        )
    )
    return HTMLResponse(body, status)


def trouble(request: Request, status: int, message: str, remedy: str = "") -> Response:
    """A page that says what is wrong and what to do."""
    return show(request, "trouble.html", status, message=message, remedy=remedy)


def address(path: str, *parts: object, **query: object) -> str:
    """A path with its parts and query escaped; empty query values are left out."""
    whole = path + "".join("/" + quote(str(part), safe="") for part in parts)
    kept = [(name.rstrip("_"), value) for name, value in query.items() if value not in ("", None)]
    return whole + ("?" + urlencode(kept, doseq=True) if kept else "")


@cache
def static_files() -> dict[str, tuple[bytes, str, str]]:
    """Every packaged static file: its bytes, media type and version."""
    out = {}
    for item in files("cli.view").joinpath("static").iterdir():
        if item.is_file() and not item.name.startswith("."):
            body = item.read_bytes()
            kind = mimetypes.guess_type(item.name)[0] or "application/octet-stream"
            out[item.name] = (body, kind, hashlib.sha256(body).hexdigest()[:12])
    return out


def static_path(name: str) -> str:
    """The address of a static file; it changes with the file, so browsers may keep it."""
    return f"/static/{name}?v={static_files()[name][2]}"
