"""The work sheets of a job, put together from its pages and from what the person entered."""

from indexer.bench.sheet_types import (
    CHECK,
    HAVE,
    LEAVE,
    ORDER,
    REPLACE,
    SAFETY,
    SUBSTITUTE,
    AlignmentTable,
    DrawerLine,
    PowerUpSheet,
    ReadingLine,
    ReplacementLine,
    ShoppingLine,
    WorkSheets,
)

__all__ = [
    "CHECK",
    "HAVE",
    "LEAVE",
    "ORDER",
    "REPLACE",
    "SAFETY",
    "SUBSTITUTE",
    "AlignmentTable",
    "DrawerLine",
    "PowerUpSheet",
    "ReadingLine",
    "ReplacementLine",
    "ShoppingLine",
    "WorkSheets",
]
