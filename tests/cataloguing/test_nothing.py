"""Pages that only look like matter of a set end as "other", searchable, without an entry."""

import pytest

from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageKind
from tests.cataloguing.pages import book, page
from tests.cataloguing.test_unit import FIRST, PARTS

PAGES = {
    "a letter": "Dear Sir\nthank you for your letter about your model 5D10 set.\n"
    "The 12BE6 you ask for is 85 cents, the 50C5 is 90.\nYours truly",
    "an advertisement": "THE NEW MODEL 88 TESTER\nTests every tube\nfor your bench today",
    "a maker's advertisement": "TILLBROOK RADIO CORP.\nFine radios since 1925\nSee your dealer",
    "a price list": "TUBE PRICES\n12BE6 .85   12BA6 .79\n50C5 .95   35W4 .60\n6SA7 1.10",
    "a stock list": "TUBES IN STOCK\n6SA7\n6SK7\n6SQ7\n6V6\n5Y3",
    "a receipt": "RECEIVED WITH THANKS\n3 tubes 6V6\n2 condensers 8 mfd\nTotal 4.50",
    "tube bases": "TUBE BASE DIAGRAMS\n6SA7   6SK7   6SQ7\n12BE6  12BA6  12AV6",
    "a foreword": "FOREWORD\nThis volume covers the models of the year 1951.\nThe editors",
    "numbers": "162\n\n\n4711 22 B 17",
    "what a reader makes of a stain": "WHI lll 0O )( \n|| WWW 5Z4? nnm\nHEEH 6A7",
}


@pytest.mark.parametrize("text", PAGES.values(), ids=PAGES)
def test_such_a_sheet_makes_no_entry_loose_or_bound(text: str) -> None:
    loose = catalogue_unit([page(text)], ["Tillbrook"])
    assert loose.entries == ()
    assert set(loose.facts[0].kinds) == {PageKind.OTHER}
    assert loose.texts[0].split() == text.split()
    bound = catalogue_unit(book(FIRST, text, PARTS), ["Tillbrook"])
    assert [[ref.page for ref in entry.pages] for entry in bound.entries] == [[1, 3]]


@pytest.mark.parametrize(
    "text",
    [
        "12SA7   12SK7\n12SQ7\n50L6   35Z5",  # a label's photograph, its head unread
        "TILLBROOK RADIO CORP.\nMODEL 5D10",  # a cover sheet
        "MODEL 5D10   CHASSIS CH-41A",  # a chassis stamp
        "VOLTAGE CHART\nTUBE   PIN 1 PIN 2 PIN 3 PIN 4\n6V6   0   6.3   250   265",
    ],
)
def test_little_is_enough_where_it_is_about_a_set(text: str) -> None:
    assert len(catalogue_unit([page(text)], ["Tillbrook"]).entries) == 1
