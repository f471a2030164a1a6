"""Typed lists of sets on paper: CSV or a note whose first line names the columns.

Columns may stand in any order, parted by commas, semicolons, tabs or bars; every cell is text, so
00123 stays 00123.
"""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from indexer.intake.notes import decoded
from indexer.intake.quiet import os_trouble
from indexer.limits import MAX_LIST_CELL_CHARS, MAX_LIST_ROWS, MAX_NOTE_BYTES
from indexer.model import ListedSet

COLUMNS = {
    "maker": ("maker", "makers", "make"),
    "model": ("model", "models"),
    "chassis": ("chassis",),
    "tubes": ("tubes", "tube", "valves", "valve", "line-up", "tube line-up"),
    "where": ("where", "place"),
    "year": ("year",),
}
_NAMED_BY = frozenset({"model", "chassis", "tubes"})
_PARTS = ",;\t|"
_MOST_LINES = 20  # that one row's quoted cells may run over
_MOST_TROUBLES = 500  # rows with odd quotes; a file with more is no list
_HEADING = "#"  # a Markdown title may stand above the columns


@dataclass(frozen=True, slots=True)
class TypedList:
    """The sets of a list, and (line, reason) for each row that could not be used."""

    sets: tuple[ListedSet, ...]
    troubles: tuple[tuple[int, str], ...] = ()


def read_list(path: Path) -> TypedList | None:
    """The list that a typed file holds; None when its first line doesn't name the columns.

    Raises InputError when the file can't be read.
    """
    try:
        if path.stat().st_size > MAX_NOTE_BYTES:
            return None
        data = path.read_bytes()
    except OSError as error:
        raise os_trouble(path, error) from error
    return list_in(decoded(data))


def list_in(text: str) -> TypedList | None:
    """As `read_list`, from the text itself."""
    lines = text.replace("\f", "\n").split("\n")
    first = next(
        (n for n, line in enumerate(lines) if line.strip() and not line.startswith(_HEADING)), None
    )
    if first is None:
        return None
    comma = max(_PARTS, key=lines[first].count)
    heads, _ = _cells(lines[first : first + 1], comma, first)
    if not heads:
        return None
    head = heads[0][1]
    names = [_known(cell) for cell in head]
    found = set(names) - {""}
    if not found & _NAMED_BY or len(found - {"year"}) < 3 - ("where" in found):
        return None
    if len([name for name in names if name]) != len(found):
        return None  # a column named twice says nothing sure
    rows, troubles = _cells(lines[first + 1 :], comma, first + 1)
    sets: list[ListedSet] = []
    for line, cells in rows:
        if not any(cells) or all(set(cell) <= set("-: ") for cell in cells):
            continue  # blank, or the rule under a Markdown table's head
        if len(sets) >= MAX_LIST_ROWS:
            troubles.append((line, f"a list has at most {MAX_LIST_ROWS:,} rows; split it"))
            break
        try:
            sets.append(_set(line, cells, names, head))
        except ValueError as error:
            troubles.append((line, str(error)))
    return TypedList(tuple(sets), tuple(sorted(troubles)))


def _cells(
    lines: Sequence[str], comma: str, before: int
) -> tuple[list[tuple[int, list[str]]], list[tuple[int, str]]]:
    """Each row's cells with the line it begins on. A quote that never closes costs its own row."""
    rows: list[tuple[int, list[str]]] = []
    troubles: list[tuple[int, str]] = []
    at = 0
    while at < len(lines):
        line = before + at + 1
        if len(troubles) >= _MOST_TROUBLES:
            troubles.append((line, "too many such rows; those from here on were left out"))
            break
        cells, taken = _row(lines, at, comma)
        if cells is None:
            troubles.append((line, "its quotation marks don't match"))
        else:
            plain = [" ".join(cell.split()) for cell in cells]
            if comma == "|" and len(plain) > 1 and not plain[0] and not plain[-1]:
                plain = plain[1:-1]
            rows.append((line, plain))
        at += taken
    return rows, troubles


def _row(lines: Sequence[str], at: int, comma: str) -> tuple[list[str] | None, int]:
    """A row's cells (None when they can't be told) and how many lines it takes: a quoted cell
    may run over a few."""
    cells = _parsed(lines[at], comma)
    text = lines[at]
    for more in range(1, _MOST_LINES):
        if cells is not None or at + more >= len(lines):
            break
        text += "\n" + lines[at + more]
        cells = _parsed(text, comma)
        if cells is not None:
            return cells, more + 1
    return cells, 1


def _parsed(text: str, comma: str) -> list[str] | None:
    try:
        found = list(csv.reader(io.StringIO(text), delimiter=comma, strict=True))
    except csv.Error:
        return None
    return (found or [[]])[0] if len(found) < 2 else None


def _known(cell: str) -> str:
    plain = cell.strip().strip("*").lower()
    return next((name for name, forms in COLUMNS.items() if plain in forms), "")


def _set(line: int, cells: list[str], names: Sequence[str], head: Sequence[str]) -> ListedSet:
    while len(cells) > len(names) and not cells[-1]:
        cells = cells[:-1]
    if len(cells) > len(names):
        raise ValueError(f"it has {len(cells)} cells where the first line names {len(names)}")
    if any(len(cell) > MAX_LIST_CELL_CHARS for cell in cells):
        raise ValueError(f"a cell has more than {MAX_LIST_CELL_CHARS:,} characters")
    known = {name: cell for name, cell in zip(names, cells, strict=False) if name}
    further = tuple(
        (title, cell)
        for name, title, cell in zip(names, head, cells, strict=False)
        if not name and cell
    )
    if not any(known.get(name) for name in _NAMED_BY):
        raise ValueError("it names no model, chassis or tubes")
    return ListedSet(line, **known, further=further)
