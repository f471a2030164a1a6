"""Corrections as CSV text and back. Every cell is text: 00123 stays 00123.

Lists stand in one cell with "; " between (a semicolon inside a value is doubled); what a
spreadsheet could take for a formula gets an apostrophe in front, which is taken off again.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from indexer.errors import UsageError
from indexer.store.corrections import Correction, refs_from, refs_text
from indexer.store.corrections_check import checked

COLUMNS = (
    "what", "values", "page", "pages", "codes", "other pages", "other codes", "file", "at",
)  # fmt: skip
_FORMULA = ("=", "+", "-", "@", "'", "\t", "\r")


@dataclass(frozen=True, slots=True)
class CsvRows:
    """What a CSV text holds: its corrections, and (line, reason) for each row left out."""

    corrections: tuple[Correction, ...]
    troubles: tuple[tuple[int, str], ...] = ()


def to_csv(corrections: Iterable[Correction]) -> str:
    """The corrections, one a row; those undone are left out."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in corrections:
        if one.undone is None:
            cells = (
                one.what,
                _cell(one.values),
                refs_text([one.page] if one.page else []),
                refs_text(one.pages),
                _cell(one.codes),
                refs_text(one.other),
                _cell(one.other_codes),
                one.file,
                one.at,
            )
            writer.writerow([_guarded(cell) for cell in cells])
    return out.getvalue()


def from_csv(text: str) -> CsvRows:
    """The corrections of a CSV text; commas, semicolons or tabs may part the columns.

    A row that can't be used costs that row only. Raises ValueError when the header is not one of
    corrections.
    """
    first = text.lstrip("\ufeff").split("\n", 1)[0]
    comma = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=comma)
    kept: list[Correction] = []
    troubles: list[tuple[int, str]] = []
    try:
        head = [cell.strip().lower() for cell in next(reader, [])]
        if not {"what", "values", "pages"} <= set(head):
            raise ValueError("its first line doesn't name the columns what, values and pages")
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            try:
                kept.append(_row(_named(head, cells)))
            except ValueError as error:
                troubles.append((reader.line_num, str(error)))
    except csv.Error as error:
        troubles.append((reader.line_num, f"not CSV from here on ({error})"))
    return CsvRows(tuple(kept), tuple(troubles))


def _named(head: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    if len(cells) != len(head):
        raise ValueError(f"it has {len(cells)} cells where the header has {len(head)}")
    return dict(zip(head, map(_plain, cells), strict=True))


def _row(cells: dict[str, str]) -> Correction:
    page = refs_from(cells.get("page", ""))
    made = Correction(
        cells["what"].strip(),
        _list(cells["values"]),
        refs_from(cells["pages"]),
        _list(cells.get("codes", "")),
        page[0] if page else None,
        refs_from(cells.get("other pages", "")),
        _list(cells.get("other codes", "")),
        cells.get("file", ""),
        cells.get("at", ""),
    )
    try:
        return checked(made)
    except UsageError as error:
        raise ValueError(error.message) from error


def _cell(values: Iterable[str]) -> str:
    return "; ".join(value.replace(";", ";;") for value in values)


def _list(cell: str) -> tuple[str, ...]:
    parts = [""]
    for piece in re.split("(;;|;)", cell):
        if piece == ";":
            parts.append("")
        else:
            parts[-1] += ";" if piece == ";;" else piece
    return tuple(part.strip() for part in parts if part.strip())


def _guarded(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def _plain(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(_FORMULA) else cell
