"""The drawer against a line-up. Which tube stands for which is common practice, no source."""

from indexer.bench.sheet_types import HAVE, ORDER, SUBSTITUTE
from indexer.bench.spares import drawer_lines, places_of
from indexer.model import Entry, TubePlace
from indexer.store.drawer import Spare, SpareUse
from indexer.store.job_rows import JobRecord


def states(tubes: list[str], **drawer: int) -> list[tuple[str, str]]:
    stock = [Spare(type=kind.removeprefix("t"), count=count) for kind, count in drawer.items()]
    return [(line.state, line.use) for line in drawer_lines(tubes, stock)]


def test_the_type_itself_comes_before_a_substitute() -> None:
    assert states(["12AV6"], t12AT6=1, t12AV6=1) == [(HAVE, "12AV6")]


def test_one_spare_serves_one_place() -> None:
    assert states(["6V6", "6V6"], t6V6=1) == [(HAVE, "6V6"), (ORDER, "")]


def test_a_substitute_says_what_to_mind() -> None:
    (line,) = drawer_lines(["12AV6"], [Spare(type="12AT6", count=1)])
    assert line.state == SUBSTITUTE
    assert line.note


def test_spares_are_shared_so_that_both_places_are_served() -> None:
    """2GK5 fits only the first place, 2FQ5 both: the first must leave 2FQ5 to the second."""
    lines = drawer_lines(
        ["2ES5", "2FH5"], [Spare(type="2FQ5", count=1), Spare(type="2GK5", count=1)]
    )
    assert [line.state for line in lines] == [SUBSTITUTE, SUBSTITUTE]
    assert [line.use for line in lines] == ["2GK5", "2FQ5"]


def test_a_drawer_without_anything_near_means_order() -> None:
    assert states(["50C5"], t5U4=3) == [(ORDER, "")]


def test_an_envelope_counts_as_have_and_is_told() -> None:
    (line,) = drawer_lines(["6V6GT"], [Spare(type="6V6", count=1), Spare(type="6V6GT", count=1)])
    assert (line.state, line.use, line.note) == (HAVE, "6V6GT", "")
    (line,) = drawer_lines(["6V6"], [Spare(type="6V6GT", count=1)])
    assert (line.state, line.use, line.relation) == (HAVE, "6V6GT", "same, other envelope")
    assert line.note


def test_a_spare_that_was_used_goes_to_the_place_it_was_taken_for() -> None:
    uses = [SpareUse("6V6", "6V6GT")]
    first, second = drawer_lines(["6V6", "6V6G"], [Spare(type="6V6G", count=1)], uses)
    assert (first.used, first.use) == (True, "6V6GT")
    assert (second.used, second.use) == (False, "6V6G")


def test_the_set_keeps_the_envelopes_its_pages_print() -> None:
    tubes = (TubePlace("6V6", "6V6-GT"), TubePlace("80", "8O"), TubePlace("6SN7", "½ 6SN7"))
    entry = Entry("x", "Tillbrook", (), (), tubes, (), None, None, "unknown", None, "unknown")
    job = JobRecord(1, "x", "2026-03-01", tubes=("6V6", "80"))
    assert places_of(job, entry) == ["6V6GT", "80", "6SN7"]
    assert places_of(job, None) == ["6V6", "80"]
