"""Pages scanned twice over several files, sets that name each other, and the list of makers."""

import hashlib
from dataclasses import replace
from pathlib import Path

from indexer import Library, entry_json
from indexer.model import PageState, PictureFacts
from indexer.units import catalogue_stale
from tests.cataloguing.pages import page

SHEET = """
TILLBROOK RADIO MFG. CO.   MODEL 5D10   CHASSIS CH-41A   162
SPECIFICATIONS
V1 12BE6 Converter
V2 12BA6 I.F. Amplifier
V3 12AV6 Det. Audio
V4 50C5 Power Output
V5 35W4 Rectifier
PARTS LIST
C1  A-4289  CAPACITOR PAPER .05 MFD 200 V
C2  A-6582  CAPACITOR MICA 56 MMF 500 V
R1  B-3524  RESISTOR CARBON 22K
"""
LIKE = """
TILLBROOK RADIO MFG. CO.   MODEL 7K22   CHASSIS CH-60B   201
Model 7K22 is the same as Model 5D10 except for the cabinet.
VOLTAGE CHART
TUBE   PIN 1 PIN 2 PIN 3
12BE6  -6.5  0     12.6
"""


def shelve(library: Library, folder: Path, sheets: dict[str, str]) -> None:
    """Puts readings in as if each sheet were a file that the first reader had read."""
    catalogue = library.catalogue
    folder_id = catalogue.folder_id(folder)
    for n, (name, text) in enumerate(sheets.items()):
        digest = hashlib.sha256(name.encode()).hexdigest()
        made = replace(page(text, file=name), picture=PictureFacts(phash=f"f0f0f0f0f0f0f0f{n}"))
        catalogue.put_content(digest, "image", "", f"unit of {name}", [""])
        catalogue.put_file(folder_id, name, 1, 1, sha256=digest)
        (row,) = catalogue.rows("SELECT id FROM page WHERE sha256 = ?", digest)
        catalogue.put_reading(
            row["id"],
            [made.reading],
            made.reading,
            made.picture,
            state=PageState.DONE,
            wants_second=False,
        )
    catalogue_stale(catalogue, lambda done, of, seconds: None)


def test_a_page_scanned_twice_is_shown_once_with_its_copy(tmp_path: Path) -> None:
    worse = SHEET.replace("CAPACITOR MICA", "").replace("Converter", "C0nverter")
    with Library(tmp_path / "home") as library:
        shelve(library, tmp_path, {"worse.tif": worse, "better.tif": SHEET})
        (entry,) = library.all_entries()
        shown = entry_json(library, entry)["pages"]
        assert [p["file"] for p in shown] == ["better.tif"]
        assert shown[0]["copies"] == [{"file": "worse.tif", "page": 1}]
        served = {p.file: library.entries.entries_on_page(p.page_id) for p in library.pages()}
        assert served == {"better.tif": [entry.id], "worse.tif": [entry.id]}


def test_when_the_best_copy_goes_the_other_one_serves(tmp_path: Path) -> None:
    worse = SHEET.replace("CAPACITOR MICA", "")
    with Library(tmp_path / "home") as library:
        shelve(library, tmp_path, {"worse.tif": worse, "better.tif": SHEET})
        folder_id = library.catalogue.folder_id(tmp_path)
        library.catalogue.forget_files(folder_id, ["better.tif"])
        library.catalogue.forget_orphans()
        catalogue_stale(library.catalogue, lambda done, of, seconds: None)
        (entry,) = library.all_entries()
        assert [p["file"] for p in entry_json(library, entry)["pages"]] == ["worse.tif"]


def test_find_gives_the_set_that_another_is_the_same_as(tmp_path: Path) -> None:
    with Library(tmp_path / "home") as library:
        shelve(library, tmp_path, {"a.tif": SHEET, "b.tif": LIKE})
        found = library.find(library.understand("Tillbrook 7K22")).matches
        assert [match.entry.models for match in found[:2]] == [("7K22",), ("5D10",)]
        assert "the same as 5D10" in " ".join(found[1].why)
        said = entry_json(library, found[0].entry)["relations"]
        assert said == [
            {"relation": "same as", "model": "5D10", "entry": found[1].entry.id},
        ]


def test_the_persons_own_makers_win(tmp_path: Path) -> None:
    with Library(tmp_path / "home") as library:
        shelve(library, tmp_path, {"a.tif": SHEET})
        rows = "maker,alias\nTillbrook & Vane,Tillbrook\n"
        (tmp_path / "home" / "makers.csv").write_text(rows, encoding="utf-8")
        catalogue_stale(library.catalogue, lambda done, of, seconds: None)
        assert [entry.maker for entry in library.all_entries()] == ["Tillbrook & Vane"]


def test_a_makers_name_misread_in_an_index_is_the_one_that_other_books_print(
    tmp_path: Path,
) -> None:
    index = "INDEX OF MODELS\nMODEL        VOL.     PAGE\nPILLBROOK\n"
    index += "".join(f"{n}D10        3      {n}4\n" for n in range(11, 19))
    with Library(tmp_path / "home") as library:
        shelve(library, tmp_path, {"index.tif": index, "a.tif": SHEET, "b.tif": LIKE})
        assert {row.maker for row in library.entries.all_listings()} == {"Tillbrook"}
