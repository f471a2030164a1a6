"""Pages made into entries, as a person would leaf through them."""

from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Entry, PageKind
from tests.cataloguing.pages import book, page

FIRST = """
TILLBROOK RADIO MFG. CO.
MODELS 5D10, -11      CHASSIS CH-41A
5 TUBE A.C. - D.C. RECEIVER   ISSUED 1951   I.F. 455 KC

VOLTAGE CHART
TUBE   FUNCTION       PIN 1  PIN 2  PIN 3
12BE6  CONVERTER      -6.5   0      12.6 AC  90
12BA6  I.F. AMPLIFIER -.8    0      12.6 AC  90
12AV6  DET. AUDIO     -.8    0      12.6 AC  45
50C5   POWER OUTPUT   5.6    0      50 AC    102
35W4   RECTIFIER      NC     NC     35 AC    115
"""
PARTS = """
TILLBROOK RADIO MFG. CO.   MODELS 5D10, -11  CHASSIS CH-41A  (Continued)
PARTS LIST
C1  A-4289  CAPACITOR PAPER .05 MFD 200 V
C2  A-6582  CAPACITOR MICA 56 MMF 500 V
R1  B-3524  RESISTOR CARBON 22K
V1  A-2832  TUBE, 12BE6 CONVERTER
V2  C-3787  TUBE, 12BA6 AMPLIFIER
V3  C-3786  TUBE, 12AV6 DETECTOR
V4  C-3785  TUBE, 50C5 OUTPUT
V5  C-3784  TUBE, 35W4 RECTIFIER
"""
SHARED = """
TILLBROOK RADIO MFG. CO.   MODELS 5D10, -11  CHASSIS CH-41A  (Continued)
DIAL STRINGING
the cord runs twice round the shaft and once round the drum with the gang closed








QUARRYDALE RADIO CORPORATION
MODEL 60-210      CHASSIS 60-21
SPECIFICATIONS
V1 6SA7 Converter
V2 6SK7 I.F. Amplifier
V3 6SQ7 Det. Audio
V4 6V6 Power Output
V5 5Y3 Rectifier
"""
ADVERTISEMENT = """
ADVERTISEMENT
Keep a fresh stock of solder and dial cord
for your customers come back to a shop that has it
"""
LAST = """
QUARRYDALE RADIO CORPORATION   MODEL 60-210  CHASSIS 60-21  (Continued)
ALIGNMENT PROCEDURE
STEP  CONNECT GENERATOR TO  DUMMY ANTENNA  ADJUST FOR MAXIMUM
1  CONVERTER GRID  .1 MFD  455 KC  TRIMMERS
"""


def entries(*texts: str) -> dict[tuple[str, ...], Entry]:
    return {entry.models: entry for entry in catalogue_unit(book(*texts)).entries}


def pages(entry: Entry) -> list[int]:
    return [ref.page for ref in entry.pages]


def test_a_set_over_three_pages_and_a_page_shared_by_two() -> None:
    found = entries(FIRST, PARTS, SHARED, ADVERTISEMENT, LAST)
    assert set(found) == {("5D10", "5D11"), ("60-210",)}
    assert pages(found["5D10", "5D11"]) == [1, 2, 3]
    assert pages(found["60-210",]) == [3, 5], "the advertisement is no page of the set"


def test_facts_of_the_set() -> None:
    found = entries(FIRST, PARTS)["5D10", "5D11"]
    assert found.maker == "Tillbrook"
    assert found.chassis == ("CH-41A",)
    assert found.tube_types == ("12AV6", "12BA6", "12BE6", "35W4", "50C5")
    assert (found.year, found.if_khz) == (1951, 455)
    assert (found.supply, found.live_chassis) == ("series string", "likely")
    assert found.string_volts == 122.8  # common practice, no source


