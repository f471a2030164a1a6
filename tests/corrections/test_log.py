"""Corrections in a library: at once, after re-cataloguing, moving and re-reading, taken back."""

import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from indexer import BenchfolioError, Library, NothingFound, PageReading
from indexer.model import PageState, PictureFacts
from tests.cataloguing.pages import page
from tests.corrections.shelf import (
    BOOK,
    TEXTS,
    again,
    everything,
    put,
    sha,
    with_code,
)  # fmt: skip


def test_fields_hold_at_once_and_after_cataloguing_again(library: Library) -> None:
    before = everything(library)
    entry = with_code(library, "60-210")
    change = library.correct(entry.id, maker="Oxbarrow", models=["00123"], year=1938)
    assert change.entries == (entry.id,)
    assert [c.what for c in change.corrections] == ["maker", "models", "year"]
    now = library.entry(entry.id)
    assert (now.maker, now.models, now.year) == ("Oxbarrow", ("00123",), 1938)
    assert set(now.corrected) == {"maker", "models", "year"}
    found = library.find(library.understand("00123"), 1).matches
    assert [(m.entry.id, m.grade) for m in found] == [(entry.id, "exact")]
    corrected = everything(library)
    again(library)
    assert everything(library) == corrected
    for _ in range(3):
        library.undo_correction()
    assert everything(library) == before
    assert not library.find(library.understand("00123"), 1).matches
    with pytest.raises(NothingFound):
        library.undo_correction()


def test_corrections_outlive_a_rename_a_re_reading_and_a_new_catalogue(
    library: Library, tmp_path: Path
) -> None:
    entry = with_code(library, "5D10")
    library.correct(entry.id, models=["5D10", "00123"])
    library.set_kinds(f"{BOOK}#5", ["service notes"])
    catalogue = library.catalogue
    (folder,) = catalogue.folders()
    catalogue.forget_files(folder, [BOOK])
    catalogue.put_file(folder, "moved/other.pdf", 1, 2, sha256=sha(BOOK))
    # read again, this time with the model misread everywhere
    for row in catalogue.pages("file.name = ?", "moved/other.pdf"):
        reading = catalogue.reading(row.page_id)
        assert reading is not None
        text = reading.text.replace("5D10", "SDI0")
        fresh = page(text).reading
        catalogue.put_reading(
            row.page_id, [fresh], fresh, PictureFacts(), state=PageState.DONE, wants_second=False
        )
    again(library)
    found = with_code(library, "00123")
    assert set(entry.pages) <= set(found.pages)
    assert found.models == ("5D10", "00123")
    assert library.page("moved/other.pdf#5").kinds == ("service notes",)
    home = library.home
    library.close()
    for left in home.glob("catalogue.db*"):
        left.unlink()
    with Library(home) as fresh_library:
        for file, texts in TEXTS.items():
            put(fresh_library, tmp_path, file, texts, f"third place/{file}")
        again(fresh_library)
        assert with_code(fresh_library, "00123").models == ("5D10", "00123")
        assert all(state.applies for state in fresh_library.corrections())


def test_structure_across_units_and_back(library: Library) -> None:
    before = everything(library)
    book, sheet = with_code(library, "60-210"), with_code(library, "M-37")
    library.join_entries(book.id, sheet.id)
    assert set(library.entry(book.id).pages) == {*book.pages, *sheet.pages}
    assert library.entries.entry(sheet.id) is None
    again(library)
    assert set(library.entry(book.id).pages) == {*book.pages, *sheet.pages}
    change = library.split_entry(book.id, "sheet 1.png#1")
    assert [library.entry(name).pages for name in change.entries] == [book.pages, sheet.pages]
    library.move_page(f"{BOOK}#5", change.entries[1])
    library.not_an_entry(book.id)
    again(library)
    assert library.entries.entry(book.id) is None
    assert set(library.entry(change.entries[1]).pages) == {
        *sheet.pages,
        library.page(f"{BOOK}#5").ref,
    }
    for _ in range(4):
        library.undo_correction()
    assert everything(library) == before


def test_a_correction_whose_page_vanished_is_kept_and_said(library: Library) -> None:
    sheet = with_code(library, "M-37")
    library.correct(sheet.id, maker="Oxbarrow")
    (folder,) = library.catalogue.folders()
    library.catalogue.forget_files(folder, ["sheet 1.png"])
    library.catalogue.forget_orphans()
    again(library)
    (state,) = library.corrections()
    assert (state.applies, state.said) == (False, "its page is not on the shelf")
    assert state.line == "maker of M-37, 37-5 on sheet 1.png page 1: Oxbarrow"
    put(library, library.home.parent, "sheet 1.png", TEXTS["sheet 1.png"])
    again(library)
    assert with_code(library, "M-37").maker == "Oxbarrow"
    assert library.corrections()[0].applies


