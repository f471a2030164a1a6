"""Index pages as other printers set them: pages before sets, names for numbers, lists that run on.

How indexes are set is common practice, no source.
"""

import pytest

from indexer.cataloguing.kinds import is_index
from indexer.cataloguing.listings import listed_makers, listings_in
from indexer.cataloguing.region import whole_page
from tests.cataloguing.pages import page

Rows = list[tuple[str, str, str, str]]


def rows_of(text: str) -> Rows:
    region = whole_page(page(text))
    rows = listings_in(region, "", "", tuple(dict.fromkeys(listed_makers(region))))
    return [(row.maker, row.model, row.volume, row.page) for row in rows]


FULL = "TILLBROOK RADIO CORP.\n" + "\n".join(
    f"  {n}-A                7-{n}" for n in (12, 17, 23, 31)
)


def test_a_list_of_numbers_that_runs_on() -> None:
    found = rows_of(
        f"{FULL}\n  A-7, A-8, A-9,\n  A-10               7-70\n  44-B               7-71"
    )
    assert found[-2:] == [
        ("Tillbrook", "A-7, A-8, A-9, A-10", "7", "70"),
        ("Tillbrook", "44-B", "7", "71"),
    ]


@pytest.mark.parametrize("words", ["(Addenda)", "see also Addenda", "Supplement"])
def test_a_further_place_under_its_set(words: str) -> None:
    found = rows_of(f"{FULL}\n     {words}  7-112")
    assert found[-2:] == [("Tillbrook", "31-A", "7", "31"), ("Tillbrook", "31-A", "7", "112")]


@pytest.mark.parametrize("joined", ["7-40, 9-112", "7-40; 9-112", "7-40 and 9-112"])
def test_two_places_of_one_set(joined: str) -> None:
    places = {row[2:] for row in rows_of(f"{FULL}\n  51-C               {joined}")[-2:]}
    assert places == {("7", "40"), ("9", "112")}


@pytest.mark.parametrize(
    ("printed", "found"),
    [("7/31", ("7", "31")), ("VII-31", ("7", "31")), ("Vol. 7 p. 31", ("7", "31")),
     ("7  31", ("7", "31")), ("S. 31", ("", "31")), ("Sheet 31", ("", "31"))],
)  # fmt: skip
def test_ways_to_print_a_place(printed: str, found: tuple[str, str]) -> None:
    assert rows_of(f"TILLBROOK\n61-T          {printed}") == [("Tillbrook", "61-T", *found)]


def test_a_chassis_under_its_set_is_a_row() -> None:
    found = rows_of(f"{FULL}\n    Ch. HM-6B        7-45")
    assert found[-1] == ("Tillbrook", "HM-6B", "7", "45")


def test_sets_with_a_name_and_no_number() -> None:
    text = "LIST OF SHEETS\nModel              Sheet No.\nTILLBROOK\n"
    text += "22-C               302\nMinuet             310\nV-90               315\n"
    text += "LARKMOOR\nMajor Super        324\n25T4               338\nM-58               339\n"
    text += "V-74               340"
    found = rows_of(text)
    assert found[1] == ("Tillbrook", "Minuet", "", "310")
    assert found[3] == ("Larkmoor", "Major Super", "", "324")


def test_pages_before_their_sets() -> None:
    lines = [f"{4 * n}   Tillbrook {n}3-A, {n}3-B" for n in range(1, 9)]
    found = rows_of("CONTENTS\nPage  Set\n" + "\n".join(lines))
    assert found == [("Tillbrook", f"{n}3-A, {n}3-B", "", f"{4 * n}") for n in range(1, 9)]


MAKERS = ("Tillbrook", "Quarrydale", "Oxbarrow", "Tillbrook", "Oxbarrow", "Quarrydale")
ACROSS = "\n".join(f"{n}1-A       {name:14}{n + 1}-{n}7" for n, name in enumerate(MAKERS * 2, 1))


def test_numbers_across_makers_without_a_title() -> None:
    assert is_index(whole_page(page(ACROSS)))
    assert rows_of(ACROSS)[1] == ("Quarrydale", "21-A", "3", "27")


def test_roman_volumes_read_as_figures() -> None:
    lines = [f"  {n}0-A         VI-{n}2" for n in range(1, 8)] + ["  91-A         111-20"]
    assert rows_of("TILLBROOK\n" + "\n".join(lines))[-1] == ("Tillbrook", "91-A", "3", "20")


def test_three_columns_that_stand_at_heights_of_their_own() -> None:
    heads = ("Tillbrook", "Quarrydale", "Oxbarrow")
    rows = ["   ".join(f"{name:18}" for name in heads)]
    rows += ["   ".join(f"  {n}{c}-A      {c}-{n}{c}   " for c in (3, 4, 5)) for n in range(1, 9)]
    found = rows_of("GENERAL INDEX\n" + "\n".join(rows))
    assert len(found) == 24
    assert found[8] == ("Quarrydale", "14-A", "4", "14")


PARTS = "\n".join(
    f"C{n}    {n + 10}-{n}71   Condenser .05 mfd      .{n + 20}" for n in range(1, 15)
)
PRICES = "\n".join(f"{n + 10}-{n}7   Dial glass    ${n}.{n + 20}" for n in range(1, 15))
LAMPS = "\n".join(f"{n}      Brown    Screw    6-8    0.{n}" for n in range(40, 52))
TUBES = "\n".join(
    f"{tube:8}Output     6.3    {n}" for n, tube in enumerate(("6F6", "6V6", "6K6", "42") * 3, 4)
)
VOLTS = "\n".join(f"{tube:8}250    100    3    6" for tube in ("6A8", "6K7", "6Q7", "6F6") * 3)
NOTES = "TILLBROOK RADIO CORP.\nService Notes, Model 5D10\nSchematic   1\nAlignment   2\nParts   3"


@pytest.mark.parametrize(
    "text",
    [f"REPLACEMENT PARTS\n{PARTS}", f"PRICE LIST\n{PRICES}", f"DIAL LAMPS\n{LAMPS}",
     f"TUBE CHART\n{TUBES}", f"VOLTAGE READINGS\n{VOLTS}", NOTES],
)  # fmt: skip
def test_other_lists_are_no_index(text: str) -> None:
    assert not is_index(whole_page(page(text)))
