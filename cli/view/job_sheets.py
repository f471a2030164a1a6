"""The work sheets of a job: parts to replace, readings, tubes against the drawer, power-up."""

from collections.abc import Callable
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of, texts_of
from cli.view.jobs import job_called
from cli.view.paper import address, show
from cli.view.plots import band, heater_string
from indexer import UsageError

_SCREENS = ("parts", "readings", "tubes", "power-up")
_STATES = {"done": "done", "strike": "struck", "back": ""}
_MOST_READINGS = 400


def _sheet_called(part: str) -> Callable[[Request], Response]:
    return lambda request: _sheet(request, part)


def _sheet(request: Request, part: str) -> Response:
    values: dict[str, Any] = {}
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        sheets = library.work_sheets(job.id)
        if part == "power-up":
            entry = library.entries.entry(job.entry) if job.entry else None
            types = [tube.type for tube in entry.tubes] if entry else list(job.tubes)
            values["string"] = heater_string(library.line_up(types)) if types else None
        if part == "tubes":
            values["used"] = library.spares_used(job.id)
    if part == "readings":
        values["bands"] = [band(line) for line in sheets.readings]
    template = f"job_{part.replace('-', '_')}.html"
    return show(request, template, job=job, sheets=sheets, part=part, **values)


def _parts(request: Request, form: FormData) -> Response:
    """Ticks lines done, strikes them, puts them back, or adds one of one's own."""
    do = text_of(form, "do")
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        if do == "add":
            library.add_part(job.id, text_of(form, "reference"), text_of(form, "words"))
        elif do in _STATES:
            chosen = texts_of(form, "reference")
            if not chosen:
                raise UsageError("No line is ticked.", "Tick the lines first, then press the key.")
            library.set_parts(job.id, chosen, _STATES[do])
        elif do == "forget":
            library.forget_part(job.id, text_of(form, "reference"))
        else:
            raise UsageError("That key does nothing here.", "Open the list again.")
    return see_other(address("/job", job.id, "parts"))


def _readings(request: Request, form: FormData) -> Response:
    """Keeps what was typed beside the points; points left empty stay as they were."""
    points, reads = texts_of(form, "point"), texts_of(form, "reads")
    rows = [
        (point, text, "", "")
        for point, text in zip(points, reads, strict=False)
        if text
    ][:_MOST_READINGS]  # fmt: skip
    own = text_of(form, "own_point")
    if own and text_of(form, "own_reads"):
        rows.append((own, text_of(form, "own_reads"), text_of(form, "own_nominal"), ""))
    if not rows:
        raise UsageError("No reading was typed.", "Type what the meter says beside a point.")
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        library.take_readings(job.id, rows)
    return see_other(address("/job", job.id, "readings"))


def _tubes(request: Request, form: FormData) -> Response:
    """Takes a spare out of the drawer for this job, or puts it back."""
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        if text_of(form, "do") == "use":
            library.use_spare(job.id, text_of(form, "spare"), text_of(form, "tube"))
        else:
            library.put_back(job.id, text_of(form, "spare"))
    return see_other(address("/job", job.id, "tubes"))


routes = [
    *(Route(f"/job/{{job}}/{name}", _sheet_called(name), methods=["GET"]) for name in _SCREENS),
    Route("/job/{job}/parts", posted(_parts), methods=["POST"]),
    Route("/job/{job}/readings", posted(_readings), methods=["POST"]),
    Route("/job/{job}/tubes", posted(_tubes), methods=["POST"]),
]
