"""Benchfolio's domain: the library and the types its callers need.

Nothing here prints or exits. Names are loaded on first use, so that a command that needs little
starts quickly.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from indexer.answers import entry_json, find_json, job_json, kin_json, page_json
    from indexer.bench.replacements import shopping_csv
    from indexer.errors import BenchfolioError, ExitCode, InputError, NothingFound, UsageError
    from indexer.export_answers import export_list
    from indexer.indexing import Progress, Summary
    from indexer.library import Library
    from indexer.model import Entry, PageKind, PageReading, PageRef
    from indexer.search.photos import read_photo
    from indexer.search.query import Query
    from indexer.store.wanted import Wanted
    from indexer.trade_answers import compare_tubes, tube_json, value_json

_HOMES = {
    "BenchfolioError": "indexer.errors",
    "ExitCode": "indexer.errors",
    "InputError": "indexer.errors",
    "NothingFound": "indexer.errors",
    "UsageError": "indexer.errors",
    "Library": "indexer.library",
    "Progress": "indexer.indexing",
    "Summary": "indexer.indexing",
    "Entry": "indexer.model",
    "PageKind": "indexer.model",
    "PageReading": "indexer.model",
    "PageRef": "indexer.model",
    "entry_json": "indexer.answers",
    "find_json": "indexer.answers",
    "job_json": "indexer.answers",
    "kin_json": "indexer.answers",
    "page_json": "indexer.answers",
    "export_list": "indexer.export_answers",
    "shopping_csv": "indexer.bench.replacements",
    "Query": "indexer.search.query",
    "Wanted": "indexer.store.wanted",
    "read_photo": "indexer.search.photos",
    "compare_tubes": "indexer.trade_answers",
    "tube_json": "indexer.trade_answers",
    "value_json": "indexer.trade_answers",
}

__all__ = [
    "BenchfolioError",
    "Entry",
    "ExitCode",
    "InputError",
    "Library",
    "NothingFound",
    "PageKind",
    "PageReading",
    "PageRef",
    "Progress",
    "Query",
    "Summary",
    "UsageError",
    "Wanted",
    "compare_tubes",
    "entry_json",
    "export_list",
    "find_json",
    "job_json",
    "kin_json",
    "page_json",
    "read_photo",
    "shopping_csv",
    "tube_json",
    "value_json",
]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'indexer' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
