"""Rows of index pages as readers give them: marks read as figures, dots as letters, lost figures.

That a ditto mark stands for the maker above, and that two figures give volume and page, is common
practice, no source.
"""

from dataclasses import replace

import pytest

from indexer.cataloguing.kinds import is_index
from indexer.cataloguing.listings import listed_makers, listings_in
from indexer.cataloguing.region import whole_page
from indexer.model import Box, PageInput, Word
from tests.cataloguing.pages import page

Rows = list[tuple[str, str, str, str]]
HEAD = "MAKER       MODEL          VOL.     PAGE\n"


def rows_of(sheet: PageInput | str, volume: str = "9") -> Rows:
    sheet = page(sheet) if isinstance(sheet, str) else sheet
    return [
        (r.maker, r.model, r.volume, r.page) for r in listings_in(whole_page(sheet), "", volume)
    ]


@pytest.mark.parametrize("mark", ["5", "n", "二", "I", "11", "tl"])
def test_a_ditto_mark_read_as_something_else(mark: str) -> None:
    text = HEAD + f"Tillbrook   5D10           3        161\n{mark:12}7K22           3        170"
    assert rows_of(text)[1] == ("Tillbrook", "7K22", "3", "170")


def test_a_code_with_a_letter_apart_is_no_ditto_mark() -> None:
    assert rows_of("Halvorne   U 310      3      88") == [("Halvorne", "U 310", "3", "88")]


def test_dots_read_as_letters_belong_to_no_model() -> None:
    text = HEAD + "Tillbrook   5D10     WWW     3        161\n            7K22     EE      3    170"
    assert [row[1] for row in rows_of(text)] == ["5D10", "7K22"]


def test_a_stray_mark_between_volume_and_page() -> None:
    text = HEAD + "Tillbrook   5D10          2 ON     343\n            7K22          4 or    170"
    assert [row[1:] for row in rows_of(text)] == [("5D10", "2", "343"), ("7K22", "4", "170")]


def test_a_full_stop_between_volume_and_page() -> None:
    assert rows_of("TILLBROOK\n5D10    4.174") == [("Tillbrook", "5D10", "4", "174")]


def test_a_volume_that_was_not_read_is_not_the_books_own() -> None:
    text = "TILLBROOK\n5D10    3-161\n7K22    3-170\n8K31      174"
    assert [row[2] for row in rows_of(text)] == ["3", "3", ""]
    text = "TILLBROOK\n5D10    161\n7K22    170\n8K31    174"
    assert [row[2] for row in rows_of(text)] == ["9", "9", "9"], "an index of this volume alone"


KNOWN = ("Tillbrook", "Quarrydale")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Tillbrook  5D10 ........ Vol. IV, page 201", [("Tillbrook", "5D10", "4", "201")]),
        ("5D10   Tillbrook   4-201", [("Tillbrook", "5D10", "4", "201")]),
        ("TILLBROOK RADIO CORP.\n5D10   4-201", [("Tillbrook", "5D10", "4", "201")]),
        ("Tillbrook\n  5D10   4-201", [("Tillbrook", "5D10", "4", "201")]),
        ("TILLBROOK (Continued)\n5D10   IV - 201", [("Tillbrook", "5D10", "4", "201")]),
        ("Tillbrook 5D10 Ch. CH-41A   4   201", [("Tillbrook", "5D10", "4", "201")]),
        ("MODEL    PAGE\n5D10     201", [("", "5D10", "9", "201")]),
        (
            "TILLBROOK\n5D10 .... 3-12   4-201",
            [("Tillbrook", "5D10", "3", "12"), ("Tillbrook", "5D10", "4", "201")],
        ),
        ("Tillbrook 5D10 ... 201, 202", [("Tillbrook", "5D10", "9", "201")]),
        ("TILLBROOK\n40-120, 40-121   4-44", [("Tillbrook", "40-120, 40-121", "4", "44")]),
    ],
)
def test_indexes_of_other_houses(text: str, found: Rows) -> None:
    rows = listings_in(whole_page(page(text)), "", "9", KNOWN)
    assert [(row.maker, row.model, row.volume, row.page) for row in rows] == found


