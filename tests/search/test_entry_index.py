"""The index of entries keeps up with the catalogue, and is made again when it is in doubt."""

from pathlib import Path

from indexer import Library
from indexer.store.connect import writing
from tests.speed.finding_shelf import make_sets, write_shelf


def words(library: Library, *asked: str) -> list[str]:
    found = library._index.candidates(makers=(), codes=(), words=asked, limit=500)
    return sorted(entry_id for entry_id, _ in found)


def test_a_change_is_mended_and_damage_rebuilt(tmp_path: Path) -> None:
    with Library(tmp_path) as library:
        write_shelf(library.catalogue, make_sets(60))
        every = words(library, "unknown")  # every entry's supply
        assert len(every) == 60
        with writing(library.catalogue.db) as db:
            db.conn.execute("DELETE FROM entry WHERE id = ?", [every[0]])
            db.conn.execute("UPDATE entry SET supply = 'battery' WHERE id = ?", [every[1]])
            db.conn.execute("UPDATE counter SET value = value + 1")
        assert words(library, "unknown") == every[2:]
        assert words(library, "battery") == [every[1]]
    for path in (tmp_path / "entries.index").glob("*.seg"):
        path.write_bytes(bytes(path.stat().st_size))  # as after a power cut
    with Library(tmp_path) as library:
        assert words(library, "battery") == [every[1]]
