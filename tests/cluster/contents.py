"""All that a catalogue holds, by content and not by row number, for comparing two of them."""

import sqlite3
from contextlib import closing
from pathlib import Path

# Left out of a comparison: how long a reading took, and numbers that depend on the order of work.
_PAGE = "(SELECT sha256 || ':' || number FROM page WHERE id = {}) AS {}"
_QUESTIONS = {
    "file": "SELECT name, size_bytes, sha256, state, reason FROM file",
    "content": "SELECT sha256, kind, title, page_count, unit FROM content",
    "page": "SELECT sha256, number, name, label, state, reason, wants_second, ink, long_lines,"
    " text_like, photo_like, phash FROM page",
    "reading": f"SELECT {_PAGE.format('page_id', 'page')}, raw, reader, rotation_deg,"
    " rotation_sure, skew_deg, width_px, height_px, words FROM reading",
    "page_text": f"SELECT {_PAGE.format('page_text.rowid', 'page')}, body, keys FROM page_text",
    "page_fact": f"SELECT {_PAGE.format('page_id', 'page')}, printed, kinds, models, chassis,"
    " tubes, publication, volume FROM page_fact",
    "entry": "SELECT * FROM entry",
    "entry_page": f"SELECT entry_id, {_PAGE.format('page_id', 'page')}, position FROM entry_page",
    "code": "SELECT * FROM code",
    "entry_tube": "SELECT entry_id, position, type, printed, role, symbol,"
    f" {_PAGE.format('page_id', 'page')}, alternatives FROM entry_tube",
    "listing": f"SELECT unit, {_PAGE.format('page_id', 'page')}, maker, model, normal,"
    f" publication, volume, listing.page, {_PAGE.format('here_page_id', 'here')} FROM listing",
}


def contents(home: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of the tables that reading and cataloguing fill, in a fixed order."""
    with closing(sqlite3.connect(home / "catalogue.db")) as db:
        return {
            table: sorted(db.execute(question).fetchall(), key=repr)
            for table, question in _QUESTIONS.items()
        }
