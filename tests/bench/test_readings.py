"""Readings against parts and charts. Check values and the 20 % on voltages: common practice,
no source."""

from dataclasses import replace
from math import inf

import pytest

from indexer.bench.charts import OHMS, VOLTS, ChartPoint, read_charts
from indexer.bench.parts import PartLine
from indexer.bench.readings import chart_lines, judged, reading_lines, volts_read
from indexer.bench.sheets import at_its_point
from indexer.errors import UsageError
from indexer.model import Box
from indexer.store.bench_records import Taken
from indexer.trade.value_parse import parse_value
from tests.bench.chart_pages import table_page

LINE_UP = ["12BE6", "12BA6", "50C5"]
HEAD = "TUBE/FUNCTION/PIN 1/PIN 4/PIN 5/PIN 7"
PAGE = table_page(
    (
        "VOLTAGE CHART",
        (
            "Readings to common negative, 117 volts on the line.",
            HEAD,
            "12BE6/CONVERTER/-6.5/12.6 AC/90/0",
            "12BA6/I.F. AMP/-.8/12.6 AC/90/NC",
            "SOCS/OUTPUT/5.6/50 AC/0/102",
        ),
    ),
    (
        "RESISTANCE CHART",
        (HEAD, "12BE6/CONVERTER/22K/40/1,250*/INF", "50C5/OUTPUT/150/40/1.200*/0"),
    ),
)
POINT = ChartPoint("12BE6", "12BE6", "pin 5", VOLTS, 90.0, "90")


def test_both_charts_of_a_page_pin_by_pin() -> None:
    points = {point.name: point.nominal for point in read_charts(PAGE, line_up=LINE_UP)}
    assert points["12BE6 pin 1"] == -6.5
    assert points["12BA6 pin 1"] == -0.8
    assert "12BA6 pin 7" not in points  # NC
    assert points["50C5 pin 7"] == 102  # its own type was misread
    assert points["12BE6 pin 1 ohms"] == 22e3
    assert points["12BE6 pin 5 ohms"] == 1250
    assert points["12BE6 pin 7 ohms"] == inf
    assert points["50C5 pin 5 ohms"] == 1200  # its comma was read as a dot
    assert len(points) == 11 + 8


def test_rows_of_another_set_stay_out() -> None:
    assert {point.tube for point in read_charts(PAGE, line_up=["12BE6"])} == {"12BE6"}
    assert read_charts(table_page(("PARTS LIST", ("C1/.05 MFD",)))) == ()


def test_rows_in_another_order_than_the_line_up_keep_their_own_types() -> None:
    page = table_page(("VOLTAGE CHART", (HEAD, "12BA6/I.F./0/1/2/3", "12BE6/CONV./0/1/2/4")))
    points = read_charts(page, line_up=["12BE6", "12BA6"])
    assert {p.tube: p.nominal for p in points if p.pin == "pin 7"} == {"12BA6": 3, "12BE6": 4}


def test_the_second_tube_of_a_type_has_a_name_of_its_own() -> None:
    page = table_page(("VOLTAGE CHART", (HEAD, "12BA6/R.F./0/1/2/3", "12BA6/I.F./0/1/2/4")))
    assert [p.name for p in read_charts(page)][3:5] == ["12BA6 pin 7", "12BA6/2 pin 1"]


def test_a_table_by_electrodes_under_no_known_heading() -> None:
    rows = (
        "TUBE/POSITION/FIL./PLATE/SCREEN/BIAS",
        "24-A/1st R.F./2.3/170/80/3",
        "45/Output/2.4/245/-/48",
    )
    points = read_charts(table_page(("Measured at the sockets, line 115", rows)))
    assert [(p.name, p.nominal) for p in points] == [
        ("24A filament", 2.3), ("24A plate", 170), ("24A screen", 80), ("24A bias", 3),
        ("45 filament", 2.4), ("45 plate", 245), ("45 bias", 48),
    ]  # fmt: skip
    valves = table_page(("Valve", ()), ("", ("Valve/Va/Vg2/Vk", "UL41/165 V/170 V/9.5 V")))
    assert [(p.pin, p.nominal) for p in read_charts(valves)] == [
        ("plate", 165), ("screen", 170), ("cathode", 9.5)
    ]  # fmt: skip


def test_a_tolerance_that_the_chart_states_counts() -> None:
    page = table_page(
        ("VOLTAGE CHART", ("Readings may vary within 10 %.", HEAD, "12BE6/CONV./1/12 AC/90/0"))
    )
    point = next(p for p in read_charts(page) if p.pin == "pin 5")
    assert (point.percent, point.stated) == (10.0, True)


