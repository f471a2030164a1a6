"""Stores as every released version left them: SQL text under `schemas/`, one for each migration.

Each holds the schema of its day and rows in every table. A fixture is made once, by the
migrations up to its own and the rows below, and never changed: it stands for files that people
have.
"""

import sqlite3
from collections.abc import Iterator
from pathlib import Path

from sqlite_utils import Database, Migrations

from indexer.model import Box, Word
from indexer.store.schema import catalogue_migrations, records_migrations
from indexer.store.words import pack

FOLDER = Path(__file__).parent / "schemas"
STORES = {"catalogue": catalogue_migrations, "records": records_migrations}
_MADE = "2026-01-02 03:04:05"
_A, _B = "a1" * 32, "b2" * 32
_WORDS = pack(
    (Word("12BE6", Box(10, 20, 90.5, 44), 0.91, 0), Word("Ω µ —", Box(1, 2, 3, 4), 0.4, 1))
)
# Rows put in when a migration is new; a table that a later one adds gets its rows there.
ROWS: dict[str, tuple[tuple[str, tuple[object, ...]], ...]] = {
    "c001_pages_and_entries": (
        ("folder", (1, "/srv/manuals")),
        ("file", (1, 1, "annual.pdf", 10, 20, _A, "ok", "")),
        ("file", (2, 1, "naïve \\xff.jpg", 11, 21, None, "failed", "is empty")),
        ("content", (_A, "pdf", "Annual", 2, _A)),
        ("unit", (_A, 0)),
        ("page", (1, _A, 1, "bcdfgh", "201", "done", "", 0, 0.1, 0.2, 0.3, 0.4, "00ff")),
        ("page", (2, _A, 2, "jkmnpq", "202", "read", "", 1, 0.1, 0.2, 0.3, 0.4, "00fe")),
        ("reading", (1, 1, "tesseract", 180, 1, -0.4, 100, 200, 1.5, _WORDS)),
        ("reading", (1, 0, "tesseract", 180, 1, -0.4, 100, 200, 1.5, _WORDS)),
        ("page_text", ("Tillbrook model 5D10 12BE6", "5d10")),
        ("page_fact", (1, "201", '["schematic"]', '["5D10"]', '["CH-41A"]', '["12BE6"]', "", "4")),
        ("entry", ("tillbrook-5d10", _A, "Tillbrook", "TILLBROOK", 1948, 455.0, "series string",
                   122.8, "likely", "12BE6", "[]", "{}")),
        ("entry_page", ("tillbrook-5d10", 1, 0)),
        ("code", ("tillbrook-5d10", "model", 0, "5D10", "5D10", "5D1O", "5D10", "5D", 0)),
        ("entry_tube", ("tillbrook-5d10", 0, "12BE6", "12BE6", "converter", "V1", 1, "[]")),
        ("listing", (1, _A, 2, "Tillbrook", "5D11", "5D11", "5D11", "", "4", "203", None)),
        ("counter", ("entries changed", 3)),
    ),
    "c006_readers": (("page_readers", (1, 1)),),
    "c007_listed_chassis": (
        ("listing", (2, _A, 2, "Tillbrook", "5D12", "5D12", "5D12", "", "4", "204", None, "41-A")),
    ),
    "r001_jobs": (
        ("job", (1, "kitchen set", "tillbrook-5d10", "Tillbrook", '["5D10"]', '["CH-41A"]',
                 '["12BE6", "50C5"]', "hum — Ω", "2026-01-02", None, "")),
        ("job", (2, "closed one", "", "", "[]", "[]", "[]", "", "2025-01-02", "2025-02-03",
                 "new filter")),
        ("mark", (1, 0, _A, 1, "schematic", "annual.pdf")),
        ("mark", (1, 1, _B, 7, "", "lost.pdf")),
        ("note", (1, 1, "2026-01-03", "line one\nline 'two'; still line two")),
    ),
    "r002_wanted": (
        ("wanted", (1, "Oxbarrow", "190", "", "", "Annual", "4", "203", "asked the club",
                    "2026-01-02", None, None, None, "")),
    ),
    "r003_bench": (
        ("photo", (1, 1, _B, ".jpg", "label.jpg", "2026-01-04", "label")),
        ("part_edit", (1, "C16", "0.1 µF", "fitted", "2026-01-05")),
        ("taken", (1, 1, "V1 pin 5", "88 V", "90 V", "after warm-up", "2026-01-05")),
        ("spare", (1, "12BE6", 3, "drawer B", "tested")),
        ("spare_use", (1, 1, "12BE6", "12BE6", "2026-01-06")),
    ),
    "r004_corrections": (
        ("correction", (1, "maker", '["Tillbrook"]', f"{_A}:1", '["5D10"]', "", "", "[]",
                        "annual.pdf", "2026-01-07", None)),
    ),
}  # fmt: skip


