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
    cluster: Annotated[
        str, typer.Option(metavar="ADDRESS", help="Read pages on the Dask cluster tcp://HOST:8786.")
    ] = "",
    shared: Annotated[
        bool,
        typer.Option("--shared", help="The cluster sees the files under the same paths: use them."),
    ] = False,
    read_again: Annotated[
        bool,
        typer.Option("--read-again", help="Also read anew what an earlier version's readers read."),
    ] = False,
    catalogue_only: Annotated[
        bool,
        typer.Option("--catalogue-only", help="Read nothing; catalogue anew what was read before."),
    ] = False,
) -> None:
    """Read the scans under PATHS and catalogue what set each page belongs to.

    Only new and changed files are read. Stop it any time; the next run goes on from there.

    Example: benchfolio index ~/radio/manuals ~/radio/notes
    """
    if catalogue_only:
        _catalogue_only(bool(paths) or quick or read_again, home)
        return
    with open_library(home, must_exist=False) as library:
        summary = library.index(
            paths or [],
            workers=workers,
            quick=quick,
            report=ProgressLine(),
            cluster=cluster,
            shared=shared,
            read_again=read_again,
        )
        say(
            f"{summary.files_seen} files: {summary.files_new} new or changed,"
            f" {summary.files_unchanged} unchanged, {summary.files_gone} gone."
        )
        say(
            f"{summary.pages_read} pages read, {summary.pages_read_again} of them by the second"
            f" reader, in {summary.seconds:.0f} s. {summary.entries} entries in the library."
        )
        if summary.read_earlier:
            say(
                f"{summary.read_earlier} pages were read by an earlier version's readers; when"
                " there is time: benchfolio index --read-again"
            )
        if summary.on_paper:
            say(f"{summary.on_paper} sets on paper, from typed lists.")
        for wanted, file in summary.came_in:
            say(f"Came in: {wanted}, wanted before, is in {file}.")
        for title, troubles in (("Skipped", summary.skipped), ("Not read", summary.failed)):
            for name, reason in troubles[:_SHOWN]:
                say(f"{title}: {name}: {reason}")
            if len(troubles) > _SHOWN:
                say(f"… and {len(troubles) - _SHOWN} more; see `benchfolio list --pages`.")


def _catalogue_only(with_others: bool, home: Path | None) -> None:
    from indexer import UsageError

    if with_others:
        raise UsageError(
            "--catalogue-only goes over the whole library and reads nothing.",
            "Give it alone: benchfolio index --catalogue-only",
        )
    with open_library(home) as library:
        summary = library.catalogue_again(ProgressLine())
    say(
        f"{summary.pages_catalogued} pages catalogued anew in {summary.seconds:.1f} s, none read"
        f" (reading them took {summary.seconds_reading:.0f} s of work)."
        f" {summary.entries} entries in the library."
    )
