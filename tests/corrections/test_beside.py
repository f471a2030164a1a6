"""Corrections while another run catalogues the same library."""

import sqlite3
from typing import Any

import pytest

from indexer import Library
from indexer.errors import NothingFound
from tests.corrections.shelf import with_code


def _between(library: Library, monkeypatch: pytest.MonkeyPatch, change: str, name: str) -> None:
    """Lets another connection change the catalogue once, between an entry's codes and pages."""
    asked = library.entries._rows
    waiting = [change]

    def rows(sql: str, *values: Any) -> Any:
        if waiting and "FROM entry_page" in sql:
            with sqlite3.connect(library.catalogue.path) as other:
                other.execute("PRAGMA foreign_keys = ON")
                other.executescript(waiting.pop().replace(":name", f"'{name}'"))
        return asked(sql, *values)

    monkeypatch.setattr(library.entries, "_rows", rows)


def test_an_entry_catalogued_anew_meanwhile_is_corrected_as_it_is_now(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = with_code(library, "M-37").id
    # its pages are taken out and put back within one look, as when a unit is written anew
    library.catalogue.db.conn.execute("CREATE TABLE kept AS SELECT * FROM entry_page")
    _between(library, monkeypatch, "DELETE FROM entry_page WHERE entry_id = :name;", name)
    asked = library.entries.entry

    def entry(wanted: str) -> Any:
        seen = asked(wanted)
        library.catalogue.db.conn.execute("INSERT OR IGNORE INTO entry_page SELECT * FROM kept")
        return seen

    monkeypatch.setattr(library.entries, "entry", entry)
    library.correct(name, maker="Vantrice Radio")
    monkeypatch.undo()
    assert with_code(library, "M-37").maker == "Vantrice Radio"


def test_an_entry_gone_meanwhile_is_not_said_to_stand_on_a_typed_list(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = with_code(library, "M-37").id
    _between(library, monkeypatch, "DELETE FROM entry WHERE id = :name;", name)
    with pytest.raises(NothingFound):
        library.correct(name, maker="Vantrice Radio")
