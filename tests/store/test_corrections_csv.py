"""Corrections written as CSV and read back: the same, whatever stands in them."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.errors import UsageError
from indexer.model import PageKind, PageRef
from indexer.store.corrections import Correction, refs_from, refs_text
from indexer.store.corrections_check import checked, tidy
from indexer.store.corrections_csv import from_csv, to_csv

REFS = st.builds(
    PageRef,
    st.text("0123456789abcdef", min_size=64, max_size=64),
    st.integers(1, 20_000),
)
TEXTS = st.one_of(
    st.text(min_size=1, max_size=30),
    st.sampled_from(["00123", "1e5", "=A1", "-11", "'x", "5D10; -11", ";;", "0x10", '"', "１"]),
)
LISTS = st.lists(TEXTS, max_size=4).map(tuple)
CODES = LISTS.map(lambda codes: tuple(text for code in codes if (text := tidy(code))))
PAGES = st.lists(REFS, min_size=1, max_size=5).map(tuple)


@st.composite
def corrections(draw: st.DrawFn) -> Correction:
    what = draw(st.sampled_from(["maker", "models", "chassis", "year", "kinds", "join", "move"]))
    values = LISTS
    if what == "year":
        values = st.integers(1920, 1969).map(lambda year: (str(year),))
    if what == "kinds":
        values = st.sampled_from([kind.value for kind in PageKind]).map(lambda kind: (kind,))
    made = Correction(
        what,
        draw(values),
        draw(PAGES),
        draw(CODES),
        draw(REFS),
        draw(PAGES),
        draw(CODES),
        at="2026-01-02T03:04:05+00:00",
    )
    return checked(made)


@settings(max_examples=80, deadline=None)
@given(st.lists(corrections(), max_size=5))
def test_a_round_trip_changes_nothing(log: list[Correction]) -> None:
    text = to_csv(log)
    back = from_csv(text)
    assert back.troubles == ()
    assert list(back.corrections) == log
    assert to_csv(back.corrections) == text
    rows = list(csv.reader(io.StringIO(text)))  # the standard library's reader agrees
    assert len(rows) == len(log) + 1
    assert all(not cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row)


@given(st.lists(REFS, max_size=8))
def test_pages_as_text_come_back_in_order(refs: list[PageRef]) -> None:
    assert list(refs_from(refs_text(refs))) == refs


def test_a_spreadsheet_may_part_with_semicolons_and_add_a_mark() -> None:
    one = Correction("models", ("00123", "5D10"), (PageRef("ab" * 32, 4),), at="2026-01-02")
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows(csv.reader(io.StringIO(to_csv([one]))))
    assert from_csv("\ufeff" + out.getvalue()).corrections == (one,)


def test_a_bad_row_costs_that_row() -> None:
    good = Correction("maker", ("Oxbarrow",), (PageRef("ab" * 32, 4),), at="2026-01-02")
    lines = to_csv([good, good]).splitlines()
    lines.insert(2, "maker,Oxbarrow,,not a page,,,,,")
    lines.insert(3, "poem,Oxbarrow")
    lines.insert(4, f"year,1890,,{'ab' * 32}:4,,,,,")
    read = from_csv("\n".join(lines))
    assert read.corrections == (good, good)
    assert [line for line, _ in read.troubles] == [3, 4, 5]
    with pytest.raises(ValueError, match="first line"):
        from_csv("model,maker\n1,2\n")


def test_tubes_and_kinds_must_be_known() -> None:
    pages = (PageRef("ab" * 32, 4),)
    assert checked(Correction("tubes", ("6v6gt", "6U5/6G5"), pages)).values == ("6V6GT", "6U5/6G5")
    assert checked(Correction("kinds", ("Parts-List",), page=pages[0])).values == ("parts list",)
    for wrong in (
        Correction("tubes", ("5D10",), pages),
        Correction("kinds", ("poem",), page=pages[0]),
        Correction("maker", ("x" * 500,), pages),
        Correction("move", (), pages),
    ):
        with pytest.raises(UsageError):
            checked(wrong)
