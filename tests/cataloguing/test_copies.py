"""Which of several scans is shown, and how its set's run of pages stays whole."""

from dataclasses import replace

from indexer.cataloguing.copies import Sketch, best_of, is_copy, sketch
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageInput, PictureFacts
from tests.cataloguing.pages import book, page
from tests.cataloguing.test_unit import FIRST, LAST, PARTS, SHARED

PICTURE = "f0f0f0f0f0f0f0f0"


def _read(quality: float) -> Sketch:
    return Sketch((), (), "", quality)


def test_a_best_copy_stands_where_its_page_was_bound() -> None:
    sheets = book(FIRST, PARTS, SHARED, LAST, FIRST)
    made = catalogue_unit(sheets, copies={sheets[0].ref: sheets[4].ref})
    pages = {entry.models: [ref.page for ref in entry.pages] for entry in made.entries}
    assert pages == {("5D10", "5D11"): [5, 2, 3], ("60-210",): [3, 4]}


def test_page_numbers_are_not_counted_on_past_a_copy_at_the_end() -> None:
    foot = "\n" * (50 - FIRST.strip().count("\n"))
    texts = [f"{FIRST.strip()}{foot}PAGE {n}" for n in (161, 162, 163, 164, 165)]
    sheets = book(*texts, texts[1])
    made = catalogue_unit(sheets, copies={sheets[1].ref: sheets[5].ref})
    assert [fact.printed for fact in made.facts] == ["161", "162", "163", "164", "165", "162"]


def test_of_loose_scans_the_best_read_is_shown() -> None:
    assert best_of([("a:000001", _read(100), 1), ("b:000001", _read(104), 1)]) == "b:000001"


def test_a_bound_page_is_kept_unless_it_was_read_much_worse() -> None:
    loose = ("a:000001", _read(120), 1)
    assert best_of([loose, ("b:000040", _read(100), 90)]) == "b:000040"
    assert best_of([loose, ("b:000040", _read(60), 90)]) == "a:000001"


def test_of_a_page_scanned_again_in_its_own_file_the_better_scan_is_shown() -> None:
    assert best_of([("a:000007", _read(100), 90), ("a:000090", _read(130), 90)]) == "a:000090"


def test_of_a_volume_scanned_twice_the_first_is_kept_whole() -> None:
    pages = [("a:000007", _read(100), 90), ("b:000007", _read(130), 88)]
    assert best_of(pages) == "a:000007"


HEAD = "TILLBROOK   MODELS 5D10, 5D11   CHASSIS CH-41A   RUN 2"
TUBES = ["V1", "6BA6", "V2", "6BE6", "V3", "6AV6"]
PARTS_OF = ["R4", "C7", "470K", ".05", "R9", "1M", "L3", "T2", "R11", "C12", "22K"]
LABELS = [*TUBES, *PARTS_OF]


def _drawing(number: str, labels: list[str], phash: str = PICTURE) -> PageInput:
    text = "\n".join([HEAD, "", *labels, *[""] * (50 - len(labels)), f"PAGE {number}"])
    return replace(page(text), picture=PictureFacts(phash=phash))


def test_a_drawing_whose_labels_were_read_otherwise_is_still_the_same_page() -> None:
    garbled = [*TUBES[:4], "W3", "6AW6", "RA", "G7", "47OX", ".06", "RQ", "TM", *PARTS_OF[6:]]
    one, other = sketch(_drawing("162", LABELS)), sketch(_drawing("162", garbled))
    assert is_copy(one, other)


def test_two_drawings_of_one_set_are_told_apart_by_their_page_numbers() -> None:
    one, other = sketch(_drawing("162", LABELS)), sketch(_drawing("163", LABELS[3:]))
    assert not is_copy(one, other)


def test_an_unsure_word_does_not_tell_a_copy_from_its_page() -> None:
    again = _drawing("162", LABELS)
    slipped = tuple(
        replace(word, text="5X10,", confidence=0.4) if word.text == "5D10," else word
        for word in again.reading.words
    )
    again = replace(again, reading=replace(again.reading, words=slipped))
    assert is_copy(sketch(_drawing("162", LABELS)), sketch(again))


def test_a_form_filled_in_for_two_sets_is_no_copy() -> None:
    """The same words but for a model and a chassis, on sheets that look the same."""
    words = tuple(range(1000, 1022))
    one = Sketch((*words, 1), (*words[:7], 1, 2), PICTURE, 20, 0.95)
    other = Sketch((*words, 3), (*words[:7], 3, 4), PICTURE, 20, 0.95)
    assert not is_copy(one, other)
    long = tuple(range(1000, 1120))
    again = [Sketch((*long, n), (*long[:7], n, n + 1), PICTURE, 100, 0.95) for n in (1, 3)]
    assert is_copy(*again)
