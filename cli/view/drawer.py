"""The drawer of spare tubes: what lies there, putting some in, taking some out."""

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of
from cli.view.paper import show
from indexer import UsageError

nav = ("Drawer", "/drawer")


def _drawer(request: Request) -> Response:
    with desk_of(request).library() as library:
        spares = library.spares()
    return show(request, "drawer.html", spares=spares)


def _change(request: Request, form: FormData) -> Response:
    count = text_of(form, "count") or "1"
    if not count.isdecimal() or not 1 <= int(count[:6]) <= 9999 or len(count) > 4:
        raise UsageError("That is no count of tubes.", "Give a number from 1 to 9999.")
    tube, place = text_of(form, "tube"), text_of(form, "place")
    with desk_of(request).library() as library:
        if text_of(form, "do") == "take":
            library.take_spare(tube, int(count), place)
        else:
            library.add_spare(tube, int(count), place, text_of(form, "note"))
    return see_other("/drawer")


routes = [
    Route("/drawer", _drawer, methods=["GET"]),
    Route("/drawer", posted(_change), methods=["POST"]),
]
