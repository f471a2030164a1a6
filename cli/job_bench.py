"""`benchfolio job …` at the bench: the replacement list, tubes and spares, power-up."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import AsJson, Home, JobNumber, open_library, print_json, print_table, say

References = Annotated[list[str], typer.Argument(help="Lines of the list: C7, C8A.")]
Undo = Annotated[bool, typer.Option("--undo", help="Put the lines back on the list.")]


def parts(
    job: JobNumber,
    shopping: Annotated[bool, typer.Option("--shopping", help="Totals to buy, as CSV.")] = False,
    csv_file: Annotated[
        Path | None, typer.Option("--csv", help="Write the totals to buy to this file.")
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Show the replacement list, or what to buy for it.

    Example: benchfolio job parts 3 --csv to-buy.csv
    """
    from dataclasses import asdict

    from indexer import InputError, shopping_csv

    with open_library(home) as library:
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
                (n.reference, n.printed, n.to_do, " or ".join(n.fit), n.type, n.state, n.source)
                for n in sheets.replacements
            ],
        )
        if sheets.doubts:
            print("\nTo check on the page:")
        for doubt in sheets.doubts:
            print(f"  {doubt}")


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
        library.add_part(job, reference, value)
        lines = library.work_sheets(job).replacements
    for line in lines:
        if line.reference == reference.upper():
            print(f"{line.reference}: {' or '.join(line.fit) or line.note} ({line.type})")


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
    with open_library(home) as library:
        library.set_parts(job, references, state)
    say(f"{', '.join(references).upper()}: {state or 'on the list'}.")


def tubes(job: JobNumber, home: Home = None, as_json: AsJson = False) -> None:
    """Set the job's line-up against the drawer of spares.

    Example: benchfolio job tubes 3
    """
    from dataclasses import asdict

    with open_library(home) as library:
        lines = library.work_sheets(job).drawer
    if as_json:
        for line in lines:
            print_json(asdict(line))
    else:
        print_table(
            ("tube", "role", "state", "spare", "left", "mind"),
            [(n.tube, n.role, "used" if n.used else n.state, n.use, n.left, n.note) for n in lines],
        )


def use(
    job: JobNumber,
    tube: Annotated[str, typer.Argument(metavar="TYPE", help="The spare to take: 12AT6.")],
    place: Annotated[
        str, typer.Option("--for", help="The tube of the line-up whose place it takes.")
    ] = "",
    undo: Annotated[bool, typer.Option("--undo", help="Put it back into the drawer.")] = False,
    home: Home = None,
) -> None:
    """Take a spare out of the drawer for a job, or put it back.

    Example: benchfolio job use 3 12AT6 --for 12AV6
    """
    with open_library(home) as library:
        taken = library.put_back(job, tube) if undo else library.use_spare(job, tube, place)
        left = sum(spare.count for spare in library.spares() if spare.type == taken.spare)
    where = f" from {taken.place}" if taken.place else ""
    if undo:
        say(f"{taken.spare} is back{where.replace('from', 'in')}; {left} in the drawer.")
    else:
        say(f"{taken.spare}{where} for {taken.tube}; {left} left in the drawer.")
        _warn(job, taken.tube, taken.spare)


def _warn(job: int, wanted: str, spare: str) -> None:
    """Says at once what speaks against a tube in a place: its base, its heater, its job."""
    from indexer import UsageError, compare_tubes

    try:
        found = compare_tubes(wanted, spare)
    except UsageError:
        say("One of the two is not on record: compare base, pins and heater yourself.")
        return
    if found["relation"] in ("same", "same, other envelope"):
        return
    if found["relation"] == "direct substitute":
        say(f"Mind: {found['note']}.")
        return
    said = f"{found['relation']}: {found['note']}" if found["note"] else found["relation"]
    say(f"Stop: {spare} does not go in for {wanted} as it stands ({said}).")
    say(f"Put it back: benchfolio job use {job} {spare} --undo")


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
    live = {"no": "no, by what was read", "unknown": "not known, so take it as live"}
    shown = live.get(sheet.live_chassis, sheet.live_chassis)
    print(f"Live chassis: {shown}. {' '.join(sheet.live_reasons)}")
    print(sheet.isolation)
    print(" ".join(filter(None, (f"Supply: {sheet.supply}.", sheet.supply_note, sheet.string))))
    for line in (*sheet.string_notes, f"Series lamp: {sheet.lamp or 'none'}."):
        print(line)
    for line in sheet.lamp_behaviour:
        print(f"  {line}")
    for number, line in enumerate(sheet.checks, 1):
        print(f"{number}. {line}")
    for caution in sheet.cautions:
        print(f"{caution.title}. {caution.text}")


def add_to(app: typer.Typer) -> None:
    """Registers these commands under `job`."""
    for command in (parts, add_part, strike, done, tubes, use, power_up):
        app.command(command.__name__.replace("_", "-"))(command)
