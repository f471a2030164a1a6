"""Kin: the sets nearest by line-up, each as an exchange in two columns."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.pages import add_handles
from cli.view.paper import show
from indexer import UsageError, kin_json

_SHOWN = 8


def _kin(request: Request) -> Response:
    asked_of = request.query_params.get("of", "").strip()
    text = request.query_params.get("tubes", "").strip()
    same_sockets = "sockets" in request.query_params
    maker = own = ""
    with desk_of(request).library() as library:
        if asked_of:
            entry = library.entry(asked_of)
            tubes = ["/".join((place.type, *place.alternatives)) for place in entry.tubes]
            maker, own = entry.maker, entry.id
            if not tubes:
                raise UsageError("That entry names no tubes.", "Ask by tubes instead.")
        else:
            tubes = library.tubes_in(text)
        line_up = library.line_up(tubes)
        ranked = library.kin(
            tubes,
            _SHOWN,
            same_sockets=same_sockets,
            partial=False if own else True if library.unread_in(text) else None,
            maker=maker,
            without=own,
        )
        answer = kin_json(library, tubes, line_up.supply, ranked)
        for match in answer["matches"]:
            add_handles(library, match["pages"])
    return show(
        request,
        "kin.html",
        answer=answer,
        line_up=line_up,
        own=own,
        text=text or " ".join(tubes),
        same_sockets=same_sockets,
    )


routes = [Route("/kin", _kin, methods=["GET"])]
