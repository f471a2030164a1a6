"""What holds between the pages of a volume: copies, page numbers, relations, index columns."""

from dataclasses import replace

import pytest

from indexer.cataloguing.copies import is_copy, marks, sketch
from indexer.cataloguing.imprint import run_of_numbers
from indexer.cataloguing.listings import listings_in
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.relations import relations_in
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PictureFacts
from tests.cataloguing.pages import book, page

SHEET = """
TILLBROOK RADIO MFG. CO.   MODEL 5D10   CHASSIS CH-41A   162
PARTS LIST
C1  A-4289  CAPACITOR PAPER .05 MFD 200 V
C2  A-6582  CAPACITOR MICA 56 MMF 500 V
R1  B-3524  RESISTOR CARBON 22K
R2  B-3530  RESISTOR CARBON 47K
L1  B-9524  COIL ANTENNA
"""


def test_a_second_scan_is_known_by_its_words_and_picture() -> None:
    first = replace(page(SHEET), picture=PictureFacts(phash="f0f0f0f0f0f0f0f0"))
    slipped = SHEET.replace("CAPACITOR MICA", "CAPAC1TOR MICA").replace("COIL ", "")
    again = replace(page(slipped, file="again.tif"), picture=PictureFacts(phash="f0f0f0f0f0f0f0f3"))
    one, other = sketch(first), sketch(again)
    assert is_copy(one, other)
    assert set(marks(one)) & set(marks(other))
    assert one.quality > other.quality


def test_another_page_in_the_same_words_is_no_copy() -> None:
    other = SHEET.replace("5D10", "7K22").replace("CH-41A", "CH-60B").replace("162", "201")
    assert not is_copy(sketch(page(SHEET)), sketch(page(other)))


def test_a_copy_serves_no_entry() -> None:
    sheets = book(SHEET, SHEET, "A LETTER\nto the reader")
    made = catalogue_unit(sheets, copies={sheets[1].ref: sheets[0].ref})
    assert [[ref.page for ref in entry.pages] for entry in made.entries] == [[1]]


@pytest.mark.parametrize(
    ("read", "run"),
    [
        (["", "", "161", "162", "", "164", "165"], ("", "", "161", "162", "163", "164", "165")),
        (["161", "162", "18", "164", "165", "166"], ("161", "162", "163", "164", "165", "166")),
        (["12", "", "7"], ("12", "", "7")),
    ],
)
def test_page_numbers_bear_each_other_out(read: list[str], run: tuple[str, ...]) -> None:
    assert run_of_numbers(read) == run


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Model 5D12 is the same as Model 5D10 except for the cabinet.", (("same as", "5D10"),)),
        ("This set, Model 5D12, is similar to Model 7K22.", (("similar to", "7K22"),)),
        ("MODEL 5D12 REPLACES MODEL 4D9.", (("replaces", "4D9"),)),
        ("Model 4D9 is replaced by Model 5D12.", (("replaces", "4D9"),)),
        ("R5 is the same as R4.", ()),
        ("Model 9X1 is the same as Model 8X1.", ()),
    ],
)
def test_what_is_said_of_other_models(text: str, found: tuple[tuple[str, str], ...]) -> None:
    assert relations_in(text, ["5D12"]) == found


def test_an_addendum_points_at_its_set() -> None:
    sheet = "ADDENDUM\nTILLBROOK RADIO MFG. CO.\nMODEL 5D10\nSERVICE NOTES\nthe value was changed"
    (entry,) = catalogue_unit(book(sheet, "A LETTER\nto the reader")).entries
    assert entry.relations == (("addendum to", "5D10"),)


COLUMNS = """
INDEX OF MODELS
MAKER      MODEL     VOL. PAGE                MAKER      MODEL     VOL. PAGE
Tillbrook  5D10      3    161                 Oxbarrow   60W       4    130
"          7K22      3    170                 "          84W       4    206
"          9T-1      4    12                  Vantrice   C-700     3    96
Quarrydale 88-K      4    44                  "          M37       1    9
"          60-210    4    48                  "          M38       1    11
"          61-210    4    52                  "          M39       1    14
"          62-210    4    58                  "          M40       1    18
"""


def test_an_index_is_read_column_by_column() -> None:
    rows = listings_in(whole_page(page(COLUMNS)), "", "4")
    assert [(r.maker, r.model, r.volume, r.page) for r in rows][2:9] == [
        ("Tillbrook", "9T-1", "4", "12"),
        ("Quarrydale", "88-K", "4", "44"),
        ("Quarrydale", "60-210", "4", "48"),
        ("Quarrydale", "61-210", "4", "52"),
        ("Quarrydale", "62-210", "4", "58"),
        ("Oxbarrow", "60W", "4", "130"),
        ("Oxbarrow", "84W", "4", "206"),
    ]


def test_volume_and_page_joined_by_a_dash_under_a_maker() -> None:
    text = "CUMULATIVE INDEX\nTILLBROOK\n5D10   3-161\n7K22   3-17O\nQUARRYDALE\n40-120   4-44"
    rows = listings_in(whole_page(page(text)), "", "9")
    assert [(r.maker, r.model, r.volume, r.page) for r in rows] == [
        ("Tillbrook", "5D10", "3", "161"),
        ("Tillbrook", "7K22", "3", "170"),
        ("Quarrydale", "40-120", "4", "44"),
    ]
