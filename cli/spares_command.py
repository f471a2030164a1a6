"""`benchfolio spares`: the drawer of spare tubes."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

app = typer.Typer(help="Keep the drawer of spare tubes.", no_args_is_help=True)


@app.command("add")
def add(
    tube: Annotated[str, typer.Argument(help="The type: 12BE6.")],
    count: Annotated[int, typer.Argument(help="How many.", min=1, max=100_000)] = 1,
    place: Annotated[str, typer.Option(help="Which drawer or box.")] = "",
    note: Annotated[str, typer.Option(help="A word on their condition.")] = "",
    home: Home = None,
) -> None:
    """Put tubes into the drawer.

    Example: benchfolio spares add 12BE6 2 --place "drawer 4"
    """
    with open_library(home) as library:
        kind = library.add_spare(tube, count, place, note)
    say(f"{count} {kind} put into the drawer.")


@app.command("list")
def list_spares(home: Home = None, as_json: AsJson = False) -> None:
    """List what lies in the drawer.

    Example: benchfolio spares list
    """
    from dataclasses import asdict

    from indexer import ExitCode

    with open_library(home) as library:
        spares = library.records.bench.spares()
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
