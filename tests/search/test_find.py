"""Codes as they come off a label: found, graded, explained; and what follows when they are not."""

from collections.abc import Iterator

import pytest

from indexer import Library
from indexer.model import PageRef
from indexer.search.find import Answer
from indexer.search.kin import nearness
from indexer.store.wanted import Wanted
from tests.speed.finding_shelf import MadeSet, write_shelf

AA5 = ("12BE6", "12BA6", "12AV6", "50C5", "35W4")
SETS = (
    MadeSet("a", "Tillbrook", ("5D10", "5D11"), ("CH-41A",), AA5, 1951),
    MadeSet("b", "Tillbrook", ("5D20-X",), ("CH-41A",), AA5, 1951),
    MadeSet("c", "Quarrydale", ("40-120 through 40-125",), ("12-K",),
            ("6SA7", "6SK7", "6SQ7", "6V6", "5Y3"), 1940),
    MadeSet("d", "Vantrice", ("5D10",), ("70-P",), ("6A8", "6K7", "6Q7", "6F6", "5Y3"), 1938),
    MadeSet("e", "Larkmoor", ("M-8800 through M-9900",), (), ("1R5", "1T4", "1S5", "3S4"), 1947),
)  # fmt: skip


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with Library(tmp_path_factory.mktemp("made")) as made:
        write_shelf(made.catalogue, iter(SETS))
        yield made


def ask(library: Library, text: str) -> Answer:
    return library.find(library.understand(text), 10)


@pytest.mark.parametrize(
    ("text", "entry", "grade"),
    [
        ("tillbrook 5d-10", "a", "exact"),
        ("5D 10 vantrice", "d", "exact"),
        ("Tillbrook chassis ch 41a", "a", "same chassis"),
        ("tillbrook model 5D20", "b", "variant"),
        ("40-123", "c", "in range"),
        ("40123", "c", "in range"),
        ("M9000", "e", "in range"),
        ("40-12?", "c", "likely misread"),
        ("4O-1Z3", "c", "likely misread"),
        ("tillbrook 5010", "a", "likely misread"),
        ("tillbrook 5D1", "a", "likely misread"),
        ("tillbrook 5D?0", "a", "likely misread"),
        ("tilbrook 5D13", "a", "same series"),
        ("12BE6 12BA6 12AV6 50C5", "a", "shared tubes"),
        ("quarrydale", "c", "text only"),
    ],
)
def test_a_label_leads_to_its_set(library: Library, text: str, entry: str, grade: str) -> None:
    best = ask(library, text).matches[0]
    assert (best.entry.id, best.grade) == (entry, grade), best.why
    assert best.why


def test_another_makers_number_is_not_exact(library: Library) -> None:
    grades = {m.entry.id: m.grade for m in ask(library, "tillbrook 5D10").matches}
    assert grades["a"] == "exact"
    assert grades["d"] == "likely misread"


def test_scores_fall_with_the_grades(library: Library) -> None:
    for text in ("tillbrook 5D10", "5D10 12BE6 12BA6 12AV6 50C5 35W4", "40-123"):
        scores = [m.score for m in ask(library, text).matches]
        assert scores == sorted(scores, reverse=True)


def test_the_order_of_words_and_case_do_not_matter(library: Library) -> None:
    one = ask(library, "Tillbrook chassis CH-41A 1951 5D10")
    other = ask(library, "1951 5d10 CHASSIS ch-41a tillbrook")
    assert [m.entry.id for m in one.matches] == [m.entry.id for m in other.matches]
    assert one.asked.year == other.asked.year == 1951


def test_counted_tubes_and_labelled_codes_are_understood(library: Library) -> None:
    asked = library.understand("model 6V6 4x 6SN7")
    assert asked.models == ("6V6",)
    assert asked.tubes == ("6SN7",) * 4


def test_what_can_be_trusted_is_said(library: Library) -> None:
    """Same jobs in other sockets: the circuit helps, pin numbers don't. Common practice."""
    asked = ["12SA7", "12SK7", "12SQ7", "50L6", "35Z5"]
    near, entry = nearness(asked, AA5), library.entry("a")
    said = {part.what: part.applies for part in library.trust(near, library.line_up(asked), entry)}
    assert set(said) == {"circuit", "values", "pin numbers", "alignment"}
    assert said["pin numbers"] == "no"
    assert said["circuit"] == "yes"


def test_kin_keeps_to_what_is_asked(library: Library) -> None:
    assert all(near.same_sockets for near, _ in library.kin(AA5, 10, same_sockets=True))
    assert "a" not in [e.id for _, e in library.kin(AA5, 10, without="a")]
    assert library.kin(AA5, 10, with_schematic=True)


def test_a_wanted_set_is_ticked_off_when_it_comes_in(library: Library) -> None:
    wanted = library.wanted.add(Wanted(0, maker="Tillbrook", model="5D10"))
    assert library.wanted.add(Wanted(0, maker="Tillbrook", model="5D10")).id == wanted.id
    library.wanted.add(Wanted(0, maker="Tillbrook", model="9Z99"))
    ticked = library.tick_wanted()
    assert [item.model for item, _ in ticked] == ["5D10"]
    assert library.wanted.all()[0].here == PageRef(f"{1:064x}", 1)
    assert [item.model for item in library.wanted.all(open_only=True)] == ["9Z99"]
    assert library.tick_wanted() == []


def test_earlier_jobs_come_up_by_chassis_and_kin(library: Library) -> None:
    library.records.open_job("shop set", maker="Tillbrook", chassis=["CH 41A"])
    library.records.open_job("other maker", maker="Oxbarrow", tubes=list(AA5))
    library.records.open_job("no kin", maker="Oxbarrow", tubes=["1R5", "1T4", "1S5", "3S4"])
    found = library.earlier_jobs([library.entry("a")])
    assert [job.title for job, _ in found] == ["shop set", "other maker"]
    assert "chassis" in found[0][1]
    assert "kin" in found[1][1]
