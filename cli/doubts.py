"""`benchfolio doubts`: what deserves a look, worst first."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli.common import AsJson, Home, Limit, open_library, print_json, say

if TYPE_CHECKING:
    from indexer import Doubt, Library


def doubts(
    sort: Annotated[
        list[str] | None, typer.Option("--sort", help="Only this sort; may be repeated.")
    ] = None,
    crops: Annotated[
        Path | None, typer.Option("--crops", help="Write the part of each page here (PNG).")
    ] = None,
    home: Home = None,
    limit: Limit = 20,
    as_json: AsJson = False,
) -> None:
    """List what was read doubtfully, worst first, with what to do about each.

    Example: benchfolio doubts --limit 5 --crops to-look-at
    """
    from indexer import ExitCode

    with open_library(home) as library:
        found = library.doubts(limit, sorts=sort or [])
        for number, doubt in enumerate(found, 1):
            crop = _crop(library, doubt, number, crops) if crops else None
            if as_json:
                print_json(_row(doubt, crop))
            else:
                _print(doubt, number, crop)
        counts = library.doubt_counts() if not as_json else {}
    if counts:
        total = ", ".join(f"{count} {name}" for name, count in counts.items())
        say(f"\nIn all: {total}.")
    if not found:
        say("Nothing deserves a look.")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def _print(doubt: "Doubt", number: int, crop: Path | None) -> None:
    subject = doubt.entry or doubt.name or doubt.file
    print(f"{number}. {doubt.sort}: {subject}")
    print(f"    {doubt.said}")
    if doubt.name:
        print(f"    look at {doubt.file} ({doubt.name})" + (f", cut out in {crop}" if crop else ""))
    print(f"    {doubt.todo}")


def _row(doubt: "Doubt", crop: Path | None) -> dict[str, Any]:
    part = doubt.part
    return {
        "sort": doubt.sort,
        "said": doubt.said,
        "todo": doubt.todo,
        "entry": doubt.entry,
        "file": doubt.file.rpartition(" page ")[0] if doubt.page else doubt.file,
        "page": doubt.page.page if doubt.page else 0,
        "name": doubt.name,
        "part": {"left": part.left, "top": part.top, "right": part.right, "bottom": part.bottom},
        "crop": str(crop) if crop else "",
    }


def _crop(library: "Library", doubt: "Doubt", number: int, folder: Path) -> Path | None:
    """Writes what is to be looked at; None, with a line, where there is nothing to draw."""
    from indexer import BenchfolioError, InputError

    if not doubt.page:
        return None
    target = folder / f"{number:03d} {doubt.name}.png"
    try:
        picture = library.doubt_crop(doubt)
    except BenchfolioError as error:
        say(f"No picture of {doubt.file}: {error}")
        return None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        target.write_bytes(picture)
    except OSError as error:
        raise InputError(f"{target} can't be written ({error.strerror}).") from error
    return target
