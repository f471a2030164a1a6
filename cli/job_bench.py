"""`benchfolio job …` at the bench: parts, readings, tubes, power-up; and keeping the jobs."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

JobNumber = Annotated[int, typer.Argument(help="The job's number.", min=1)]


def parts(
    job: JobNumber,
    add: Annotated[str, typer.Option(help="A line of your own: REF and its words.")] = "",
    done: Annotated[list[str] | None, typer.Option(help="Reference that is replaced.")] = None,
    strike: Annotated[list[str] | None, typer.Option(help="Reference to leave out.")] = None,
    shopping: Annotated[bool, typer.Option("--shopping", help="Totals to buy, as CSV.")] = False,
    csv_file: Annotated[
        Path | None, typer.Option("--csv", help="Write the totals to buy to this file.")
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Show the replacement list; add, strike or mark lines as done.

    Example: benchfolio job parts 3 --done C8A --strike R4 --add "C20 .05 mfd 400 V paper"
    """
    from dataclasses import asdict

    from indexer import InputError, shopping_csv

    with open_library(home) as library:
        library.job(job)
        bench = library.records.bench
        if add:
            reference, _, words = add.partition(" ")
            bench.edit_part(job, reference.upper(), added=words or reference)
        for state, references in (("done", done or []), ("struck", strike or [])):
            for reference in references:
                bench.edit_part(job, reference.upper(), state=state)
        sheets = library.work_sheets(job)
    if csv_file is not None:
        try:
            csv_file.write_text(shopping_csv(sheets.shopping), encoding="utf-8", newline="")
        except OSError as error:
            raise InputError(f"{csv_file} can't be written ({error.strerror}).") from error
        print(csv_file)
    elif shopping:
        print(shopping_csv(sheets.shopping).replace("\r\n", "\n"), end="")
    elif as_json:
        for line in sheets.replacements:
            print_json(asdict(line))
    else:
        print_table(
            ("part", "printed", "what to do", "fit today", "kind", "state", "source"),
            [
                (n.reference, n.printed, n.action, " or ".join(n.fit), n.type, n.state, n.source)
                for n in sheets.replacements
            ],
        )


