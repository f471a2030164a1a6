"""Jobs: the list of them, opening one, and marking a page for one."""

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of
from cli.view.pages import page_called
from cli.view.paper import address, show
from indexer import JobRecord, Library, NothingFound, UsageError

nav = ("Jobs", "/jobs")

_MOST_OPEN = 50  # jobs offered for marking a page


def _jobs(request: Request) -> Response:
    words = request.query_params.get("q", "").strip()
    deleted = request.query_params.get("deleted") == "yes"
    with desk_of(request).library() as library:
        found = library.jobs(words, deleted=deleted)
    return show(request, "jobs.html", jobs=found, words=words, deleted=deleted)


def _open(request: Request, form: FormData) -> Response:
    """Opens a job for an entry, or for a set typed in words; a page may be marked at once."""
    entry_id, text = text_of(form, "entry"), text_of(form, "set")
    with desk_of(request).library() as library:
        entry = library.entry(entry_id) if entry_id else None
        asked = library.understand(text) if text and entry is None else None
        named = f"{entry.maker} {', '.join(entry.models or entry.chassis)}" if entry else text
        title = text_of(form, "title") or named.strip()
        if not title:
            raise UsageError("The job has no name.", "Write what set it is, or a title.")
        job = library.open_job(
            title,
            entry,
            text_of(form, "symptom"),
            asked=asked,
            owner_tag=text_of(form, "owner_tag"),
        )
        if text_of(form, "page"):
            library.mark(job.id, [page_called(library, text_of(form, "page"))])
    return see_other(address("/job", job.id))


def _mark(request: Request, form: FormData) -> Response:
    """Marks a page for a job and goes back to the page."""
    page = text_of(form, "page")
    with desk_of(request).library() as library:
        job = job_called(library, text_of(form, "job"))
        library.mark(job.id, [page_called(library, page)], text_of(form, "why"))
    kept = {"in_": text_of(form, "in"), "q": text_of(form, "q")}
    return see_other(address("/look", page, marked=job.id, **kept))


def job_called(library: Library, text: object) -> JobRecord:
    """The job that an address or a form names by number. Raises NothingFound."""
    number = str(text)
    if not number.isdecimal() or len(number) > 9:
        raise NothingFound(f"There is no job {number[:20]!r}.", "See the list of jobs.")
    return library.job(int(number))


def open_jobs(library: Library) -> list[JobRecord]:
    """The jobs that a page may be marked for, newest first."""
    return [job for job in library.jobs() if not job.closed][:_MOST_OPEN]


routes = [
    Route("/jobs", _jobs, methods=["GET"]),
    Route("/jobs", posted(_open), methods=["POST"]),
    Route("/mark", posted(_mark), methods=["POST"]),
]
