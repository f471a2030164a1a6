"""An entry parted within a page, a page of two entries, and what goes with a page that is moved."""

import pytest

from indexer import Library, UsageError
from indexer.corrections.apply import Corrected, apply
from indexer.model import Entry, PageRef, TubePlace
from indexer.store.corrections import Correction
from tests.corrections.shelf import BOOK, again, with_code

A, B, C = (PageRef("ab" * 32, n) for n in range(1, 4))
CODES = {A: ["61-T", "HM-6B"], B: ["61-T", "48-B", "HM-4F"], C: ["48-B"]}
MELTED = Entry(
    "one", "Tillbrook", ("61-T", "48-B"), ("HM-6B", "HM-4F"),
    (TubePlace("6A8", "6A8", page=A), TubePlace("6K7", "6K7", page=A), TubePlace("1C7", page=C)),
    (A, B, C),
)  # fmt: skip


def said(correction: Correction, *entries: Entry) -> Corrected:
    return apply(entries, [correction], {A, B, C}, CODES)


def test_a_split_within_a_page_leaves_it_with_both() -> None:
    cut = Correction("split", ("48-B", "HM-4F"), (A, B, C), ("61-T",), B, other=(B,), id=1)
    first, second = said(cut, MELTED).entries
    assert (first.models, first.chassis, first.pages) == (("61-T",), ("HM-6B",), (A, B))
    assert (second.models, second.chassis, second.pages) == (("48-B",), ("HM-4F",), (B, C))
    assert (first.tube_types, second.tube_types) == (("6A8", "6K7"), ("1C7",))


def test_a_sheet_of_two_sets_is_split_by_a_model_that_was_never_read() -> None:
    sheet = Entry("one", "Tillbrook", ("61-T",), (), (), (A,))
    cut = Correction("split", ("212",), (A,), ("61-T",), A, other=(A,), id=1)
    first, second = said(cut, sheet).entries
    assert (first.models, first.pages) == (("61-T",), (A,))
    assert (second.models, second.pages) == (("212",), (A,))


def test_a_page_that_is_moved_takes_its_codes_and_tubes_along() -> None:
    other = Entry("two", "Tillbrook", ("212",), (), (), (C,))
    first = Entry("one", "Tillbrook", ("61-T", "48-B"), ("HM-6B", "HM-4F"), (
        TubePlace("6A8", page=A), TubePlace("1C7", page=B)), (A, B))  # fmt: skip
    move = Correction("move", (), page=B, other=(C,), other_codes=("212",), id=1)
    left, target = said(move, first, other).entries
    assert (left.models, left.chassis, left.tube_types) == (("61-T",), ("HM-6B",), ("6A8",))
    assert target.pages == (B, C)


def test_shared_pages_survive_cataloguing_csv_and_undo(library: Library) -> None:
    book, sheet = with_code(library, "60-210"), with_code(library, "M-37")
    before = (library.entry(book.id).pages, library.entry(sheet.id).pages)
    page = f"{BOOK}#{book.pages[-1].page}"
    library.share_page(page, sheet.id)
    library.split_entry(book.id, f"{BOOK}#{book.pages[0].page}", ["60-211"], both=True)
    again(library)
    assert book.pages[-1] in library.entry(sheet.id).pages
    second = with_code(library, "60-211")
    assert second.pages == book.pages
    assert library.entry(book.id).pages == book.pages[:1]
    lines = [state.line for state in library.corrections()]
    assert "belongs to M-37, 37-5 as well" in lines[0]
    assert "which belongs to both, 60-211 being the second" in lines[1]
    kept = library.export_corrections()
    with pytest.raises(UsageError):
        library.share_page(page, sheet.id)
    for _ in range(2):
        library.undo_correction()
    assert (library.entry(book.id).pages, library.entry(sheet.id).pages) == before
    assert library.import_corrections(kept).added == 2
    assert with_code(library, "60-211").pages == book.pages
    assert book.pages[-1] in library.entry(sheet.id).pages
