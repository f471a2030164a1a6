"""Words beside a number: they agree only where they stand, and lead to the page that has them.
Makers and models are invented."""

from collections.abc import Iterator

import pytest

from indexer import Library, find_json
from indexer.search.explain import trust
from indexer.search.find import Answer
from indexer.search.kin import nearness
from tests.search.typed import library_of

NOTES = {
    "tillbrook.txt": "MODEL 5D10\nTILLBROOK RADIO MFG. CO.\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"
    "\f"
    "MODEL 5D10\nTILLBROOK RADIO MFG. CO.\nSERVICE NOTES\nIf the set motorboats, renew C3.\n",
    "vantrice.txt": "MODEL 212\nVANTRICE RADIO CORP.\nTUBES: 6A8 6K7 6Q7 6F6 5Y3\n",
    "oxbarrow.txt": "MODEL 5-B\nOXBARROW RADIO CORP.\nTUBES: 6SA7 6SK7 6SQ7 6V6 5Y3\n",
    "super.txt": "Aurelia 58W\nTUBES: ECH81 EF89 EABC80 EL84 EZ80\n",
    "shed.txt": "Maker         Model       Tubes\n\n"
    "Larkmoor      L-40P       1R5 1U4 1U5 3V4 117Z3\n"
    "Quarrydale    K-60X       12BE6 12BA6 12AV6 50C5 35W4\n"
    "Fenhallow     88-J        6K7 6L7 6C5 6H6 6F6 5Z3\n\n"
    "Mind the L-40P: it has a hot chassis.\n",
}


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    yield from library_of(tmp_path_factory, NOTES)


def ask(library: Library, text: str) -> Answer:
    return library.find(library.understand(text), 10)


def test_words_agree_only_where_they_stand(library: Library) -> None:
    there = ask(library, "tillbrook 5D10 motorboats").matches[0]
    assert there.entry.models == ("5D10",)
    assert any("motorboats" in why for why in there.why), there.why
    absent = ask(library, "tillbrook 5D10 whistles").matches[0]
    assert not any("words agree" in why for why in absent.why), absent.why


def test_the_page_that_prints_the_word_comes_first(library: Library) -> None:
    answer = ask(library, "tillbrook 5D10 motorboats")
    pages = find_json(library, answer, [])["matches"][0]["pages"]
    assert pages[0]["page"] == 2
    pages = find_json(library, ask(library, "tillbrook 5D10"), [])["matches"][0]["pages"]
    assert pages[0]["page"] == 1


def test_an_unknown_maker_with_two_figures_finds_nothing(library: Library) -> None:
    answer = ask(library, "zzyrion 12")
    assert not answer.matches, answer.matches[0].why
    assert not answer.pages


def test_what_a_page_prints_in_full_beats_a_misreading(library: Library) -> None:
    best = ask(library, "Aurelia 58W").matches[0]
    assert {"ECH81", "EZ80"} <= set(best.entry.tube_types), best.why


def test_another_makers_short_number_is_no_misreading(library: Library) -> None:
    for match in ask(library, "vantrice 58-B").matches:
        assert match.entry.maker != "Oxbarrow", match.why


def test_a_warning_on_a_list_is_shown_with_its_set(library: Library) -> None:
    answer = ask(library, "larkmoor L-40P")
    assert answer.matches[0].grade == "exact"
    assert "hot chassis" in answer.warnings[0].snippet
    assert not ask(library, "vantrice 212").warnings


def test_a_set_with_more_tubes_is_not_said_to_agree_in_all(library: Library) -> None:
    asked = ("12BE6", "12BA6", "12AV6", "50C5", "35W4")
    entry = ask(library, "tillbrook 5D10").matches[0].entry
    own = {t.what: t.applies for t in trust(nearness(asked, asked), library.line_up(asked), entry)}
    assert own["values"] == own["pin numbers"] == "yes"
    near = nearness(asked, (*asked, "6AL5", "6AU6", "6BA6", "12AT7", "6CB6", "6SN7"))
    parts = {part.what: part for part in trust(near, library.line_up(asked), entry)}
    assert parts["values"].applies == parts["pin numbers"].applies == "in part"
    assert "6AL5" in parts["pin numbers"].why
