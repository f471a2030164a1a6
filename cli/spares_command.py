"""`benchfolio spares`: the drawer of spare tubes."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

app = typer.Typer(help="Keep the drawer of spare tubes.", no_args_is_help=True)

_MOST = 100_000

Tube = Annotated[str, typer.Argument(help="The type with its envelope: 12BE6, 6V6GT.")]
Count = Annotated[int, typer.Argument(help="How many.", min=1, max=_MOST)]


@app.command("add")
def add(
    tubes: Annotated[
        list[str], typer.Argument(metavar="TUBE…", help="A type and how many, or several types.")
    ],
    place: Annotated[str, typer.Option(help="Which drawer or box.")] = "",
    note: Annotated[str, typer.Option(help="A word on their condition.")] = "",
    home: Home = None,
) -> None:
    """Put tubes into the drawer: a type and how many, or several types, one of each.

    Example: benchfolio spares add 12BE6 2 --place "drawer 4"
    """
    from indexer import tube_json

    counted = [(tube, count, tube_json(tube)) for tube, count in _counted(tubes)]
    with open_library(home) as library:
        for tube, count, facts in counted:
            kind = library.add_spare(tube, count, place, note)
            say(f"{count} {kind} put into the drawer.")
            if facts["decoded"]:
                say(f"{kind} is not in the tube table: look again at what is printed.")


def _counted(tubes: list[str]) -> list[tuple[str, int]]:
    """Each type once, with its count. Two words are a type and a count; "45 2" is two 45s."""
    from collections import Counter

    from indexer import UsageError

    if len(tubes) == 2 and tubes[1].isdecimal():
        count = int(tubes[1])
        if not 1 <= count <= _MOST:
            raise UsageError(f"{count} is no count of tubes.", "Give 1 or more.")
        return [(tubes[0], count)]
    return list(Counter(tubes).items())


@app.command("take")
def take(
    tube: Tube,
    count: Count = 1,
    place: Annotated[str, typer.Option(help="Which drawer or box; else the fullest.")] = "",
    home: Home = None,
) -> None:
    """Take tubes out for good; for a job, `benchfolio job use` keeps the link.

    Example: benchfolio spares take 12BE6 1 --place "drawer 4"
    """
    with open_library(home) as library:
        kind = library.take_spare(tube, count, place)
        left = sum(spare.count for spare in library.spares() if spare.type == kind)
    say(f"{count} {kind} taken out; {left} left.")


@app.command("list")
def list_spares(home: Home = None, as_json: AsJson = False) -> None:
    """List what lies in the drawer.

    Example: benchfolio spares list
    """
    from dataclasses import asdict

    from indexer import ExitCode

    with open_library(home) as library:
        spares = library.spares()
    if as_json:
        for spare in spares:
            print_json(asdict(spare))
    elif spares:
        print_table(
            ("type", "count", "place", "note"),
            [(s.type, s.count, s.place, s.note) for s in spares],
        )
    if not spares:
        say("The drawer is empty: benchfolio spares add 12BE6 2")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


@app.command("export")
def export(
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="Where to write it; else it is printed.")
    ] = None,
    home: Home = None,
) -> None:
    """Write the drawer as CSV: type, count, place, note.

    Example: benchfolio spares export --out spares.csv
    """
    from indexer import InputError

    with open_library(home) as library:
        text = library.spares_csv()
    if out is None:
        print(text.replace("\r\n", "\n"), end="")
        return
    try:
        out.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise InputError(f"{out} can't be written ({error.strerror}).") from error
    print(out)


@app.command("import")
def import_spares(
    file: Annotated[Path, typer.Argument(help="A CSV: type, count, place, note.")],
    add: Annotated[
        bool, typer.Option("--add", help="The counts come on top of what lies there.")
    ] = False,
    home: Home = None,
) -> None:
    """Read a CSV of spares: each line says how many of a type lie in a place now.

    Example: benchfolio spares import spares.csv
    """
    from indexer import InputError, limits

    try:
        if file.stat().st_size > limits.MAX_CSV_BYTES:
            raise InputError(f"{file} is larger than {limits.MAX_CSV_BYTES // 1_000_000} MB.")
        text = file.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{file} can't be read as text ({error}).") from error
    with open_library(home) as library:
        count = library.import_spares(text, add=add)
    say(f"{count} lines read.")