def names(store: str) -> list[str]:
    """The migrations of a store, in order."""
    pending = STORES[store].pending(Database(memory=True))
    return [migration.name for migration in pending]


def as_migrated(store: str, name: str) -> Database:
    """A new store in memory as the migrations up to `name` leave it, with the rows above."""
    db = Database(memory=True)
    migrations: Migrations = STORES[store]
    order = names(store)
    for at, step in enumerate(order[: order.index(name) + 1]):
        migrations.apply(db, stop_before=order[at + 1 :])
        for table, row in ROWS.get(step, ()):
            columns = [c[1] for c in db.conn.execute(f"PRAGMA table_info({table})")]
            marks = ", ".join("?" * len(row))
            listed = ", ".join(columns[: len(row)])
            db.conn.execute(f"INSERT INTO {table}({listed}) VALUES ({marks})", row)
    db.conn.execute("UPDATE _sqlite_migrations SET applied_at = ?", [_MADE])
    db.conn.commit()
    return db


def dump(db: sqlite3.Connection) -> str:
    """The whole store as SQL text; the full text by its rows, not by its engine's tables."""
    lines = ["BEGIN;"]
    for name, sql in schema(db):
        lines.append(f"{sql};")
        if sql.startswith(("CREATE TABLE", "CREATE VIRTUAL")):
            lines += [f"INSERT INTO {name}{row};" for row in _rows(db, name)]
    return "\n".join([*lines, "COMMIT;", ""])


def schema(db: sqlite3.Connection) -> list[tuple[str, str]]:
    """Names and statements of what a person's file holds, tables first."""
    found = db.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    virtual = [name for name, sql in found if sql.startswith("CREATE VIRTUAL")]
    own = [
        (str(name), str(sql))
        for name, sql in found
        if name != "sqlite_sequence" and not any(name.startswith(f"{v}_") and name != v
                                                 and name.removeprefix(f"{v}_") in _SHADOWS
                                                 for v in virtual)
    ]  # fmt: skip
    return sorted(own, key=lambda row: row[1].startswith("CREATE INDEX"))


_SHADOWS = ("data", "idx", "content", "docsize", "config")


def _rows(db: sqlite3.Connection, table: str) -> Iterator[str]:
    columns = [row[1] for row in db.execute(f"PRAGMA table_info({table})")]
    if "fts5" in db.execute("SELECT sql FROM sqlite_master WHERE name = ?", [table]).fetchone()[0]:
        columns = ["rowid", *columns]
    quoted = " || ', ' || ".join(f"quote({column})" for column in columns)
    for (values,) in db.execute(f"SELECT {quoted} FROM {table}"):
        yield f"({', '.join(columns)}) VALUES ({values})"


def rows(db: sqlite3.Connection) -> dict[str, tuple[list[str], list[tuple[object, ...]]]]:
    """Every table's columns and rows."""
    found = {}
    for name, sql in schema(db):
        if sql.startswith(("CREATE TABLE", "CREATE VIRTUAL")):
            columns = [row[1] for row in db.execute(f"PRAGMA table_info({name})")]
            found[name] = (
                columns,
                sorted(map(tuple, db.execute(f"SELECT * FROM {name}")), key=repr),
            )
    return found


def restore(text: str, path: Path) -> None:
    """Makes the file that a fixture stands for."""
    db = sqlite3.connect(path)
    db.executescript(text)
    db.close()
