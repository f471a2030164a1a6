"""Lists of flat and nested rows as CSV (RFC 4180) and JSON lines."""

import csv
import io
import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def json_lines(rows: Iterable[Mapping[str, Any]]) -> str:
    """One JSON object a line, as `--json` prints them."""
    return "".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows)


def as_csv(rows: Iterable[Mapping[str, Any]]) -> str:
    """A table with a head; every row's keys become columns, in the order first met.

    Lists become "; "-joined text, nested objects JSON; None is empty. A cell that a spreadsheet
    would take for a formula gets a leading apostrophe, unless it is a number.
    """
    kept = list(rows)
    columns = list(dict.fromkeys(key for row in kept for key in row))
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(columns)
    for row in kept:
        table.writerow([_cell(row.get(column)) for column in columns])
    return out.getvalue()


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, list | tuple):
        if all(isinstance(item, str | int | float) for item in value):
            return _safe("; ".join(str(item) for item in value))
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, dict):
        return json.dumps(value, ensure_ascii=False)
    return _safe(value) if isinstance(value, str) else str(value)


def _safe(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) and not _NUMBER.fullmatch(text) else text
