"""What every command shares: where the library lives, tables, JSON, progress."""

import json
import os
import sys
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from indexer import Library, Progress

Home = Annotated[
    Path | None,
    typer.Option(
        "--home", help="Folder that holds the library's stores.", envvar="BENCHFOLIO_HOME"
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Machine-readable output.")]
JobNumber = Annotated[int, typer.Argument(help="The job's number.", min=1)]
Limit = Annotated[int, typer.Option("--limit", min=1, max=10_000, help="How many answers at most.")]

_EVERY_S = 10.0  # between progress lines where the screen can't be redrawn


def home_folder(home: Path | None) -> Path:
    """`--home`, BENCHFOLIO_HOME or the per-user data folder."""
    if home is not None:
        return home
    from platformdirs import user_data_path

    return user_data_path("benchfolio", appauthor=False)


def open_library(home: Path | None, *, must_exist: bool = True) -> "Library":
    """The library at `--home`, BENCHFOLIO_HOME or the per-user data folder."""
    from indexer import InputError, Library

    home = home_folder(home)
    try:
        there = (home / "catalogue.db").exists()
    except OSError as error:
        raise InputError(
            f"The home {home} can't be looked into ({error.strerror}).",
            "See to its rights, or choose another with --home.",
        ) from error
    if must_exist and not there:
        raise InputError(
            f"There is no library in {home} yet.",
            "Make one: benchfolio index FOLDER-WITH-YOUR-SCANS",
        )
    return Library(home)


def print_json(data: Any) -> None:
    """One JSON value on one line."""
    print(json.dumps(data, ensure_ascii=False))


def print_table(head: Sequence[str], rows: Iterable[Sequence[object]], indent: int = 0) -> None:
    """A plain table with aligned columns."""
    kept = [[str(cell) for cell in row] for row in rows]
    widths = [max(len(line[i]) for line in [list(head), *kept]) for i in range(len(head))]
    for line in ([list(head)] if any(head) else []) + kept:
        shown = "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        print(" " * indent + shown.rstrip())


def say(text: str = "") -> None:
    """A message to the person, beside the output proper."""
    print(text, file=sys.stderr, flush=True)


class ProgressLine:
    """Progress on stderr: one line redrawn on a terminal, a line now and then elsewhere."""

    def __init__(self) -> None:
        self._redraw = sys.stderr.isatty()
        self._last = 0.0
        self._stage = ""

    def __call__(self, progress: "Progress") -> None:
        now = time.monotonic()
        ended = progress.done == progress.total
        fresh = progress.stage != self._stage
        wait = 0.1 if self._redraw else _EVERY_S
        if not (ended or fresh) and now - self._last < wait:
            return
        self._last, self._stage = now, progress.stage
        unit = "files" if progress.stage == "files" else "pages"
        if progress.stage == "cataloguing":
            unit = "books and folders"
        left = f", {progress.seconds_left:.0f} s left" if not ended else ""
        line = (
            f"{progress.stage}: {progress.done} of {progress.total} {unit}"
            f" ({progress.per_second:.1f} a second{left})"
        )
        if self._redraw:
            width = os.get_terminal_size(sys.stderr.fileno()).columns - 1
            print("\r" + line[:width].ljust(width), end="\n" if ended else "", file=sys.stderr)
        else:
            say(line)


def shown_codes(models: Sequence[str], chassis: Sequence[str]) -> str:
    """Models and chassis as one phrase."""
    parts = [", ".join(models)] if models else []
    if chassis:
        parts.append("chassis " + ", ".join(chassis))
    return "; ".join(parts) or "(no number read)"
