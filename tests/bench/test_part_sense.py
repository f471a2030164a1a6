"""Values that a scan has a million times off, and units of other countries and times.

Which sizes parts have by what they do, and how lists print them: common practice, no source.
One centimetre of capacitance is 1/900 of a nanofarad, one jar 1/900 of a microfarad (electrostatic
units; from memory). Values sold: IEC 60063, from memory.
"""

import pytest

from indexer.bench.part_values import bare_lists, repaired, values_in
from indexer.bench.parts import PartLine, read_parts
from indexer.bench.readings import judged
from indexer.bench.replacements import replacement_list, shopping_list
from indexer.model import Box, PageReading, Word
from indexer.store.bench_records import Taken
from indexer.trade.value_parse import parse_value


def listed(*rows: str, title: str = "CONDENSERS", foot: str = "") -> PageReading:
    """A list in three columns (reference, what it does, value); cells are parted by "/"."""
    words = [Word(title, Box(150, 40, 400, 70), 1.0, 1)]
    for number, row in enumerate((*rows, foot) if foot else rows):
        for column, cell in enumerate(row.split("/")):
            left = (150, 330, 900)[column]
            for text in cell.split():
                top = 100 + 50 * number + (200 if row is foot else 0)
                words.append(Word(text, Box(left, top, left + 20 * len(text), top + 30), 1.0, 2))
                left += 20 * len(text) + 14
    return PageReading(tuple(words), 1700, 2200, "typed")


def parts_of(*rows: str, foot: str = "") -> dict[str, PartLine]:
    return {part.name: part for part in read_parts(listed(*rows, foot=foot))}


def actions(*rows: str) -> dict[str, str]:
    lines = replacement_list(list(parts_of(*rows).values()), [])
    return {line.reference: line.action for line in lines}


def test_filters_read_in_picofarads_are_taken_in_microfarads_and_stay_to_be_checked() -> None:
    rows = (
        "C1/Aerial shunt/0.001 uF",
        "C7/A.V.C. decoupling/0.05 µF",
        "C14/A.F. coupling/0.01 pF",
        "C17/Cathode by-pass/25 pF",
        "C19*/H.T. smoothing/16 pF",
        "C20*/H.T. reservoir/8 pF",
    )
    parts = parts_of(*rows)
    numbers = {name: part.value.number for name, part in parts.items() if part.value}
    assert numbers["C14"] == pytest.approx(0.01e-6)
    assert numbers["C17"] == pytest.approx(25e-6)
    assert numbers["C19"] == pytest.approx(16e-6)
    assert numbers["C20"] == pytest.approx(8e-6)
    assert all("look at the page" in parts[n].doubt for n in ("C14", "C17", "C19", "C20"))
    assert not parts["C1"].doubt and not parts["C7"].doubt
    lines = replacement_list(list(parts.values()), [])
    assert {line.action for line in lines} == {"replace"}
    bought = {line.references[0]: line.part for line in shopping_list(lines)}
    assert set(bought) == set(parts)
    assert "look at the page" in bought["C19"] and bought["C19"].startswith("22 µF")


@pytest.mark.parametrize(
    ("words", "farads"),
    [
        ("Tone corrector/0.02 pF", 0.02e-6),
        ("Smoothing/16 nF", 16e-6),
        ("Siebkondensator/50 pF", 50e-6),
        ("Electrolytic/32 pF", 32e-6),
        ("Cathode/50 pF 12 V", 50e-6),
        ("R.F. filter/100 pF", 100e-12),
        ("I.F. by-pass/100 pF", 100e-12),
        ("Osc. coupling/50 pF", 50e-12),
        ("Aerial series/5 pF", 5e-12),
        ("A.V.C. smoothing/0.05 µF", 0.05e-6),
        ("H.T. smoothing/16 mF", 16e-6),  # mF stood for the microfarad
        ("H.T. smoothing/16 MFD", 16e-6),
        ("I.F. tuning/100 µF", 100e-12),
        ("Fixed trimmer/25 µF", None),  # adjusted parts state none that counts
    ],
)
def test_one_capacitor_by_what_it_does(words: str, farads: float | None) -> None:
    parts = parts_of(f"C1/{words}", "C2/Coupling/0.01 µF", "C3/Coupling/0.1 µF")
    value = parts["C1"].value
    if farads is not None:
        assert value and value.number == pytest.approx(farads)


def test_a_doubtful_or_unread_value_is_never_left_alone() -> None:
    rows = (
        "C1/Grid coupling/0.0005 µF",
        "C2/Grid/30 pF",  # the list has mfd for parts as small
        "C3/Feed/9000 µF",
        "C4/Paper/ra",
        "R1/V1 anode load/220 Ω",
    )
    parts = parts_of(*rows)
    found = actions(*rows)
    assert found["C2"] == found["C3"] == found["C4"] == "look at the page"
    assert parts["R1"].value and parts["R1"].doubt
    lines = replacement_list(list(parts.values()), [])
    on_the_list = {name for line in shopping_list(lines) for name in line.references}
    assert {"C2", "C3", "C4"} <= on_the_list
    assert all("look at the page" in x.note for x in lines if x.reference in ("C2", "C3", "C4"))


