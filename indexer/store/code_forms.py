"""The keys under which codes are looked up: each distinct code once, with its forms in B-trees.

Members of a printed range have keys of their own, so that a misread or half-read member is found
as any other code is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlite_utils import Database

from indexer.trade.codes import base, fold, normal, parse_codes, series

if TYPE_CHECKING:
    from indexer.store.catalogue import Catalogue

SCHEMA = """
CREATE TABLE form (
    id INTEGER PRIMARY KEY, shown TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
    base TEXT NOT NULL, series TEXT NOT NULL, backward TEXT NOT NULL, UNIQUE (normal, base));
CREATE INDEX form_folded ON form(folded);
CREATE INDEX form_base ON form(base);
CREATE INDEX form_series ON form(series, normal);
CREATE INDEX form_backward ON form(backward);
CREATE TABLE code_form (
    form_id INTEGER NOT NULL REFERENCES form(id),
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
    kind TEXT NOT NULL, position INTEGER NOT NULL, member INTEGER NOT NULL,
    PRIMARY KEY (form_id, entry_id, kind, position)) WITHOUT ROWID;
CREATE INDEX code_form_entry ON code_form(entry_id);
CREATE TABLE wide_range (
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
    kind TEXT NOT NULL, position INTEGER NOT NULL, printed TEXT NOT NULL,
    PRIMARY KEY (entry_id, kind, position)) WITHOUT ROWID;
