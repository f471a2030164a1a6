"""`benchfolio check` sees damage of every sort, mends what can be made again, touches no record."""

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from indexer import Library, check_home
from tests.commands import call

NOTE = "MODEL {n}T1\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A home with three sets and a job that marks a page of each."""
    folder = tmp_path_factory.mktemp("check")
    shelf = folder / "shelf"
    shelf.mkdir()
    for n in (10, 11, 12):
        (shelf / f"set {n}.txt").write_text(NOTE.format(n=n))
    with Library(folder / "home") as library:
        library.index([shelf], workers=1)
        job = library.open_job("hum")
        library.mark(job.id, [library.page(page.name) for page in library.pages()])
    return folder / "home"


@pytest.fixture
def home(made, tmp_path):
    return Path(shutil.copytree(made, tmp_path / "home"))


def change(path, *statements):
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA foreign_keys = OFF")
        for statement in statements:
            db.execute(statement)
        db.commit()
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def said(home, **options):
    return [f"{f.where} {f.said}" for f in check_home(home, **options).findings]


def test_a_sound_home(home):
    assert said(home, files=True) == []
    done = call("check", "--json", home=home)
    report = json.loads(done.stdout)
    assert (done.returncode, report["sound"], report["findings"]) == (0, True, [])
    assert set(report["checked"]) == {"catalogue.db", "entries.index", "records.db"}


def test_no_library_is_input_that_cannot_be_used(tmp_path):
    assert call("check", home=tmp_path).returncode == 3


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        ("DELETE FROM reading WHERE page_id = 1", "1 pages are said to be read but have no"),
        ("UPDATE reading SET words = x'00' WHERE page_id = 2", "2 readings can't be unpacked"),
        ("DELETE FROM content WHERE rowid = 1", "1 rows of page belong to no content"),
        ("DELETE FROM page_fact WHERE page_id = 3", "neither catalogued nor waiting"),
        ("DELETE FROM page_text WHERE rowid = 1", "missing from the full text"),
        ("UPDATE content SET page_count = 9 WHERE rowid = 1", "another number of pages"),
    ],
)
def test_a_catalogue_at_odds_with_itself_is_mended(home, damage, told):
    change(home / "catalogue.db", "UPDATE unit SET stale = 0", damage)
    assert any(told in line for line in said(home)), said(home)
    assert call("check", home=home).returncode == 4
    report = check_home(home, repair=True)
    assert report.repaired
    assert not report.damaged, report.findings
    with Library(home) as library:
        library.index([], workers=1)
        assert library.status()["entries"] == 3
    assert said(home) == []


def test_a_torn_catalogue_is_made_anew_and_the_old_one_kept(home):
    path = home / "catalogue.db"
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = bytearray(path.read_bytes())
    data[4096 * 30 : 4096 * 34] = b"\xa5" * 4096 * 4
    path.write_bytes(data)
    for tail in ("-wal", "-shm"):
        Path(f"{path}{tail}").unlink(missing_ok=True)
    assert check_home(home).damaged
    assert not check_home(home, repair=True).damaged
    assert len(list(home.glob("catalogue-damaged-*.db"))) == 1
    with Library(home) as library:
        library.index(
            [home.parent / "shelf"] if (home.parent / "shelf").exists() else [], workers=1
        )
        assert library.status()["entries"] == 3
        assert len(library.job(1).marks) == 3


def test_zeroed_files_of_the_entry_index_are_seen_and_made_again(home):
    for path in (home / "entries.index").glob("*.seg"):
        path.write_bytes(bytes(path.stat().st_size))
    assert any("sizes and checksums" in line for line in said(home))
    assert call("check", "--repair", home=home).returncode == 0
    assert said(home) == []


def test_an_entry_index_of_other_entries_is_wrong(home):
    change(home / "catalogue.db", "DELETE FROM entry WHERE rowid IS NOT NULL OR 1")
    assert any(line.startswith("entries.index holds 3 entries") for line in said(home))


def test_records_are_reported_on_and_never_touched(home):
    change(home / "records.db", "INSERT INTO note VALUES (9, 77, 'now', 'x', NULL)")
    before = (home / "records.db").read_bytes()
    report = check_home(home, repair=True)
    assert report.damaged
    assert any("1 rows of note belong to no job" in f.said for f in report.findings)
    assert (home / "records.db").read_bytes() == before
    assert any("restore" in f.remedy for f in report.findings)


def test_marks_of_pages_that_left_the_shelf_are_said_plainly(home):
    change(home / "records.db", f"UPDATE mark SET sha256 = '{'0' * 64}' WHERE position = 1")
    done = call("check", home=home)
    assert done.returncode == 0
    assert "job 1 marks page 1 of set 10.txt, which is not on the shelf" in done.stdout