def test_a_padder_taken_in_another_unit_is_looked_at_and_a_gang_states_no_value() -> None:
    rows = ("C1/Osc. padder/500 uF", "C2/Osc. coupling/300 uF", "C3/2 gang condenser/")
    assert actions(*rows)["C2"] == "look at the page"
    assert parts_of("C1/Coupling/0.1 µF", "C2/2 gang/", "C3/Feed/0.1 µF")["C2"].value is None


def test_a_mark_that_the_foot_explains_makes_a_part_electrolytic() -> None:
    rows = ("C1/Feed/0.1 µF", "C2*/Feed/8 pF", "C3/Feed/0.1 µF")
    parts = parts_of(*rows, foot="* Electrolytic.")
    assert parts["C2"].value and parts["C2"].value.number == pytest.approx(8e-6)
    assert parts_of(*rows)["C2"].value != parts["C2"].value


@pytest.mark.parametrize(
    ("read", "farads"),
    [
        ("5 000 pF", 5e-9), ("5 TpF", 5e-9), ("50 kpF", 50e-9), ("0,05 yF", 0.05e-6),
        ("0.1 juF", 0.1e-6), ("250 µµF", 250e-12), ("900 cm", 1e-9), ("9 jars", 0.01e-6),
        ("10 nF", 10e-9), (".05 mf", 0.05e-6), (".05 MFD.", 0.05e-6), ("100 mmf", 100e-12),
    ],
)  # fmt: skip
def test_units_of_other_lists(read: str, farads: float) -> None:
    (value,) = values_in(repaired(read, "C"), "C")
    assert value.number == pytest.approx(farads, rel=1e-3)


@pytest.mark.parametrize(
    ("read", "ohms"), [("50 000 Ω", 50e3), ("0,5 MΩ", 0.5e6), ("27 kΩ", 27e3), ("1 MQ", 1e6)]
)
def test_resistors_of_european_lists(read: str, ohms: float) -> None:
    assert values_in(repaired(read, "R"), "R")[0].number == pytest.approx(ohms)


def test_references_set_with_a_space() -> None:
    parts = parts_of("C 1/Antenne/500 pF", "C 2/Kathode/50 µF 12 V", "C 13/Koppel/10 nF")
    assert {name: part.printed for name, part in parts.items()} == {
        "C1": "500 mmf", "C2": "50 mfd 12 V", "C13": ".01 mfd"
    }  # fmt: skip


def test_values_whose_unit_stands_over_the_column() -> None:
    rows = ["Aerial series 0.00005", "A.F. coupling 0.01", "H.T. smoothing 16.0"]
    found = bare_lists(rows, ["C"] * 3, "CONDENSERS Values (µF)")
    assert [values_in(text, "C")[0].number for text in found] == pytest.approx(
        [50e-12, 0.01e-6, 16e-6]
    )
    ohms = bare_lists(["V1 C.G. 500 000", "V1 S.G. feed 47,000", "V2 bias 330"], ["R"] * 3, "")
    assert [values_in(repaired(t, "R"), "R")[0].number for t in ohms] == [500e3, 47e3, 330.0]
    assert bare_lists(["Gang 2", "Trimmer", "Trimmer"], ["C"] * 3, "") == [
        "Gang 2", "Trimmer", "Trimmer"
    ]  # fmt: skip


@pytest.mark.parametrize("read", ["10 mfd 150 voit", "10 mfd 150 vo1ts", "10 mfd 150 VOLTS"])
def test_volts_with_a_letter_misread(read: str) -> None:
    (value,) = values_in(repaired(read, "C"), "C")
    assert value.working_v == 150


@pytest.mark.parametrize(
    ("nominal", "reads", "judgement"),
    [
        ("16 mmf", "14 uF", "unit?"),
        (".05 mfd", "50 pF", "unit?"),
        ("470K", ".47 ohms", "unit?"),
        ("470K", "470", "out"),  # a fault to be seen
        (".05 mfd", ".08", "out"),
        (".05 mfd", "0 uF", "out"),
    ],
)
def test_a_reading_a_million_times_off_is_not_judged(
    nominal: str, reads: str, judgement: str
) -> None:
    line = judged("X1", parse_value(nominal)[0], Taken("X1", reads))
    assert line.verdict == judgement
    assert ("Unit?" in line.note) == (judgement == "unit?")
    assert "%" not in line.note or judgement != "unit?"
