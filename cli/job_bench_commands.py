"""`benchfolio job strike`, `done`, `add-part`, `readings`: single lines of the work sheets."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

JobNumber = Annotated[int, typer.Argument(help="The job's number.", min=1)]
References = Annotated[list[str], typer.Argument(help="Lines of the list: C7, C8A.")]
Undo = Annotated[bool, typer.Option("--undo", help="Put the lines back on the list.")]


def strike(job: JobNumber, references: References, undo: Undo = False, home: Home = None) -> None:
    """Strike lines from the replacement list: they are not to be bought.

    Example: benchfolio job strike 3 C4
    """
    _state(job, references, "" if undo else "struck", home)


def done(job: JobNumber, references: References, undo: Undo = False, home: Home = None) -> None:
    """Mark lines of the replacement list as done.

    Example: benchfolio job done 3 C8A C8B
    """
    _state(job, references, "" if undo else "done", home)


def _state(job: int, references: list[str], state: str, home: Home) -> None:
    from indexer import NothingFound

    with open_library(home) as library:
        library.job(job)
        listed = {line.reference for line in library.work_sheets(job).replacements}
        wanted = [reference.upper() for reference in references]
        unknown = [reference for reference in wanted if reference not in listed]
        if unknown:
            raise NothingFound(
                f"{', '.join(unknown)} is not on the replacement list.",
                f"See it: benchfolio job parts {job}",
            )
        for reference in wanted:
            library.records.bench.edit_part(job, reference, state=state)
    say(f"{', '.join(wanted)}: {state or 'on the list'}.")


def add_part(
    job: JobNumber,
    reference: Annotated[str, typer.Argument(help="What you call the part: C20.")],
    value: Annotated[str, typer.Argument(help='As printed: ".05 mfd 400 V paper".')],
    home: Home = None,
) -> None:
    """Add a line of your own to the replacement list.

    Example: benchfolio job add-part 3 C20 ".05 mfd 400 V paper"
    """
    with open_library(home) as library:
        library.job(job)
        library.records.bench.edit_part(job, reference.upper(), added=value)
        lines = library.work_sheets(job).replacements
    for line in lines:
        if line.reference == reference.upper():
            print(f"{line.reference}: {' or '.join(line.fit) or line.note} ({line.type})")


def readings(
    job: JobNumber,
    taken: Annotated[bool, typer.Option("--taken", help="Only points that were read.")] = False,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """List every point to measure with nominal value, limits, reading and verdict.

    Example: benchfolio job readings 3 --taken
    """
    from dataclasses import asdict

    from indexer import ExitCode

    with open_library(home) as library:
        found = library.work_sheets(job).readings
    lines = [line for line in found if line.reads or not taken]
    if as_json:
        for line in lines:
            print_json(asdict(line))
    elif lines:
        print_table(
            ("point", "nominal", "low", "high", "reads", "verdict", "note", "source"),
            [
                (n.point, n.nominal, n.low, n.high, n.reads, n.verdict, n.note, n.source)
                for n in lines
            ],
        )
    if not lines:
        say("There is no point to measure: mark the parts list and the charts for this job.")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def add_to(app: typer.Typer) -> None:
    """Registers these commands under `job`."""
    for name, command in (
        ("strike", strike),
        ("done", done),
        ("add-part", add_part),
        ("readings", readings),
    ):
        app.command(name)(command)
