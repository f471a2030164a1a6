"""Line-ups: roles, supply, string arithmetic. Common practice, no source, unless marked."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from indexer.trade.lineup import LAMPS_W, SUPPLIES, analyse
from indexer.trade.tubes import all_tubes

FIVE_TUBE_MINIATURE = ("12BE6", "12BA6", "12AV6", "50C5", "35W4")


def _types(text: str) -> list[str]:
    return text.split()


def test_the_five_tube_miniature_set() -> None:
    """Check values agreed for the project: 122.8 V at 0.15 A, live chassis, a lamp near 60 W."""
    facts = analyse(FIVE_TUBE_MINIATURE)
    assert facts.supply == "series string"
    assert facts.string_volts == pytest.approx(122.8)
    assert facts.string_current_a == pytest.approx(0.15)
    assert facts.live_chassis == "likely"
    assert facts.roles == (
        "converter",
        "IF amplifier",
        "detector and first audio",
        "output",
        "rectifier",
    )
    assert facts.mixed == () and facts.drops[0].ohms == 0
    assert facts.watts and facts.watts[0] <= 30 <= facts.watts[1]
    assert facts.lamp_w and facts.lamp_w[0] <= 60 <= facts.lamp_w[1]


SETS = [
    ("12SA7 12SK7 12SQ7 50L6 35Z5", "series string", "likely"),
    ("12SA7 12SK7 12SK7 12SQ7 35L6 35Z5", "series string", "likely"),
    ("14Q7 14A7 14B6 50A5 35Y4", "series string", "likely"),
    ("6A7 6D6 75 43 25Z5", "series string", "likely"),
    ("6A8 6K7 6Q7 25L6 25Z6", "series string", "likely"),
    ("18FX6 18FW6 18FY6 32ET5 36AM3", "series string", "likely"),
    ("UCH42 UF41 UBC41 UL41 UY41", "series string", "likely"),
    ("UCH81 UBF89 UABC80 UL84 UY85", "series string", "likely"),
    ("6SA7 6SK7 6SQ7 6V6 5Y3", "transformer", "no"),
    ("58 58 57 2A5 80", "transformer", "no"),
    ("24A 24A 27 45 45 80", "transformer", "no"),
    ("26 26 26 27 71A 80", "transformer", "no"),
    ("6BE6 6BA6 6AT6 6AQ5 6X4", "transformer", "no"),
    ("6A8 6K7 6Q7 6F6 6X5", "transformer", "no"),
    ("ECH42 EF41 EBC41 EL41 AZ41", "transformer", "no"),
    ("ECH81 EBF89 EABC80 EL84 EZ80", "transformer", "no"),
    ("7Q7 7A7 7C6 7C5 0Z4", "vibrator", "no"),
    ("6SA7 6SK7 6SQ7 6V6 0Z4", "vibrator", "no"),
    ("12BE6 12BA6 12AV6 12V6 12X4", "vibrator", "no"),
    ("1A7 1N5 1H5 1A5", "battery", "no"),
    ("1C6 34 34 30 33", "battery", "no"),
    ("01A 01A 01A 01A 71A", "battery", "no"),
    ("DK96 DF96 DAF96 DL96", "battery", "no"),
    ("1A7 1N5 1H5 3Q5 117Z6", "battery and line", "likely"),
    ("1L6 1U4 1U5 3V4 117Z3", "battery and line", "likely"),
    ("1A7 1N5 1N5 1H5 3Q5 35Z5", "battery and line", "likely"),
    ("12AD6 12AF6 12F8 12DL8", "battery", "no"),
    ("6SJ7 6V6", "unknown", "unknown"),
    ("12AX7", "unknown", "unknown"),
]


@pytest.mark.parametrize(("types", "supply", "live"), SETS)
def test_supply_and_live_chassis(types: str, supply: str, live: str) -> None:
    facts = analyse(_types(types))
    assert (facts.supply, facts.live_chassis) == (supply, live), facts
    assert facts.reasons


def test_no_tubes_or_unknown_tubes_settle_nothing() -> None:
    for types in ([], ["ZZZZ"], ["ZZZZ", "QQQQ", "6SK7"]):
        facts = analyse(types)
        assert (facts.supply, facts.live_chassis) == ("unknown", "unknown")


def test_the_0_3_a_string_lacks_volts_for_a_resistance_cord() -> None:
    """6.3 + 6.3 + 6.3 + 25 + 25 = 68.9 V; Ohm's law gives 160 ohms and 14 W at 117 V."""
    facts = analyse(_types("6A7 6D6 75 43 25Z5"))
    assert facts.string_volts == pytest.approx(68.9)
    assert facts.string_current_a == pytest.approx(0.3)
    drop = facts.drops[0]
    assert drop.missing_v == pytest.approx(48.1)
    assert drop.ohms == pytest.approx(160, abs=1)
    assert drop.watts == pytest.approx(14.4, abs=0.1)
    assert any("resistance cord" in doubt for doubt in facts.doubts)


def test_european_strings_are_judged_at_every_line_voltage() -> None:
    facts = analyse(_types("UCH42 UF41 UBC41 UL41 UY41"))
    assert facts.string_current_a == pytest.approx(0.1)
    assert [d.line_v for d in facts.drops] == [110, 127, 220, 240]
    assert facts.drops[0].ohms == 0 and facts.drops[2].ohms > 900
    asked = analyse(_types("UCH42 UF41 UBC41 UL41 UY41"), line_v=220)
    assert [d.line_v for d in asked.drops] == [220]


