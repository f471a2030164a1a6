"""Records: merged, deleted and brought back, copied, and written out and read in the same."""

from pathlib import Path

import pytest

from indexer.errors import InputError, UsageError
from indexer.model import PageRef
from indexer.store import keeping
from indexer.store.bench_records import Spare, Taken
from indexer.store.records import Mark, Records


@pytest.fixture
def records(tmp_path: Path) -> Records:
    made = Records(tmp_path / "records.db")
    job = made.open_job('Kitchen "set", 5 tubes', maker="Tillbrook", symptom="hum\nand crackle")
    made.mark(job, [Mark(PageRef("ab" * 32, 4), "schematic", "annual.pdf")])
    made.note(job, "=C7 leaks, 22 V on the output grid")
    made.bench.take(job, Taken("R7", "800K"))
    made.bench.edit_part(job, "C8A", state="done")
    made.bench.add_spare(Spare("12BE6", 2, "drawer 4"))
    return made


def _all(records: Records) -> dict[str, list[tuple[object, ...]]]:
    run = records.db.conn.execute
    return {
        name: [tuple(row) for row in run(f"SELECT * FROM {name} ORDER BY rowid")]
        for name in keeping.tables(records.db)
    }


def test_an_export_read_back_gives_the_same_records(records: Records, tmp_path: Path) -> None:
    keeping.export_csv(records, tmp_path / "out")
    other = Records(tmp_path / "other.db")
    assert keeping.import_csv(other, tmp_path / "out") == sum(map(len, _all(records).values()))
    assert _all(other) == _all(records)
    with pytest.raises(UsageError, match="already"):
        keeping.import_csv(other, tmp_path / "out")


def test_a_copy_made_in_use_restores_and_keeps_what_was_there(
    records: Records, tmp_path: Path
) -> None:
    before = _all(records)
    keeping.back_up(records, tmp_path / "copy.db")
    records.note(1, "written after the copy")
    with pytest.raises(UsageError, match="already"):
        keeping.restore(records, tmp_path / "copy.db")
    kept = keeping.restore(records, tmp_path / "copy.db", force=True)
    assert _all(records) == before
    assert kept is not None
    assert "written after the copy" in str(_all(Records(kept)))
    (tmp_path / "no.db").write_bytes(b"not a database" * 100)
    with pytest.raises(InputError):
        keeping.restore(records, tmp_path / "no.db", force=True)


def test_merge_and_delete_lose_nothing(records: Records) -> None:
    other = records.open_job("same set again")
    records.mark(other, [Mark(PageRef("cd" * 32, 1)), Mark(PageRef("ab" * 32, 4), "again")])
    records.merge_jobs(1, other)
    merged = records.job(1)
    assert merged is not None
    assert [(m.ref.page, m.why) for m in merged.marks] == [(4, "schematic"), (1, "")]
    assert [job.id for job in records.jobs()] == [1]
    records.undelete_job(other)
    assert [job.id for job in records.jobs()] == [other, 1]


def test_search_looks_into_notes_and_readings(records: Records) -> None:
    assert [job.id for job in records.search_jobs("TILLBROOK c7 800k")] == [1]
    assert records.search_jobs("c7 transformer") == []


def test_a_spare_leaves_the_drawer_once(records: Records) -> None:
    assert records.bench.use_spare(1, "12BE6", "12BE6")
    assert [spare.count for spare in records.bench.spares()] == [1]
    assert records.bench.use_spare(1, "12BE6", "12BE6")
    assert not records.bench.use_spare(1, "12BE6", "12BE6")