def test_what_has_no_effect_is_refused_and_not_recorded(library: Library) -> None:
    entry = with_code(library, "5D10")
    wrong = [
        lambda: library.split_entry(entry.id, f"{entry.id}/1"),
        lambda: library.join_entries(entry.id, entry.id),
        lambda: library.not_an_entry(f"{BOOK}#5"),
        lambda: library.correct(f"{BOOK}#3", year=1950),  # serves two entries
        lambda: library.correct(entry.id, tubes=["12BE6", "5D10"]),
        lambda: library.correct(entry.id, year=1890),
        lambda: library.set_kinds(f"{BOOK}#1", ["poem"]),
        lambda: library.correct("no such thing", maker="Oxbarrow"),
    ]
    for attempt in wrong:
        with pytest.raises(BenchfolioError):
            attempt()
    assert library.corrections() == []


def test_records_put_back_from_a_copy_are_followed(library: Library, tmp_path: Path) -> None:
    entry = with_code(library, "5D10")
    library.correct(entry.id, maker="Oxbarrow")
    library.back_up(tmp_path / "copy.db")
    library.correct(entry.id, maker="Larkmoor")
    library.restore(tmp_path / "copy.db", force=True)
    home = library.home
    library.close()
    with Library(home) as opened:
        assert opened.entry(entry.id).maker == "Oxbarrow"
        assert len(opened.corrections()) == 1


def test_csv_to_another_home_with_the_same_files(
    library: Library, catalogued: Path, tmp_path: Path
) -> None:
    entry = with_code(library, "60-210")
    library.correct(entry.id, models=["00123", "=1+1"], chassis=["-7; B"])
    library.move_page(f"{BOOK}#5", entry.id)
    text = library.export_corrections()
    shutil.copytree(catalogued, tmp_path / "other")
    with Library(tmp_path / "other") as other:
        brought = other.import_corrections(text)
        assert (brought.added, brought.known, brought.troubles) == (3, 0, ())
        assert everything(other) == everything(library)
        assert other.export_corrections() == text
        brought = other.import_corrections(text.encode())
        assert (brought.added, brought.known) == (0, 3)
        assert everything(other) == everything(library)


PAGES = st.sampled_from([f"{BOOK}#{n}" for n in range(1, 6)] + ["sheet 1.png#1"])
ACTS = st.lists(
    st.tuples(
        st.sampled_from(["maker", "models", "join", "split", "move", "not", "kinds", "undo"]),
        PAGES,
        PAGES,
    ),
    min_size=1,
    max_size=7,
)  # fmt: skip


def act(library: Library, what: str, one: str, two: str) -> None:
    ids = [library.entries.entries_on_page(library.page(name).page_id) for name in (one, two)]
    first, second = (
        sorted(found)[0] if found else name for found, name in zip(ids, (one, two), strict=True)
    )
    if what == "maker":
        library.correct(first, maker="Oxbarrow")
    elif what == "models":
        library.correct(first, models=["00123"])
    elif what == "join":
        library.join_entries(first, second)
    elif what == "split":
        library.split_entry(first, one)
    elif what == "move":
        library.move_page(one, second)
    elif what == "not":
        library.not_an_entry(first)
    elif what == "kinds":
        library.set_kinds(one, ["schematic"])
    else:
        library.undo_correction()


@settings(
    max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(ACTS)
def test_any_corrections_survive_cataloguing_and_leave_no_trace_when_undone(
    catalogued: Path, tmp_path_factory: pytest.TempPathFactory, acts: list[tuple[str, str, str]]
) -> None:
    home = Path(shutil.copytree(catalogued, tmp_path_factory.mktemp("any") / "home"))
    with Library(home) as library:
        library.__dict__["_index"] = _NoIndex()  # the entries alone are looked at here
        before = everything(library)
        for what, one, two in acts:
            try:
                act(library, what, one, two)
            except BenchfolioError:
                continue
        corrected = everything(library)
        again(library)
        assert everything(library) == corrected
        while library.corrections():
            library.undo_correction()
        assert everything(library) == before
        assert library.catalogue.rows("SELECT * FROM as_read") == []
        assert library.catalogue.rows("SELECT * FROM page_given") == []


class _NoIndex:
    def refresh(self) -> None:
        """Left as it is."""

    def close(self) -> None:
        """Nothing is open."""


def test_the_reading_itself_is_never_touched(library: Library) -> None:
    kept: dict[int, PageReading | None] = {
        row.page_id: library.catalogue.reading(row.page_id) for row in library.pages()
    }
    library.correct(with_code(library, "5D10").id, models=["00123"])
    assert {row.page_id: library.catalogue.reading(row.page_id) for row in library.pages()} == kept


def test_a_better_scan_of_a_corrected_page_takes_the_correction_over(library: Library) -> None:
    entry = with_code(library, "M-37")
    library.correct(entry.id, maker="Oxbarrow")
    folder = library.home.parent
    put(library, folder, "better scan.png", TEXTS["sheet 1.png"], confidence=0.99)
    again(library)
    new = library.page("better scan.png#1")
    found = [e for e in library.all_entries() if "M-37" in e.models]
    assert [(e.pages, e.maker) for e in found] == [((new.ref,), "Oxbarrow")]
    library.undo_correction()
    assert with_code(library, "M-37").maker != "Oxbarrow"
