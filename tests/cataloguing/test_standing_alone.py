"""Makers whose name stands alone, and large words that are none. How the trade prints them is
common practice, no source; makers and models are invented."""

from dataclasses import replace

import pytest

from indexer.cataloguing.makers import corporate
from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Box, PageInput
from tests.cataloguing.pages import page

TUBES = "\n\n\nTubes: 12BE6, 12BA6, 12AV6, 50C5, 35W4.\n" + "\n".join(
    f"line {n} of what is printed" for n in range(12)
)


def sheet(text: str, large: str = "", file: str = "a.jpg", number: int = 1) -> PageInput:
    """A page on which one word is set in double lettering."""
    made = page(text + TUBES, file=file, number=number)
    words = [
        replace(w, box=Box(w.box.left, w.box.top - 20, w.box.right, w.box.bottom + 20))
        if w.text == large
        else w
        for w in made.reading.words
    ]
    return replace(made, reading=replace(made.reading, words=tuple(words)))


HEADS = [
    "QUARRYDALE\n\nHome Radio Division\nMODEL {0}-A",
    "QUARRYDALE                SERVICE SHEET      MODELS {0}-A, {0}-B\n\nAlignment",
    "|QUARRYDALE|\n\nChassis {0}-K     Model {0}-A",
    "QUARRYDALE\n\nAldena {0}W   Chassis K{0}   Service-Anleitung",
]


@pytest.mark.parametrize("head", HEADS)
def test_largest_at_the_head_of_several_sheets(head: str) -> None:
    name = "|QUARRYDALE|" if "|" in head else "QUARRYDALE"
    loose = [sheet(head.format(n), name, f"{n}.jpg") for n in (61, 72)]
    bound = [sheet(head.format(n), name, "b.pdf", k) for k, n in enumerate((61, 72), 1)]
    for pages in (loose, bound):
        assert list(first_look(pages).makers) == ["Quarrydale"]
        found = catalogue_unit(pages).entries
        assert {entry.maker for entry in found} == {"Quarrydale"}


@pytest.mark.parametrize(
    "under",
    ["Home Radio Division", "Springfold, N.Y.", "14 Brinmoor Street", "Makers of fine sets"],
)
def test_one_sheet_with_a_firms_line_under_the_name(under: str) -> None:
    assert list(first_look([sheet(f"QUARRYDALE\n\n{under}\nMODEL 61-A", "QUARRYDALE")]).makers) == [
        "Quarrydale"
    ]


def test_before_a_sets_number_on_one_sheet_and_alone_on_another() -> None:
    pages = [
        sheet("QUARRYDALE Aldena 58W  Schaltbild  Chassis K58", file="a.tif"),
        sheet("QUARRYDALE\n\nAldena 58W  Chassis K58  1957/58", "QUARRYDALE", "b.jpg"),
    ]
    (entry,) = catalogue_unit(pages).entries
    assert (entry.maker, entry.models, entry.chassis) == ("Quarrydale", ("Aldena 58W",), ("K58",))


@pytest.mark.parametrize(
    ("texts", "large"),
    [
        (("FOREWORD\n\nto the reader", "FOREWORD\n\nto the reader"), "FOREWORD"),
        (("ALIGNMENT\n\nMODEL 61-A", "ALIGNMENT\n\nMODEL 72-A"), "ALIGNMENT"),
        (("SCHEMATIC\n\nCHASSIS 61-A", "SCHEMATIC\n\nCHASSIS 72-A"), "SCHEMATIC"),
        (("WANTED\n\nall kinds of sets", "WANTED\n\nall kinds of sets"), "WANTED"),
        (("QUARRYDALE\n\nMODEL 61-A", "QUARRYDALE\n\nMODEL 72-A"), ""),  # no larger than the rest
    ],
)
def test_large_words_that_are_no_maker(texts: tuple[str, str], large: str) -> None:
    pages = [sheet(text, large, f"{n}.jpg") for n, text in enumerate(texts)]
    assert list(first_look(pages).makers) == []


def test_a_sets_name_beside_its_maker_is_none() -> None:
    pages = [
        sheet(f"TILLBROOK RADIO CORP.\n\nALDENA\n\nMODEL {n}-A", "ALDENA", f"{n}.jpg")
        for n in (61, 72)
    ]
    assert list(first_look(pages).makers) == ["Tillbrook"]


@pytest.mark.parametrize(
    ("printed", "name"),
    [
        ("TILLBROOK MOTOR RADIO CO.", "Tillbrook"),
        ("TILLBROOK & SONS LTD", "Tillbrook"),
        ("TILLBROOK SONS RADIO", "Tillbrook"),
        ("TILLBROOK BROS. RADIO", "Tillbrook"),
        ("TILLBROOK ELEC. MFG. CO.", "Tillbrook"),
        ("TILLBROOK TEL. & RADIO CORP.", "Tillbrook"),
        ("OAK HOLLOW RADIO", "Oak Hollow"),
        ("UNITED MOTORS RADIO", "United Motors"),
    ],
)
def test_a_card_says_the_name_alone(printed: str, name: str) -> None:
    found = corporate(printed)
    assert found == name or (name == "Oak Hollow" and found == "")  # short first words are refused
