"""A store of every released version opens, upgraded, with a copy kept and nothing lost.

A migration that is released gets its fixture by running these tests once with
BENCHFOLIO_KEEP_SCHEMAS=1 set; until then it is skipped here by name.
"""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from indexer.errors import LibraryError
from indexer.store import connect
from indexer.store.catalogue import Catalogue
from indexer.store.records import Records
from tests.commands import call
from tests.store import released
from tests.store.released import FOLDER, as_migrated, dump, names, restore, rows, schema

VERSIONS = [(store, name) for store in released.STORES for name in names(store)]
OPENED = {"catalogue": Catalogue, "records": Records}
# Rows that an upgrade may change: everything is to be catalogued again.
DERIVED = {"unit": ["stale"]}


def fixture_of(store: str, name: str) -> str:
    path = FOLDER / f"{store}-{name}.sql"
    if not path.exists():
        if not os.environ.get("BENCHFOLIO_KEEP_SCHEMAS"):
            pytest.skip(f"{name} is not released: it has no fixture yet")
        with closing(as_migrated(store, name)) as db:
            path.write_text(dump(db.conn), encoding="utf-8")
    return path.read_text(encoding="utf-8")


def unsound(db: sqlite3.Connection) -> list[str]:
    """What SQLite's own check finds. Its version 3.40 sees NULL in columns of tables without row
    numbers where there is none, so that is looked up."""
    found = [row[0] for row in db.execute("PRAGMA integrity_check") if row[0] != "ok"]
    bad = []
    for line in found:
        table, _, column = line.removeprefix("NULL value in ").partition(".")
        if table == line or db.execute(f"SELECT 1 FROM {table} WHERE {column} IS NULL").fetchone():
            bad.append(line)
    return bad


@pytest.mark.parametrize(("store", "name"), VERSIONS)
def test_a_released_schema_is_as_it_was_released(store: str, name: str, tmp_path: Path) -> None:
    path = tmp_path / "then.db"
    restore(fixture_of(store, name), path)
    with closing(sqlite3.connect(path)) as then, closing(as_migrated(store, name)) as now:
        assert sorted(schema(then)) == sorted(schema(now.conn))


@pytest.mark.parametrize(("store", "name"), VERSIONS)
def test_opening_upgrades_and_keeps_a_copy_and_every_row(
    store: str, name: str, tmp_path: Path
) -> None:
    path = tmp_path / f"{store}.db"
    restore(fixture_of(store, name), path)
    with closing(sqlite3.connect(path)) as db:
        before = rows(db)
    OPENED[store](path).close()

    order = names(store)
    later = order[order.index(name) + 1 :]
    copies = [tmp_path / f"{store}-before-{later[0]}.db"] if later else []
    assert sorted(tmp_path.glob("*before*")) == copies
    for copy in copies:
        with closing(sqlite3.connect(copy)) as kept:
            assert rows(kept) == before
    with closing(sqlite3.connect(path)) as db, closing(as_migrated(store, order[-1])) as new:
        assert sorted(schema(db)) == sorted(schema(new.conn))
        assert not unsound(db)
        assert db.execute("PRAGMA foreign_key_check").fetchall() == []
        for table, (columns, had) in before.items():
            if table == "_sqlite_migrations":
                continue
            kept_columns = [c for c in columns if c not in DERIVED.get(table, ())]
            at = [columns.index(c) for c in kept_columns]
            asked = f"SELECT {', '.join(kept_columns)} FROM {table}"
            now = sorted(map(tuple, db.execute(asked)), key=repr)
            assert now == sorted((tuple(row[i] for i in at) for row in had), key=repr), table
    with closing(OPENED[store](path)):  # a second time there is nothing to upgrade
        assert sorted(tmp_path.glob("*before*")) == copies


def test_old_records_are_read_as_they_were_given(tmp_path: Path) -> None:
    restore(fixture_of("records", "r001_jobs"), tmp_path / "records.db")
    with closing(Records(tmp_path / "records.db")) as records:
        first = records.job(1)
        assert (first.title, first.maker, tuple(first.models)) == (
            "kitchen set",
            "Tillbrook",
            ("5D10",),
        )
        assert first.symptom == "hum — Ω"
        assert [(mark.ref.sha256[:2], mark.ref.page, mark.file) for mark in first.marks] == [
            ("a1", 1, "annual.pdf"),
            ("b2", 7, "lost.pdf"),
        ]
        assert [note.text for note in first.notes] == ["line one\nline 'two'; still line two"]
        assert [job.outcome for job in records.jobs()].count("new filter") == 1


@pytest.mark.parametrize("store", sorted(released.STORES))
def test_a_newer_store_is_refused_plainly_and_left_alone(store: str, tmp_path: Path) -> None:
    path = tmp_path / f"{store}.db"
    for name, opened in OPENED.items():
        opened(tmp_path / f"{name}.db").close()
    with closing(sqlite3.connect(path)) as db, db:
        db.execute(
            "INSERT INTO _sqlite_migrations(migration_set, name, applied_at) VALUES (?, ?, ?)",
            [store, "x999_of_tomorrow", "2030-01-01"],
        )
        before = dump(db)
    asked = {"records": ("job", "list"), "catalogue": ("find", "5D10")}
    said = call(*asked[store], home=tmp_path)
    assert said.returncode == 4
    assert "was written by a newer Benchfolio" in said.stderr
    assert "x999_of_tomorrow" in said.stderr
    assert len(said.stderr.strip().splitlines()) <= 4
    with closing(sqlite3.connect(path)) as db:
        assert dump(db) == before
    assert not list(tmp_path.glob("*before*"))


def test_an_upgrade_that_fails_leaves_the_store_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "records.db"
    restore(fixture_of("records", "r001_jobs"), path)
    with closing(sqlite3.connect(path)) as db:
        before = dump(db)
    last = released.STORES["records"].pending(released.Database(memory=True))[-1]

    def broken(db: object) -> None:
        raise sqlite3.DatabaseError("malformed")

    monkeypatch.setattr(last, "fn", broken)
    with pytest.raises(LibraryError):
        Records(path)
    with closing(sqlite3.connect(path)) as db:
        assert dump(db) == before


def test_without_room_for_the_copy_nothing_is_upgraded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "records.db"
    restore(fixture_of("records", "r001_jobs"), path)
    with closing(sqlite3.connect(path)) as db:
        before = dump(db)

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(connect.os, "fsync", full)
    with pytest.raises(LibraryError, match="can't be kept first"):
        Records(path)
    with closing(sqlite3.connect(path)) as db:
        assert dump(db) == before
    assert [p.name for p in tmp_path.iterdir() if p.suffix not in (".db-wal", ".db-shm")] == [
        "records.db"
    ]
