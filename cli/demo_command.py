"""`benchfolio demo`: the main job on the sample shelf, read for real and nothing prepared."""

import shlex
import shutil
import tempfile
from importlib.resources import as_file, files
from pathlib import Path
from typing import Annotated

import click
import typer

from cli.common import open_library, say

_MARKED = 3  # pages put into the demo's packet


def demo(
    where: Annotated[
        Path | None,
        typer.Option("--where", help="Folder for the demo's files; a new scratch one if left out."),
    ] = None,
) -> None:
    """Read the sample shelf of an invented repair room and walk one job through.

    Takes a few minutes: every page is really read. Example: benchfolio demo
    """
    from indexer import InputError

    folder = where or Path(tempfile.mkdtemp(prefix="benchfolio-demo-"))
    if folder.exists() and any(folder.iterdir()):
        raise InputError(f"{folder} is not empty.", "Name a new folder.")
    shelf, home = folder / "shelf", folder / "home"
    with as_file(files("sample_library") / "shelf") as sample:
        shutil.copytree(sample, shelf)
    _title("The shelf of Pellwyn Radio Repair: a bound annual, a booklet, loose sheets, notes")
    _run("index", str(shelf), home=home)

    _title("1. On the bench: a Tillbrook 5D11. The annual prints it")
    _run("find", "Tillbrook", "5D11", home=home)

    _title("2. A Tillbrook 5K22, printed nowhere; its chassis stamp says CH-41A")
    _run("find", "Tillbrook", "5K22", "chassis", "CH-41A", home=home)

    _title("3. No label at all, but five tubes to read")
    _run("kin", "12BE6", "12BA6", "12AT6", "50B5", "35W4", "--limit", "2", home=home)

    _title("4. Two sets that the index page lists: one on the shelf, one not")
    _run("find", "Oxbarrow", "207", "--limit", "1", home=home)
    _run("find", "Tillbrook", "6B20", "--limit", "1", home=home)

    _title("5. The job: open it, mark three pages, note, print the packet")
    packet = _walk_job(home, folder / "packet.pdf")

    _title("Where everything is")
    print(f"shelf:   {shelf}\nstores:  {home}\npacket:  {packet}")
    print("\nTry next, on the same shelf or your own:")
    for words in (
        ("find", "12-L"),
        ("kin", "6SA7", "6SK7", "6SQ7", "6V6", "5Y3"),
        ("tube", "50B5", "50C5"),
        ("value", "50-30 mfd 150 V"),
    ):
        print(f"    benchfolio {shlex.join(words)}" + _home(words[0], home))
    print("    benchfolio index FOLDER-WITH-YOUR-SCANS")


def _walk_job(home: Path, packet: Path) -> Path:
    with open_library(home) as library:
        best = library.find(library.understand("Tillbrook 5D11"), 1).matches[0].entry
        names = [card.name for card in library.entries.cards(best.id)[:_MARKED]]
    _run("job", "open", "Tillbrook 5D11, hum", "--entry", best.id, "--symptom", "hum", home=home)
    _run("job", "mark", "1", *names, "--why", "on the bench", home=home)
    _run("job", "note", "1", "filter capacitor C8 first", home=home)
    _run("job", "packet", "1", "--out", str(packet), home=home)
    return packet


def _run(*words: str, home: Path) -> None:
    """Shows a command as a person would type it, and runs it."""
    from cli.app import app

    print(f"\n$ benchfolio {shlex.join(words)}", flush=True)
    try:
        app([*words, "--home", str(home)], standalone_mode=False)
    except click.exceptions.Exit:  # nothing found is an answer, too
        say()


def _title(text: str) -> None:
    print(f"\n{text}\n{'-' * len(text)}", flush=True)


def _home(command: str, home: Path) -> str:
    return "" if command in {"tube", "value"} else f" --home {home}"
