"""The replacement list. What to replace and what to leave: common practice, no source.

Values sold are those of IEC 60063; the class of line capacitors is that of IEC 60384-14 (both
from memory).
"""

import csv
import io

import pytest

from indexer.bench.parts import PartLine
from indexer.bench.replacements import replacement_list, shopping_csv, shopping_list
from indexer.bench.sheet_types import ReplacementLine
from indexer.model import Box
from indexer.store.bench_records import PartEdit
from indexer.trade.value_parse import parse_value

E6 = {1.0, 1.5, 2.2, 3.3, 4.7, 6.8}  # IEC 60063, from memory


def part(name: str, words: str, section: str = "", value: str | None = None) -> PartLine:
    values = parse_value(words if value is None else value)
    found = values[0] if values else None
    return PartLine(name, section, "", found, words, Box(0, 0, 1, 1))


def line(one: PartLine, read: str = "") -> ReplacementLine:
    return replacement_list([one], [], verdicts={one.name: read})[0]


@pytest.mark.parametrize(
    ("words", "action"),
    [
        (".05 MFD 400 V PAPER", "replace"),
        (".1 MFD 400 V PAPER LINE FILTER", "safety-rated"),
        (".2 MFD 200 V PAPER, B- TO CHASSIS", "safety-rated"),
        ("20 MFD 150 V ELECTROLYTIC, B+ LINE", "replace"),
        ("100 MMF 500 V MICA", "leave alone"),
        (".005 MFD MICA", "leave alone"),
        ("TUNING GANG, 2 SECTIONS", "leave alone"),
        ("3-30 MMF TRIMMER", "leave alone"),
        ("PAPER", "look at the page"),
    ],
)
def test_what_to_do_with_a_capacitor(words: str, action: str) -> None:
    assert line(part("C4", words)).action == action


def test_a_line_capacitor_gets_its_class_and_a_value_not_above_the_printed() -> None:
    across = line(part("C1", ".05 MFD 400 V PAPER LINE FILTER"))
    chassis = line(part("C2", ".2 MFD 200 V PAPER, B- TO CHASSIS"))
    assert across.fit == ("0.047 µF",)
    assert chassis.fit == () and "hardly sold so large" in chassis.note
    assert "X1 or X2" in across.type
    assert "Y1 or Y2" in chassis.type
    assert "local code" in across.note


@pytest.mark.parametrize(("read", "action"), [("", "measure first"), ("in", "leave alone"),
                                              ("at the edge", "measure first"),
                                              ("out", "replace")])  # fmt: skip
def test_a_resistor_is_replaced_only_when_it_read_out(read: str, action: str) -> None:
    assert line(part("R7", "470K 1/2 W CARBON", value="470K 1/2 W"), read).action == action


@pytest.mark.parametrize(
    ("printed", "fit"), [("50 MFD 150 V", "47 µF"), ("30 MFD 150 V", "33 µF"), (".05 MFD", "0.047")]
)
def test_check_values(printed: str, fit: str) -> None:
    found = line(part("C7", printed))
    assert found.fit[0].startswith(fit)
    number = parse_value(found.fit[0])[0].number
    assert min(abs(float(f"{number:e}".partition("e")[0]) - member) for member in E6) < 1e-9


def test_the_shopping_list_adds_up_and_reads_back() -> None:
    can = [part("C8", "50 MFD 150 V ELECTROLYTIC", "A"), part("C8", "30 MFD 150 V", "B")]
    paper = [part(f"C{n}", ".05 MFD 400 V PAPER") for n in (2, 3, 4, 5)]
    edits = [
        PartEdit("C3", state="done"),
        PartEdit("C4", state="struck"),
        PartEdit("C20", added=".05 mfd 400 V paper"),
    ]
    lines = replacement_list([*can, *paper], edits, "Annual.pdf page 5")
    rows = list(csv.DictReader(io.StringIO(shopping_csv(shopping_list(lines)))))
    assert {row["references"]: row["count"] for row in rows} == {
        "C8A": "1", "C8B": "1", "C2 C5 C20": "3",
    }  # fmt: skip
    assert [one.working_v_at_least for one in lines[:2]] == [150, 150]
    assert lines[-1].added and not lines[-1].source
    assert lines[0].source == "Annual.pdf page 5"


def test_in_a_line_connected_set_a_paper_part_is_traced_before_it_is_bought() -> None:
    one = part("C7", ".05 MFD 400 V PAPER")
    (traced,) = replacement_list([one], [], line_connected=True)
    assert traced.action == "trace first"
    assert "X type" in traced.note
    assert "trace first" in shopping_list([traced])[0].part
    small = part("C2", ".005 MFD 600 V PAPER")
    assert replacement_list([small], [], line_connected=True)[0].action == "replace"


def test_what_keeps_the_line_off_the_aerial_is_traced() -> None:
    def todo(words: str, live: bool) -> str:
        return replacement_list([part("C1", words)], [], line_connected=live)[0].action

    for words in (
        "Aerial series .001 mfd",
        "Earth .005 mfd",
        "ANT. .0005 mfd mica",
        "P.U. .01 mfd",
    ):
        assert todo(words, True) == "trace first"
        assert todo(words, False) != "trace first"
    assert todo("Aerial series 50 mmf", True) == "leave alone"
    assert todo("Netz 5000 pF", True) == todo("Mains .01 mfd", True) == "safety-rated"
