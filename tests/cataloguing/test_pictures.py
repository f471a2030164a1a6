"""What the picture adds to the words: kinds of pages that were hardly read.

The shares of ink are those of the drawn volumes: schematics have 0.11 to 0.19 of their ink in long
strokes, pages of text, covers and advertisements without a drawing have none.
"""

from dataclasses import replace

import pytest

from indexer.cataloguing import sheet as sheets
from indexer.cataloguing.kinds import headings_in, kinds_of
from indexer.cataloguing.region import whole_page
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageInput, PageKind, PictureFacts
from tests.cataloguing.pages import book, page
from tests.cataloguing.test_unit import ADVERTISEMENT, FIRST, PARTS

DRAWING = PictureFacts(ink=0.034, long_lines=0.14, text_like=0.18)
TEXT = PictureFacts(ink=0.034, long_lines=0.0, text_like=0.19)
FRAMED = PictureFacts(ink=0.081, long_lines=0.64, text_like=0.03)  # a cover with a ruled border
PHOTO = replace(DRAWING, photo_like=0.34)
UNREAD = "x\n\nB+   R"


def _kinds(text: str, picture: PictureFacts) -> set[PageKind]:
    return set(kinds_of(whole_page(replace(page(text), picture=picture))))


@pytest.mark.parametrize(
    ("picture", "kind"),
    [
        (DRAWING, PageKind.SCHEMATIC),
        (TEXT, PageKind.OTHER),
        (FRAMED, PageKind.OTHER),
        (PHOTO, PageKind.OTHER),
        (PictureFacts(), PageKind.OTHER),
    ],
)
def test_a_page_of_which_hardly_a_word_was_read(picture: PictureFacts, kind: PageKind) -> None:
    assert _kinds(UNREAD, picture) == {kind}


def test_what_the_picture_alone_tells_stays_unsure() -> None:
    found = kinds_of(whole_page(replace(page(UNREAD), picture=DRAWING)))
    assert 0.5 < found[PageKind.SCHEMATIC] < 0.7, "so that it is among the doubts"


def test_words_win_over_the_picture() -> None:
    assert _kinds("DIAL STRINGING\n\nx", DRAWING) == {PageKind.DIAL_STRINGING}


def test_an_unread_schematic_stays_with_its_set() -> None:
    def volume(picture: PictureFacts) -> list[PageInput]:
        first, unread, parts, advertisement = book(FIRST, UNREAD, PARTS, ADVERTISEMENT)
        return [first, replace(unread, picture=picture), parts, advertisement]

    def shown(picture: PictureFacts) -> list[int]:
        (entry,) = catalogue_unit(volume(picture)).entries
        return [ref.page for ref in entry.pages]

    assert shown(DRAWING) == [1, 2, 3]
    assert shown(PictureFacts()) == [1, 3]


LAYOUT = """
12SK7                         35Z5

          12SA7
                    50L6
   12SQ7
"""
LIST = "12SK7 I.F.\n12SA7 CONV.\n12SQ7 DET.\n50L6 OUTPUT\n35Z5 RECT."


def test_types_here_and_there_in_a_drawing_are_a_tube_layout() -> None:
    assert _kinds(LAYOUT, DRAWING) == {PageKind.TUBE_LAYOUT}
    assert PageKind.TUBE_LAYOUT not in _kinds(LAYOUT, TEXT)
    assert PageKind.TUBE_LAYOUT not in _kinds(LIST, DRAWING), "they stand in a column"


def test_labels_far_apart_are_no_heading() -> None:
    row = "DIAL LAMP                 LOOP                   POWER CORD"
    assert headings_in(whole_page(page(f"{row}\nwords that say no more"))) == []
    assert PageKind.DIAL_STRINGING not in _kinds(f"CHASSIS TOP VIEW\n{row}", DRAWING)


def test_kinds_are_worked_out_once_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    monkeypatch.setattr(sheets, "kinds_of", lambda region: asked.append(region) or kinds_of(region))
    catalogue_unit(book(FIRST, PARTS, ADVERTISEMENT))
    assert len(asked) == 3
