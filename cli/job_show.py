"""How a job is shown in the terminal."""

from typing import TYPE_CHECKING

from cli.common import print_json, say

if TYPE_CHECKING:
    from indexer import JobRecord, Library


def show_job(library: "Library", job: "JobRecord", as_json: bool) -> None:
    """A job with its pages, notes and photos; pages whose file is gone are said plainly."""
    from indexer import job_json

    pages = library.marked_pages(job.id)
    if as_json:
        print_json(job_json(job, library))
    else:
        _show(library, job)
    for page in pages:
        if page.missing:
            say(f"Missing: {page.missing}")


def _show(library: "Library", job: "JobRecord") -> None:
    ended = f", closed {job.closed[:10]}" if job.closed else ""
    print(f"Job {job.id}: {job.title} (opened {job.opened[:10]}{ended})")
    if job.merged_into is not None:
        print(f"  merged into job {job.merged_into}")
    elif job.deleted:
        print(f"  deleted {job.deleted[:10]}; benchfolio job undelete {job.id} brings it back")
    named = f"{job.maker} {', '.join((*job.models, *job.chassis))}".strip()
    for label, value in (
        ("set", named),
        ("tubes", " ".join(job.tubes)),
        ("tag", job.owner_tag),
        ("symptom", job.symptom),
        ("outcome", job.outcome),
    ):
        if value:
            print(f"  {label}: {value}")
    for page in library.marked_pages(job.id):
        why = f": {page.mark.why}" if page.mark.why else ""
        name = f"{page.card.name}  " if page.card else ""
        file = page.card.file if page.card else page.mark.file
        gone = "  (gone)" if page.missing else ""
        print(f"  page {page.number}: {name}{file} page {page.mark.ref.page}{why}{gone}")
    for number, photo in enumerate(job.photos, 1):
        why = f": {photo.why}" if photo.why else ""
        print(f"  photo {number}: {photo.name} ({photo.at[:10]}){why}")
    for use in library.spares_used(job.id):
        print(f"  {use.at[:16].replace('T', ' ')}  {use.spare} from the drawer for {use.tube}")
    for note in job.notes:
        print(f"  {note.at[:16].replace('T', ' ')}  {note.text}")
