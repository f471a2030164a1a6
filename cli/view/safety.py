"""Who may ask for what: every request passes here before any screen sees it.

Host and Origin are checked, bodies are bounded, a session cookie is set, headers that keep a
browser from running anything but our own script are added. Form tokens are checked in `forms`.
"""

import hashlib
import hmac
import secrets
from collections.abc import MutableMapping
from http.cookies import SimpleCookie
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from cli.view.lan import CODE_PATH, Door
from cli.view.settings import Settings
from indexer import limits

COOKIE = "bench"
_ITS_OWN = ("127.0.0.1", "localhost", "[::1]")
_OPEN_PATHS = ("/iiif/", "/static/")  # no cookie: other programs fetch these too
_POLICY = (
    "default-src 'none'; img-src 'self' blob:; style-src 'self'; script-src 'self';"
    " connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


class TooMuch(Exception):
    """More bytes came in than a request may carry."""


class Doorman:
    """The outermost layer of the application."""

    def __init__(
        self, app: ASGIApp, settings: Settings, door: Door | None, large: dict[str, int]
    ) -> None:
        """`large` maps paths to the bytes they take, where MAX_FORM_BYTES is not enough."""
        self._app = app
        self._settings = settings
        self._door = door
        self._large = large

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        session, fresh = self._session(headers)
        scope["bench_session"] = session
        send = self._adding_headers(scope, headers, send, session if fresh else "")
        refusal = self._refusal(scope, headers, session)
        if refusal is not None:
            await refusal(scope, receive, send)
            return
        most = self._large.get(scope["path"], limits.MAX_FORM_BYTES)
        started = False

        async def noting(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self._app(scope, _bounded(receive, most), noting)
        except TooMuch:
            if not started:
                await _too_much(most)(scope, receive, send)

    def _refusal(self, scope: Scope, headers: Headers, session: str) -> ASGIApp | None:
        """The answer to a request that goes no further, or None."""
        method, path = scope["method"], scope["path"]
        if not self._host_is_ours(scope, headers.get("host", "")):
            return PlainTextResponse(
                "Not served under this name. Use the address that the terminal shows.\n", 421
            )
        if method not in ("GET", "HEAD", "POST", "OPTIONS"):
            return PlainTextResponse("Only GET and POST are understood.\n", 405)
        if method == "POST" and not _from_here(headers):
            return PlainTextResponse("Forms are taken from Benchfolio's own pages only.\n", 403)
        length = headers.get("content-length", "0")
        most = self._large.get(path, limits.MAX_FORM_BYTES)
        if not length.isdecimal() or int(length) > most:
            return _too_much(most)
        if self._door and not self._door.admits(session) and not _needs_no_code(path):
            if method == "GET" and not path.startswith(_OPEN_PATHS):
                return RedirectResponse(CODE_PATH, 303)
            return PlainTextResponse("Enter the code that the terminal shows first.\n", 403)
        return None

    def _host_is_ours(self, scope: Scope, host: str) -> bool:
        """Against a foreign name that was made to point at this machine."""
        name, port = split_host(host)
        if port != self._settings.port:
            return False
        if name in _ITS_OWN:
            return True
        server = scope.get("server")
        return bool(self._settings.lan and server and name in (server[0], f"[{server[0]}]"))

    def _session(self, headers: Headers) -> tuple[str, bool]:
        try:
            known = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        except Exception:  # cookies of other programs on this address may be malformed
            known = None
        if known is not None and len(known.value) == 43 and known.value.isascii():
            return known.value, False
        return secrets.token_urlsafe(32), True

    def _adding_headers(self, scope: Scope, asked: Headers, send: Send, cookie: str) -> Send:
        open_path = scope["path"].startswith(_OPEN_PATHS)
        viewer = self._viewer(scope["path"], asked.get("origin", ""))

        async def adding(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers[name] = value
                headers["cross-origin-resource-policy"] = (
                    "cross-origin" if viewer else "same-origin"
                )
                if viewer:
                    headers["access-control-allow-origin"] = viewer
                    headers["access-control-expose-headers"] = "Link"
                    headers.add_vary_header("Origin")
                if "cache-control" not in headers:
                    headers["cache-control"] = "no-store"
                if cookie and not open_path:
                    headers.append(
                        "set-cookie", f"{COOKIE}={cookie}; Path=/; HttpOnly; SameSite=Lax"
                    )
            await send(message)

        return adding

    def _viewer(self, path: str, origin: str) -> str:
        """The origin to name as allowed to read page pictures, or ""."""
        viewers = self._settings.viewers
        if not path.startswith("/iiif/") or not viewers:
            return ""
        if "*" in viewers:
            return "*"
        return origin if origin in viewers else ""


def form_token(secret: bytes, session: str) -> str:
    """What a form must carry to be taken from this session."""
    return hmac.new(secret, f"form:{session}".encode(), hashlib.sha256).hexdigest()


def token_fits(secret: bytes, session: str, token: str) -> bool:
    """Whether a form's token is this session's."""
    return hmac.compare_digest(form_token(secret, session), token)


def split_host(host: str) -> tuple[str, int]:
    """A Host header's name in lower case, and its port (80 when it names none, -1 when odd)."""
    name, mark, port = host.rpartition(":")
    if not mark or "]" in port:
        return host.lower(), 80
    return name.lower(), int(port) if port.isdecimal() and len(port) < 6 else -1


def _from_here(headers: Headers) -> bool:
    """Whether a form comes from a page of this very address; browsers always say."""
    origin = headers.get("origin")
    if origin is None:
        return headers.get("sec-fetch-site") == "same-origin"
    return origin.lower() == f"http://{headers.get('host', '').lower()}"


def _needs_no_code(path: str) -> bool:
    return path == CODE_PATH or path.startswith("/static/")


def _too_much(most: int) -> PlainTextResponse:
    return PlainTextResponse(
        f"That is too large: {most:,} bytes is the most.\n", 413, {"connection": "close"}
    )


def _bounded(receive: Receive, most: int) -> Receive:
    came = 0

    async def counting() -> MutableMapping[str, Any]:
        nonlocal came
        message = await receive()
        came += len(message.get("body", b""))
        if came > most:
            raise TooMuch
        return message

    return counting
