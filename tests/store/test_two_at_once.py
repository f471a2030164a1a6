"""Copies, restores and imports while another process writes: each is whole or not there."""

import multiprocessing
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from indexer.store import exporting, keeping
from indexer.store.bench_records import Spare, Taken
from indexer.store.records import Records
from tests.store.test_round_trip import everything, opened

SPAWN = multiprocessing.get_context("spawn")
TIMES = 4
PAIRS = 40


def write_pairs(path: Path, done: Path) -> None:
    """Two readings at a time, and as many spares as pairs: a half of a pair would be seen."""
    records = opened(path)
    for number in range(PAIRS):
        pair = [Taken(f"R{number}", "1K"), Taken(f"R{number}", "2K")]
        records.bench.take_all(1, pair)
    done.touch()


def restore_often(path: Path, copy: Path, kept: Path) -> None:
    """Restores one copy again and again, and writes down what was kept aside."""
    records = opened(path)
    names = [str(keeping.restore(records, copy, force=True)) for _ in range(TIMES)]
    kept.write_text("\n".join(names))


def import_often(path: Path, folder: Path, kept: Path) -> None:
    """Imports one export again and again."""
    records = opened(path)
    for _ in range(TIMES):
        exporting.bring_in(records, folder, force=True)
    kept.touch()


def both(*work: tuple[Callable[..., None], tuple[Path, ...]]) -> None:
    """Runs these at once, each in a process of its own, and wants all to end well."""
    processes = [SPAWN.Process(target=task, args=given) for task, given in work]
    for process in processes:
        process.start()
    for process in processes:
        process.join(60)
        assert process.exitcode == 0


@pytest.fixture
def path(tmp_path: Path) -> Path:
    records = opened(tmp_path / "records.db")
    records.open_job("on the bench")
    records.close()
    return tmp_path / "records.db"


def test_a_copy_made_while_another_process_writes_is_of_one_moment(
    path: Path, tmp_path: Path
) -> None:
    done = tmp_path / "done"
    process = SPAWN.Process(target=write_pairs, args=(path, done))
    process.start()
    records, copies = Records(path), []
    while not done.exists() and process.is_alive():
        copies.append(tmp_path / f"copy-{len(copies)}.db")
        keeping.back_up(records, copies[-1])
        exporting.export(records, tmp_path / f"out-{len(copies)}")
    process.join(60)
    assert process.exitcode == 0
    assert copies
    for number, copy in enumerate(copies, 1):
        with closing(sqlite3.connect(copy)) as db:
            assert db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            assert db.execute("SELECT count(*) FROM taken").fetchone()[0] % 2 == 0
        rows = (tmp_path / f"out-{number}" / "taken.csv").read_text().splitlines()
        assert (len(rows) - 1) % 2 == 0
    assert len(records.bench.taken(1)) == 2 * PAIRS
    assert not list(tmp_path.glob(".benchfolio-*")), "scratch files stay behind"


def test_two_processes_restore_and_import_at_once(path: Path, tmp_path: Path) -> None:
    """The records end as one of the two, whole; nothing that was there is lost."""
    one, other = opened(tmp_path / "one.db"), opened(tmp_path / "other.db")
    for number in range(3):
        job = one.open_job(f"one {number}", tubes=["12BE6"])
        one.note(job, "from the copy")
    other.open_job("other", maker="Tillbrook")
    other.bench.add_spare(Spare("6V6GT", 2))
    keeping.back_up(one, tmp_path / "copy.db")
    exporting.export(other, tmp_path / "out")
    both(
        (restore_often, (path, tmp_path / "copy.db", tmp_path / "kept")),
        (import_often, (path, tmp_path / "out", tmp_path / "kept too")),
    )
    records = Records(path)
    assert everything(records) in (everything(one), everything(other))
    kept = sorted(tmp_path.glob("records-before-*.db"))
    assert len(kept) == 2 * TIMES, "each overwriting keeps a copy of its own"
    found = [everything(Records(copy)) for copy in kept]
    first = [rows for rows in found if rows["job"][0][1] == "on the bench"]
    assert len(first) == 1
    assert all(rows in (everything(one), everything(other)) for rows in found if rows not in first)
    assert {Path(name) for name in (tmp_path / "kept").read_text().splitlines()} <= set(kept)


def test_a_second_program_that_had_them_open_sees_what_was_restored(
    path: Path, tmp_path: Path
) -> None:
    first, second = Records(path), Records(path)
    keeping.back_up(first, tmp_path / "copy.db")
    second.note(1, "after the copy")
    keeping.restore(first, tmp_path / "copy.db", force=True)
    assert [job.notes for job in second.jobs()] == [()]
    second.note(1, "and goes on")
    assert len(first.jobs()[0].notes) == 1


def test_a_copy_is_never_written_over_another_file(path: Path, tmp_path: Path) -> None:
    from indexer.errors import InputError, UsageError

    (tmp_path / "there.db").write_text("mine")
    with pytest.raises(UsageError):
        keeping.back_up(Records(path), tmp_path / "there.db")
    assert (tmp_path / "there.db").read_text() == "mine"
    (tmp_path / "file").write_text("x")
    with pytest.raises(InputError):
        keeping.back_up(Records(path), tmp_path / "file" / "copy.db")
