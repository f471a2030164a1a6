"""`benchfolio job mark`, `unmark`, `move`, `photo`, `packet`: what goes to the bench."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import AsJson, Home, JobNumber, open_library, say
from cli.job_show import show_job

OnList = Annotated[
    list[str], typer.Argument(help="Pages by their number in the job, or by any name.")
]


def mark(
    job: JobNumber,
    pages: Annotated[list[str], typer.Argument(help="Short names, ENTRY/2, FILE#PAGE or ENTRY.")],
    why: Annotated[str, typer.Option("--why", help="What these pages are for.")] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Mark pages for a job, in the order given; an entry's name marks all its pages.

    Example: benchfolio job mark 3 kq7m4w tillbrook-5d10-k7/2 --why schematic
    """
    with open_library(home) as library:
        cards = []
        for name in pages:
            found = library.entries.entry(name)
            cards += library.entries.cards(name) if found else [library.page(name)]
        show_job(library, library.mark(job, cards, why), as_json)


def unmark(job: JobNumber, pages: OnList, home: Home = None, as_json: AsJson = False) -> None:
    """Take pages off a job's list, those that are gone too.

    Example: benchfolio job unmark 3 kq7m4w
    """
    with open_library(home) as library:
        refs = [library.page_on_list(job, name) for name in pages]
        show_job(library, library.unmark(job, refs), as_json)


def move(
    job: JobNumber,
    pages: OnList,
    to: Annotated[int, typer.Option("--to", help="Where the first of them shall stand.", min=1)],
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Move marked pages to another place in the order, which is the order they print in.

    Example: benchfolio job move 3 4 kq7m4w --to 1
    """
    with open_library(home) as library:
        refs = [library.page_on_list(job, name) for name in pages]
        show_job(library, library.move_marks(job, refs, to), as_json)


def photo(
    job: JobNumber,
    files: Annotated[
        list[Path] | None, typer.Argument(help="JPEG, PNG, WebP or TIFF files.")
    ] = None,
    why: Annotated[str, typer.Option("--why", help="What they show.")] = "",
    remove: Annotated[
        list[int] | None, typer.Option("--remove", help="A photo's number, to take it off.")
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Keep photos with a job; a copy of each goes into the home's photos folder.

    Example: benchfolio job photo 3 under-chassis.jpg --why "before the work"
    """
    from indexer import NothingFound, UsageError

    if not files and not remove:
        raise UsageError("No photo is given.", "Example: benchfolio job photo 3 under-chassis.jpg")
    with open_library(home) as library:
        kept = library.job(job).photos
        for number in remove or ():
            if not 1 <= number <= len(kept):
                raise NothingFound(f"Job {job} has {len(kept)} photos, no photo {number}.")
        for file in files or ():
            library.add_photo(job, _bytes(file), file.name, why)
        for number in remove or ():
            library.remove_photo(job, kept[number - 1].sha256)
        show_job(library, library.job(job), as_json)


def _bytes(path: Path) -> bytes:
    """A photo file's bytes, no more than a photo may have. Raises InputError."""
    from indexer import InputError, TooLarge, limits

    try:
        if not path.is_file():  # a pipe would never end
            raise InputError(f"{path} is not a file.", "Check the spelling.")
        if path.stat().st_size > limits.MAX_PHOTO_BYTES:
            raise TooLarge(
                f"{path} is larger than {limits.MAX_PHOTO_BYTES // 1_000_000} MB.",
                "Make it smaller.",
            )
        return path.read_bytes()
    except OSError as error:
        raise InputError(f"{path} can't be read ({error.strerror}).") from error


def packet(
    job: JobNumber,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Where to write the PDF.")] = None,
    paper: Annotated[str, typer.Option(help="A4 or Letter.")] = "A4",
    foldouts: Annotated[
        str, typer.Option(help="tile (over several sheets, at their size) or fit (on one).")
    ] = "tile",
    home: Home = None,
) -> None:
    """Write the packet to print: cover, the marked pages from their own files, work sheets, photos.

    Example: benchfolio job packet 3 --out packet.pdf --paper Letter
    """
    with open_library(home) as library:
        target = out or Path(f"job-{job}.pdf")
        for line in library.packet(job, target, paper, foldouts):
            say(f"Missing: {line}")
        print(target.resolve())


def add_to(app: typer.Typer) -> None:
    """Registers these commands under `job`."""
    for command in (mark, unmark, move, photo, packet):
        app.command(command.__name__)(command)
