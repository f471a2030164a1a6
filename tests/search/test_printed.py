"""Numbers that the full text holds and no entry bears: the page that prints them is not passed
over. What the notes below print is invented."""

from collections.abc import Iterator

import pytest

from indexer import Library
from indexer.search.find import Answer
from tests.search.typed import library_of

NOTES = {
    "sheet.txt": "MODEL 5D10\nTILLBROOK RADIO MFG. CO.\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"
    "The cabinet of the VZ-18 takes the same works, and so does number 2266.\n",
    "other.txt": "MODEL 5D14\nTILLBROOK RADIO MFG. CO.\nTUBES: 6SA7 6SK7 6SQ7 6V6 5Y3\n",
    "super.txt": "Varnholm Super 56 W\nTUBES: ECH81 EF89 EABC80 EL84 EZ80\n",
    "oddment.txt": "Read at the fair: Larkmoor K-901 is in the green volume near the end.\n",
}


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    yield from library_of(tmp_path_factory, NOTES)


def ask(library: Library, text: str) -> Answer:
    return library.find(library.understand(text), 5)


@pytest.mark.parametrize("asked", ["VZ-18", "vz18", "VZ 18", "chassis VZ-18", "Tillbrook 2266"])
def test_a_page_that_prints_the_number_leads_to_its_entry(library: Library, asked: str) -> None:
    best = ask(library, asked).matches[0]
    assert "5D10" in best.entry.models
    assert any("prints" in why for why in best.why), best.why


def test_it_comes_before_a_set_of_the_same_series(library: Library) -> None:
    answer = ask(library, "Tillbrook 5D15 VZ-18")
    assert "5D10" in answer.matches[0].entry.models


def test_the_number_is_offered_for_the_entry(library: Library) -> None:
    assert ask(library, "VZ-18").matches[0].prints == ("VZ-18",)
    assert not ask(library, "5D10").matches[0].prints


def test_a_look_alike_on_a_page_is_shown_and_not_given(library: Library) -> None:
    best = ask(library, "VZ-1B").matches[0]
    assert "5D10" in best.entry.models and not best.prints
    assert "much like" in best.why[0]


def test_a_bare_number_alone_says_nothing(library: Library) -> None:
    assert not any(match.prints for match in ask(library, "2266").matches)


def test_a_page_of_no_entry_is_shown(library: Library) -> None:
    pages = ask(library, "Larkmoor K-901").pages
    assert [page.card.file for page in pages] == ["oddment.txt"]
    assert "K-901" in pages[0].snippet
    assert not ask(library, "Tillbrook 5D10").pages


def test_a_short_number_counts_beside_a_name_that_no_entry_bears(library: Library) -> None:
    best = ask(library, "Varnholm 56").matches[0]
    assert any("prints 56" in why for why in best.why), best.why
    assert not any(m.prints for m in ask(library, "Tillbrook 56").matches)


def test_an_index_page_of_the_maker_is_the_next_step(library: Library) -> None:
    library.set_kinds("oddment.txt#1", ["index-page"])
    pages = ask(library, "Larkmoor 77").pages
    assert [page.card.file for page in pages] == ["oddment.txt"]
