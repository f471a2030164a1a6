"""`benchfolio correct`: what you know better than the reading; it wins, and stays."""

from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import Home, open_library, say

if TYPE_CHECKING:
    from indexer import Change, Library

app = typer.Typer(
    help="Say what a page or an entry really is; it wins over reading, and stays.",
    no_args_is_help=True,
)

Name = Annotated[str, typer.Argument(help="An entry, or a page (short name, ENTRY/2, FILE#PAGE).")]
Empty = Annotated[bool, typer.Option("--none", help="There is none.")]


@app.command("maker")
def maker(
    name: Name,
    words: Annotated[list[str] | None, typer.Argument(metavar="MAKER")] = None,
    none: Empty = False,
    home: Home = None,
) -> None:
    """Say who made the set.

    Example: benchfolio correct maker set-1a2b Tillbrook
    """
    with open_library(home) as library:
        _tell(library, library.correct(name, maker=" ".join(_given(words, none))))


@app.command("model")
def model(
    name: Name,
    models: Annotated[list[str] | None, typer.Argument(metavar="MODEL…")] = None,
    none: Empty = False,
    home: Home = None,
) -> None:
    """Say the model or models, as printed; a page of no entry becomes one by it.

    Example: benchfolio correct model kq7m4w 00123 "40-120 through 40-125"
    """
    with open_library(home) as library:
        _tell(library, library.correct(name, models=_given(models, none)))


@app.command("chassis")
def chassis(
    name: Name,
    codes: Annotated[list[str] | None, typer.Argument(metavar="CHASSIS…")] = None,
    none: Empty = False,
    home: Home = None,
) -> None:
    """Say the chassis or several.

    Example: benchfolio correct chassis tillbrook-5d10-478f CH-41A
    """
    with open_library(home) as library:
        _tell(library, library.correct(name, chassis=_given(codes, none)))


@app.command("tubes")
def tubes(
    name: Name,
    types: Annotated[list[str] | None, typer.Argument(metavar="TYPE…")] = None,
    none: Empty = False,
    home: Home = None,
) -> None:
    """Say the whole line-up, each type as often as it stands in the set.

    Example: benchfolio correct tubes tillbrook-5d10-478f 12BE6 12BA6 12AV6 50C5 35W4
    """
    with open_library(home) as library:
        _tell(library, library.correct(name, tubes=_given(types, none)))


@app.command("year")
def year(
    name: Name,
    number: Annotated[int | None, typer.Argument(metavar="YEAR")] = None,
    none: Empty = False,
    home: Home = None,
) -> None:
    """Say the year of the set.

    Example: benchfolio correct year tillbrook-5d10-478f 1951
    """
    given = _given([str(number)] if number is not None else None, none)
    with open_library(home) as library:
        _tell(library, library.correct(name, year=int(given[0]) if given else 0))


@app.command("kinds")
def kinds(
    page: Annotated[str, typer.Argument(help="A page: short name, ENTRY/2 or FILE#PAGE.")],
    kind: Annotated[list[str], typer.Argument(metavar="KIND…", help="schematic, parts-list, …")],
    home: Home = None,
) -> None:
    """Say what a page prints, the main kind first.

    Example: benchfolio correct kinds kq7m4w schematic parts-list
    """
    with open_library(home) as library:
        _tell(library, library.set_kinds(page, kind))


@app.command("join")
def join(
    first: Annotated[str, typer.Argument(help="The entry that stays.")],
    others: Annotated[list[str], typer.Argument(help="Those that belong to it.")],
    home: Home = None,
) -> None:
    """Make one entry of several.

    Example: benchfolio correct join tillbrook-5d10-478f set-1a2b
    """
    with open_library(home) as library:
        _tell(library, library.join_entries(first, *others))


@app.command("split")
def split(
    entry: Annotated[str, typer.Argument(help="The entry that holds two sets.")],
    page: Annotated[str, typer.Argument(help="The page where the second one begins.")],
    codes: Annotated[
        list[str] | None,
        typer.Option("--model", help="A model or chassis of the second; may be repeated."),
    ] = None,
    both: Annotated[
        bool, typer.Option("--both", help="The page belongs to both: the cut is within it.")
    ] = False,
    home: Home = None,
) -> None:
    """Split an entry in two at a page, or within one (--both); tubes go with their page.

    Where both sets share the page, say their tubes with `correct tubes` if they are mixed.

    Example: benchfolio correct split tillbrook-5d10-478f annual.pdf#4 --both --model 48-B
    """
    with open_library(home) as library:
        _tell(library, library.split_entry(entry, page, codes or [], both=both))


@app.command("share")
def share(
    page: Annotated[str, typer.Argument(help="The page.")],
    entry: Annotated[str, typer.Argument(help="The entry it belongs to as well.")],
    home: Home = None,
) -> None:
    """Say that a page belongs to an entry as well, and stays where it is.

    Example: benchfolio correct share kq7m4w tillbrook-5d10-478f
    """
    with open_library(home) as library:
        _tell(library, library.share_page(page, entry))


@app.command("move")
def move(
    page: Annotated[str, typer.Argument(help="The page.")],
    entry: Annotated[str, typer.Argument(help="The entry it belongs to.")],
    source: Annotated[
        str, typer.Option("--from", help="Out of this entry only; else out of every other.")
    ] = "",
    home: Home = None,
) -> None:
    """Move a page to the entry it belongs to.

    Example: benchfolio correct move kq7m4w tillbrook-5d10-478f
    """
    with open_library(home) as library:
        _tell(library, library.move_page(page, entry, source))


@app.command("not-an-entry")
def not_an_entry(name: Name, home: Home = None) -> None:
    """Say that an entry is none; its pages stay and can be searched.

    Example: benchfolio correct not-an-entry set-1a2b
    """
    with open_library(home) as library:
        _tell(library, library.not_an_entry(name))


@app.command("looked-at")
def looked_at(name: Name, home: Home = None) -> None:
    """Take the present doubts of an entry or page off the list: it is right as it is.

    Example: benchfolio correct looked-at tillbrook-5d10-478f
    """
    with open_library(home) as library:
        change = library.looked_at(name)
        for said in change.corrections[0].values:
            say(f"Looked at: {said}")


def _given(values: list[str] | None, none: bool) -> list[str]:
    from indexer import UsageError

    if bool(values) == none:
        raise UsageError("What it is, is not said.", "Give it, or --none if there is none.")
    return values or []


def _tell(library: "Library", change: "Change") -> None:
    """What stands now of the entries concerned."""
    from cli.common import shown_codes

    for one in change.corrections:
        say(f"Correction {one.id} is kept.")
    for name in change.entries:
        entry = library.entries.entry(name)
        if entry is None:
            print(f"{name} is no entry any more.")
            continue
        codes = shown_codes(entry.models, entry.chassis)
        pages = len(entry.pages)
        types = " ".join(tube.type for tube in entry.tubes)
        print(f"{entry.maker} {codes}  [{name}]  {pages} pages  {types}".strip())
