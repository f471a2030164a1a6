"""Other houses' ways to name sets and head sections. How the trade prints it is common practice,
no source; makers and models are invented."""

import pytest

from indexer.cataloguing import makers
from indexer.cataloguing.kinds import headings_in, kinds_of
from indexer.cataloguing.labels import plain_labels, plain_words
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageKind
from tests.cataloguing.pages import book, page

CHART = """
VOLTAGES
TUBE   PIN 1 PIN 2 PIN 3
12BE6  -6.5  0     12.6
12BA6  -.8   0     12.6
50C5   5.6   0     50
"""


@pytest.mark.parametrize(
    "head",
    [
        "Tillbrook Model 5D10, 5D11\nChassis CH-41A",
        "MAKE: TILLBROOK   MODEL: 5D10, 5D11\nCHASSIS: CH-41A",
        "TILLBROOK ELECTRIC COMPANY\nMod. 5D10, 5D11   Chas. CH-41A",
        "SERVICE DATA FOR TILLBROOK RECEIVERS\nTYPES 5D10 and 5D11\nChassis No. CH-41A",
        "THE TILLBROOK CORPORATION\n5D10, 5D11   CHASSIS CH-41A",
        "Tillbrook Radio & Television Corp.\nModels 5D10, 5D11\nChassis CH-41A",
        "MAKE  Tillbrook\nMODEL NO.  5D10, 5D11\nCHASSIS NO.  CH-41A",
        "MODELS 5D10, 5D11          TILLBROOK RADIO CORPORATION\nCHASSIS CH-41A",
        "TILLBROOK RADIO CORPORATION\nMODELS\n5D10   5D11\nCHASSIS CH-41A",
        "SCHEMATIC DIAGRAM, TILLBROOK MODELS 5D10, 5D11  CH. CH-41A RUN 2",
    ],
)
def test_mastheads_of_other_houses(head: str) -> None:
    (entry,) = catalogue_unit(book(head + "\n" + CHART, "A LETTER\nto the reader")).entries
    assert (entry.maker, entry.models, entry.chassis) == (
        "Tillbrook",
        ("5D10", "5D11"),
        ("CH-41A",),
    )


def test_a_maker_learned_elsewhere_names_sets_without_the_word_model() -> None:
    known = ["Tillbrook"]
    (entry,) = catalogue_unit(
        book("Tillbrook 5D10 (Chassis CH-41A)\n" + CHART, "A LETTER\nto the reader"), known
    ).entries
    assert (entry.models, entry.chassis) == (("5D10",), ("CH-41A",))


def test_makers_stand_before_models() -> None:
    pages = book("Tillbrook Model 5D10\ntext", "QUARRYDALE   88-K\ntext", "QUARRYDALE   89-K\nmore")
    assert set(first_look(pages).makers) == {"Tillbrook", "Quarrydale"}


def test_a_publisher_is_no_maker() -> None:
    header = "44   BRACKWATER RADIO HANDBOOK   VOL. 3\n"
    pages = [header + "TILLBROOK RADIO MFG. CO.\nMODEL 5D10\n" + CHART]
    pages += [
        header.replace("44", str(n)) + f"VANTRICE CORP.\nMODEL M{n}\n" + CHART for n in (45, 46)
    ]
    assert [entry.maker for entry in catalogue_unit(book(*pages)).entries] == [
        "Tillbrook", "Vantrice", "Vantrice"
    ]  # fmt: skip


def test_a_slip_of_a_common_name_is_that_name() -> None:
    assert makers.one_slip("PELLHURST", "PELLBURST")
    assert makers.one_slip("LARKMOOR", "LARKRNOOR")
    assert not makers.one_slip("OXBARROW", "OXFARROT")
    assert makers.as_known("PELLBURST", ["Pellhurst"]) == "Pellhurst"


@pytest.mark.parametrize(
    ("heading", "kind"),
    [
        ("Table of Voltages", PageKind.VOLTAGE_CHART),
        ("Point-to-Point Resistances", PageKind.RESISTANCE_CHART),
        ("WHERE THE TUBES ARE", PageKind.TUBE_LAYOUT),
        ("Chassis Seen from Below", PageKind.CHASSIS_VIEW),
        ("REPLACING THE DIAL CORD", PageKind.DIAL_STRINGING),
        ("How to Align the Set", PageKind.ALIGNMENT),
        ("REPAIR PARTS", PageKind.PARTS_LIST),
        ("DIAGRAM OF CONNECTIONS", PageKind.SCHEMATIC),
        ("V0LTAGE CHART", PageKind.VOLTAGE_CHART),
    ],
)
def test_headings_by_their_root_words(heading: str, kind: PageKind) -> None:
    assert kind in kinds_of(whole_page(page(f"{heading}\n\n\nwords that say nothing more")))


@pytest.mark.parametrize(
    "line",
    [
        "RESISTANCE IN OHMS",
        "VOLTAGES ON THE CHART",
        "DIAL CORD, 42 IN",
        "set the dial and the cord.",
    ],
)
def test_lines_that_only_look_like_headings(line: str) -> None:
    assert headings_in(whole_page(page(f"{line}\nwords that say nothing more"))) == []


def test_one_heading_may_announce_two_sections() -> None:
    found = kinds_of(whole_page(page("TUBE LAYOUT      DIAL STRINGING\n\nwords that say no more")))
    assert {PageKind.TUBE_LAYOUT, PageKind.DIAL_STRINGING} <= set(found)


def test_words_are_put_right_and_codes_are_not() -> None:
    assert plain_words("SER1ES") == "SERIES"
    assert plain_labels("M0DEL 50A CHASSI5 5S0") == "MODEL 50A CHASSIS 5S0"
    assert plain_labels("MODEL3W-4") == "MODEL 3W-4"


SUBSTITUTES = """
TUBE SUBSTITUTION CHART
FOR    USE
12SA7  12BE6
6SA7   6BE6
50L6   35L6
"""


def test_charts_of_tubes_and_steps_of_alignment_are_no_line_up() -> None:
    set_ = "TILLBROOK RADIO MFG. CO.\nMODEL 5D10\n" + CHART
    steps = (
        "MODEL 5D10 (Continued)\nALIGNMENT\n1 Grid of 12BE6 1600 kc Trimmer\n2 Grid of 12BA6 455 kc"
    )
    (entry,) = catalogue_unit(book(set_, steps, SUBSTITUTES)).entries
    assert entry.tube_types == ("12BA6", "12BE6", "50C5")
    assert [ref.page for ref in entry.pages] == [1, 2]


def test_sets_named_at_the_foot_of_their_pages() -> None:
    def foot(text: str, line: str) -> str:
        return text.strip("\n") + "\n" * (50 - text.strip("\n").count("\n")) + line

    pages = [
        foot(CHART, "TILLBROOK 5D10 - PAGE 12"),
        foot("PARTS LIST\nC1  A-4289  CAPACITOR", "TILLBROOK 5D10 - PAGE 13"),
        foot(CHART, "QUARRYDALE 60-210 - PAGE 14"),
        foot("PARTS LIST\nC1  A-4290  CAPACITOR", "QUARRYDALE 60-210 - PAGE 15"),
    ]
    made = catalogue_unit(book(*pages)).entries
    assert [(e.maker, e.models, [ref.page for ref in e.pages]) for e in made] == [
        ("Tillbrook", ("5D10",), [1, 2]),
        ("Quarrydale", ("60-210",), [3, 4]),
    ]
