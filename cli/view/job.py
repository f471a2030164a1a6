"""One job: its pages in order, notes, photos, and how it ended; the packet to print."""

import tempfile
from pathlib import Path

from starlette.background import BackgroundTask
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of
from cli.view.jobs import job_called
from cli.view.pages import handle
from cli.view.paper import address, show
from indexer import InputError, Library, UsageError, limits

large = {"/job/photo": limits.MAX_PHOTO_BYTES + limits.MAX_FORM_BYTES}

_TYPES = {".jpg": "image/jpeg", ".png": "image/png", ".webp": "image/webp", ".tif": "image/tiff"}


def _job(request: Request) -> Response:
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        pages = [
            {"number": one.number, "why": one.mark.why, "missing": one.missing, "card": one.card,
             "handle": handle(library, one.card) if one.card else ""}
            for one in library.marked_pages(job.id)
        ]  # fmt: skip
        entry = library.entries.entry(job.entry) if job.entry else None
    return show(request, "job.html", job=job, pages=pages, entry=entry, part="pages")


def _change(request: Request, form: FormData) -> Response:
    """Every plain change of a job, by the `do` of the pressed key."""
    do = text_of(form, "do")
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        if do == "note":
            library.note(job.id, text_of(form, "text"))
        elif do == "close":
            library.close_job(job.id, text_of(form, "outcome"))
        elif do == "reopen":
            library.reopen_job(job.id)
        elif do == "delete":
            library.delete_job(job.id)
        elif do == "undelete":
            library.undelete_job(job.id)
        elif do == "change":
            library.change_job(
                job.id,
                title=text_of(form, "title"),
                symptom=text_of(form, "symptom"),
                owner_tag=text_of(form, "owner_tag"),
            )
        elif do == "drop-photo":
            library.remove_photo(job.id, text_of(form, "photo"))
        else:
            _change_pages(library, job.id, do, text_of(form, "number"), text_of(form, "to"))
    return see_other(address("/job", job.id))


def _change_pages(library: Library, job_id: int, do: str, number: str, to: str) -> None:
    ref = library.page_on_list(job_id, number)
    if do == "unmark":
        library.unmark(job_id, [ref])
    elif do in ("up", "down", "move") and number.isdecimal():
        places = {"up": int(number) - 1, "down": int(number) + 1}
        place = places.get(do) or (int(to) if to.isdecimal() and len(to) < 6 else 0)
        library.move_marks(job_id, [ref], max(1, place))
    else:
        raise UsageError("That key does nothing here.", "Open the job again.")


def _photo_sent(request: Request, form: FormData) -> Response:
    uploads = [item for item in form.getlist("photo") if isinstance(item, UploadFile)]
    kept = [(item.file.read(limits.MAX_PHOTO_BYTES + 1), item.filename or "photo")
            for item in uploads]  # fmt: skip
    kept = [(data, name) for data, name in kept if data]
    if not kept:
        raise InputError("No photo came with that.", "Choose one or take one, then send it.")
    with desk_of(request).library() as library:
        job = job_called(library, text_of(form, "job"))
        for data, name in kept:
            library.add_photo(job.id, data, Path(name).name, text_of(form, "why"))
    return see_other(address("/job", job.id))


def _photo(request: Request) -> Response:
    with desk_of(request).library() as library:
        job = job_called(library, request.path_params["job"])
        photo = library.photo_of(job.id, request.path_params["photo"])
        path = library.photo_path(photo)
    media_type = _TYPES.get(photo.suffix, "application/octet-stream")
    return FileResponse(path, media_type=media_type, content_disposition_type="inline")


def _packet(request: Request, form: FormData) -> Response:
    """Makes the packet with a library of its own, so that other screens go on meanwhile."""
    paper, foldouts = text_of(form, "paper") or "A4", text_of(form, "foldouts") or "tile"
    if paper not in ("A4", "Letter") or foldouts not in ("tile", "fit"):
        raise UsageError("That paper or fold is not known.", "Choose from the list.")
    folder = tempfile.TemporaryDirectory(prefix="benchfolio-")
    target = Path(folder.name) / "packet.pdf"
    try:
        with Library(desk_of(request).settings.home) as library:
            job = job_called(library, request.path_params["job"])
            library.packet(job.id, target, paper, foldouts)
    except BaseException:
        folder.cleanup()
        raise
    return FileResponse(
        target,
        media_type="application/pdf",
        filename=f"job-{job.id}.pdf",
        background=BackgroundTask(folder.cleanup),
    )


routes = [
    Route("/job/photo", posted(_photo_sent), methods=["POST"]),
    Route("/job/{job}", _job, methods=["GET"]),
    Route("/job/{job}", posted(_change), methods=["POST"]),
    Route("/job/{job}/photo/{photo}", _photo, methods=["GET"]),
    Route("/job/{job}/packet", posted(_packet), methods=["POST"]),
]
