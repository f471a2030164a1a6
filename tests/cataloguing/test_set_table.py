"""Lists of sets on a page: each row a set of its own, whoever typed or wrote them."""

import random
from collections.abc import Sequence
from dataclasses import replace

import pytest

from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Entry, PageInput, Word
from tests.cataloguing.pages import page

ROWS = [
    ("Harrowmere", "88-J", "HM-8", "6K7 6L7 6C5 6H6 6F6 5Z3"),
    ("Velgrove", "V-4460", "44-T", "7A8 7A7 7C6 7C5 7Y4"),
    ("Ardencroft", "22", "", "6A7 6D6 75 42 80"),
    ("Netherby", "NE-5P", "", "1R5 1U4 1U5 3V4 117Z3"),
]
STARTS = (0, 16, 28, 40)


def table(
    heads: tuple[str, ...], *below: str, rows: Sequence[tuple[str, ...]] = tuple(ROWS)
) -> str:
    """Columns that begin where STARTS says, the heading over them."""
    lines = ["SETS DONE THIS WINTER", ""]
    for row in (heads, *rows):
        line = ""
        for start, cell in zip(STARTS, row, strict=False):
            line = line.ljust(start) + cell
        lines.append(line)
    return "\n".join([*lines, "", *below])


def by_columns(made: PageInput) -> PageInput:
    """The page as a reader gives it who goes down each column in turn."""
    edges = [100.0 + 22 * start - 40 for start in STARTS]
    words = [(sum(w.box.left >= edge for edge in edges), w.line, w) for w in made.reading.words]
    words.sort(key=lambda item: item[:2])
    numbers: dict[tuple[int, int], int] = {}
    placed: list[Word] = []
    for column, line, word in words:
        number = numbers.setdefault((column, line), len(numbers))
        placed.append(replace(word, line=number))
    return replace(made, reading=replace(made.reading, words=tuple(placed)))


def told(entries: tuple[Entry, ...]) -> list[tuple[str, str, str, str]]:
    return sorted(
        (e.maker, " ".join(e.models), " ".join(e.chassis), " ".join(t.type for t in e.tubes))
        for e in entries
    )


def ordered(rows: list[tuple[str, ...]]) -> list[tuple[str, str, str, set[str]]]:
    return sorted((m, n, c, set(t.split())) for m, n, c, t in rows)


def found(made: PageInput) -> list[tuple[str, str, str, set[str]]]:
    entries = catalogue_unit([made]).entries
    assert all(e.pages == (made.ref,) for e in entries)
    return [(m, n, c, set(t.split())) for m, n, c, t in told(entries)]


@pytest.mark.parametrize(
    "heads",
    [
        ("Maker", "Model", "Chassis", "Tubes"),
        ("MAKE", "TYPE", "CHASSIS", "VALVES"),
        ("Manufacturer", "Model No.", "Chassis", "Tube line-up"),
        ("Marke", "Typ", "Chassis", "Röhren"),
        ("Brand", "Set", "Chas.", "Tubes used"),
    ],
)
def test_each_row_is_a_set_in_any_wording(heads: tuple[str, ...]) -> None:
    assert found(page(table(heads))) == ordered(list(ROWS))


def test_columns_read_one_after_the_other_are_rows_again() -> None:
    assert found(by_columns(page(table(("Maker", "Model", "Chassis", "Tubes"))))) == ordered(
        list(ROWS)
    )


def test_rows_of_a_sloping_photo_are_kept_apart() -> None:
    made = page(table(("Make", "Model", "Chassis", "Valves")))
    words = tuple(
        replace(w, box=replace(w.box, top=w.box.top + w.box.left / 20,
                               bottom=w.box.bottom + w.box.left / 20))
        for w in made.reading.words
    )  # fmt: skip
    assert found(replace(made, reading=replace(made.reading, words=words))) == ordered(list(ROWS))


