"""Sheets of other houses: publishers' sheets, prose headings, tables of models, makers at odd
places. How the trade prints them is common practice, no source; makers and models are invented."""

import pytest

from indexer.cataloguing import makers
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.spread import facing
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Box, Entry, PageInput, PageReading, Word
from tests.cataloguing.pages import book, page

TUBES = "Tubes: 12BE6, 12BA6, 12AV6, 50C5, 35W4.\n"


def only(text: str, known: tuple[str, ...] = ("Tillbrook",), file: str = "a.jpg") -> Entry:
    (entry,) = catalogue_unit([page(text, file=file)], known).entries
    return entry


@pytest.mark.parametrize(
    ("head", "models", "chassis"),
    [
        ("SERVICE SHEETS   Models: 409 thru 415\nSHEET 131", ("409 through 415",), ()),
        ("SERVICE SHEETS   Models: 6-71, 6-72\nSHEET 118   Chassis: 6A71",
         ("6-71", "6-72"), ("6A71",)),
        ("SERVICE SHEETS   Models: T-58, T-59W\nSHEET 164  Chassis: HX-18",
         ("T-58", "T-59W"), ("HX-18",)),
        ("SHEET 131\nMODEL 88-K", ("88-K",), ()),
        ("TILLBROOK Model 1102, Chassis RC-88. Eight tubes, three bands, two speakers in all.",
         ("1102",), ("RC-88",)),
        ("TILLBROOK Radio-Phonograph PR-77\nChassis 77-K  Service Information",
         ("PR-77",), ("77-K",)),
        ("TILLBROOK   Type 53 A", ("53 A",), ()),
        ("TILLBROOK   Type B 480 B", ("B 480 B",), ()),
        ("Tillbrook Super 56 W", ("56 W",), ()),
        ("TILLBROOK RADIO CO.\nCHASSIS 30-4\nused in models 215, 216X and 220",
         ("215", "216X", "220"), ("30-4",)),
    ],
)  # fmt: skip
def test_headings(head: str, models: tuple[str, ...], chassis: tuple[str, ...]) -> None:
    entry = only(f"TILLBROOK RADIO CO.\n{head}\n\n{TUBES}")
    assert (entry.models, entry.chassis) == (models, chassis)
    assert len(entry.tubes) == 5


@pytest.mark.parametrize(
    ("text", "maker"),
    [
        ("QUARRYDALE SERVICE DATA\nModels 74-100, 74-101 Series\n", "Quarrydale"),
        ("QUARRYDALE   Type U 482\nSERVICE DOCUMENTATION\n", "Quarrydale"),
        ("QUARRYDALE PORTABLE RADIOS\nModel 3P14\n", "Quarrydale"),
        ("MODEL 26 and 27\n" + "\n" * 50 + "QUARRYDALE RADIO LABORATORIES   Page 88", "Quarrydale"),
        ("MODEL 26\n", ""),
        ("MODELS 26 and 27\nSERVICE SHEETS   Type 88\n", ""),
    ],
)
def test_makers_at_odd_places(text: str, maker: str) -> None:
    assert only(text + "\n" + TUBES, known=()).maker == maker


@pytest.mark.parametrize(
    ("head", "models", "chassis"),
    [
        ("Quarrydale Radio Corp.\nService Manual No. 14\nModel numbers: 712A, 712B\n"
         "Chassis number: 7-AX", ("712A", "712B"), ("7-AX",)),
        ("Model No. 712 / 713 / 714\nQuarrydale Mfg. Co., Springfold", ("712", "713", "714"), ()),
        ("Receiver type R.712\nQuarrydale Radio Ltd", ("R.712",), ()),
        ("DATA SHEET NO. 77\nQUARRYDALE CHASSIS 7-AX\nModels 712, 713",
         ("712", "713"), ("7-AX",)),
        ("SETS: 712, 713   CHASSIS USED: 7-AX\nQUARRYDALE RADIO CO", ("712", "713"), ("7-AX",)),
        ("Models 712 to 719 incl.\nQUARRYDALE RADIO", ("712 through 719",), ()),
    ],
)  # fmt: skip
def test_heads_of_an_unknown_maker(
    head: str, models: tuple[str, ...], chassis: tuple[str, ...]
) -> None:
    entry = only(f"{head}\n\n{TUBES}", known=())
    assert (entry.maker, entry.models, entry.chassis) == ("Quarrydale", models, chassis)


@pytest.mark.parametrize(
    "head",
    ["GENERAL SERVICE DATA", "TROUBLE SHOOTING", "FIELD SERVICE BULLETIN", "Console", "LATE"],
)
def test_words_over_a_model_are_no_maker(head: str) -> None:
    joint = "\n" if head.isupper() and head != "LATE" else " "
    entry = only(f"{head}{joint}Model 55-A\n\n{TUBES}", known=())
    assert (entry.maker, entry.models) == ("", ("55-A",))


def test_a_set_below_another_has_the_maker_before_its_model() -> None:
    text = "TILLBROOK ELECTRIC   MODELS 338, 339\n" + TUBES + "\n" * 20
    text += "QUARRYDALE Model M-6\nTubes: 6D6, 6A7, 75, 42, 80.\n"
    found = catalogue_unit(book(text, "A LETTER\nto the reader")).entries
    assert [(e.maker, e.models) for e in found] == [
        ("Tillbrook", ("338", "339")),
        ("Quarrydale", ("M-6",)),
    ]


