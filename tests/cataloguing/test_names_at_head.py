"""Makers that nothing announces, by where their names stand; pages of short notes.

How sheets and magazines name sets is common practice, no source; makers and models are invented.
"""

from dataclasses import replace

import pytest

from indexer.cataloguing.at_head import is_name_like
from indexer.cataloguing.sheet import first_look
from indexer.cataloguing.unit import catalogue_unit
from indexer.model import Box, PageInput
from tests.cataloguing.pages import page

BODY = "\nThe dial cord is wound twice around the drum.\nTUBES 6A8 6K7 6Q7 6F6 5Y3"


def large(sheet: PageInput, words: int) -> PageInput:
    """The page with its first words set half as large again."""
    first = [
        replace(w, box=replace(w.box, bottom=w.box.top + 54)) for w in sheet.reading.words[:words]
    ]
    return replace(
        sheet, reading=replace(sheet.reading, words=(*first, *sheet.reading.words[words:]))
    )


@pytest.mark.parametrize(
    ("head", "maker", "models"),
    [
        ("OSTERVALE                    MODEL 815 CHASSIS 8-15P", "Ostervale", ("815",)),
        ("The Brindlemere “Abbot”\nModel 74", "Brindlemere", ("74",)),
        ("T A R N M O O R\nMODELS 62-T AND 62-U", "Tarnmoor", ("62-T", "62-U")),
        ("Drennholm\nDrennholm 53W, Wechselstrom-Super 1952", "Drennholm", ("53W",)),
        ("SILBERHAIN 560GW\nAllstrom-Super", "Silberhain", ("560GW",)),
        ("STANNEFORD\nMODEL 9 SUPERHETERODYNE", "Stanneford", ("9",)),
        (f"{'Vellamour Auto Radio':40}MODEL\n{'Installation':40}VC-9", "Vellamour", ("VC-9",)),
        ("Quillamore Service Bulletin No. 12\nReceiver type FB-44, farm set, 1940",
         "Quillamore", ("FB-44",)),
        ("Service Data for the RL20 to RL24\nRushmoor Instruments, 44 Harbor Road, Ansel, Maine",
         "Rushmoor", ("RL20 through RL24",)),
    ],
)  # fmt: skip
def test_a_name_over_or_before_the_model(head: str, maker: str, models: tuple[str, ...]) -> None:
    one = large(
        page(head + BODY), 1 if " " in head.split("\n")[0][:2] else len(head.split("\n")[0].split())
    )
    (entry,) = catalogue_unit([one]).entries
    assert (entry.maker, entry.models) == (maker, models)


@pytest.mark.parametrize("title", ["SCHEMATIC", "HINTS", "Abgleich", "Kundendienst", "SERVIOE"])
def test_what_a_heading_says_is_no_maker(title: str) -> None:
    assert list(first_look([large(page(f"{title}\nMODEL 61-A{BODY}"), 1)]).makers) == []


@pytest.mark.parametrize(
    "word", ["Receiver", "Recelver", "Condensers", "Transfermer", "ABC", "BRRT"]
)
def test_words_of_the_trade_and_misread_ones_are_no_names(word: str) -> None:
    assert not is_name_like(word)


NOTES = (
    ("Lundmere 38B", "Fades after ten minutes. The screen condenser opens when warm."),
    ("Paxmoor T-7 and T-8", "Weak on short wave. The wave switch contacts want cleaning."),
    ("Merrowby 720", "Loud hum. Both sections of the electrolytic condenser were low."),
    ("Stanneford 119A", "Set dead with the rectifier plates red. The input filter is shorted."),
)
SETS = [("Lundmere", ("38B",)), ("Merrowby", ("720",)), ("Paxmoor", ("T-7", "T-8")),
        ("Stanneford", ("119A",))]  # fmt: skip


@pytest.mark.parametrize("between", ["\n", ". "])
def test_a_page_of_short_notes_serves_each_of_its_sets(between: str) -> None:
    text = "SHORT NOTES\n\n" + "\n\n".join(f"{head}{between}{note}" for head, note in NOTES)
    found = catalogue_unit([page(text)]).entries
    assert sorted((entry.maker, entry.models) for entry in found) == SETS


