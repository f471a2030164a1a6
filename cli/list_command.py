"""`benchfolio list`: every entry, or every page."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, shown_codes


def list_entries(
    home: Home = None,
    pages: Annotated[bool, typer.Option("--pages", help="List pages instead of entries.")] = False,
    text: Annotated[
        bool, typer.Option("--text", help="With --pages --json: the words read, too.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """List the sets that your library prints, or all its pages with what was read on each.

    Example: benchfolio list --pages
    """
    from indexer import ExitCode, entry_json, page_json

    with open_library(home) as library:
        if pages:
            rows = [page_json(library, row, text=text) for row in library.pages()]
            failed = library.catalogue.rows(
                "SELECT name, reason, state FROM file WHERE state <> 'ok' ORDER BY name"
            )
            rows += [_failed_file(name, reason, state) for name, reason, state in failed]
        else:
            rows = [entry_json(library, entry) for entry in library.all_entries()]
    if as_json:
        for row in rows:
            print_json(row)
    elif pages:
        print_table(
            ("name", "file", "page", "printed", "state", "shows", "reason"),
            [
                (
                    row["name"],
                    row["file"],
                    row["page"],
                    row["printed"],
                    row["state"],
                    ", ".join(row["kinds"]),
                    row["reason"],
                )
                for row in rows
            ],
        )
    else:
        print_table(
            ("entry", "maker", "model and chassis", "tubes", "pages"),
            [
                (
                    row["entry"],
                    row["maker"],
                    shown_codes(row["printed_models"], row["chassis"]),
                    " ".join(row["tubes"]),
                    len(row["pages"]),
                )
                for row in rows
            ],
        )
    if not rows:
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def _failed_file(name: str, reason: str, state: str) -> dict[str, object]:
    return {
        "file": name,
        "page": 0,
        "name": "",
        "printed": "",
        "rotation_deg": 0,
        "reader": "",
        "kinds": [],
        "models": [],
        "chassis": [],
        "tubes": [],
        "entry": [],
        "state": state,
        "reason": reason,
    }
