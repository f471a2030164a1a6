"""Ask: one box that takes whatever is on the label, or photos of it; answers with their reasons."""

from typing import Any

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other
from cli.view.pages import add_handles
from cli.view.paper import address, show, trouble
from indexer import InputError, Library, Query, UsageError, find_json, limits

nav = ("Ask", "/")
large = {"/photo": limits.MAX_PHOTOS * limits.MAX_PHOTO_BYTES + limits.MAX_FORM_BYTES}

_SHOWN = 12  # answers on a screen; a bench has little patience
_MOST = 200


def _ask(request: Request) -> Response:
    text = request.query_params.get("q", "").strip()
    if not text:
        with desk_of(request).library() as library:
            counts = library.status()
        return show(request, "ask.html", text="", counts=counts)
    shown = _number(request.query_params.get("most"), _SHOWN)
    with desk_of(request).library() as library:
        try:
            asked = library.understand(text)
        except UsageError as error:
            return show(request, "ask.html", 400, text=text, counts=library.status(), trouble=error)
        answer = answered(library, asked, shown + 1)
    return show(request, "answers.html", text=text, photo=None, shown=shown, **answer)


def answered(library: Library, asked: Query, limit: int) -> dict[str, Any]:
    """What `find` answers, as the screens show it."""
    answer = library.find(asked, limit)
    best = [match.entry for match in answer.matches if match.score >= 0.3][:5]
    jobs = library.earlier_jobs(best, asked)
    data = find_json(library, answer, [job for job, _ in jobs])
    for match in data["matches"]:
        add_handles(library, match["pages"])
    add_handles(library, [item["here"] for item in data["listings"] if item["here"]])
    add_handles(library, data["pages_of_no_entry"])
    for told, (_, why) in zip(data["jobs"], jobs, strict=True):
        told["why"] = why
    line_up = library.line_up(asked.tubes) if len(asked.tubes) > 1 else None
    return {"answer": data, "line_up": line_up, "named": _names_the_set(data)}


def _names_the_set(data: dict[str, Any]) -> bool:
    own = ("exact", "same chassis", "variant", "in range")
    return any(match["grade"] in own for match in data["matches"])


def _photo_sent(request: Request, form: FormData) -> Response:
    uploads = [item for item in form.getlist("photo") if isinstance(item, UploadFile)]
    photos = [item.file.read(limits.MAX_PHOTO_BYTES + 1) for item in uploads]
    photos = [photo for photo in photos if photo]
    if not photos:
        raise InputError("No photo came with that.", "Choose one or take one, then send it.")
    question = desk_of(request).photos.add(photos)
    return see_other(address("/photo", question))


def _photo(request: Request) -> Response:
    """Waits for the readers, then answers; words may be struck out and others added."""
    question = desk_of(request).photos.get(request.path_params["question"])
    if question is None:
        return trouble(
            request, 404, "That photo is not kept any more.", "Send it again from the Ask page."
        )
    if not question.done:
        return show(request, "reading_photo.html", count=len(question.futures))
    readings = question.readings()
    strike = request.query_params.getlist("strike")
    add = request.query_params.get("add", "").strip()[: limits.MAX_QUERY_CHARS]
    shown = _number(request.query_params.get("most"), _SHOWN)
    with desk_of(request).library() as library:
        asked = library.photo_question(readings, strike, add)
        answer = answered(library, asked, shown + 1)
    photo = {
        "id": question.id,
        "lines": [line for reading in readings for line in reading.lines],
        "strike": strike,
        "add": add,
    }
    return show(request, "answers.html", text=_in_words(asked), photo=photo, shown=shown, **answer)


def _in_words(asked: Query) -> str:
    """The photo's question as one would type it, so that it can be put right by hand."""
    chassis = [f"chassis {code}" for code in asked.chassis]
    parts = [*asked.makers, *asked.models, *asked.codes, *chassis, *asked.tubes]
    return " ".join(parts + ([str(asked.year)] if asked.year else []))


def _number(text: str | None, otherwise: int) -> int:
    if text is None or not text.isdecimal() or len(text) > 4:
        return otherwise
    return max(1, min(int(text), _MOST))


routes = [
    Route("/", _ask, methods=["GET"]),
    Route("/photo", posted(_photo_sent), methods=["POST"]),
    Route("/photo/{question}", _photo, methods=["GET"]),
]
