"""Records: merged, deleted and brought back, copied, and written out and read in the same."""

from pathlib import Path

import pytest

from indexer.errors import InputError, UsageError
from indexer.model import PageRef
from indexer.store import exporting, keeping
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
    exporting.export(records, tmp_path / "out")
    other = Records(tmp_path / "other.db")
    assert exporting.bring_in(other, tmp_path / "out") == sum(map(len, _all(records).values()))
    assert _all(other) == _all(records)
    with pytest.raises(UsageError, match="already"):
        exporting.bring_in(other, tmp_path / "out")


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
    other = records.open_job("same set again", symptom="dead", owner_tag="114")
    records.mark(other, [Mark(PageRef("cd" * 32, 1)), Mark(PageRef("ab" * 32, 4), "again")])
    records.note(other, "fuse")
    before = records.job(1), records.job(other)
    records.merge_jobs(1, other)
    merged = records.job(1)
    assert merged is not None
    assert [(m.ref.page, m.why) for m in merged.marks] == [(4, "schematic"), (1, "")]
    said = "\n".join(note.text for note in merged.notes)
    for words in ("C7 leaks", "fuse", "same set again", "dead", "114"):
        assert words in said, words
    assert [job.id for job in records.jobs()] == [1]
    records.undelete_job(other)
    assert [job.id for job in records.jobs()] == [other, 1]
    assert (records.job(1), records.job(other)) == before


def test_a_merging_undone_keeps_what_was_done_since(records: Records) -> None:
    other = records.open_job("same set again")
    records.bench.use_spare(other, "12BE6", "12BE6")
    records.bench.edit_part(other, "C9", added=".1 mfd")
    records.merge_jobs(1, other)
    assert len(records.bench.spare_uses(1)) == 1
    assert records.bench.put_back(1, "12BE6") is not None
    assert records.bench.put_back(1, "12BE6") is None, "one tube goes back once"
    records.bench.edit_part(1, "C9", state="done")
    records.note(1, "after the merging")
    records.undelete_job(other)
    assert [edit.state for edit in records.bench.part_edits(1)] == ["done", "done"]
    assert [edit.state for edit in records.bench.part_edits(other)] == [""]
    job = records.job(1)
    assert job is not None
    assert [note.text for note in job.notes][-1] == "after the merging"
    assert records.bench.spare_uses(other) == []
    assert [spare.count for spare in records.bench.spares()] == [2]


def test_search_looks_into_notes_and_readings(records: Records) -> None:
    assert [job.id for job in records.search_jobs("TILLBROOK c7 800k")] == [1]
    assert records.search_jobs("c7 transformer") == []
    records.change_job(1, owner_tag="TAG-114", models=["5D10"])
    records.bench.use_spare(1, "12BE6", "12BE6")
    for words in ("tag-114", "5d10 CRACKLE", "12be6", "c8a", "annual.pdf SCHEMATIC"):
        assert [job.id for job in records.search_jobs(words)] == [1], words
    records.delete_job(1)
    assert records.search_jobs("tag-114") == []
    assert [job.id for job in records.search_jobs("tag-114", deleted=True)] == [1]


def test_marked_pages_are_moved_together(records: Records) -> None:
    refs = [PageRef(f"{n}" * 64, n) for n in range(1, 6)]
    job = records.open_job("order")
    records.mark(job, [Mark(ref) for ref in refs])

    def order() -> list[int]:
        kept = records.job(job)
        return [mark.ref.page for mark in kept.marks] if kept else []

    records.move_marks(job, [refs[4], refs[2]], 1)
    assert order() == [5, 3, 1, 2, 4]
    records.move_marks(job, [refs[4]], 3)
    assert order() == [3, 1, 5, 2, 4]
    records.move_marks(job, [refs[0]], 99)
    assert order() == [3, 5, 2, 4, 1]
    records.move_marks(job, [PageRef("f" * 64, 9)], 1)
    assert order() == [3, 5, 2, 4, 1]


def test_a_spare_leaves_the_drawer_once(records: Records) -> None:
    assert records.bench.use_spare(1, "12BE6", "12BE6")
    assert [spare.count for spare in records.bench.spares()] == [1]
    assert records.bench.use_spare(1, "12BE6", "12BE6")
    assert not records.bench.use_spare(1, "12BE6", "12BE6")
