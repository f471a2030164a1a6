"""Look: one page fills the screen, or two side by side; the words asked for are marked."""

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import ViewDesk, desk_of
from cli.view.jobs import open_jobs
from cli.view.pages import handle, page_called
from cli.view.paper import address, show
from indexer import Entry, InputError, Library, NothingFound, Query, UsageError, marked

_TURNS = ("0", "90", "180", "270")
_WIDTHS = {"whole": 1200, "near": 2400, "close": 4800}  # pixels across, for use without script
_MOST_MARKS = 400


def _look(request: Request) -> Response:
    desk = desk_of(request)
    query = request.query_params
    turn = int(query["turn"]) if query.get("turn") in _TURNS else 0
    zoom = query.get("zoom", "whole") if query.get("zoom") in _WIDTHS else "whole"
    text = query.get("q", "").strip()
    with desk.library() as library:
        card = page_called(library, request.path_params["page"])
        within = _entry(library, card.page_id, query.get("in", ""))
        cards = library.entries.cards(within.id) if within else []
        beside = page_called(library, query["beside"]) if query.get("beside") else None
        names = [handle(library, one) for one in cards]
        here = handle(library, card)
        other = handle(library, beside) if beside else ""
        asked = _understood(library, text)
        jobs = open_jobs(library)
    shown = {"in_": within.id if within else "", "q": text}
    panes = [_pane(desk, name, asked, turn, zoom) for name in (here, other) if name]
    at = names.index(here) if here in names else -1
    return show(
        request,
        "look.html",
        card=card,
        here_name=here,
        beside=other,
        panes=panes,
        entry=within,
        cards=list(zip(names, cards, strict=True)),
        at=at,
        previous=_link(names, at - 1, shown),
        following=_link(names, at + 1, shown),
        turn=turn,
        zoom=zoom,
        zooms=list(_WIDTHS),
        asked=asked,
        state=shown,
        jobs=jobs,
        marked_for=next((job for job in jobs if str(job.id) == query.get("marked")), None),
    )


def _link(names: list[str], at: int, state: dict[str, str]) -> str:
    return address("/look", names[at], **state) if 0 <= at < len(names) else ""


def _entry(library: Library, page_id: int, wanted: str) -> Entry | None:
    """The entry to leaf through: the one the person came from, if the page serves it."""
    served = library.entries.entries_on_page(page_id)
    if not served:
        return None
    return library.entry(wanted if wanted in served else served[0])


def _understood(library: Library, text: str) -> Query | None:
    if not text:
        return None
    try:
        return library.understand(text)
    except UsageError:
        return None


def _pane(desk: ViewDesk, name: str, asked: Query | None, turn: int, zoom: str) -> dict[str, Any]:
    """What a template needs to show one page. A page that can't be drawn says why instead."""
    with desk.library() as library:
        card = page_called(library, name)
        reading = library.reading(card)
    pane: dict[str, Any] = {
        "card": card,
        "name": name,
        "lines": reading.text.splitlines(),
        "marks": [],
        "trouble": "",
    }
    try:
        sheet, (width, height) = desk.sheet(name)
    except NothingFound:
        raise
    except InputError as error:
        return pane | {"trouble": str(error)}
    desk.pictures.prepare(sheet, (width, height))
    scale = width / max(1, reading.width_px)
    if asked is not None:
        found = marked(reading, asked)[:_MOST_MARKS]
        pane["marks"] = [
            {
                "x": round(box.left * scale),
                "y": round(box.top * scale),
                "w": round(box.width * scale),
                "h": round(box.height * scale),
                "text": text,
            }
            for box, text in found
        ]
    across = width if turn % 180 == 0 else height
    share = min(1.0, _WIDTHS[zoom] / across)
    size = (max(1, round(width * share)), max(1, round(height * share)))
    return pane | {
        "width": width,
        "height": height,
        "size": f"{size[0]},{size[1]}",
        "shown": size if turn % 180 == 0 else size[::-1],
        "turned": _turned(turn, width, height),
    }


def _turned(turn: int, width: int, height: int) -> tuple[int, int, str]:
    """Width and height of the turned page, and the SVG transform that takes marks there."""
    if turn == 90:
        return height, width, f"translate({height} 0) rotate(90)"
    if turn == 180:
        return width, height, f"translate({width} {height}) rotate(180)"
    if turn == 270:
        return height, width, f"translate(0 {width}) rotate(270)"
    return width, height, "translate(0 0)"


routes = [Route("/look/{page}", _look, methods=["GET"])]
