"""Sets: every entry of the library by maker, and one entry with its facts and pages."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.pages import add_handles
from cli.view.paper import show
from indexer import entry_json

nav = ("Sets", "/sets")

_A_SCREEN = 100


def _sets(request: Request) -> Response:
    text = request.query_params.get("from", "0")
    start = int(text) if text.isdecimal() and len(text) < 9 else 0
    with desk_of(request).library() as library:
        ids = library.entries.ids()
        shown = [entry_json(library, library.entry(i)) for i in ids[start : start + _A_SCREEN]]
    following = start + _A_SCREEN if start + _A_SCREEN < len(ids) else None
    return show(
        request,
        "sets.html",
        entries=shown,
        total=len(ids),
        start=start,
        before=max(0, start - _A_SCREEN) if start else None,
        following=following,
    )


def _set(request: Request) -> Response:
    with desk_of(request).library() as library:
        entry = library.entry(request.path_params["entry"])
        data = entry_json(library, entry)
        add_handles(library, data["pages"])
    return show(request, "set.html", entry=data, tubes=entry.tubes, evidence=entry.evidence)


routes = [
    Route("/sets", _sets, methods=["GET"]),
    Route("/set/{entry}", _set, methods=["GET"]),
]
