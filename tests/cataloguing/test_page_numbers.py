"""Page numbers with a volume's or section's part, and what is none. How books print them is common
practice, no source."""

from pathlib import Path

import pytest

from indexer.cataloguing.book import page_numbers
from indexer.cataloguing.page_number import borne_out, number_on, run_of_numbers
from indexer.cataloguing.region import page_lines
from indexer.model import Listing, PageFacts, PageInput, PageState
from indexer.store.catalogue import Catalogue
from indexer.store.entries import EntryStore
from indexer.trade.page_numbers import page_number
from tests.cataloguing.pages import HEIGHT, book, page

BODY = "\n".join(f"line {n} of print" for n in range(51))


def at_foot(foot: str) -> PageInput:
    return page(f"A LETTER\n{BODY}\n{foot}")


@pytest.mark.parametrize(
    ("printed", "part", "number"),
    [
        ("31", "", "31"), ("7-31", "7", "31"), ("VII-31", "7", "31"), ("7/31", "7", "31"),
        ("7 - 31", "7", "31"), ("A-12", "A", "12"), ("31A", "", "31A"), ("7-31B", "7", "31B"),
    ],
)  # fmt: skip
def test_numbers_taken_apart(printed: str, part: str, number: str) -> None:
    found = page_number(printed)
    assert found is not None
    assert (found.part, found.in_part) == (part, number)


@pytest.mark.parametrize("text", ["", "HM-6B", "A-12-4", "3.1416", "page", "12345"])
def test_what_is_no_page_number(text: str) -> None:
    assert page_number(text) is None


@pytest.mark.parametrize(
    ("foot", "printed"),
    [
        ("Page 7-31", "7-31"),
        ("PAGE 7-31 TILLBROOK", "7-31"),
        ("TILLBROOK   PAGE VII-31", "VII-31"),
        ("Page 7/31", "7/31"),
        ("PAGE A-12", "A-12"),
        ("Page No. 31A", "31A"),
        ("Seite 31", "31"),
        ("- 31 -", "31"),
        ("See page 7-31", ""),
        ("continued on page 44", ""),
        ("DUNMARL 514", ""),
        ("FORM 7-31", ""),
    ],
)
def test_numbers_at_the_foot_of_one_sheet(foot: str, printed: str) -> None:
    sheet = at_foot(foot)
    assert page_numbers([sheet], {}, loose=True)[sheet.ref] == printed


@pytest.mark.parametrize("foot", ["10-48", "A-12", "31A", "7-31"])
def test_a_lone_code_at_the_foot_of_one_sheet_may_be_anything(foot: str) -> None:
    sheet = at_foot(foot)
    assert not number_on(page_lines(sheet), HEIGHT).sure
    assert page_numbers([sheet], {}, loose=True)[sheet.ref] == ""


def test_codes_that_run_from_page_to_page_are_numbers() -> None:
    pages = book(*(f"A LETTER\n{BODY}\n{foot}" for foot in ("7-31", "7-32", "", "10-48")))
    assert [*page_numbers(pages, {}, loose=False).values()] == ["7-31", "7-32", "", ""]


def test_a_sets_number_on_page_after_page_is_none() -> None:
    pages = book(*(f"DUNMARL 514\n{text}\n{BODY}" for text in ("a", "b", "c")))
    assert set(page_numbers(pages, {}, loose=False).values()) == {""}


def test_a_run_within_a_volume() -> None:
    read = ["7-31", "7-32", "", "7-34", "7-5", "7-36", "8-1"]
    assert run_of_numbers(read) == ("7-31", "7-32", "7-33", "7-34", "7-35", "7-36", "8-1")
    assert run_of_numbers(["31", "31A", "32", "33", "34", "35"])[1] == "31A"
    assert borne_out([]) == ()


@pytest.mark.parametrize(
    ("printed", "of_book", "asked", "found"),
    [
        ("31", "7", ("7", "31"), True),
        ("7-31", "7", ("7", "31"), True),
        ("7-31", "", ("7", "31"), True),
        ("VII-31", "", ("7", "31"), True),
        ("7/31", "", ("7", "31"), True),
        ("7-31", "", ("", "7-31"), True),
        ("A-12", "3", ("3", "A-12"), True),
        ("A-12", "", ("", "A-12"), True),
        ("31A", "7", ("7", "31A"), True),
        ("7-31", "3", ("7", "31"), False),  # section 7 of volume 3
        ("7-31", "", ("3", "31"), False),
        ("7-31", "", ("7", "3"), False),
        ("A-12", "3", ("4", "A-12"), False),
    ],
)  # fmt: skip
def test_rows_of_an_index_find_the_page(
    tmp_path: Path, printed: str, of_book: str, asked: tuple[str, str], found: bool
) -> None:
    made = page("A LETTER")
    catalogue = Catalogue(tmp_path / "catalogue.db")
    catalogue.put_content(made.ref.sha256, "pdf", "Annual", "u", [""])
    catalogue.put_file(catalogue.folder_id(tmp_path), "a.pdf", 1, 2, sha256=made.ref.sha256)
    (task,) = catalogue.tasks(PageState.WAITING)
    store = EntryStore(catalogue)
    facts = PageFacts(made.ref, {}, printed=printed, volume=of_book)
    row = Listing(made.ref, "Tillbrook", "5D10", "", *asked)
    store.replace_unit("u", [(task.page_id, facts, "", "")], [], [row])
    store.resolve_listings()
    here = catalogue.rows("SELECT DISTINCT here_page_id FROM listing")
    catalogue.close()
    assert [row[0] is not None for row in here] == [found]
