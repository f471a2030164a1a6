"""`benchfolio index`: read what is new or changed."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import Home, ProgressLine, open_library, say

_SHOWN = 40  # lines of trouble printed; the rest is in `list --pages`


def index(
    paths: Annotated[
        list[Path] | None, typer.Argument(help="Folders or files; all known folders if left out.")
    ] = None,
    home: Home = None,
    quick: Annotated[
        bool, typer.Option("--quick", help="Stop after the first reader; drawings stay half read.")
    ] = False,
    workers: Annotated[
        int | None, typer.Option(min=1, max=256, help="Worker processes; one a core if left out.")
    ] = None,
) -> None:
    """Read the scans under PATHS and catalogue what set each page belongs to.

    Only new and changed files are read. Stop it any time; the next run goes on from there.

    Example: benchfolio index ~/radio/manuals ~/radio/notes
    """
    with open_library(home, must_exist=False) as library:
        summary = library.index(paths or [], workers=workers, quick=quick, report=ProgressLine())
        say(
            f"{summary.files_seen} files: {summary.files_new} new or changed,"
            f" {summary.files_unchanged} unchanged, {summary.files_gone} gone."
        )
        say(
            f"{summary.pages_read} pages read, {summary.pages_read_again} of them by the second"
            f" reader, in {summary.seconds:.0f} s. {summary.entries} entries in the library."
        )
        for wanted, file in summary.came_in:
            say(f"Came in: {wanted}, wanted before, is in {file}.")
        for title, troubles in (("Skipped", summary.skipped), ("Not read", summary.failed)):
            for name, reason in troubles[:_SHOWN]:
                say(f"{title}: {name}: {reason}")
            if len(troubles) > _SHOWN:
                say(f"… and {len(troubles) - _SHOWN} more; see `benchfolio list --pages`.")
