"""Kinds told by labels, plates and headings of other houses and tongues. How they are worded is
common practice, no source; makers and models are invented."""

from dataclasses import replace

import pytest

from indexer.cataloguing.kinds import kinds_of
from indexer.cataloguing.region import whole_page
from indexer.model import PageKind
from tests.cataloguing.pages import page


def kinds(text: str, **picture: float) -> set[PageKind]:
    made = page(text)
    return set(kinds_of(whole_page(replace(made, picture=replace(made.picture, **picture)))))


@pytest.mark.parametrize(
    "label",
    [
        "TUBE LOCATIONS 117 VOLTS AC-DC 40 WATTS",
        "VALVE POSITIONS",
        "TUBE PLACEMENT    MODEL 5D10",
    ],
)
def test_a_label_that_says_where_tubes_stand(label: str) -> None:
    text = f"TILLBROOK\nMODEL 5D10\n12SA7  12SK7  12SQ7  50L6GT\n{label}\nCONV\nIF\n35Z5GT"
    assert PageKind.TUBE_LAYOUT in kinds(text)


def test_a_word_on_where_to_look_is_no_layout() -> None:
    assert PageKind.TUBE_LAYOUT not in kinds("MODEL 5D10\nFor tube locations see page 4.")


def test_a_name_plate_is_no_schematic() -> None:
    drawn = {"long_lines": 0.2, "text_like": 0.4}
    plate = "TILLBROOK RADIO CO.\nMODEL 5D10\nSERIAL 204417\n6 VOLTS"
    assert kinds(plate, **drawn) == {PageKind.OTHER}
    assert PageKind.SCHEMATIC in kinds("TILLBROOK\nMODEL 5D10", **drawn)


def test_valve_readings_and_parts_under_their_own_names() -> None:
    text = """DUNMARL 610
VALVE ANALYSIS
Valve   Anode V   mA
V1   ECH35   215   2.4
V2   EF39   215   5.1
V3   EBC33   82   .4

CONDENSERS
C1    Aerial shunt   0.001
C14   A.F. coupling   0.01
C19   H.T. smoothing   16

RESISTORS
R1    V1 C.G.   1 meg
R4    V1 S.G. feed   27,000
R9    V3 anode load   220,000"""
    assert kinds(text) == {PageKind.VOLTAGE_CHART, PageKind.PARTS_LIST}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Korvenna 58\nAbgleich\n460 kHz   ECH81   Kreise I-IV   Max.\n555 kHz   L12   Max.",
         PageKind.ALIGNMENT),
        ("Korvenna 58\nABGLEICHANWEISUNG\n460 kHz   ECH81   Kreise I-IV   Max.",
         PageKind.ALIGNMENT),
        ("Korvenna 58\nSTÜCKLISTE\nC1   50 pF\nR1   1 M", PageKind.PARTS_LIST),
        ("BULLETIN 16\nConnect the generator to the converter grid and peak the I.F. trimmers\n"
         "at 455 kc with the gang fully open. Then set it to 1400 kc and adjust the antenna\n"
         "trimmer for maximum output.", PageKind.ALIGNMENT),
    ],
)  # fmt: skip
def test_headings_in_other_tongues_and_alignment_in_prose(text: str, kind: PageKind) -> None:
    assert kind in kinds(text)


@pytest.mark.parametrize(
    "text", ["This page left blank for the owner's notes", "NOTES", "SERVICEMAN'S NOTES"]
)
def test_a_page_left_for_notes_is_none(text: str) -> None:
    assert kinds(text) == {PageKind.OTHER}


def test_notes_that_say_something_stay_notes() -> None:
    text = "SERVICE NOTES\n" + "If the set hums on all stations, renew the filter condenser C19.\n"
    assert PageKind.SERVICE_NOTES in kinds(text * 3)
