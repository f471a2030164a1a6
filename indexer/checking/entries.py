"""Whether the index of entries is whole and holds what the catalogue says."""

import sqlite3
from pathlib import Path

from indexer.checking.findings import Finding, looking
from indexer.search.entries import kept_entries, state_on_disk

_WHERE = "entries.index"
_REMEDY = "The next `benchfolio find` builds it again; so does benchfolio check --repair"
_MEND = "builds it again"


def check_entries(home: Path) -> tuple[str, list[Finding]]:
    """(a short account, what is wrong) of the index of entries in `home`.

    The index is opened only when every file has the size and checksum noted beside it.
    """
    folder = home / _WHERE
    if not folder.is_dir():
        return "not made yet", []
    try:
        with looking(home / "catalogue.db") as db:
            row = db.execute("SELECT value FROM counter WHERE name = 'entries changed'").fetchone()
            ids = {row[0] for row in db.execute("SELECT id FROM entry")}
    except sqlite3.Error:
        return "not compared: the catalogue can't be read", []
    state = state_on_disk(folder)
    if not state.sound:
        # A kill between writing and noting leaves this, and nothing is lost by it.
        said = "does not have the sizes and checksums noted beside it"
        return "in doubt", [Finding(_WHERE, said, _REMEDY, damage=False, mend=_MEND)]
    if state.changes != (row[0] if row else 0):
        return "behind the catalogue; brought up to date by the next find", []
    try:
        kept = kept_entries(folder)
    except Exception as error:  # a damaged index raises errors of every kind
        said = f"can't be read ({type(error).__name__})"
        return "damaged", [Finding(_WHERE, said, _REMEDY, mend=_MEND)]
    if kept != ids:
        said = f"holds {len(kept)} entries, the catalogue {len(ids)}"
        return "wrong", [Finding(_WHERE, said, _REMEDY, mend=_MEND)]
    return f"{len(kept)} entries, checksums as noted", []
