"""Lists of the library in open forms: CSV and JSON lines, with the keys of `--json`."""

from collections.abc import Callable, Mapping
from typing import Any

from indexer.answers import entry_json, job_json, page_json
from indexer.bench.exports.lists import as_csv, json_lines
from indexer.errors import UsageError
from indexer.library import Library

Rows = list[Mapping[str, Any]]


def export_list(library: Library, what: str, form: str) -> str:
    """A list ("entries", "pages", "listings", "jobs") as "csv" or "jsonl".

    Raises UsageError for another list or form.
    """
    if what not in _LISTS:
        raise UsageError(f"There is no list of {what}.", f"Choose {', '.join(_LISTS)}.")
    if form not in ("csv", "jsonl"):
        raise UsageError(f"There is no form {form}.", "Choose csv or jsonl.")
    rows = _LISTS[what](library)
    return as_csv(rows) if form == "csv" else json_lines(rows)


def _entries(library: Library) -> Rows:
    return [entry_json(library, entry) for entry in library.all_entries()]


def _pages(library: Library) -> Rows:
    return [page_json(library, row) for row in library.pages()]


def _jobs(library: Library) -> Rows:
    return [job_json(job) for job in library.records.jobs()]


def _listings(library: Library) -> Rows:
    rows: Rows = []
    for listing in library.entries.all_listings():
        here = library.entries.card_of(listing.here) if listing.here else None
        rows.append(
            {
                "maker": listing.maker,
                "model": listing.model,
                "publication": listing.publication,
                "volume": listing.volume,
                "page": listing.page,
                "here_file": here.file if here else None,
                "here_page": here.ref.page if here else None,
            }
        )
    return rows


_LISTS: dict[str, Callable[[Library], Rows]] = {
    "entries": _entries,
    "pages": _pages,
    "listings": _listings,
    "jobs": _jobs,
}
