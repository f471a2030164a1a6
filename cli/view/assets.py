"""Our own style sheets and scripts, from memory: no name from a request reaches the disk."""

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.paper import static_files


def _static(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in static_files():
        raise HTTPException(404)
    body, kind, _ = static_files()[name]
    return Response(
        body, media_type=kind, headers={"cache-control": "private, max-age=31536000, immutable"}
    )


routes = [Route("/static/{name}", _static)]
