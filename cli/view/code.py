"""The page that asks for the one-time code when the view is served to the local network."""

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of
from cli.view.lan import CODE_PATH
from cli.view.paper import show


def _ask(request: Request) -> Response:
    if desk_of(request).door is None:
        return see_other("/")
    return show(request, "code.html", code=request.query_params.get("code", ""), wrong=False)


def _given(request: Request, form: FormData) -> Response:
    door = desk_of(request).door
    if door is None or door.try_code(request.scope["bench_session"], text_of(form, "code")):
        return see_other("/")
    return show(request, "code.html", 403, code="", wrong=True)


routes = [
    Route(CODE_PATH, _ask, methods=["GET"]),
    Route(CODE_PATH, posted(_given), methods=["POST"]),
]
