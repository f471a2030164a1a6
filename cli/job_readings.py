"""`benchfolio job reading` and `readings`: what the meter says, and what it should say."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, JobNumber, open_library, print_json, print_table, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from indexer import ReadingLine

_COLUMNS = ("point", "reads", "nominal", "note")


def reading(
    job: JobNumber,
    point: Annotated[str, typer.Argument(help="R7, C8A, or a name of your own.")] = "",
    reads: Annotated[str, typer.Argument(help="What the meter says: 800K, 0.047, open.")] = "",
    nominal: Annotated[str, typer.Option(help="The right value, where no page says it.")] = "",
    note: Annotated[str, typer.Option(help="A word beside it.")] = "",
    from_file: Annotated[
        Path | None,
        typer.Option(
            "--from", help="A CSV: point, reads, nominal, note; `readings --csv` makes one to fill."
        ),
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Enter what the meter says, and see the verdict by tolerance.

    Example: benchfolio job reading 3 R7 800K
    """
    from indexer import UsageError

    if bool(point) == bool(from_file) or (point and not reads):
        raise UsageError(
            "Give a point and its reading, or a file with --from.",
            "Example: benchfolio job reading 3 R7 800K",
        )
    rows = _rows(from_file) if from_file else [(point, reads, nominal, note)]
    with open_library(home) as library:
        library.take_readings(job, rows)
        lines = library.work_sheets(job).readings
    entered = {" ".join(row[0].upper().split()) for row in rows}
    _show([line for line in lines if line.point.upper() in entered], as_json)


def readings(
    job: JobNumber,
    taken: Annotated[bool, typer.Option("--taken", help="Only points that were read.")] = False,
    csv_file: Annotated[
        Path | None, typer.Option("--csv", help="Write a table to fill in at the bench.")
    ] = None,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """List every point to measure with nominal value, limits, reading and verdict.

    Example: benchfolio job readings 3 --csv to-fill.csv
    """
    from indexer import ExitCode

    with open_library(home) as library:
        found = library.work_sheets(job).readings
    lines = [line for line in found if line.reads or not taken]
    if not lines:
        say("There is no point to measure: mark the parts list and the charts for this job.")
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))
    if csv_file is not None:
        _write_table(csv_file, lines)
        print(csv_file)
    else:
        _show(lines, as_json)


def _show(lines: "Sequence[ReadingLine]", as_json: bool) -> None:
    from dataclasses import asdict

    if as_json:
        for line in lines:
            print_json(asdict(line))
    else:
        print_table(
            ("point", "nominal", "low", "high", "reads", "verdict", "note", "source"),
            [
                (n.point, n.nominal, n.low, n.high, n.reads, n.verdict, n.note, n.source)
                for n in lines
            ],
        )


def _write_table(path: Path, lines: "Sequence[ReadingLine]") -> None:
    """A CSV to fill in. What the pages say stands at the end and is not read back."""
    import csv

    from indexer import InputError

    try:
        with path.open("w", encoding="utf-8", newline="") as stream:
            table = csv.writer(stream)
            table.writerow((*_COLUMNS, "the pages say", "from", "to", "source"))
            table.writerows(
                (n.point, "", "", "", n.nominal, n.low, n.high, n.source) for n in lines
            )
    except OSError as error:
        raise InputError(f"{path} can't be written ({error.strerror}).") from error


def _rows(path: Path) -> list[tuple[str, str, str, str]]:
    """The readings in a CSV file; lines without one are passed over. Raises InputError.

    Columns go by the head's names; without a head they are point, reads, nominal, note.
    """
    import csv

    from indexer import InputError, limits

    try:
        if path.stat().st_size > limits.MAX_CSV_BYTES:
            raise InputError(f"{path} is larger than {limits.MAX_CSV_BYTES // 1_000_000} MB.")
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = [[cell.strip() for cell in row] for row in csv.reader(file)]
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise InputError(f"{path} can't be read as CSV ({error}).") from error
    names = [cell.lower() for cell in rows[0]] if rows else []
    head = "point" in names
    out = []
    for number, row in enumerate(rows, 1):
        if not any(row) or (head and number == 1):
            continue
        cells = dict(zip(names if head else _COLUMNS, row, strict=False))
        point, reads, nominal, note = (cells.get(name, "") for name in _COLUMNS)
        if not point or len(row) < 2 or (len(row) > len(_COLUMNS) and not head):
            raise InputError(
                f"Line {number} of {path} is not POINT,READS.", "Example line: R7,800K"
            )
        if reads:
            out.append((point, reads, nominal, note))
    if not out:
        raise InputError(f"There is no reading in {path}.", "Example line: R7,800K")
    return out


def add_to(app: typer.Typer) -> None:
    """Registers these commands under `job`."""
    # a reading may be negative: -6.5 is no option
    app.command("reading", context_settings={"ignore_unknown_options": True})(reading)
    app.command("readings")(readings)
