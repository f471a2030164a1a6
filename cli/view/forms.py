"""Forms taken in: bounded, with the session's token, then handled outside the event loop."""

from collections.abc import Awaitable, Callable

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from cli.view.desk import desk_of
from cli.view.paper import trouble
from cli.view.safety import token_fits
from indexer import limits

TOKEN_FIELD = "token"
_MOST_FIELDS = 500

Handler = Callable[[Request, FormData], Response]


def posted(handler: Handler) -> Callable[[Request], Awaitable[Response]]:
    """Turns `handler(request, form)` into an endpoint that takes only forms with our token."""

    async def endpoint(request: Request) -> Response:
        async with request.form(max_files=limits.MAX_PHOTOS, max_fields=_MOST_FIELDS) as form:
            token = form.get(TOKEN_FIELD)
            secret = desk_of(request).settings.secret
            session = request.scope["bench_session"]
            if not isinstance(token, str) or not token_fits(secret, session, token):
                return trouble(
                    request,
                    403,
                    "That form is not from this page, or it is too old.",
                    "Open the page again and send it from there.",
                )
            return await run_in_threadpool(handler, request, form)

    return endpoint


def text_of(form: FormData, name: str) -> str:
    """A text field, stripped; "" when it is missing or a file."""
    value = form.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def texts_of(form: FormData, name: str) -> list[str]:
    """All values of a field that may be repeated."""
    return [value.strip() for value in form.getlist(name) if isinstance(value, str)]


def see_other(path: str) -> Response:
    """Where to go after a form was taken; a reload then sends nothing again."""
    return RedirectResponse(path, 303)
