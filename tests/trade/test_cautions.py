"""Cautions: common practice, no source, but for the capacitor classes of IEC 60384-14."""

import pytest

from indexer.trade.cautions import CAUTIONS, applying

MAINS = {"first power-up", "charged filters", "line capacitors"}
FIVE_TUBE = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]


def keys(**facts: object) -> set[str]:
    return {caution.key for caution in applying(**facts)}  # type: ignore[arg-type]


def test_an_ac_dc_set() -> None:
    found = keys(live_chassis="likely", supply="series string", tubes=FIVE_TUBE, year=1948)
    assert found >= MAINS | {"live chassis", "asbestos", "lead and old wiring"}
    assert not found & {"selenium", "high voltage", "mercury", "resistance cord"}


def test_a_live_chassis_comes_first() -> None:
    assert applying("likely", "series string", FIVE_TUBE)[0].key == "live chassis"


def test_a_transformer_set_is_not_called_live() -> None:
    found = keys(live_chassis="no", supply="transformer", tubes=["6A8", "6K7", "6V6", "5Y3"])
    assert found >= MAINS and "live chassis" not in found


def test_a_battery_set_keeps_only_what_holds_for_all() -> None:
    assert keys(live_chassis="no", supply="battery", tubes=["1R5", "1U4", "1U5", "3V4"]) == {
        "lead and old wiring"
    }


def test_a_vibrator_set_has_charged_filters_but_no_line() -> None:
    found = keys(live_chassis="no", supply="vibrator")
    assert "charged filters" in found
    assert not found & {"line capacitors", "first power-up", "live chassis"}


def test_what_is_not_known_is_a_reason_for_caution() -> None:
    assert keys() >= MAINS | {"live chassis", "asbestos", "lead and old wiring"}


@pytest.mark.parametrize(
    ("facts", "key"),
    [
        ({"words": "uses a resistance cord of 135 ohms"}, "resistance cord"),
        ({"supply": "series string", "year": 1936}, "resistance cord"),
        ({"tubes": ["25L6", "25Z5", "K49B"]}, "resistance cord"),
        ({"words": "Selenium rectifier M1"}, "selenium"),
        ({"supply": "battery and line", "tubes": ["1R5", "1U4", "1U5", "3V4"]}, "selenium"),
        ({"supply": "battery and line", "tubes": ["DK92", "DF91", "DAF91", "DL94"]}, "selenium"),
        ({"tubes": ["10BP4"]}, "high voltage"),
        ({"words": "plate modulated transmitter"}, "high voltage"),
        ({"tubes": ["807"]}, "high voltage"),
        ({"tubes": ["83"]}, "mercury"),
        ({"words": "asbestos sheet under the output tube", "supply": "battery"}, "asbestos"),
    ],
)
def test_what_calls_each_one_up(facts: dict[str, object], key: str) -> None:
    assert key in keys(**facts)


def test_a_pre_war_string_is_no_reason_after_the_war() -> None:
    assert "resistance cord" not in keys(supply="series string", year=1950, tubes=FIVE_TUBE)
    assert "resistance cord" not in keys(supply="series string", tubes=["25L6", "25Z5", "117L7"])


def test_a_rectifier_tube_rules_selenium_out() -> None:
    assert "selenium" not in keys(supply="transformer", tubes=["6BE6", "5Y3"], year=1950)
    assert "selenium" not in keys(supply="transformer", tubes=["6BE6"], year=1936)


def test_each_is_short_and_defers_and_says_why() -> None:
    assert len({caution.key for caution in CAUTIONS}) == len(CAUTIONS)
    for caution in CAUTIONS:
        assert len(caution.text) < 400
        assert "Local codes and licensed practice" in caution.text
        assert caution.when and not caution.because
    assert all(caution.because for caution in applying())


def test_the_lamp_and_the_capacitor_classes() -> None:
    # series lamp of about 60 W: common practice, no source; classes: IEC 60384-14, from memory
    texts = {caution.key: caution.text for caution in CAUTIONS}
    assert "about 60 W" in texts["first power-up"]
    assert "class X across the line" in texts["line capacitors"]
    assert "IEC 60384-14" in texts["line capacitors"]
