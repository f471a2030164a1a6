"""`benchfolio job`: one set on the bench, its marked pages, notes and packet."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

if TYPE_CHECKING:
    from indexer.store.records import JobRecord

app = typer.Typer(help="Open a job for a set, mark its pages, note, print.", no_args_is_help=True)

JobNumber = Annotated[int, typer.Argument(help="The job's number.", min=1)]


@app.command("open")
def open_job(
    title: Annotated[str, typer.Argument(help="What you call the job.")],
    entry: Annotated[
        str, typer.Option("--entry", help="The entry that serves the set, from `find`.")
    ] = "",
    symptom: Annotated[str, typer.Option(help="What is wrong with the set.")] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Open a job.

    Example: benchfolio job open "Mrs P's kitchen set" --entry tillbrook-5d10-k7 --symptom hum
    """
    with open_library(home) as library:
        job = library.open_job(title, library.entry(entry) if entry else None, symptom)
        _show(job, as_json)


@app.command("mark")
def mark(
    job: JobNumber,
    pages: Annotated[list[str], typer.Argument(help="Short names, ENTRY/2, FILE#PAGE or ENTRY.")],
    why: Annotated[str, typer.Option("--why", help="What these pages are for.")] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Mark pages for a job, in the order given; an entry's name marks all its pages.

    Example: benchfolio job mark 3 kq7m4w tillbrook-5d10-k7/2 --why schematic
    """
    with open_library(home) as library:
        cards = []
        for name in pages:
            found = library.entries.entry(name)
            cards += library.entries.cards(name) if found else [library.page(name)]
        _show(library.mark(job, cards, why), as_json)


@app.command("unmark")
def unmark(
    job: JobNumber,
    pages: Annotated[list[str], typer.Argument(help="Pages to take off the list.")],
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Take pages off a job's list.

    Example: benchfolio job unmark 3 kq7m4w
    """
    with open_library(home) as library:
        library.job(job)
        for name in pages:
            library.records.unmark(job, library.page(name).ref)
        _show(library.job(job), as_json)


@app.command("note")
def note(
    job: JobNumber,
    text: Annotated[str, typer.Argument(help="What to remember.")],
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Note something, with the time.

    Example: benchfolio job note 3 "C7 leaking, 22 V on the output grid"
    """
    with open_library(home) as library:
        library.job(job)
        library.records.note(job, text)
        _show(library.job(job), as_json)


@app.command("close")
def close(
    job: JobNumber,
    outcome: Annotated[str, typer.Argument(help="What was wrong and what was done.")],
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Close a job with what was wrong and what was done; `find` brings it up next time.

    Example: benchfolio job close 3 "Coupling capacitor C7 replaced, filters renewed"
    """
    with open_library(home) as library:
        library.job(job)
        library.records.close_job(job, outcome)
        _show(library.job(job), as_json)


@app.command("show")
def show(job: JobNumber, home: Home = None, as_json: AsJson = False) -> None:
    """Show a job with its pages and notes.

    Example: benchfolio job show 3
    """
    with open_library(home) as library:
        found = library.job(job)
        _show(found, as_json)
        for marked in found.marks:
            card = library.entries.card_of(marked.ref)
            if card is None or not card.path.exists():
                say(f"Missing: {marked.file} page {marked.ref.page} is not there any more.")


@app.command("list")
def list_jobs(
    search: Annotated[str, typer.Option(help="Only jobs with these words anywhere.")] = "",
    deleted: Annotated[bool, typer.Option("--deleted", help="Those out of sight.")] = False,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """List every job, the newest first, or those that hold some words.

    Example: benchfolio job list --search "C7 leaking"
    """
    from indexer import ExitCode, job_json

    with open_library(home) as library:
        kept = library.records
        jobs = kept.search_jobs(search) if search else kept.jobs(deleted=deleted)
    if as_json:
        for job in jobs:
            print_json(job_json(job))
    elif jobs:
        print_table(
            ("job", "opened", "closed", "title", "set", "pages"),
            [
                (
                    job.id,
                    job.opened[:10],
                    (job.closed or "")[:10],
                    job.title,
                    f"{job.maker} {', '.join(job.models)}".strip(),
                    len(job.marks),
                )
                for job in jobs
            ],
        )
    if not jobs:
        say("No job holds that." if search else "There is no job yet: benchfolio job open TITLE")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


@app.command("packet")
def packet(
    job: JobNumber,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Where to write the PDF.")] = None,
    paper: Annotated[str, typer.Option(help="A4 or Letter.")] = "A4",
    foldouts: Annotated[
        str, typer.Option(help="tile (over several sheets, at their size) or fit (on one).")
    ] = "tile",
    home: Home = None,
) -> None:
    """Write the packet to print: cover, the marked pages from their own files, work sheets.

    Example: benchfolio job packet 3 --out packet.pdf --paper Letter
    """
    with open_library(home) as library:
        target = out or Path(f"job-{job}.pdf")
        for line in library.packet(job, target, paper, foldouts):
            say(f"Missing: {line}")
        print(target)


def _show(job: "JobRecord", as_json: bool) -> None:
    from indexer import job_json

    if as_json:
        print_json(job_json(job))
        return
    ended = f", closed {job.closed[:10]}" if job.closed else ""
    print(f"Job {job.id}: {job.title} (opened {job.opened[:10]}{ended})")
    named = f"{job.maker} {', '.join((*job.models, *job.chassis))}".strip()
    for label, value in (("set", named), ("symptom", job.symptom), ("outcome", job.outcome)):
        if value:
            print(f"  {label}: {value}")
    for n, marked in enumerate(job.marks, 1):
        why = f": {marked.why}" if marked.why else ""
        print(f"  page {n}: {marked.file} page {marked.ref.page}{why}")
    for line in job.notes:
        print(f"  {line.at[:16].replace('T', ' ')}  {line.text}")