CREATE INDEX entry_maker ON entry(maker_key, maker, year);
CREATE INDEX entry_kin ON entry(line_up, maker, year, id);
"""

_AT_ONCE = 900  # values in one question; older SQLite takes 999


@dataclass(frozen=True, slots=True)
class Form:
    """One distinct code on the shelf. `shown` is as first printed."""

    id: int
    shown: str
    normal: str
    folded: str


@dataclass(frozen=True, slots=True)
class CodeUse:
    """Where a form is printed, with what ranking wants to know of its entry."""

    form_id: int
    entry_id: str
    kind: str  # "model" or "chassis"
    printed: str
    is_member: bool  # not printed itself: inside a printed range
    maker: str
    line_up: str
    year: int | None


def put_forms(db: Database, entry_id: str, kind: str, position: int, printed: str) -> None:
    """Adds the keys of one printed code or range."""
    run = db.conn.execute
    for shown, member in _written_out(printed).items():
        keys = (normal(shown), base(shown))
        run(
            "INSERT OR IGNORE INTO form(shown, normal, folded, base, series, backward)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            [shown, keys[0], fold(shown), keys[1], series(shown), fold(shown)[::-1]],
        )
        run(
            "INSERT OR IGNORE INTO code_form SELECT id, ?, ?, ?, ? FROM form"
            " WHERE normal = ? AND base = ?",
            [entry_id, kind, position, int(member), *keys],
        )
    if any(s.range is not None and not s.range.members() for s in parse_codes(printed)):
        run("INSERT INTO wide_range VALUES (?, ?, ?, ?)", [entry_id, kind, position, printed])


def _written_out(printed: str) -> dict[str, bool]:
    """Each code that a print stands for, and whether it is only a member of a range."""
    out: dict[str, bool] = {}
    for span in parse_codes(printed):
        if span.range is None:
            out.update(dict.fromkeys(span.codes, False))
            continue
        ends = {
            normal(span.range.first): span.range.first,
            normal(span.range.last): span.range.last,
        }
        out.update(dict.fromkeys(ends.values(), False))
        out.update((m, True) for m in span.range.members() if m not in ends)
    if normal(printed) and not out:
        out[printed] = False
    return {shown: member for shown, member in out.items() if normal(shown)}


def fill(db: Database) -> None:
    """Makes the tables and the keys of every code already catalogued."""
    for statement in SCHEMA.split(";\n"):
        if statement.strip():
            db.conn.execute(statement)
    rows = db.conn.execute("SELECT entry_id, kind, position, printed FROM code").fetchall()
    for row in rows:
        put_forms(db, *row)


def forget_unused(db: Database, form_ids: Iterable[int]) -> None:
    """Drops those of the forms that no entry prints any more."""
    db.conn.executemany(
        "DELETE FROM form WHERE id = ?"
        " AND NOT EXISTS (SELECT 1 FROM code_form WHERE form_id = form.id)",
        [(form_id,) for form_id in form_ids],
    )


class CodeForms:
    """Look-ups by every key. Each answer is in a fixed order."""

    def __init__(self, catalogue: "Catalogue") -> None:
        self._rows = catalogue.rows

    def equal(self, column: str, values: Sequence[str]) -> list[Form]:
        """Forms whose `column` (normal, folded, base) is one of the values."""
        marks = ", ".join("?" * len(values))
        return self._forms(f"WHERE {column} IN ({marks}) ORDER BY normal, id", *values)

    def near_in_series(self, pattern: str, code: str, limit: int) -> list[Form]:
        """Up to `limit` forms of a series on each side of a code (normal form), nearest first."""
        after = self._forms(
            "WHERE series = ? AND normal >= ? ORDER BY normal LIMIT ?", pattern, code, limit
        )
        before = self._forms(
            "WHERE series = ? AND normal < ? ORDER BY normal DESC LIMIT ?", pattern, code, limit
        )
        return after + before

    def beginning(self, folded: str, limit: int) -> list[Form]:
        """Forms that begin with a folded text."""
        return self._forms(
            "WHERE folded >= ? AND folded < ? ORDER BY length(folded), folded LIMIT ?",
            folded, folded + "~", limit,
        )  # fmt: skip

    def ending(self, folded: str, limit: int) -> list[Form]:
        """Forms that end with a folded text."""
        back = folded[::-1]
        return self._forms(
            "WHERE backward >= ? AND backward < ? ORDER BY length(folded), folded LIMIT ?",
            back, back + "~", limit,
        )  # fmt: skip

    def fitting(self, pattern: str, start: str, limit: int) -> list[Form]:
        """Forms that fit a GLOB pattern and begin with `start`."""
        return self._forms(
            "WHERE folded >= ? AND folded < ? AND folded GLOB ? ORDER BY folded LIMIT ?",
            start, start + "~", pattern, limit,
        )  # fmt: skip

    def uses(self, form_ids: Sequence[int]) -> list[CodeUse]:
        """Every place where the forms are printed."""
        if len(form_ids) > _AT_ONCE:
            return self.uses(form_ids[:_AT_ONCE]) + self.uses(form_ids[_AT_ONCE:])
        marks = ", ".join("?" * len(form_ids))
        return [
            CodeUse(row[0], row[1], row[2], row[3], bool(row[4]), row[5], row[6], row[7])
            for row in self._rows(
                "SELECT f.form_id, f.entry_id, f.kind, c.printed, f.member, e.maker, e.line_up,"
                " e.year FROM code_form f JOIN code c ON c.entry_id = f.entry_id"
                " AND c.kind = f.kind AND c.position = f.position"
                f" JOIN entry e ON e.id = f.entry_id WHERE f.form_id IN ({marks})"
                " ORDER BY f.form_id, f.entry_id, f.kind, f.position",
                *form_ids,
            )
        ]

    def wide_ranges(self) -> list[CodeUse]:
        """Printed ranges too long for their members to have keys."""
        return [
            CodeUse(0, row[0], row[1], row[2], True, row[3], row[4], row[5])
            for row in self._rows(
                "SELECT w.entry_id, w.kind, w.printed, e.maker, e.line_up, e.year"
                " FROM wide_range w JOIN entry e ON e.id = w.entry_id ORDER BY w.entry_id"
            )
        ]

    def _forms(self, tail: str, *values: object) -> list[Form]:
        return [
            Form(*row)
            for row in self._rows(f"SELECT id, shown, normal, folded FROM form {tail}", *values)
        ]
