"""Several sets of one maker on the pages of one volume, as different houses set them.

The layouts are the trade's common practice, no source; makers and models are invented.
"""

import pytest

from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Entry, PageKind
from tests.cataloguing.pages import book

_GAP = "\n" * 9
_TABLE = """
TUBE COMPLEMENT
6A8 Converter
6K7 I.F. amplifier
6H6 Second detector
6F5 First audio
6F6 Power output
5Y3 Rectifier
"""
_FARM = """
The set is a four tube farm receiver for a 2 volt storage cell
TUBE COMPLEMENT
1C7G Converter
1D5G I.F. amplifier
1H6G Detector
1F5G Output
"""
_SMALL = """
TUBE COMPLEMENT
6A7 Translator
6D6 I.F. amplifier
75 Detector
42 Output
80 Rectifier
"""
_ALIGN = """
ALIGNMENT
Connect an output meter across the voice coil and keep the generator low
ANTENNA 200 MMF 1400 KC TUNE SIGNAL
"""


def made(*texts: str) -> dict[tuple[str, ...], Entry]:
    return {entry.models: entry for entry in catalogue_unit(book(*texts)).entries}


def pages(entry: Entry) -> list[int]:
    return [ref.page for ref in entry.pages]


STYLES = {
    "maker and models repeated": (
        "TILLBROOK RADIO CORP.   MODELS 61-T, 61-TC\nChassis HM-6B\n" + _TABLE,
        "TILLBROOK RADIO CORP.   MODELS 61-T, 61-TC, 48-B\n"
        f"MODELS 61-T, 61-TC\n{_ALIGN}{_GAP}"
        "TILLBROOK RADIO CORP.   MODEL 48-B   Chassis HM-4F\n" + _FARM,
        "TILLBROOK RADIO CORP.   MODELS 48-B, 212\nMODEL 48-B (continued)\n"
        f"PARTS, MODEL 48-B\nC4 .05 mfd 200 volt W-2205\nR1 50,000 ohm W-3150{_GAP}"
        "TILLBROOK RADIO CORP.   MODEL 212\n" + _SMALL,
    ),
    "bare model lines under the running head": (
        "TILLBROOK RADIO CORP.\nMODELS 61-T, 61-TC   CHASSIS HM-6B\n" + _TABLE,
        "TILLBROOK RADIO CORP.   MODELS 61-T, 61-TC, 48-B\n"
        f"{_ALIGN}{_GAP}MODEL 48-B   CHASSIS HM-4F\n" + _FARM,
        "TILLBROOK RADIO CORP.   MODELS 48-B, 212\n"
        f"PARTS LIST, MODEL 48-B\nC4 .05 MFD 200 V W-2205\nR1 50K W-3150{_GAP}"
        "MODEL 212   CHASSIS HM-6C\n" + _SMALL,
    ),
    "continued after an advertisement": (
        "TILLBROOK RADIO CORP.\nMODELS 61-T, 61-TC   CHASSIS HM-6B\n" + _TABLE,
        f"MODELS 61-T, 61-TC (Continued)\n{_ALIGN}{_GAP}"
        "TILLBROOK RADIO CORP.\nMODEL 48-B   CHASSIS HM-4F\n" + _FARM,
        "ADVERTISEMENT\nKeep a fresh stock of solder and cord\nfor your customers come back",
        f"(Continued)\nPARTS LIST\nC4 .05 MFD 200 V W-2205\nR1 50K W-3150{_GAP}"
        "TILLBROOK RADIO CORP.\nMODEL 212   CHASSIS HM-6C\n" + _SMALL,
    ),
}


@pytest.mark.parametrize("style", STYLES)
def test_each_set_has_its_own_pages_codes_and_tubes(style: str) -> None:
    found = made(*STYLES[style])
    assert set(found) == {("61-T", "61-TC"), ("48-B",), ("212",)}
    last = len(STYLES[style])
    assert pages(found["61-T", "61-TC"]) == [1, 2]
    assert pages(found["48-B",]) == [2, last]
    assert pages(found["212",]) == [last]
    assert found["61-T", "61-TC"].chassis == ("HM-6B",)
    assert found["48-B",].chassis == ("HM-4F",)
    assert found["48-B",].tube_types == ("1C7", "1D5", "1F5", "1H6")
    assert found["61-T", "61-TC"].tube_types == ("5Y3", "6A8", "6F5", "6F6", "6H6", "6K7")
    assert found["212",].tube_types == ("42", "6A7", "6D6", "75", "80")
    assert found["48-B",].supply != "transformer"