@pytest.mark.parametrize(
    "word", ["MODEL", "Models", "TYPE", "CHASSIS", "SERIES", "Sheets", "INDEX"]
)
def test_a_label_is_never_a_maker(word: str) -> None:
    rows = "\n".join(f"{word} {n}-A ........ 1934   {n}" for n in range(11, 19))
    pages = [
        page(f"{word} 26 and 27\n{TUBES}", file="a.jpg"),
        page(f"{word} 31 and 33\n{TUBES}", file="b.jpg"),
        page(f"INDEX\n{rows}", file="c.jpg"),
    ]
    assert list(first_look(pages).makers) == []
    made = catalogue_unit(pages, [word.title()])
    assert {entry.maker for entry in made.entries} <= {""}
    assert {row.maker for row in made.listings} <= {""}
    assert not makers.may_be(word)


def test_a_publisher_before_the_makers_is_none() -> None:
    pages = [
        page("HOLLINGSEA QUARRYDALE RADIO\nModels: 11-A\n" + TUBES, file="a.jpg"),
        page("HOLLINGSEA TILLBROOK\nModels: 12-A\n" + TUBES, file="b.jpg"),
        page("HOLLINGSEA PELLHURST\nModels: 13-A\n" + TUBES, file="c.jpg"),
    ]
    found = catalogue_unit(pages, ["Tillbrook", "Pellhurst"]).entries
    assert sorted(entry.maker for entry in found) == ["Pellhurst", "Quarrydale", "Tillbrook"]


def test_typed_titles_name_maker_and_model() -> None:
    for text, known in (("# Quarrydale G-632", ()), ("Quarrydale M-5", ("Quarrydale",))):
        note = page(f"{text}\nTubes: 6BE6, 6BA6, 6AV6, 6AQ5, 6X4", file="n.md", reader="typed")
        (entry,) = catalogue_unit([note], known).entries
        assert (entry.maker, entry.models) == ("Quarrydale", (text.split()[-1],))


def test_a_sheet_of_the_same_chassis_brings_its_models() -> None:
    first = page("TILLBROOK RADIO\nMODELS 1250, 1251, 1260\nCHASSIS 12A\n" + TUBES, file="a.jpg")
    second = page("TILLBROOK RADIO\nMODELS 1265, 1266\nCHASSIS 12A\nDIAL STRINGING", file="b.jpg")
    (entry,) = catalogue_unit([first, second]).entries
    assert entry.models == ("1250", "1251", "1260", "1265", "1266")
    assert len(entry.pages) == 2


CROSS = """
TILLBROOK SERVICE BULLETIN 44
MODEL TO CHASSIS CROSS LIST
Model   Chassis   Tubes
501     CP-5      12SA7 12SK7 12SQ7 35L6GT 35Z5GT
502     CP-5      12SA7 12SK7 12SQ7 35L6GT 35Z5GT
510     CP-6      12SK7 12SA7 12SK7 12SQ7 35L6GT 35Z5GT
520-X   CP-8      6SA7 6SK7 6SQ7 6K6GT 5Y3GT
"""


def test_a_table_of_models_is_no_sets_page() -> None:
    own = page("TILLBROOK Models 501, 502\nChassis CP-5\n\nSCHEMATIC DIAGRAM\n12SA7", file="s.jpg")
    found = catalogue_unit([page(CROSS, file="list.jpg"), own], ["Tillbrook"]).entries
    by_chassis = {entry.chassis: entry for entry in found}
    assert {key: e.models for key, e in by_chassis.items()} == {
        ("CP-5",): ("501", "502"),
        ("CP-6",): ("510",),
        ("CP-8",): ("520-X",),
    }
    assert [len(by_chassis[key].tubes) for key in (("CP-5",), ("CP-6",), ("CP-8",))] == [5, 6, 5]
    assert {entry.maker for entry in found} == {"Tillbrook"}


def beside(left: PageInput, right: PageInput) -> PageInput:
    """Two pages on one scan."""
    width = left.reading.width_px
    moved = [
        Word(w.text, Box(w.box.left + width, w.box.top, w.box.right + width, w.box.bottom), 0.9, n)
        for n, w in ((w.line + 100, w) for w in right.reading.words)
    ]
    words = (*left.reading.words, *moved)
    reading = PageReading(words, 2 * width, left.reading.height_px, "tesseract")
    return PageInput(left.ref, "spread.jpg", reading)


def test_two_pages_on_one_scan_are_two_sets() -> None:
    left = page("Tillbrook Radio Co.   MODEL 7-A\nTubes: 6A7, 78, 75, 41, 84.")
    right = page("Tillbrook Radio Co.   MODEL 9-B\nTubes: 6D6, 6A7, 6D6, 75, 42, 80.")
    found = catalogue_unit([beside(left, right)]).entries
    assert {e.models: len(e.tubes) for e in found} == {("7-A",): 5, ("9-B",): 6}
    assert facing(whole_page(left), ()) == ()
    assert facing(whole_page(beside(left, left)), ()) == ()
