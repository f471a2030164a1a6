"""`benchfolio job`: one set on the bench, from opening to closing."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, JobNumber, open_library, print_json, print_table, say
from cli.job_show import show_job

app = typer.Typer(help="Open a job for a set, mark its pages, note, print.", no_args_is_help=True)

_DAY = "The day, as 1998-05-31, where it is not today."


@app.command("open")
def open_job(
    title: Annotated[str, typer.Argument(help="What you call the job.")],
    entry: Annotated[
        str, typer.Option("--entry", help="The entry that serves the set, from `find`.")
    ] = "",
    typed: Annotated[
        str, typer.Option("--set", help="The set in words, as for `find`, where no entry serves.")
    ] = "",
    symptom: Annotated[str, typer.Option(help="What is wrong with the set.")] = "",
    tag: Annotated[str, typer.Option(help="The owner's tag on the set.")] = "",
    on: Annotated[str, typer.Option("--on", help=_DAY)] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Open a job.

    Example: benchfolio job open "Mrs P's kitchen set" --entry tillbrook-5d10-k7 --tag 114
    """
    with open_library(home) as library:
        found = library.entry(entry) if entry else None
        asked = library.understand(typed) if typed else None
        job = library.open_job(title, found, symptom, asked=asked, owner_tag=tag, on=on)
        show_job(library, job, as_json)


@app.command("change")
def change(
    job: JobNumber,
    title: Annotated[str | None, typer.Option(help="What you call the job now.")] = None,
    symptom: Annotated[str | None, typer.Option(help="What is wrong with the set.")] = None,
    tag: Annotated[str | None, typer.Option(help="The owner's tag on the set.")] = None,
    entry: Annotated[
        str | None, typer.Option("--entry", help="The entry that serves the set, from `find`.")
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Change a job's title, symptom, tag or set.

    Example: benchfolio job change 3 --symptom "hum, weak on the high end" --tag 114
    """
    with open_library(home) as library:
        found = library.entry(entry) if entry else None
        show_job(
            library,
            library.change_job(job, title=title, symptom=symptom, owner_tag=tag, entry=found),
            as_json,
        )


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
        show_job(library, library.note(job, text), as_json)


@app.command("close")
def close(
    job: JobNumber,
    outcome: Annotated[str, typer.Argument(help="What was wrong and what was done.")],
    on: Annotated[str, typer.Option("--on", help=_DAY)] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Close a job with what was wrong and what was done; `find` brings it up next time.

    Example: benchfolio job close 3 "Coupling capacitor C7 replaced, filters renewed"
    """
    with open_library(home) as library:
        show_job(library, library.close_job(job, outcome, on), as_json)


@app.command("reopen")
def reopen(job: JobNumber, home: Home = None) -> None:
    """Open a closed job again; what it was closed with stays as a note.

    Example: benchfolio job reopen 3
    """
    with open_library(home) as library:
        library.reopen_job(job)
    say(f"Job {job} is open again.")


@app.command("delete")
def delete(job: JobNumber, home: Home = None) -> None:
    """Put a job out of sight; nothing is lost.

    Example: benchfolio job delete 3
    """
    with open_library(home) as library:
        library.delete_job(job)
    say(f"Job {job} is deleted. Bring it back: benchfolio job undelete {job}")


@app.command("undelete")
def undelete(job: JobNumber, home: Home = None) -> None:
    """Bring back a deleted job, or take a merged one out of the other again.

    Example: benchfolio job undelete 3
    """
    with open_library(home) as library:
        library.undelete_job(job)
    say(f"Job {job} is back.")


@app.command("merge")
def merge(
    job: JobNumber,
    other: Annotated[int, typer.Argument(help="The job to put into it.", min=1)],
    home: Home = None,
) -> None:
    """Put all of another job into this one.

    Example: benchfolio job merge 3 5
    """
    with open_library(home) as library:
        library.merge_jobs(job, other)
    say(f"Job {other} is in job {job} now. Take it apart: benchfolio job undelete {other}")


@app.command("show")
def show(job: JobNumber, home: Home = None, as_json: AsJson = False) -> None:
    """Show a job with its pages, photos and notes.

    Example: benchfolio job show 3
    """
    with open_library(home) as library:
        show_job(library, library.job(job), as_json)


@app.command("list")
def list_jobs(
    words: Annotated[
        list[str] | None,
        typer.Argument(help="Only jobs with all these words anywhere: title, set, tag, notes …"),
    ] = None,
    deleted: Annotated[bool, typer.Option("--deleted", help="Those out of sight.")] = False,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """List every job, the newest first, or those that hold some words.

    Example: benchfolio job list C7 leaking
    """
    from indexer import ExitCode, job_json

    with open_library(home) as library:
        jobs = library.jobs(" ".join(words or ()), deleted=deleted)
    if as_json:
        for job in jobs:
            print_json(job_json(job))
    elif jobs:
        print_table(
            ("job", "opened", "closed", "tag", "title", "set", "pages"),
            [
                (
                    job.id,
                    job.opened[:10],
                    (job.closed or "")[:10],
                    job.owner_tag,
                    job.title,
                    f"{job.maker} {', '.join(job.models)}".strip(),
                    len(job.marks),
                )
                for job in jobs
            ],
        )
    if not jobs:
        say("No job holds that." if words else "There is no job yet: benchfolio job open TITLE")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))