def test_a_name_over_rows_of_its_own_is_a_maker() -> None:
    sheet = page("INDEX OF MODELS\nVantrice\n  M-37   4-201\n  M-38   4-204\nA LETTER\nto all")
    assert listed_makers(whole_page(sheet)) == ["Vantrice"]


def _with(sheet: PageInput, *words: Word) -> PageInput:
    reading = sheet.reading
    return replace(sheet, reading=replace(reading, words=(*reading.words, *words)))


def test_a_column_of_lone_figures_read_down_the_page_is_no_word() -> None:
    sheet = page(
        HEAD + "Tillbrook   5D10                    161\n            7K22                    170"
    )
    column = Word("KHUMUOF", Box(760, 150, 800, 420), 0.3, 40)
    assert [row[:2] for row in rows_of(_with(sheet, column))] == [
        ("Tillbrook", "5D10"), ("Tillbrook", "7K22"),
    ]  # fmt: skip


def test_a_word_read_twice_counts_once() -> None:
    sheet = page("Halvorne    U 620          3        142")
    letter = next(word for word in sheet.reading.words if word.text == "U")
    again = replace(letter, box=replace(letter.box, left=letter.box.left + 6), line=9)
    assert rows_of(_with(sheet, again)) == [("Halvorne", "U 620", "3", "142")]


def test_a_running_header_is_no_row() -> None:
    assert rows_of("238    SERVICE ANNUAL of the WRENFIELD TRADE PRESS   VOLUME    3") == []


CHART = "\n".join(
    ["TUBE SUBSTITUTION CHART", "FOR      USE              FOR      USE"]
    + ["12SA7    12BE6            6SA7     6BE6", "12SK7    12SG7            6SK7     6SG7"] * 5
)


def test_pairs_of_tubes_are_no_index() -> None:
    assert not is_index(whole_page(page(CHART)))


def test_a_year_before_the_page_says_which_book() -> None:
    text = (
        "INDEX TO THE BOOKS 1931-1935\nLINDOVER RADIO CO.\n"
        "Model 5-A       1933     40\nModel 7-A       1934    112\n"
        "Model Midget    1932     17\nModel 11        1935      8\n"
    )
    assert rows_of(text) == [
        ("Lindover", "5-A", "1933", "40"),
        ("Lindover", "7-A", "1934", "112"),
        ("Lindover", "11", "1935", "8"),
    ]
    alone = "LINDOVER RADIO CO.\n1934        3     40\n7-A      3    112\n11-B      4      8"
    assert rows_of(alone)[0] == ("Lindover", "1934", "3", "40")


def test_a_second_column_of_one_row_is_a_column() -> None:
    heads = "MAKER       MODEL     VOL.   PAGE"
    left = [
        "Tillbrook   5D10       1      246",
        *(f"            7K{n}       3      {n}" for n in range(10, 22)),
    ]
    lines = ["                   MODEL INDEX", f"{heads}    {heads}"]
    lines += [f"{left[0]}    Quarrydale  V-363      3       71", *left[1:]]
    found = rows_of("\n".join(lines))
    assert found[0] == ("Tillbrook", "5D10", "1", "246")
    assert found[-1] == ("Quarrydale", "V-363", "3", "71")
    assert len(found) == 14


def test_a_leaf_with_the_last_row_of_an_index_is_one() -> None:
    heads = "Maker       Model          Vol.     Page"
    assert is_index(whole_page(page(f"TO SETS (Continued)\n{heads}\nTillbrook   XD-80   3   127")))
    assert not is_index(whole_page(page("TILLBROOK MODEL XD-80\nPAGE 127\nnotes on the set")))


def test_the_books_own_name_above_its_rows_is_no_row() -> None:
    head = "FENWRIGHT RADIO SERVICE MANUAL VOL. 3\n\nTILLBROOK\n"
    assert rows_of(head + "5D10    4-174\n7K22   3-88") == [
        ("Tillbrook", "5D10", "4", "174"),
        ("Tillbrook", "7K22", "3", "88"),
    ]
