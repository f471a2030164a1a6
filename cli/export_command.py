"""`benchfolio export`: readings, pages and lists in open forms."""

from pathlib import Path
from typing import Annotated

import typer

from cli.common import Home, open_library, say

app = typer.Typer(
    help="Write readings, pages and lists in open forms: hOCR, ALTO, PDF, CSV, JSON lines.",
    no_args_is_help=True,
)

Out = Annotated[
    Path | None, typer.Option("--out", "-o", help="Where to write it; else it is printed.")
]


@app.command("page")
def page(
    name: Annotated[str, typer.Argument(help="A page's short name, ENTRY/2 or FILE#PAGE.")],
    form: Annotated[str, typer.Option("--as", help="hocr, alto or text.")] = "hocr",
    out: Out = None,
    home: Home = None,
) -> None:
    """Write what was read on a page, with the place of every word (hocr, alto) or as text.

    Example: benchfolio export page kq7m4w --as alto --out page.xml
    """
    with open_library(home) as library:
        _give(library.page_as(library.page(name), form), out)


@app.command("pdf")
def pdf(
    what: Annotated[str, typer.Argument(help="An entry, a page, or a job's number.")],
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Where to write the PDF.")] = None,
    home: Home = None,
) -> None:
    """Write the pages of an entry or a job as a PDF that can be searched.

    Example: benchfolio export pdf tillbrook-5d10-k7 --out tillbrook.pdf
    """
    with open_library(home) as library:
        target = out or Path(f"{what.replace('/', '-').replace('#', '-')}.pdf")
        for line in library.searchable_pdf(what, target):
            say(f"Missing: {line}")
        print(target.resolve())


@app.command("list")
def export_list(
    what: Annotated[str, typer.Argument(help="entries, pages, listings or jobs.")],
    form: Annotated[str, typer.Option("--as", help="csv or jsonl.")] = "csv",
    out: Out = None,
    home: Home = None,
) -> None:
    """Write a list as CSV or as JSON lines.

    Example: benchfolio export list entries --as csv --out entries.csv
    """
    from indexer import export_list as exported

    with open_library(home) as library:
        _give(exported(library, what, form), out)


def _give(text: str, out: Path | None) -> None:
    from indexer import InputError

    if out is None:
        print(text, end="")
        return
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        out.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise InputError(f"{out} can't be written ({error.strerror}).") from error
    print(out.resolve())
