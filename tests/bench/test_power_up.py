"""The power-up sheet. Live chassis, lamp and order of checks: common practice, no source."""

from indexer.bench.alignment import alignment_table
from indexer.bench.power_up import live_chassis, power_up_sheet
from indexer.model import Entry, PageRef, TubePlace
from tests.bench.chart_pages import table_page

DISAGREE = "the words say series string, the line-up says transformer"
SERIES = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]


def test_a_series_string_set() -> None:
    sheet = power_up_sheet(SERIES, None)
    assert sheet.live_chassis == "likely"
    assert sheet.live_reasons
    assert sheet.string.endswith("= 122.8 V at 0.15 A")
    low, high = (int(word) for word in sheet.lamp.split() if word.isdigit())
    assert low <= 60 <= high
    assert "isolation transformer" in sheet.isolation
    assert all("Local codes" in caution.text for caution in sheet.cautions)
    assert "Discharge" in sheet.checks[0]
    assert sheet.cautions[0].key == "live chassis"


def test_a_set_with_a_transformer_has_no_string() -> None:
    sheet = power_up_sheet(["6SA7", "6SK7", "6SQ7", "6V6GT", "5Y3GT"], None, "power transformer")
    assert sheet.supply == "transformer"
    assert sheet.string == ""
    assert "insulation" in sheet.isolation


def _entry(tubes: list[str], supply: str, live: str, *doubts: str) -> Entry:
    places = tuple(TubePlace(kind) for kind in tubes)
    return Entry("e", "Tillbrook", ("5D10",), (), places, (), supply=supply, live_chassis=live,
                 doubts=doubts)  # fmt: skip


def test_words_take_a_safe_chassis_back_and_never_give_one() -> None:
    looks_safe = ["12SA7", "12SK7", "12SQ7", "35L6", "5Z3"]  # 35Z5 misread
    entry = _entry(looks_safe, "transformer", "no")
    assert live_chassis(entry, looks_safe) == "no"
    for sheet in (
        power_up_sheet(looks_safe, entry, "For A.C.-D.C. operation 110 volts"),
        power_up_sheet(looks_safe, _entry(looks_safe, "transformer", "no", DISAGREE)),
        power_up_sheet(["1R5", "1U4", "1U5", "3V4"], _entry([], "battery and line", "unknown")),
    ):
        assert sheet.live_chassis != "no" and sheet.live_reasons
        assert "isolation transformer" in sheet.isolation
        assert sheet.cautions[0].key == "live chassis"
    live = power_up_sheet(SERIES, _entry(SERIES, "series string", "likely"), "power transformer")
    assert live.live_chassis == "likely"


def test_the_checks_are_those_of_the_supply() -> None:
    farm = power_up_sheet(["1A7GT", "1N5GT", "1H5GT", "1A5GT"], None)
    car = power_up_sheet(["6SK7", "6SA7", "6SK7", "6SQ7", "6V6GT", "0Z4"], None)
    for sheet in (farm, car):
        told = " ".join(sheet.checks)
        assert not sheet.lamp and "lamp" not in told and "plug, the fuse" not in told
        assert "Discharge" in sheet.checks[0]
    assert "1.4 V" in " ".join(farm.string_notes)
    assert any("buffer" in line for line in car.checks)
    assert any("lamp" in line for line in power_up_sheet(SERIES, None).checks)


def test_alignment_steps_as_read_with_centred_cells() -> None:
    page = table_page(
        (
            "ALIGNMENT PROCEDURE",
            (
                "Set the volume control at maximum.",
                "/CONNECT/DUMMY/GENERATOR",
                "STEP/////ADJUST",
                "/GENERATOR/ANTENNA/FREQUENCY",
                "/////T1 AND T2",
                "1/GRID/.1 MFD/455 KC//",
                "/////TOP",
                "",
                "2/ANTENNA/200 MMF/1620 KC//TRIMMER",
                "",
                "",
                "3/ANTENNA/200 MMF/1400 KC//TRIMMER",
            ),
        )
    )
    table = alignment_table(page, PageRef("x", 5), "Annual.pdf page 5")
    assert table is not None
    assert table.rows[0] == (
        "STEP", "CONNECT GENERATOR", "DUMMY ANTENNA", "GENERATOR FREQUENCY", "ADJUST",
    )  # fmt: skip
    assert table.rows[1] == ("1", "GRID", ".1 MFD", "455 KC", "T1 AND T2 TOP")
    assert table.rows[3] == ("3", "ANTENNA", "200 MMF", "1400 KC", "TRIMMER")
    assert table.words == ("Set the volume control at maximum.",)
    assert power_up_sheet(SERIES, None, alignment=[table]).alignment == (table,)


def test_numbered_sentences_whose_spaces_and_ones_were_lost() -> None:
    page = table_page(
        (
            "ALIGNMENT",
            (
                "1. Connect the generator to the gang, set at 455 ke.",
                "Adjust Tl for maximum.",
                "2.Connect the generator to the loop, set at 1400 kc.",
                "Adjust CiA for maximum.",
            ),
        )
    )
    table = alignment_table(page, PageRef("x", 1), "x")
    assert table is not None
    assert table.rows[1:] == (
        ("1", "Connect the generator to the gang, set at 455 kc. Adjust T1 for maximum."),
        ("2", "Connect the generator to the loop, set at 1400 kc. Adjust C1A for maximum."),
    )


def test_a_page_without_steps_gives_no_table() -> None:
    page = table_page(("ALIGNMENT PROCEDURE", ("Connect the generator and adjust the trimmers.",)))
    assert alignment_table(page, PageRef("x", 1), "x") is None
