"""`benchfolio backup`, `restore`, `export records`, `import`: keeping what a person typed."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import Home, open_library, say

Force = Annotated[bool, typer.Option("--force", help="Overwrite records; a copy is kept.")]


def backup(
    target: Annotated[Path, typer.Argument(help="The file to write.")], home: Home = None
) -> None:
    """Write a consistent copy of the records and photos in one file, also while in use.

    Example: benchfolio backup records-copy.db
    """
    with open_library(home) as library:
        for line in library.back_up(target):
            say(f"Missing: {line}")
    print(target)


def restore(
    source: Annotated[Path, typer.Argument(help="A file that `backup` wrote.")],
    force: Force = False,
    home: Home = None,
) -> None:
    """Put a copy of the records and photos back.

    Example: benchfolio restore records-copy.db --force
    """
    with open_library(home, must_exist=False) as library:
        kept = library.restore(source, force=force)
    say(f"Restored from {source}." + (f" The earlier records are in {kept}." if kept else ""))


def export(
    folder: Annotated[Path, typer.Argument(help="The folder for the files.")],
    home: Home = None,
) -> None:
    """Write everything a person typed as plain CSV and Markdown, with the photos.

    Example: benchfolio export records my-records
    """
    with open_library(home) as library:
        for path in library.export_records(folder):
            print(path)


def import_records(
    folder: Annotated[Path, typer.Argument(help="A folder that `export records` wrote.")],
    force: Force = False,
    home: Home = None,
) -> None:
    """Read an export back in place of the records.

    Example: benchfolio import my-records --force
    """
    with open_library(home, must_exist=False) as library:
        count = library.import_records(folder, force=force)
    say(f"{count} rows read.")