@pytest.mark.parametrize("sign", [",", ";", "|"])
def test_a_printed_list_of_separated_values(sign: str) -> None:
    rows = [sign.join(("maker", "model", "chassis", "year", "tubes"))]
    rows += [sign.join((m, n, c, "1939", t)) for m, n, c, t in ROWS]
    assert found(page("\n".join(rows))) == ordered(list(ROWS))


def test_rows_without_a_heading_that_say_maker_model_and_tubes() -> None:
    text = "\n".join(f"{m}   {n}   {c or ''}   {t}" for m, n, c, t in ROWS)
    assert found(page("Radios in the shed\n\n" + text)) == ordered(list(ROWS))


def test_marks_of_repetition_stand_for_the_maker_above() -> None:
    rows = [
        ("Velgrove", "V-4460", "44-T", "7A8 7A7 7C6 7C5 7Y4"),
        ('"', "V-4461", "", "12SA7 12SK7 12SQ7 50L6 35Z5"),
        ("do.", "V-4470", "", "6SA7 6SK7 6SQ7 6V6 5Y3"),
    ]
    expected = [("Velgrove", n, c, t) for _, n, c, t in rows]
    assert found(page(table(("Make", "Model", "Chassis", "Tubes"), rows=rows))) == ordered(expected)


def test_tubes_that_run_on_to_the_next_line_stay_with_their_set() -> None:
    rows = [*ROWS[:1], ("", "", "", "6C5 6E5"), *ROWS[1:]]
    entries = catalogue_unit([page(table(("Maker", "Model", "Chassis", "Tubes"), rows=rows))])
    first = next(e for e in entries.entries if e.models == ("88-J",))
    assert [t.type for t in first.tubes].count("6C5") == 2
    assert "6E5" in first.tube_types


def test_a_note_below_goes_with_the_set_it_names() -> None:
    said = "Netherby NE-5P is a battery and line set, watch it: the chassis is hot."
    made = page(table(("Maker", "Model", "Chassis", "Tubes"), "The last one was easy.", said))
    entries = {e.models[0]: e for e in catalogue_unit([made]).entries}
    assert len(entries) == len(ROWS)
    assert entries["NE-5P"].live_chassis == "likely"
    assert entries["88-J"].live_chassis == "no"


def test_a_chart_of_one_sets_tubes_is_no_list_of_sets() -> None:
    chart = """
    TILLBROOK RADIO CORP.     MODEL 5D10
    TUBE     TYPE     PLATE   SCREEN   CATHODE
    V1       6SA7     250     100      0
    V2       6SK7     250     100      2.5
    V3       6SQ7     120     0        0
    V4       6V6      240     250      12
    """
    entries = catalogue_unit([page(chart)]).entries
    assert [e.models for e in entries] == [("5D10",)]


def test_noise_makes_no_further_sets() -> None:
    chance = random.Random(4)
    made = page(table(("Maker", "Model", "Chassis", "Tubes"), "had a bad 75 and a leaky .01"))
    for _ in range(20):
        words = tuple(w for w in made.reading.words if chance.random() > 0.05)
        entries = catalogue_unit([replace(made, reading=replace(made.reading, words=words))])
        assert len(entries.entries) <= len(ROWS)
        assert all(len(e.tubes) <= 6 for e in entries.entries)


def test_numbered_sets_with_their_tubes_below() -> None:
    text = (
        "INVENTORY\n1. Tillbrook 2-30, chassis H2\n   tubes: 12BE6, 12BA6, 12AT6, 50C5, 35W4\n"
        "2. Quarrydale K11\n   tubes: 6BE6, 6BA6, 6AT6, 6AQ5, 6X4\n"
        "3. Vantrice U-5, chassis UC-4\n   tubes: 14Q7, 14A7, 14B6, 35A5, 35Y4\n"
    )
    entries = catalogue_unit([page(text, file="list.tif")], ["Tillbrook"]).entries
    found = [(e.maker, e.models, e.chassis, len(e.tubes)) for e in entries]
    assert found == [
        ("Tillbrook", ("2-30",), ("H2",), 5),
        ("Quarrydale", ("K11",), (), 5),
        ("Vantrice", ("U-5",), ("UC-4",), 5),
    ]