@pytest.mark.parametrize(
    ("point", "reads", "state"),
    [
        (POINT, "88", "in"),
        (POINT, "72.5 V", "at the edge"),
        (POINT, "71", "out"),
        (POINT, "-90", "out"),
        (replace(POINT, nominal=-6.5), "-6", "in"),
        (replace(POINT, nominal=-6.5), "6", "out"),
        (replace(POINT, nominal=0.0), "0.2", "in"),
        (replace(POINT, nominal=0.0), "22", "out"),  # a leaking coupling capacitor
        (replace(POINT, unit=OHMS, nominal=470e3), "800K", "out"),
        (replace(POINT, unit=OHMS, nominal=470e3), "open", "out"),
        (replace(POINT, unit=OHMS, nominal=inf), "open", "in"),
        (replace(POINT, unit=OHMS, nominal=inf), "100K", "out"),
        (replace(POINT, percent=10.0), "80", "out"),
        (POINT, "warm", ""),
    ],
)
def test_readings_against_a_chart(point: ChartPoint, reads: str, state: str) -> None:
    (line,) = chart_lines([point], [Taken(point.name.upper(), reads)])
    assert line.verdict == state
    assert line.reads == reads
    assert ("not understood" in line.note) == (not state)


def test_limits_are_shown_low_to_high() -> None:
    plus, minus = chart_lines([POINT, replace(POINT, pin="pin 1", nominal=-10.0)], [])
    assert (plus.low, plus.high) == ("72 V", "108 V")
    assert (minus.low, minus.high) == ("-12 V", "-8 V")
    assert plus.verdict == plus.reads == ""


@pytest.mark.parametrize(
    ("nominal", "reads", "state"),
    [
        ("100 ohms", "150", "out"),
        ("150 ohms 10%", "165", "at the edge"),
        ("150 ohms 20%", "165", "in"),
        ("6.8 meg", "9 meg", "out"),
        ("470K", "800K", "out"),
        ("470K", "what", ""),
    ],
)
def test_parts_by_tolerance(nominal: str, reads: str, state: str) -> None:
    assert judged("R7", parse_value(nominal)[0], Taken("R7", reads)).verdict == state


def test_volts_as_typed() -> None:
    assert volts_read("-6.5 V") == -6.5
    assert volts_read("800 mV") == pytest.approx(0.8)
    with pytest.raises(UsageError):
        volts_read("hot")


@pytest.mark.parametrize(
    ("printed", "reads", "state", "said"),
    [
        ("100 mmf", "104", "in", "Taken as 104 pF."),
        ("100 mmf", "150", "out", "Taken as 150 pF."),
        (".05 mfd", "0.055", "in", ""),
        (".05 mfd", "48", "in", "Taken as 48 nF."),
        ("470K", "470", "out", ""),
    ],
)
def test_a_meter_reading_without_its_unit(printed: str, reads: str, state: str, said: str) -> None:
    """Common practice, no source."""
    line = judged("X1", parse_value(printed)[0], Taken("X1", reads))
    assert line.verdict == state and said in line.note
    assert line.shares is not None and line.shares[0] < 1 < line.shares[1]


def test_a_network_is_read_by_pairs_of_its_pins() -> None:
    """The way of printing them: common practice, no source."""
    words = "NETWORK, DETECTOR: 1-2 470K, 2-3 .005 MFD, 5 TO 4 2.2 MEG; 50-30 MFD"
    part = PartLine("N1", "", "B-77", None, words, Box(0, 0, 9, 9))
    lines = {line.point: line for line in reading_lines([part], [Taken("N1 1-2", "800K")])}
    assert list(lines) == ["N1 1-2", "N1 2-3", "N1 4-5"]
    assert lines["N1 1-2"].verdict == "out" and lines["N1 1-2"].nominal == "470 kΩ"
    assert lines["N1 2-3"].what == "capacitance" and not lines["N1 2-3"].reads


@pytest.mark.parametrize(
    ("point", "reads", "known", "meant"),
    [
        ("6AQ5 PIN 5", "1.6K", {"6AQ5 PIN 5", "6AQ5 PIN 5 OHMS"}, "6AQ5 PIN 5 OHMS"),
        ("6AQ5 PIN 5", "230 V", {"6AQ5 PIN 5", "6AQ5 PIN 5 OHMS"}, "6AQ5 PIN 5"),
        ("6AQ5 PIN 5", "230", {"6AQ5 PIN 5", "6AQ5 PIN 5 OHMS"}, "6AQ5 PIN 5"),
        ("6AQ5 PIN 5", "open", {"6AQ5 PIN 5 OHMS"}, "6AQ5 PIN 5 OHMS"),
        ("6AQ5 PIN 2", "270", {"6AQ5 PIN 2 OHMS"}, "6AQ5 PIN 2 OHMS"),
        ("R7", "800K", {"6AQ5 PIN 2 OHMS"}, "R7"),
    ],
)
def test_a_reading_in_ohms_goes_to_the_resistance_chart(
    point: str, reads: str, known: set[str], meant: str
) -> None:
    assert at_its_point(Taken(point, reads), known).point == meant
