"""`benchfolio correct list`, `undo`, `export`, `import`: the log of corrections."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

_SHOWN = 40  # rows not used that are named


def add_to(app: typer.Typer) -> None:
    """Adds these commands to `correct`."""
    app.command("list")(list_corrections)
    app.command("undo")(undo)
    app.command("export")(export)
    app.command("import")(import_corrections)


def list_corrections(
    every: Annotated[bool, typer.Option("--all", help="Also those taken back.")] = False,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """List what was corrected, and what has no effect now and why.

    Example: benchfolio correct list --all
    """
    from indexer import ExitCode

    with open_library(home) as library:
        states = library.corrections(undone=every)
    if as_json:
        for state in states:
            one = state.correction
            print_json(
                {
                    "correction": one.id,
                    "what": one.what,
                    "values": list(one.values),
                    "line": state.line,
                    "applies": state.applies,
                    "said": state.said,
                    "entries": list(state.entries),
                    "at": one.at,
                    "undone": one.undone,
                }
            )
    elif states:
        print_table(
            ("no.", "when", "correction", "no effect because"),
            [(s.correction.id, s.correction.at[:10], s.line, s.said) for s in states],
        )
    if not states:
        say("Nothing was corrected.")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def undo(
    number: Annotated[int | None, typer.Argument(help="The last one if left out.")] = None,
    home: Home = None,
) -> None:
    """Take a correction back; what was read holds again.

    Example: benchfolio correct undo 3
    """
    with open_library(home) as library:
        change = library.undo_correction(number)
    say(f"Correction {change.corrections[0].id} is undone.")
    for line in change.said:
        say(line)


def export(
    target: Annotated[Path, typer.Argument(help="The CSV file to write.")], home: Home = None
) -> None:
    """Write the corrections as CSV; they fit wherever the same files lie.

    Example: benchfolio correct export corrections.csv
    """
    from indexer import InputError

    with open_library(home) as library:
        text = library.export_corrections()
    try:
        target.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise InputError(f"{target} can't be written ({error.strerror}).") from error
    print(target)


def import_corrections(
    source: Annotated[Path, typer.Argument(help="A CSV file that `correct export` wrote.")],
    home: Home = None,
) -> None:
    """Add the corrections of a CSV file that are not there yet; they come after those that are.

    Example: benchfolio correct import corrections.csv
    """
    from indexer import ExitCode, InputError

    try:
        data = source.read_bytes()
    except OSError as error:
        raise InputError(f"{source} can't be read ({error.strerror}).") from error
    with open_library(home) as library:
        brought = library.import_corrections(data)
    say(f"{brought.added} corrections added, {brought.known} known before.")
    for line, why in brought.troubles[:_SHOWN]:
        say(f"Not used: line {line}: {why}")
    if len(brought.troubles) > _SHOWN:
        say(f"… and {len(brought.troubles) - _SHOWN} more.")
    if brought.troubles and not brought.added + brought.known:
        raise typer.Exit(int(ExitCode.BAD_INPUT))
