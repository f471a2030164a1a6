"""The two stores: what they keep, and what they say when a file is not theirs to use."""

import sqlite3
from pathlib import Path

import pytest

from indexer.errors import LibraryError
from indexer.model import Box, PageReading, PageRef, PageState, PictureFacts, Word
from indexer.store.catalogue import Catalogue
from indexer.store.records import Mark, Records
from indexer.store.words import NAME_LENGTH, pack, page_name, unpack

WORDS = (
    Word("12BE6", Box(10.0, 20.0, 90.5, 44.0), 0.91, 0),
    Word("50C5", Box(10.0, 60.0, 80.0, 84.0), 0.4, 1, "5OC5", "the only type that looks like it"),
)


def reading(reader: str, *words: Word) -> PageReading:
    return PageReading(words, 100, 200, reader, 180, 1.5, False, -0.4)


@pytest.fixture
def catalogue(tmp_path: Path) -> Catalogue:
    made = Catalogue(tmp_path / "catalogue.db")
    folder = made.folder_id(tmp_path)
    made.put_content("ab" * 32, "pdf", "Annual", "ab" * 32, ["201", "202"])
    made.put_file(folder, "annual.pdf", 10, 20, sha256="ab" * 32)
    return made


def test_words_come_back_as_they_were() -> None:
    assert unpack(pack(WORDS)) == WORDS


def test_page_names_are_short_and_follow_the_content() -> None:
    names = {page_name(PageRef("ab" * 32, n)) for n in range(1, 500)}
    assert len(names) == 499
    assert {len(name) for name in names} == {NAME_LENGTH}
    assert page_name(PageRef("ab" * 32, 7)) == page_name(PageRef("ab" * 32, 7))


def test_pages_wait_then_are_read_and_keep_every_raw_reading(catalogue: Catalogue) -> None:
    first, second = catalogue.tasks(PageState.WAITING)
    raw = reading("tesseract", *WORDS[:1])
    catalogue.put_reading(
        first.page_id,
        [raw],
        reading("tesseract", *WORDS),
        PictureFacts(0.1, 0.2, 0.3, 0.4, "00ff"),
        state=PageState.READ,
        wants_second=True,
    )
    assert [task.page_id for task in catalogue.tasks(PageState.WAITING)] == [second.page_id]
    assert catalogue.reading(first.page_id) == reading("tesseract", *WORDS)
    assert catalogue.reading(first.page_id, "tesseract") == raw
    assert catalogue.reading(second.page_id) is None

    merged = reading("tesseract+second", *WORDS)
    catalogue.put_second(first.page_id, reading("second"), merged)
    assert catalogue.reading(first.page_id) == merged
    assert catalogue.reading(first.page_id, "tesseract") == raw
    assert catalogue.tasks(PageState.READ) == []


def test_a_moved_file_keeps_its_pages(catalogue: Catalogue, tmp_path: Path) -> None:
    folder = catalogue.folder_id(tmp_path)
    catalogue.put_file(folder, "moved/annual.pdf", 10, 30, sha256="ab" * 32)
    catalogue.forget_files(folder, ["annual.pdf"])
    assert catalogue.forget_orphans() == 0
    assert [row.file for row in catalogue.pages()] == ["moved/annual.pdf"] * 2
    catalogue.forget_files(folder, ["moved/annual.pdf"])
    assert catalogue.forget_orphans() == 1
    assert catalogue.pages() == []


def test_a_job_keeps_its_marks_in_order(tmp_path: Path) -> None:
    records = Records(tmp_path / "records.db")
    job = records.open_job("kitchen set", maker="Tillbrook", models=["5D10"], tubes=["12BE6"])
    refs = [PageRef("cd" * 32, n) for n in (3, 1, 2)]
    records.mark(job, [Mark(ref, "schematic", "annual.pdf") for ref in refs])
    records.mark(job, [Mark(refs[1], "parts list", "annual.pdf")])
    records.note(job, "hum at all volumes")
    kept = records.job(job)
    assert kept is not None
    assert [mark.ref for mark in kept.marks] == refs
    assert kept.marks[1].why == "parts list"
    assert [note.text for note in kept.notes] == ["hum at all volumes"]


def test_a_file_that_is_no_database_is_named(tmp_path: Path) -> None:
    path = tmp_path / "catalogue.db"
    path.write_bytes(b"this is not a database at all, but long enough to be looked at" * 20)
    with pytest.raises(LibraryError, match="damaged"):
        Catalogue(path)


def test_a_newer_store_is_refused(tmp_path: Path) -> None:
    Records(tmp_path / "records.db").close()
    with sqlite3.connect(tmp_path / "records.db") as db:
        db.execute(
            "INSERT INTO _sqlite_migrations(migration_set, name, applied_at)"
            " VALUES ('records', 'r999_from_the_future', '')"
        )
    with pytest.raises(LibraryError, match="newer"):
        Records(tmp_path / "records.db")


def test_a_busy_store_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("indexer.store.connect.LOCK_TIMEOUT_S", 0.1)
    records = Records(tmp_path / "records.db")
    with sqlite3.connect(tmp_path / "records.db", isolation_level=None) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(LibraryError, match="busy"):
            records.open_job("kitchen set")
