"""Page pictures by the IIIF Image API 3.0, level 2: any part at any size, in tiles or whole.

`{page}` is looked up in the catalogue; nothing else of a request reaches the file system.
"""

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.image_request import FORMATS, TILE_PX, canonical, parse, scale_factors
from indexer import BenchfolioError, Cut, NothingFound, Sheet, UsageError, limits

CONTEXT = "http://iiif.io/api/image/3/context.json"
_PROTOCOL = "http://iiif.io/api/image"
_EXTRA = ["canonicalLinkHeader", "mirroring", "profileLinkHeader"]
_LEVEL = '<http://iiif.io/api/image/3/level2.json>;rel="profile"'
_KEPT = "private, max-age=60"  # a page may be turned when it is read again; then its tag differs


def image_service(base: str, page: str) -> str:
    """The address that names a page's pictures."""
    return f"{base}/iiif/image/{page}"


def base_address(request: Request) -> str:
    """How the request reached us: scheme and host. The host was checked by the doorman."""
    return f"{request.url.scheme}://{request.url.netloc}"


def described(sheet: Sheet, part: Cut) -> str:
    """A part of a page as it is now, in full: what it is cached under."""
    try:
        changed_ns = sheet.path.stat().st_mtime_ns
    except OSError:
        changed_ns = 0  # drawing will say that the file is gone
    return f"{sheet} {changed_ns} {part}"


def _base(request: Request) -> Response:
    """Section 2: the address itself leads to its description."""
    page = request.path_params["page"]
    try:
        desk_of(request).sheet(page)
    except BenchfolioError as error:
        return _refused(error)
    return RedirectResponse(f"{image_service(base_address(request), page)}/info.json", 303)


def _info(request: Request) -> Response:
    """Section 5: what the picture is and in which ways it can be asked for."""
    page = request.path_params["page"]
    try:
        _, (width, height) = desk_of(request).sheet(page)
    except BenchfolioError as error:
        return _refused(error)
    factors = scale_factors(width, height)
    data = {
        "@context": CONTEXT,
        "id": image_service(base_address(request), page),
        "type": "ImageService3",
        "protocol": _PROTOCOL,
        "profile": "level2",
        "width": width,
        "height": height,
        "maxArea": limits.MAX_SHOWN_PIXELS,
        "sizes": [
            {"width": -(-width // factor), "height": -(-height // factor)}
            for factor in reversed(factors)
            if (width // factor) * (height // factor) <= limits.MAX_SHOWN_PIXELS
        ],
        "tiles": [{"width": TILE_PX, "height": TILE_PX, "scaleFactors": factors}],
        "preferredFormats": ["jpg"],
        "extraFeatures": _EXTRA,
    }
    wants_plain = "application/ld+json" not in request.headers.get("accept", "*/*")
    kind = "application/json" if wants_plain and "accept" in request.headers else ""
    media = kind or f'application/ld+json;profile="{CONTEXT}"'
    return JSONResponse(data, media_type=media, headers={"cache-control": _KEPT, "link": _LEVEL})


def _image(request: Request) -> Response:
    asked = request.path_params
    quality, _, form = asked["last"].rpartition(".")
    desk = desk_of(request)
    try:
        sheet, whole = desk.sheet(asked["page"])
        part = parse(whole, asked["region"], asked["size"], asked["rotation"], quality, form)
        what = described(sheet, part)
        tag = f'"{desk.cache.key(what)[:24]}"'
        if request.headers.get("if-none-match") == tag:
            return Response(status_code=304, headers={"cache-control": _KEPT, "etag": tag})
        body = desk.cache.get(what, lambda: desk.pictures.cut(sheet, part))
    except BenchfolioError as error:
        return _refused(error)
    own = f"{image_service(base_address(request), asked['page'])}/{canonical(whole, part)}"
    headers = {"cache-control": _KEPT, "etag": tag, "link": f'<{own}>;rel="canonical",{_LEVEL}'}
    return Response(body, media_type=FORMATS[form], headers=headers)


def _refused(error: BenchfolioError) -> Response:
    status = 404 if isinstance(error, NothingFound) else 400
    if not isinstance(error, NothingFound | UsageError):
        status = 422
    return PlainTextResponse(f"{error}\n", status)


routes = [
    Route("/iiif/image/{page}", _base),
    Route("/iiif/image/{page}/info.json", _info),
    Route("/iiif/image/{page}/{region}/{size}/{rotation}/{last}", _image),
]
