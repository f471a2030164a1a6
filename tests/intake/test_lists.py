"""Typed lists of sets on paper: columns in any order, and what a bad row costs."""

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from indexer.cataloguing.on_paper import entries_on_paper
from indexer.intake.lists import list_in, read_list
from indexer.model import ListedSet

HEAD = "maker, model, chassis, tubes, where\n"
PLAIN = st.text(
    st.characters(codec="latin-1", exclude_categories=["Cc", "Zs", "Zl", "Zp", "Cf"]), max_size=12
)
CELLS = st.one_of(
    PLAIN, st.sampled_from(["00123", "1e5", "-11", 'a "b" c', "x;y", "tab 3, blue", "#"])
)


@settings(max_examples=80, deadline=None)
@given(
    st.permutations(["maker", "model", "chassis", "tubes", "where", "condition"]),
    st.lists(
        st.fixed_dictionaries(
            dict.fromkeys(["maker", "chassis", "tubes", "where", "condition"], CELLS)
        )
    ),
    st.sampled_from(",;\t"),
)
def test_every_cell_comes_back_as_typed(
    columns: list[str], rows: list[dict[str, str]], comma: str
) -> None:
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, delimiter=comma, lineterminator="\n")
    writer.writeheader()
    writer.writerows({**row, "model": "00123"} for row in rows)
    found = list_in(out.getvalue())
    assert found is not None
    assert found.troubles == ()
    for number, (row, one) in enumerate(zip(rows, found.sets, strict=True), 2):
        further = (("condition", row["condition"]),) if row["condition"] else ()
        assert one == ListedSet(
            number, row["maker"], "00123", row["chassis"], row["tubes"], row["where"], "", further
        )


@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "latin-1", "utf-16"])
def test_encodings(tmp_path: Path, code: str) -> None:
    path = tmp_path / "sets.csv"
    row = 'Halvörne,00123,,UCH42 UF41,"Ordner ""grün"""\r\n'
    path.write_bytes((HEAD + row).encode(code))
    found = read_list(path)
    assert found is not None
    (one,) = found.sets
    assert (one.maker, one.model, one.where) == ("Halvörne", "00123", 'Ordner "grün"')


def test_a_bad_row_costs_that_row_and_is_named() -> None:
    found = list_in(
        HEAD
        + "Oxbarrow,207,,6BE6 6BA6,box 1\n"
        + ",,,,nothing to know it by\n"
        + "too,many,cells,in,this,row\n"
        + 'Larkmoor,"7L22,,,never closed\n'
        + 'Larkmoor,F41,,,19" shelf\n'
        + "\n"
        + "Vantrice,M-37\n"
    )
    assert found is not None
    assert [one.model for one in found.sets] == ["207", "F41", "M-37"]
    assert [line for line, _ in found.troubles] == [3, 4, 5]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "MODEL 5D10\nTUBES: 12BE6 12BA6\n",
        "ref, part, value\nC1, paper, .05\n",
        "maker, model\nOxbarrow, 207\n",
        "model, model, where\n1, 2, 3\n",
    ],
)
def test_other_notes_are_no_lists(text: str) -> None:
    assert list_in(text) is None


def test_a_note_may_hold_a_table_with_bars_under_a_title() -> None:
    found = list_in(
        "# On paper\n\n| maker | model | where |\n|---|---|---|\n| Oxbarrow | 207 | box |\n"
    )
    assert found is not None
    assert found.sets == (ListedSet(5, "Oxbarrow", "207", where="box"),)


def test_rows_become_entries_without_pages() -> None:
    found = list_in(
        "where;tubes;model;maker;year;condition\n"
        "blue binder, tab 3;12BE6 12BA6 12AV6 50C5 35W4;00123;Oxbarrow;1951;torn\n"
        "box;80 2x 47 6XX9Q;88-K, 88-L;Quarrydale;;\n"
        "box;80 2x 47 6XX9Q;88-K, 88-L;Quarrydale;;\n"
    )
    assert found is not None
    one, two, same = entries_on_paper(found.sets, "sets.csv")
    assert (one.models, one.year, one.pages) == (("00123",), 1951, ())
    assert (one.on_paper, one.note) == ("blue binder, tab 3", "condition: torn")
    assert one.string_volts == pytest.approx(122.8)  # common practice, no source
    assert one.live_chassis == "likely"
    assert (two.models, two.tube_types) == (("88-K", "88-L"), ("47", "47", "80"))
    assert two.doubts[0] == "6XX9Q is no tube type known here"
    assert two.live_chassis == "unknown"  # what is not understood may make it live
    assert len({one.id, two.id, same.id}) == 3