def test_notes_in_columns_are_parted_by_column() -> None:
    columns = []
    for n, (head, note) in enumerate(NOTES):
        words = note.split()
        lines = [f"{head}. {' '.join(words[:3])}", " ".join(words[3:6]), " ".join(words[6:])]
        lines += ["and fit a new one", "of the same make", "as soon as the set"]
        for word in page("\n".join(lines)).reading.words:
            left, top = 1100.0 * (n % 2), 500.0 + 600 * (n // 2)
            box = Box(
                word.box.left / 2 + left,
                word.box.top + top,
                word.box.right / 2 + left,
                word.box.bottom + top,
            )
            columns.append(replace(word, line=word.line + 20 * n, box=box))
    sheet = page("NOTES")
    found = catalogue_unit([replace(sheet, reading=replace(sheet.reading, words=tuple(columns)))])
    assert sorted((entry.maker, entry.models) for entry in found.entries) == SETS


@pytest.mark.parametrize(
    ("text", "chassis"),
    [
        (
            "Chassis RU-8 is used with a 12 inch speaker. Chassis RU-8A is the same.",
            ("RU-8", "RU-8A"),
        ),
        ("Voltages are measured to chassis. Chassis AL-4.", ("AL-4",)),
        ("The circuit is similar to that of chassis AL-4.", ()),
        ("From chassis to R5 it is 470K; chassis 6SK7 pin 3.", ()),
    ],
)
def test_a_chassis_that_only_the_text_names(text: str, chassis: tuple[str, ...]) -> None:
    (entry,) = catalogue_unit([page(f"TILLBROOK MODEL 61-A\n{text}{BODY}")], ["Tillbrook"]).entries
    assert entry.chassis == chassis


def test_the_head_of_a_chart_is_no_model() -> None:
    chart = "RESISTANCE CHART\nTUBE TYPE PIN 1 PIN 2 PIN 3\nV1 6BA7 10K 47K 470K\nV2 6BA6 0 150 22K"
    assert [entry.models for entry in catalogue_unit([page(chart)]).entries if entry.models] == []


@pytest.mark.parametrize(
    ("head", "words", "models"),
    [
        ("EP-27", 1, ("EP-27",)),
        ("J-204, J-205\nFactory service, revised October 1946", 2, ("J-204", "J-205")),
        ("H.535 HARROWMERE table superhet", 4, ("H.535",)),
        ("Pendlemere\nUniversal mains receiver, type PU7", 6, ("PU7",)),
        ("M46\nby Morvenholt\nbuilt on chassis 46-B", 1, ("M46",)),
        ("The Glenhollow X63\nA letter to those who repair it", 3, ("X63",)),
    ],
)
def test_a_number_that_only_its_size_announces(
    head: str, words: int, models: tuple[str, ...]
) -> None:
    text = f"{head}\n" + "\n".join(["When it hums renew both sections of the filter."] * 6) + BODY
    (entry,) = catalogue_unit([large(page(text), words)], ["Glenhollow"]).entries
    assert entry.models == models


def test_what_is_large_and_no_number_is_no_model() -> None:
    body = "\n".join(["When it hums renew both sections of the filter."] * 6) + BODY
    for head in ("PAGE 12", "1951", "AND H14", "6SA7 6SK7", "12-118"):
        made = catalogue_unit([large(page(f"{head}\n{body}"), len(head.split()))])
        assert not any(entry.models for entry in made.entries)


@pytest.mark.parametrize(
    ("head", "models", "chassis"),
    [
        ("ABOUT   DB-6 six-tube receiver", ("DB-6",), ()),
        ("SUBJECT: CONTINUITY OF THE P-505\nCHASSIS: 505-1", ("P-505",), ("505-1",)),
        ("Superheterodyne No. 610", ("610",), ()),
        ("Dealers' service information: TB48", ("TB48",), ()),
        ("Récepteur Tillbrook OR-451", ("OR-451",), ()),
        ("RU-18 Tillbrook, AC-DC table set", ("RU-18",), ()),
        ("WX-3 and WX-4 Tillbrook, portables for packs", ("WX-3", "WX-4"), ()),
        ("Tillbrook AR-31, AR-33, sheet two", ("AR-31", "AR-33"), ()),
        (f"{'':30}MODEL     CHASSIS\n{'':30}VR-14     14-VA", ("VR-14",), ("14-VA",)),
    ],
)
def test_further_ways_to_head_a_sheet(
    head: str, models: tuple[str, ...], chassis: tuple[str, ...]
) -> None:
    (entry,) = catalogue_unit([page(head + BODY)], ["Tillbrook"]).entries
    assert (entry.models, entry.chassis) == (models, chassis)


def test_labels_of_a_drawing_are_no_table_of_models_and_chassis() -> None:
    labels = "\n".join(f"{n}8K   470   2.{n}M\n\n23{n}V  149V  154V" for n in range(1, 6))
    head = f"{'':60}MODEL     CHASSIS\n{'':60}VR-14     14-VA"
    found = catalogue_unit([page(f"{head}\n\n{labels}")], ["Tillbrook"]).entries
    assert [(entry.models, entry.chassis) for entry in found] == [(("VR-14",), ("14-VA",))]


def test_rows_of_an_index_head_no_sets() -> None:
    rows = [
        (f"{n}0-T", maker, f"9-{n}") for n in range(1, 12) for maker in ("Tillbrook", "Oxbarrow")
    ]
    text = "WHERE TO FIND A MODEL\n" + "\n".join(f"{a:12}{b:20}{c}" for a, b, c in rows)
    assert catalogue_unit([page(text)], ["Tillbrook", "Oxbarrow"]).entries == ()
