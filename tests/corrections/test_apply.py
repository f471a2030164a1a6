"""The log of corrections replayed on entries, without a store."""

from indexer.corrections.apply import Corrected, apply
from indexer.corrections.meant import GONE, NO_ENTRY, SEVERAL
from indexer.model import Entry, PageRef, TubePlace
from indexer.store.corrections import Correction

A, B, C, D = (PageRef("ab" * 32, n) for n in range(1, 5))
ALL = frozenset({A, B, C, D})


def entry(
    name: str, model: str, *pages: PageRef, tubes: str = "", supply: str = "unknown"
) -> Entry:
    places = tuple(TubePlace(kind, kind, page=pages[0]) for kind in tubes.split())
    return Entry(name, "Tillbrook", (model,), (), places, pages, supply=supply)


FIRST = entry("one", "5D10", A, B, tubes="12BE6 12BA6 12AV6 50C5 35W4", supply="series string")
SECOND = entry("two", "88-K", B, C)


def said(*corrections: Correction, entries: tuple[Entry, ...] = (FIRST, SECOND)) -> Corrected:
    numbered = [
        Correction(c.what, c.values, c.pages, c.codes, c.page, c.other, c.other_codes, id=n)
        for n, c in enumerate(corrections, 1)
    ]
    return apply(entries, numbered, ALL, {A: ["5D10"], B: ["5D10", "88-K"], C: ["88-K"]})


def test_on_a_shared_page_the_codes_say_which_entry_is_meant() -> None:
    made = said(Correction("maker", ("Oxbarrow",), (B,), ("88K",)))
    assert [e.maker for e in made.entries] == ["Tillbrook", "Oxbarrow"]
    assert made.entries[1].corrected == ("maker",)


def test_pages_find_the_entry_after_its_codes_were_read_otherwise() -> None:
    misread = entry("one", "SDlO", A, B)
    made = said(Correction("year", ("1951",), (A, B), ("99X",)), entries=(misread, SECOND))
    assert made.entries[0].year == 1951


def test_a_neighbour_on_one_page_of_several_is_not_meant() -> None:
    made = said(Correction("year", ("1951",), (C, D), ("77",)), entries=(FIRST,))
    assert made.entries == [FIRST]
    assert made.effects[1].said == NO_ENTRY


def test_two_entries_alike_are_not_guessed_between() -> None:
    pair = (entry("x", "1", A), entry("y", "2", A))
    made = said(Correction("year", ("1951",), (A,), ("3",)), entries=pair)
    assert made.effects[1].said == SEVERAL


def test_a_page_that_is_gone_is_said() -> None:
    gone = PageRef("cd" * 32, 1)
    made = said(Correction("maker", ("Oxbarrow",), (gone,), ("5D10",)))
    assert made.effects[1].said == GONE
    assert made.entries == [FIRST, SECOND]


def test_the_later_word_wins() -> None:
    one, two = (
        Correction("models", (m,), (A, B), c) for m, c in (("X1", ("5D10",)), ("X2", ("X1",)))
    )
    assert said(one, two).entries[0].models == ("X2",)


def test_a_line_up_brings_its_supply_and_never_says_isolated_on_doubt() -> None:
    made = said(
        Correction("tubes", ("6A8", "6K7", "6Q7", "6F6", "5Y3"), (A, B), ("5D10",)),
    ).entries[0]
    assert (made.supply, made.live_chassis) == ("transformer", "no")
    by_words = entry("one", "5D10", A, tubes="12BE6", supply="battery and line")
    made = said(
        Correction("tubes", ("12BE6", "12BA6", "12AV6", "50C5", "35W4"), (A,), ("5D10",)),
        entries=(by_words,),
    ).entries[0]
    assert made.supply == "battery and line"
    assert made.live_chassis == "unknown"
    assert "the words say battery and line, the line-up says series string" in made.doubts


def test_a_model_makes_an_entry_of_a_page_without_one() -> None:
    made = said(
        Correction("models", ("00123",), (D,)), Correction("year", ("1938",), (D,))
    ).entries[2]
    assert (made.models, made.year, made.pages) == (("00123",), 1938, (D,))


def test_split_gives_each_part_the_codes_and_tubes_of_its_pages() -> None:
    both = Entry("one", "Tillbrook", ("5D10", "88-K"), (), FIRST.tubes, (A, B, C))
    first, second = said(
        Correction("split", (), (A, B, C), ("5D10", "88-K"), C), entries=(both,)
    ).entries
    assert (first.pages, first.tubes != ()) == ((A, B), True)
    assert (second.pages, second.models, second.tubes) == ((C,), ("88-K",), ())
    assert second.live_chassis == "unknown"


def test_join_move_and_not_an_entry() -> None:
    joined = said(Correction("join", (), (A, B), ("5D10",), None, (B, C), ("88-K",))).entries
    assert [(e.id, e.models, e.pages) for e in joined] == [("one", ("5D10", "88-K"), (A, B, C))]
    moved = said(Correction("move", (), page=B, other=(B, C), other_codes=("88-K",))).entries
    assert [e.pages for e in moved] == [(A,), (B, C)]
    none = said(Correction("not an entry", (), (B, C), ("88-K",))).entries
    assert none == [FIRST]


def test_an_entry_left_without_pages_is_gone() -> None:
    made = said(
        Correction("move", (), page=C, other=(A, B), other_codes=("5D10",)),
        entries=(FIRST, entry("two", "88-K", C)),
    )
    assert [e.pages for e in made.entries] == [(A, B, C)]