def test_a_section_for_one_of_two_models_begins_no_set() -> None:
    found = made(
        "TILLBROOK RADIO CORP.   MODELS 5D10, 5D11   CHASSIS CH-41A\n" + _TABLE,
        f"TILLBROOK RADIO CORP.   MODELS 5D10, 5D11\n{_ALIGN}{_GAP}"
        "CABINET PARTS, MODEL 5D11\nW-1 KNOB WALNUT\nW-2 CLOTH GRILLE",
        "TILLBROOK RADIO CORP.   MODELS 5D10, 5D11\n"
        f"PARTS LIST\nC4 .05 MFD 200 V W-2205{_GAP}DIAL STRINGING, MODEL 5D10\nthe cord runs",
    )
    assert {models: pages(entry) for models, entry in found.items()} == {
        ("5D10", "5D11"): [1, 2, 3]
    }


def test_two_chassis_on_one_sheet_are_one_entry() -> None:
    found = made(
        "TILLBROOK RADIO CORP.\nMODELS 5D10, 5D11   CHASSIS CH-41A\n"
        "MODELS 5D20, 5D21   CHASSIS CH-41B\n" + _TABLE,
        "A LETTER\nto the reader",
    )
    (entry,) = found.values()
    assert entry.models == ("5D10", "5D11", "5D20", "5D21")
    assert entry.chassis == ("CH-41A", "CH-41B")


def test_a_parts_list_of_two_chassis_serves_both_sets() -> None:
    found = made(
        "TILLBROOK RADIO CORP.\nMODEL 61-T   CHASSIS HM-6B\n" + _TABLE,
        "TILLBROOK RADIO CORP.\nMODEL 48-B   CHASSIS HM-4F\n" + _FARM,
        "TILLBROOK RADIO CORP.   MODELS 61-T, 48-B\nPARTS LIST\nC4 .05 MFD 200 V W-2205\n"
        "C5 .1 MFD 200 V W-2206\nR1 50K W-3150\nR2 470K W-3151",
    )
    assert {models: pages(entry) for models, entry in found.items()} == {
        ("61-T",): [1, 3],
        ("48-B",): [2, 3],
    }
    assert found["61-T",].tube_types == ("5Y3", "6A8", "6F5", "6F6", "6H6", "6K7")


def _beside(left: str, right: str) -> str:
    rows = zip(left.strip().split("\n"), right.strip().split("\n"), strict=False)
    return "\n".join(f"{a:<56}{b}" for a, b in rows)


def test_two_sets_side_by_side_in_columns() -> None:
    sheet = "TILLBROOK RADIO CORP.   MODELS 61-T, 212\n\n" + _beside(
        "MODEL 61-T  CHASSIS HM-6B\n\n" + _TABLE + "\nThe dial lamp is 6.3 volts" * 24,
        "MODEL 212  CHASSIS HM-6C\n\n" + _SMALL + "\nThe speaker field is 1000 ohms" * 25,
    )
    found = made(sheet, "A LETTER\nto the reader")
    assert set(found) == {("61-T",), ("212",)}
    assert "42" not in found["61-T",].tube_types
    assert (found["61-T",].chassis, found["212",].chassis) == (("HM-6B",), ("HM-6C",))


@pytest.mark.parametrize(
    ("title", "heading"),
    [
        ("ADDENDA AND CORRECTIONS", "TILLBROOK MODELS 61-T, 61-TC  Chassis HM-6B (see page 7-31)"),
        ("Errata", "TILLBROOK RADIO CORP. MODEL 61-T, see Vol. 7, page 31"),
        ("AMENDMENTS", "See page 31: TILLBROOK MODEL 61-T"),
    ],
)
def test_a_page_of_additions_points_at_the_set(title: str, heading: str) -> None:
    unit = catalogue_unit(
        book(
            "TILLBROOK RADIO CORP.   MODELS 61-T, 61-TC   CHASSIS HM-6B\n" + _TABLE,
            "QUARRYDALE RADIO CORPORATION   MODEL 60-210\n" + _SMALL,
            f"{title}\n\n{heading}\n"
            "In sets above serial 114,600 the 6F5 first audio tube is biased from a cell\n"
            "Where the set motorboats replace the 8 mfd input filter by 16 mfd",
        )
    )
    added = next(entry for entry in unit.entries if entry.pages[0].page == 3)
    assert added.relations == (("addendum to", "61-T"),)
    assert added.models[0] == "61-T"
    assert PageKind.SERVICE_NOTES in unit.facts[2].kinds


def test_elsewhere_a_reference_heads_no_set() -> None:
    unit = catalogue_unit(
        book(
            "TILLBROOK RADIO CORP.   MODEL 61-T   CHASSIS HM-6B\n" + _TABLE,
            "MODEL 5D12 (see page 7-31)\n" + _ALIGN,
        )
    )
    assert [entry.models for entry in unit.entries] == [("61-T",)]
