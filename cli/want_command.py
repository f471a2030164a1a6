"""`benchfolio want`: pages that are looked for, until an index run brings them in."""

import csv
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, say

if TYPE_CHECKING:
    from indexer import Wanted

app = typer.Typer(help="The list of wanted pages.", no_args_is_help=True)

_COLUMNS = (
    "id", "maker", "model", "chassis", "tubes", "publication", "volume", "page", "note", "added",
    "came_in", "file",
)  # fmt: skip


@app.command("add")
def add(
    words: Annotated[list[str] | None, typer.Argument(help="What is on the label.")] = None,
    publication: Annotated[str, typer.Option("--publication", help="Who prints it.")] = "",
    volume: Annotated[str, typer.Option("--volume")] = "",
    page: Annotated[str, typer.Option("--page", help="The printed page number.")] = "",
    note: Annotated[str, typer.Option("--note")] = "",
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Put a set or a printed page on the list. What the index pages tell of it is filled in.

    Example: benchfolio want add tillbrook 5D99 --note "hall set"
    """
    from indexer import UsageError, Wanted

    with open_library(home) as library:
        text = " ".join(words or [])
        if not text and not (volume and page):
            raise UsageError("Nothing is named.", "Give a set, or --volume and --page.")
        listed = None
        maker = model = chassis = tubes = ""
        if text:
            answer = library.find(library.understand(text), 1)
            asked = answer.asked
            maker = " ".join(asked.makers) or " ".join(asked.words)
            model = next(iter((*asked.models, *asked.codes)), "")
            chassis = next(iter(asked.chassis), "")
            tubes = " ".join(asked.tubes)
            listed = next((item for item in answer.listings if item.here is None), None)
            if answer.matches and answer.matches[0].grade == "exact":
                say(f"The shelf has it already: {answer.matches[0].entry.id}")
        kept = library.wanted.add(
            Wanted(
                0,
                maker or (listed.maker if listed else ""),
                listed.model if listed else model,
                chassis or (listed.chassis if listed else ""),
                tubes,
                publication or (listed.publication if listed else ""),
                volume or (listed.volume if listed else ""),
                page or (listed.page if listed else ""),
                note,
            )
        )
        if as_json:
            print_json(_row(kept))
        else:
            print(f"Wanted {kept.id}: {_shown(kept)}")


@app.command("list")
def list_wanted(
    home: Home = None,
    every: Annotated[bool, typer.Option("--all", help="Also what has come in.")] = False,
    as_json: AsJson = False,
) -> None:
    """Show what is wanted.

    Example: benchfolio want list --all
    """
    with open_library(home) as library:
        items = library.wanted.all(open_only=not every)
    if as_json:
        for item in items:
            print_json(_row(item))
    else:
        rows = [(i.id, _shown(i), i.note, f"in: {i.file}" if i.came_in else "") for i in items]
        if rows:
            print_table(("no.", "wanted", "note", ""), rows)
        else:
            say("Nothing is wanted.")


@app.command("drop")
def drop(number: Annotated[int, typer.Argument()], home: Home = None) -> None:
    """Take an item off the list.

    Example: benchfolio want drop 3
    """
    from indexer import NothingFound

    with open_library(home) as library:
        if not library.wanted.drop(number):
            raise NothingFound(f"There is no wanted item {number}.", "See `benchfolio want list`.")
    say(f"Wanted {number} is off the list.")


@app.command("export")
def export(
    out: Annotated[Path | None, typer.Option("--out", help="File; stdout when left out.")] = None,
    every: Annotated[bool, typer.Option("--all", help="Also what has come in.")] = False,
    home: Home = None,
) -> None:
    """Write the list as CSV, to send to someone who may have the pages.

    Example: benchfolio want export --out wanted.csv
    """
    from indexer import InputError

    with open_library(home) as library:
        rows = [_row(item) for item in library.wanted.all(open_only=not every)]
    try:
        stream = out.open("w", newline="", encoding="utf-8") if out else sys.stdout
    except OSError as error:
        raise InputError(f"{out} can't be written ({error.strerror}).") from error
    try:
        writer = csv.DictWriter(stream, _COLUMNS)
        writer.writeheader()
        writer.writerows({k: _plain(v) for k, v in row.items()} for row in rows)
    finally:
        if out:
            stream.close()


def _plain(value: Any) -> Any:
    """A cell that a spreadsheet won't take for a formula."""
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@") else value


def _row(item: "Wanted") -> dict[str, Any]:
    return {name: getattr(item, name) for name in _COLUMNS}


def _shown(item: "Wanted") -> str:
    parts = [item.title]
    if item.publication or item.volume:
        parts.append(f"{item.publication} volume {item.volume}".strip())
    if item.page:
        parts.append(f"page {item.page}")
    return ", ".join(part for part in parts if part)