def reading(
    job: JobNumber,
    point: Annotated[str, typer.Argument(help="R7, C8A, or a name of your own.")] = "",
    reads: Annotated[str, typer.Argument(help="What the meter says: 800K, 0.047, open.")] = "",
    nominal: Annotated[str, typer.Option(help="The right value, where no page says it.")] = "",
    note: Annotated[str, typer.Option(help="A word beside it.")] = "",
    from_file: Annotated[
        Path | None,
        typer.Option("--from", help="A CSV: point, reads, then nominal and note if you like."),
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Enter a reading and see the verdict by tolerance; without one, list every point.

    Example: benchfolio job reading 3 R7 800K
    """
    from dataclasses import asdict

    from indexer import UsageError

    with open_library(home) as library:
        library.job(job)
        for row in _rows(from_file) if from_file else ():
            library.take_reading(job, *row)
        if point and not reads:
            raise UsageError(
                "A point needs a reading.", "Example: benchfolio job reading 3 R7 800K"
            )
        if point:
            library.take_reading(job, point, reads, nominal, note)
        lines = library.work_sheets(job).readings
    if point:
        wanted = " ".join(point.upper().split())
        lines = tuple(line for line in lines if line.point.upper() == wanted)
    if as_json:
        for line in lines:
            print_json(asdict(line))
    else:
        print_table(
            ("point", "nominal", "low", "high", "reads", "verdict", "note"),
            [(n.point, n.nominal, n.low, n.high, n.reads, n.verdict, n.note) for n in lines],
        )


def _rows(path: Path) -> list[list[str]]:
    """The readings in a CSV file, a head row left out. Raises InputError."""
    import csv

    from indexer import InputError

    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = [[cell.strip() for cell in row] for row in csv.reader(file)]
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise InputError(f"{path} can't be read as CSV ({error}).") from error
    if rows and rows[0] and rows[0][0].lower() == "point":
        rows = rows[1:]
    for number, row in enumerate(rows, 1):
        if any(row) and (not row[0] or len(row) < 2 or len(row) > 4):
            raise InputError(
                f"Reading {number} of {path} is not POINT,READS.", "Example line: R7,800K"
            )
    return [row for row in rows if any(row) and row[1]]


def tubes(
    job: JobNumber,
    use: Annotated[str, typer.Option(help="Take a spare out for a tube: TUBE or TUBE=SPARE.")] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Set the job's line-up against the drawer of spares, or take a spare out for it.

    Example: benchfolio job tubes 3 --use 12AV6=12AT6
    """
    from dataclasses import asdict

    from indexer import NothingFound

    with open_library(home) as library:
        library.job(job)
        if use:
            wanted, _, spare = use.upper().partition("=")
            if not library.records.bench.use_spare(job, wanted, spare or wanted):
                raise NothingFound(f"No {spare or wanted} lies in the drawer.")
        lines = library.work_sheets(job).drawer
    if as_json:
        for line in lines:
            print_json(asdict(line))
    else:
        print_table(
            ("tube", "role", "state", "spare", "left", "mind"),
            [(n.tube, n.role, "used" if n.used else n.state, n.use, n.left, n.note) for n in lines],
        )


def power_up(job: JobNumber, home: Home = None, as_json: AsJson = False) -> None:
    """Show what to know and check before power goes on.

    Example: benchfolio job power-up 3
    """
    from dataclasses import asdict

    with open_library(home) as library:
        sheet = library.work_sheets(job).power_up
    if as_json:
        print_json(asdict(sheet))
        return
    print(f"Live chassis: {sheet.live_chassis}. {' '.join(sheet.live_reasons)}")
    print(sheet.isolation)
    print(f"Supply: {sheet.supply}. {sheet.string}".strip())
    for line in (*sheet.string_notes, f"Series lamp: {sheet.lamp or 'none'}."):
        print(line)
    for line in sheet.lamp_behaviour:
        print(f"  {line}")
    for number, line in enumerate(sheet.checks, 1):
        print(f"{number}. {line}")
    for caution in sheet.cautions:
        print(f"{caution.title}. {caution.text}")


def reopen(job: JobNumber, home: Home = None) -> None:
    """Open a closed job again; what it was closed with stays as a note.

    Example: benchfolio job reopen 3
    """
    with open_library(home) as library:
        library.job(job)
        library.records.reopen_job(job)
    say(f"Job {job} is open again.")


def delete(job: JobNumber, home: Home = None) -> None:
    """Put a job out of sight; nothing is lost.

    Example: benchfolio job delete 3
    """
    with open_library(home) as library:
        library.job(job)
        library.records.delete_job(job)
    say(f"Job {job} is deleted. Bring it back: benchfolio job undelete {job}")


def undelete(job: JobNumber, home: Home = None) -> None:
    """Bring back a job that was deleted or merged.

    Example: benchfolio job undelete 3
    """
    with open_library(home) as library:
        library.job(job)
        library.records.undelete_job(job)
    say(f"Job {job} is back.")


def merge(
    job: JobNumber,
    other: Annotated[int, typer.Argument(help="The job to put into it.", min=1)],
    home: Home = None,
) -> None:
    """Put all of another job into this one.

    Example: benchfolio job merge 3 5
    """
    from indexer import UsageError

    if job == other:
        raise UsageError("A job can't be merged with itself.")
    with open_library(home) as library:
        library.job(job)
        library.job(other)
        library.records.merge_jobs(job, other)
    say(f"Job {other} is in job {job} now. Bring it back: benchfolio job undelete {other}")


def add_to(app: typer.Typer) -> None:
    """Registers these commands under `job`."""
    for name, command in (
        ("parts", parts),
        ("reading", reading),
        ("tubes", tubes),
        ("power-up", power_up),
        ("reopen", reopen),
        ("delete", delete),
        ("undelete", undelete),
        ("merge", merge),
    ):
        # a reading may be negative: -6.5 is no option
        settings = {"ignore_unknown_options": name == "reading"}
        app.command(name, context_settings=settings)(command)
