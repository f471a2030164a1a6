"""Benchfolio's domain: the library and the types its callers need.

Nothing here prints or exits. Names are loaded on first use, so that a command that needs little
starts quickly.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from indexer.answers import (
        answering_first,
        entry_json,
        find_json,
        job_json,
        kin_json,
        page_json,
        relations_json,
        volume_here,
    )
    from indexer.bench.marked import MarkedPage
    from indexer.bench.replacements import shopping_csv
    from indexer.bench.sheet_types import ReadingLine, WorkSheets
    from indexer.checking import check_home
    from indexer.corrections.doubts import DOUBT_SORTS
    from indexer.corrections.places import Part
    from indexer.corrections_desk import Change, CorrectionState, Imported
    from indexer.doubts_desk import Doubt
    from indexer.errors import (
        BenchfolioError,
        ExitCode,
        InputError,
        NothingFound,
        TooLarge,
        UsageError,
    )
    from indexer.export_answers import export_list
    from indexer.indexing import Progress, Summary
    from indexer.library import Library
    from indexer.model import Entry, PageKind, PageReading, PageRef
    from indexer.picture_work import PictureWork
    from indexer.pictures import Cut, Sheet
    from indexer.search.marking import marked
    from indexer.search.photos import read_photo
    from indexer.search.query import Query
    from indexer.store.corrections import Correction
    from indexer.store.drawer import Spare, SpareUse
    from indexer.store.job_rows import JobRecord, Mark, Note, Photo
    from indexer.store.wanted import Wanted
    from indexer.trade_answers import compare_tubes, tube_json, value_json

_HOMES = {
    "BenchfolioError": "indexer.errors",
    "ExitCode": "indexer.errors",
    "InputError": "indexer.errors",
    "NothingFound": "indexer.errors",
    "TooLarge": "indexer.errors",
    "UsageError": "indexer.errors",
    "Library": "indexer.library",
    "DOUBT_SORTS": "indexer.corrections.doubts",
    "Part": "indexer.corrections.places",
    "Change": "indexer.corrections_desk",
    "CorrectionState": "indexer.corrections_desk",
    "Imported": "indexer.corrections_desk",
    "Doubt": "indexer.doubts_desk",
    "Correction": "indexer.store.corrections",
    "Progress": "indexer.indexing",
    "Summary": "indexer.indexing",
    "Entry": "indexer.model",
    "PageKind": "indexer.model",
    "PageReading": "indexer.model",
    "PageRef": "indexer.model",
    "Cut": "indexer.pictures",
    "Sheet": "indexer.pictures",
    "PictureWork": "indexer.picture_work",
    "check_home": "indexer.checking",
    "entry_json": "indexer.answers",
    "relations_json": "indexer.answers",
    "find_json": "indexer.answers",
    "answering_first": "indexer.answers",
    "volume_here": "indexer.answers",
    "job_json": "indexer.answers",
    "kin_json": "indexer.answers",
    "page_json": "indexer.answers",
    "export_list": "indexer.export_answers",
    "shopping_csv": "indexer.bench.replacements",
    "Query": "indexer.search.query",
    "MarkedPage": "indexer.bench.marked",
    "ReadingLine": "indexer.bench.sheet_types",
    "WorkSheets": "indexer.bench.sheet_types",
    "Spare": "indexer.store.drawer",
    "SpareUse": "indexer.store.drawer",
    "JobRecord": "indexer.store.job_rows",
    "Mark": "indexer.store.job_rows",
    "Note": "indexer.store.job_rows",
    "Photo": "indexer.store.job_rows",
    "Wanted": "indexer.store.wanted",
    "marked": "indexer.search.marking",
    "read_photo": "indexer.search.photos",
    "compare_tubes": "indexer.trade_answers",
    "tube_json": "indexer.trade_answers",
    "value_json": "indexer.trade_answers",
}

__all__ = [
    "DOUBT_SORTS",
    "BenchfolioError",
    "Change",
    "Correction",
    "CorrectionState",
    "Cut",
    "Doubt",
    "Entry",
    "ExitCode",
    "Imported",
    "InputError",
    "JobRecord",
    "Library",
    "Mark",
    "MarkedPage",
    "Note",
    "NothingFound",
    "PageKind",
    "PageReading",
    "PageRef",
    "Part",
    "Photo",
    "PictureWork",
    "Progress",
    "Query",
    "ReadingLine",
    "Sheet",
    "Spare",
    "SpareUse",
    "Summary",
    "TooLarge",
    "UsageError",
    "Wanted",
    "WorkSheets",
    "answering_first",
    "check_home",
    "compare_tubes",
    "entry_json",
    "export_list",
    "find_json",
    "job_json",
    "kin_json",
    "marked",
    "page_json",
    "read_photo",
    "relations_json",
    "shopping_csv",
    "tube_json",
    "value_json",
    "volume_here",
]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'indexer' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
