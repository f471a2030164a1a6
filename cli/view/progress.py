"""The shelf: its folders, what was read of it, and how far a run of `index` has come."""

from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.paper import show

nav = ("Shelf", "/shelf")

# States of pages, last first, and what they are called here.
_WORDS = {
    "done": "read by all readers",
    "read": "read once, and found",
    "waiting": "still to be read",
    "failed": "could not be read",
}


def _counts(request: Request) -> dict[str, Any]:
    with desk_of(request).library() as library:
        counts = library.status()
        folders = [str(path) for path in library.catalogue.folders().values()]
    total = sum(counts.get(state, 0) for state in _WORDS)
    pieces, at = [], 0.0
    for state, words in _WORDS.items():
        share = counts.get(state, 0) / total if total else 0.0
        pieces.append(
            {
                "state": state,
                "words": words,
                "count": counts.get(state, 0),
                "from": round(100 * at, 3),
                "share": round(100 * share, 3),
            }
        )
        at += share
    return {
        "folders": folders,
        "entries": counts["entries"],
        "files": {k.removeprefix("files "): v for k, v in counts.items() if k.startswith("files ")},
        "pieces": pieces,
        "total": total,
    }  # fmt: skip


def _shelf(request: Request) -> Response:
    return show(request, "shelf.html", **_counts(request))


def _shelf_json(request: Request) -> Response:
    return JSONResponse(_counts(request), headers={"cache-control": "no-store"})


routes = [
    Route("/shelf", _shelf, methods=["GET"]),
    Route("/shelf.json", _shelf_json, methods=["GET"]),
]