def test_a_tube_of_another_current_is_named() -> None:
    facts = analyse(_types("12SA7 12SK7 6SQ7 50L6 35Z5"))
    assert [group.current_a for group in facts.mixed] == [0.3]
    assert any("6SQ7" in doubt for doubt in facts.doubts)


def test_a_tapped_heater_takes_the_connection_that_fits() -> None:
    facts = analyse(_types("12BE6 12BA6 12AX7 50C5 35W4"))
    assert facts.string_volts == pytest.approx(122.8) and not facts.mixed


def test_a_car_rectifier_is_doubted() -> None:
    facts = analyse(_types("6A8 6K7 6Q7 6F6 6X5"))
    assert any("vibrator" in doubt for doubt in facts.doubts)
    assert analyse(_types("6A8 6K7 6Q7 6F6 6X5"), words="vibrator supply").supply == "vibrator"


@pytest.mark.parametrize(
    "words",
    ["1st LF. transformer 455 kc", "no power transformer", "power transformer", "a vibrator pack"],
)
@pytest.mark.parametrize("tubes", ["12BE6 12BA6 12AV6 50C5", "12SA7 12SK7 12SQ7 50L6 35Z5"])
def test_no_word_clears_a_set_whose_tubes_may_hang_on_the_line(tubes: str, words: str) -> None:
    # Common practice, no source: a live chassis is taken for granted until it is measured.
    assert analyse(_types(tubes), words=words).live_chassis == "likely"


def test_a_power_transformer_named_by_the_page_counts_where_the_tubes_leave_it_open() -> None:
    tubes = _types("6BE6 6BA6 6AV6 6AQ5")
    assert analyse(tubes, words="power transformer 60 cycles").supply == "transformer"
    assert analyse(tubes, words="1st I. F. transformer").live_chassis == "unknown"
    assert analyse(tubes, words="without a power transformer").live_chassis == "unknown"


ROLES = [
    ("6SA7 6SK7 6SQ7 6V6 5Y3",
     "converter, IF amplifier, detector and first audio, output, rectifier"),
    ("6SK7 6SA7 6SK7 6SQ7 6V6 6V6 5Y3",
     "RF amplifier, converter, IF amplifier, detector and first audio, output, output, rectifier"),
    ("6K7 6L7 6J5 6K7 6H6 6SJ7 6V6 5Y3",
     "RF amplifier, mixer, oscillator, IF amplifier, detector, first audio, output, rectifier"),
    ("6BE6 6BA6 6AL5 12AX7 6AQ5 6AQ5 5Y3",
     "converter, IF amplifier, detector, first audio and phase inverter, "
     "output, output, rectifier"),
    ("6SA7 6SK7 6SQ7 6J5 6V6 6V6 5U4",
     "converter, IF amplifier, detector and first audio, phase inverter, "
     "output, output, rectifier"),
    ("24A 24A 27 45 45 80",
     "RF amplifier, RF amplifier, detector, output, output, rectifier"),
    ("1R5 1T4 1S5 3V4", "converter, IF amplifier, detector and first audio, output"),
    ("ECH42 EAF42 EAF42 EL41 AZ41",
     "converter, IF amplifier and detector, detector and first audio, output, rectifier"),
    ("UCH21 UCH21 UBL21 UY21",
     "converter, IF amplifier and first audio, detector and output, rectifier"),
    ("12AT7 12BA6 12BA6 12AL5 12AV6 50C5",
     "RF amplifier and converter, IF amplifier, IF amplifier, FM detector, "
     "detector and first audio, output"),
    ("6AB4 6BA7 6BA6 6AU6 6AL5 12AX7 6V6 6V6 5Y3",
     "RF amplifier, converter, IF amplifier, limiter, FM detector, "
     "first audio and phase inverter, output, output, rectifier"),
    ("6SN7 6SN7 6L6 6L6 5U4", "first audio, phase inverter, output, output, rectifier"),
    ("6K8 6K7 6H6 6SQ7 6F6 80",
     "converter, IF amplifier, detector, detector and first audio, output, rectifier"),
    ("58 57 2A5 80", "RF amplifier, detector, output, rectifier"),
    ("24A 24A 24A 47 80", "RF amplifier, RF amplifier, detector, output, rectifier"),
    ("57 58 57 2A5 80", "converter, IF amplifier, detector, output, rectifier"),
    ("6K8 6K7 6Q7 6F6 6U5 80",
     "converter, IF amplifier, detector and first audio, output, tuning eye, rectifier"),
    ("12SA7 12SK7 12SQ7 70L7",
     "converter, IF amplifier, detector and first audio, output and rectifier"),
    ("1A7 1N5 1H5 1A5",
     "converter, IF amplifier, detector and first audio, output"),
    ("ECH81 EF89 EABC80 EL84 EM84 EZ80",
     "converter, IF amplifier, detector and first audio, output, tuning eye, rectifier"),
]  # fmt: skip


@pytest.mark.parametrize(("types", "roles"), ROLES)
def test_roles_over_the_whole_line_up(types: str, roles: str) -> None:
    facts = analyse(_types(types))
    assert ", ".join(facts.roles) == roles


@given(st.lists(st.sampled_from(sorted(all_tubes())), max_size=12))
def test_any_line_up_is_answered_within_the_agreed_words(types: list[str]) -> None:
    facts = analyse(types)
    assert len(facts.roles) == len(types) and all(facts.roles)
    assert facts.supply in SUPPLIES and facts.live_chassis in {"likely", "no", "unknown"}
    assert (facts.string_volts is None) == (facts.supply != "series string") or facts.doubts
    for lamp in facts.lamp_w or ():
        assert lamp in LAMPS_W
    if facts.supply in {"series string", "battery and line"}:
        assert facts.live_chassis == "likely"
