"""Rows of an index that do not fit what the shelf holds are doubts."""

from pathlib import Path

from indexer import Library
from indexer.corrections.raw_doubt import LISTED
from indexer.indexing import catalogue_again
from tests.cataloguing.test_unit import FIRST
from tests.corrections.shelf import put

HEADER = "SERVICE ANNUAL of the WRENFIELD TRADE PRESS   VOLUME 4"
INDEX = """
INDEX OF MODELS
MAKER        MODEL              VOL.     PAGE
Tillbrook    5D10               4        17
             7K22               3        88
             8K31                        91
             9T-1               2        12
"""


def _page(text: str, number: int) -> str:
    lines = f"{HEADER}\n{text.strip()}".split("\n")
    return "\n".join([*lines, *[""] * (51 - len(lines)), f"PAGE {number}"])


def test_an_index_that_sends_elsewhere_and_one_without_a_volume(tmp_path: Path) -> None:
    with Library(tmp_path / "home") as library:
        letters = [_page("A LETTER\nto the reader", n) for n in (172, 173, 174, 175)]
        texts = (_page(INDEX, 170), _page(FIRST, 171), *letters)
        put(library, tmp_path, "annual.pdf", texts)
        catalogue_again(library.catalogue)
        found = library.doubts(sorts=[LISTED])
        assert sorted((one.file, one.said) for one in found) == [
            ("annual.pdf page 1", "no volume was read of 8K31"),
            ("annual.pdf page 1", "the index puts 5D10 on page 17, it stands on 171"),
        ]
        library.looked_at("annual.pdf#1")
        assert not library.doubts(sorts=[LISTED])
