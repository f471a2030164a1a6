"""A maker by the name of a folder or file, where the pages name none."""

from pathlib import Path

import pytest

from indexer import Library
from indexer.cataloguing.entry import FOLDERS_MAKER
from indexer.cataloguing.folders import maker_by_folder
from indexer.cataloguing.unit import catalogue_unit
from indexer.corrections.doubts import NO_MAKER, raw_doubts
from indexer.indexing import catalogue_again
from indexer.trade.codes import fold
from indexer.units import catalogue_stale
from tests.cataloguing.pages import page
from tests.corrections.shelf import put, with_code

KNOWN = ("Tillbrook", "Quarrydale", "Pell and Son")
LABEL = "MODEL 5D10   CHASSIS CH-41A\nV1 12BE6\nV2 12BA6\nV3 12AV6\nV4 50C5\nV5 35W4"


@pytest.mark.parametrize(
    ("file", "maker"),
    [
        ("Tillbrook/scan 4.jpg", "Tillbrook"),
        ("radios/TILLBROOK sets, 1938 on/a/scan 4.jpg", "Tillbrook"),
        ("pell-and-son/scan.tif", "Pell and Son"),
        ("QD/scan.tif", "Quarrydale"),
        ("Tillbrook/Quarrydale/scan.tif", "Quarrydale"),
        ("Tillbrook and Quarrydale/scan.tif", ""),
        ("Kitchen/scan.tif", ""),
        ("Tillbrookish/scan.tif", ""),
        ("tillbrook.tif", ""),
    ],
)
def test_folders_named_after_known_makers(file: str, maker: str) -> None:
    known = (*KNOWN, "QD")
    assert maker_by_folder(file, known, {fold("QD"): "Quarrydale"}) == maker


def test_a_files_own_name_counts_for_a_loose_sheet() -> None:
    assert maker_by_folder("b/tillbrook 5d10 a.tif", KNOWN, {}, by_name=True) == "Tillbrook"


def test_no_masthead_and_the_folder_gives_the_maker_with_a_doubt() -> None:
    (entry,) = catalogue_unit([page(LABEL, file="Tillbrook/scan.jpg")], KNOWN).entries
    assert (entry.maker, entry.models) == ("Tillbrook", ("5D10",))
    assert FOLDERS_MAKER in entry.doubts
    assert entry.evidence["maker"] == "the name of Tillbrook/scan.jpg"


def test_what_is_printed_wins() -> None:
    text = "QUARRYDALE RADIO CORPORATION\n" + LABEL
    (entry,) = catalogue_unit([page(text, file="Tillbrook/scan.jpg")], KNOWN).entries
    assert entry.maker == "Quarrydale"
    assert FOLDERS_MAKER not in entry.doubts


def test_a_folder_in_which_other_makers_lie_says_nothing() -> None:
    sheets = [
        page(
            "QUARRYDALE RADIO CORPORATION\nMODEL 60-210\nV1 6SA7\nV2 6SK7", file="Tillbrook/1.jpg"
        ),
        page("MODEL 61-210\nV1 6SA7\nV2 6SK7", file="Tillbrook/2.jpg"),
    ]
    assert {e.models[0]: e.maker for e in catalogue_unit(sheets, KNOWN).entries} == {
        "60-210": "Quarrydale", "61-210": "",
    }  # fmt: skip


def test_a_maker_learned_later_names_the_sheets_in_its_folder(tmp_path: Path) -> None:
    with Library(tmp_path / "home") as library:
        put(library, tmp_path, "Vantrice/scan.jpg", (LABEL,))
        catalogue_again(library.catalogue)
        assert with_code(library, "5D10").maker == ""
        text = "VANTRICE RADIO COMPANY\nMODEL M-37\nV1 6A8\nV2 6K7"
        put(library, tmp_path, "volume.pdf", (text, "A LETTER\nto the reader"))
        catalogue_stale(library.catalogue, lambda done, of, seconds: None)
        named = with_code(library, "5D10")
        assert named.maker == "Vantrice"
        assert [(d.entry, d.sort) for d in raw_doubts(library.entries, [NO_MAKER])] == [
            (named.id, NO_MAKER)
        ]