def test_tubes_of_a_shared_page_go_to_their_own_set() -> None:
    found = entries(FIRST, PARTS, SHARED, LAST)
    assert found["60-210",].tube_types == ("5Y3", "6SA7", "6SK7", "6SQ7", "6V6")
    assert "6V6" not in found["5D10", "5D11"].tube_types


def test_page_kinds() -> None:
    facts = catalogue_unit(book(FIRST, PARTS, SHARED, ADVERTISEMENT, LAST)).facts
    assert PageKind.VOLTAGE_CHART in facts[0].kinds
    assert PageKind.PARTS_LIST in facts[1].kinds
    assert PageKind.DIAL_STRINGING in facts[2].kinds
    assert set(facts[3].kinds) == {PageKind.OTHER}
    assert PageKind.ALIGNMENT in facts[4].kinds


def test_a_mention_is_no_line_up() -> None:
    text = FIRST + "\nSERVICE NOTES\nA 12AT6 MAY BE USED IN PLACE OF the 12AV6\n"
    assert "12AT6" not in entries(text)["5D10", "5D11"].tube_types


def test_two_output_tubes_are_two_and_two_halves_are_one() -> None:
    text = """
VANTRICE RADIO CORP.
MODEL C-700
SPECIFICATIONS
V1 6SN7 Inverter
V1 6SN7 Inverter second half
V2 6V6 Output
V3 6V6 Output
V4 5U4 Rectifier
"""
    assert entries(text)["C-700",].tube_types == ("5U4", "6SN7", "6V6", "6V6")


def test_loose_sheets_of_one_set_are_one_entry_in_any_order() -> None:
    sheets = [
        page(PARTS, file="scan9.png"),
        page(LAST, file="scan1.png"),
        page(FIRST, file="a.jpg"),
    ]
    found = {entry.models: entry for entry in catalogue_unit(sheets).entries}
    assert len(found["5D10", "5D11"].pages) == 2
    assert len(found["60-210",].pages) == 1


def test_a_page_with_nothing_recognisable_makes_no_entry() -> None:
    made = catalogue_unit([page("Dear Sir\nthank you for your letter of the third", file="l.png")])
    assert made.entries == ()
    assert set(made.facts[0].kinds) == {PageKind.OTHER}
    assert "thank you" in made.texts[0]


def test_the_same_pages_give_the_same_answer() -> None:
    volume = book(FIRST, PARTS, SHARED, ADVERTISEMENT, LAST)
    assert catalogue_unit(volume) == catalogue_unit(volume)


INDEX = """
SERVICE ANNUAL of the WRENFIELD TRADE PRESS   VOLUME IV
INDEX TO VOLUMES 1 TO 4
MAKER        MODEL                          VOL.    PAGE
Halvorne     U 310 ......................... 3 ..... 88
"       "    U 410 ......................... 3 ..... 90
11      "    40-B, 40-C .................... 3 ..... 146
Tillbrook    5D10, 11, 12 .................. 4 ..... 201
"       "    T-67 .......................... IV .... 215
"""


def test_an_index_page_becomes_listings_and_no_entry() -> None:
    made = catalogue_unit(book(INDEX, FIRST))
    rows = [(row.maker, row.model, row.volume, row.page) for row in made.listings]
    assert rows == [
        ("Halvorne", "U 310", "3", "88"),
        ("Halvorne", "U 410", "3", "90"),
        ("Halvorne", "40-B, 40-C", "3", "146"),
        ("Tillbrook", "5D10, 11, 12", "4", "201"),
        ("Tillbrook", "T-67", "4", "215"),
    ]
    assert {row.publication for row in made.listings} == {
        "Service Annual of the Wrenfield Trade Press"
    }
    assert [entry.models for entry in made.entries] == [("5D10", "5D11")]


def test_what_a_first_look_found_changes_nothing() -> None:
    pages = book(FIRST, PARTS)
    assert catalogue_unit(pages, look=first_look(pages)) == catalogue_unit(pages)
