"""The whole tube table: format, the type-number rule, and what is published outside."""

from collections import defaultdict

import pytest

from indexer.trade.relations import same_pins
from indexer.trade.tubes import COLUMNS, Tube, all_tubes, known, lookup, packaged_rows
from tests.trade.table_checks import (
    disagreements,
    heater_exceptions,
    published_checks,
    reference_types,
    rows_of,
)

BASES = {
    "4-pin", "5-pin", "6-pin", "small 7-pin", "medium 7-pin", "octal", "loctal", "7-pin miniature",
    "noval", "rimlock", "side-contact 8", "side-contact 5", "B4", "B5", "B7", "B9G", "B8B", "acorn",
    "duodecar", "novar", "magnoval", "subminiature", "nuvistor", "WD4", "UV4", "special",
    "5-pin German", "8-pin steel", "mazda octal", "screw",
}  # fmt: skip
FUNCTIONS = {
    "diode", "triode", "power triode", "tetrode", "remote tetrode", "sharp pentode",
    "remote pentode", "power pentode", "beam power", "pentagrid converter", "pentagrid mixer",
    "octode", "hexode", "heptode", "remote hexode", "eye", "half-wave rectifier",
    "full-wave rectifier", "rectifier-doubler", "gas rectifier", "high-voltage rectifier",
    "damper diode", "gas regulator", "gas triode", "gas tetrode", "gated-beam", "ballast",
}  # fmt: skip


def _every_row() -> list[tuple[str, list[str]]]:
    return [(name, row) for name, rows in packaged_rows("tubes_*.csv").items() for row in rows[1:]]


def test_there_are_at_least_900_types() -> None:
    assert len(all_tubes()) >= 900


def test_every_file_has_the_header_and_every_row_its_cells() -> None:
    for name, rows in packaged_rows("tubes_*.csv").items():
        assert tuple(rows[0]) == COLUMNS, name
    for name, row in _every_row():
        assert len(row) == len(COLUMNS), (name, row)
        assert row[0] == row[0].upper() and " " not in row[0] and "-" not in row[0], row
        assert row[16], row


def test_no_type_stands_in_two_rows() -> None:
    seen: dict[str, str] = {}
    for name, row in _every_row():
        assert row[0] not in seen, (row[0], name, seen.get(row[0]))
        seen[row[0]] = name


def test_words_and_figures_are_of_the_agreed_kind() -> None:
    for tube in all_tubes().values():
        assert tube.heating in {"direct", "indirect", "cold"}, tube
        assert tube.base in BASES, tube
        assert tube.functions and set(tube.functions) <= FUNCTIONS, tube
        assert tube.top_cap in {"", "grid", "plate", "both"}, tube
        assert set(tube.doubt) <= set(COLUMNS), tube
        for volts, amps in tube.heaters:
            assert 0 < volts <= 125 and 0 < amps <= 12, tube
        if tube.heating == "cold" and tube.functions != ("ballast",):
            assert not tube.heaters, tube
        if tube.heater_v2 and tube.heater_v:
            assert tube.heater_v > tube.heater_v2, tube
        if tube.mu:
            assert "triode" in " ".join(tube.functions), tube


def test_tapped_heaters_take_the_same_watts_either_way() -> None:
    """Two equal halves in series or in parallel: volts times amperes must not change (physics)."""
    for tube in all_tubes().values():
        if len(tube.heaters) == 2:
            (v, a), (v2, a2) = tube.heaters
            assert v * a == pytest.approx(v2 * a2, rel=0.1), tube


def test_equals_share_heater_and_job() -> None:
    """A type and its equal under another number must agree where both have rows."""
    for tube in all_tubes().values():
        for other_name in tube.equals:
            other = all_tubes().get(other_name)
            if other is None:
                continue
            assert set(tube.heaters) & set(other.heaters) or not tube.heaters, (tube, other)
            assert sorted(tube.functions) == sorted(other.functions), (tube, other)
            assert tube.base == other.base, (tube, other)
            if tube.basing and other.basing:
                assert tube.basing == other.basing, (tube, other)


def test_an_equal_number_leads_to_one_row() -> None:
    """No number may stand for two different tubes."""
    owners: dict[str, list[Tube]] = defaultdict(list)
    for tube in all_tubes().values():
        for other in tube.equals:
            owners[other].append(tube)
    for name, group in owners.items():
        for tube in group:
            assert tube.heaters == group[0].heaters, (name, tube, group[0])
            assert sorted(tube.functions) == sorted(group[0].functions), (name, tube, group[0])
            assert not tube.basing or not group[0].basing or tube.basing == group[0].basing


def test_no_departure_from_the_type_number_rule_but_those_listed() -> None:
    found = disagreements()
    unlisted = {name: text for name, text in found.items() if name not in heater_exceptions()}
    assert not unlisted, unlisted


def test_every_listed_exception_is_one() -> None:
    found = disagreements()
    for name, (text, why) in heater_exceptions().items():
        assert found.get(name) == text and why, (name, found.get(name))


# Where the printed list and the table differ, and why the table is kept.
PRINTED_OTHERWISE = {
    "42": "the list keeps the 0.65 A of the first years, later lists have 0.7 A",
    "6W6": "1.25 A printed, 1.2 A as the 6.3 V sister of 12W6 (12.6 V 0.6 A)",
}
PINS_PRINTED_OTHERWISE = {
    ("46", "47"): "the grids' pins agree, but the second grid's work does not: 5C and 5B",
    ("12SA7", "6SA7"): "the glass version's pins for one, the metal one's for the other",
}


def test_heaters_against_a_published_list() -> None:
    """Figures of RADIO.TXT, PC-SIG Library disk 1432 (1989), within 3 %."""
    checks = list(published_checks())
    assert len(checks) >= 60
    wrong = {name: text for name, text, good in checks if not good}
    assert set(wrong) == set(PRINTED_OTHERWISE), wrong


def test_pins_against_a_published_list() -> None:
    """Types with one basing code have one set of printed pins, and the other way round.

    Pins of RADIO.TXT, PC-SIG Library disk 1432 (1989).
    """
    printed = {
        row["type"]: (row["heater_pins"], row["electrode_pins"])
        for row in rows_of("published_types.csv")
    }
    rows = {name: tube for name in printed if (tube := lookup(name))}
    wrong = set()
    for one, first in rows.items():
        for two, second in rows.items():
            if one < two and first.basing and second.basing and first.base == second.base:
                alike = printed[one] == printed[two]
                fits = same_pins(first, second) if alike else first.basing != second.basing
                if not fits:
                    wrong.add((one, two))
    assert wrong == set(PINS_PRINTED_OTHERWISE)


# Debian package kicad-symbols 6.0.10, library Valve: pins of the drawn symbols.
KICAD_SAME = [("ECC81", "ECC83"), ("EF80", "EF85"), ("EABC80", "UABC80"), ("EABC80", "6AK8")]
KICAD_OTHER = [
    ("ECC81", "ECC88"), ("EF80", "EF86"), ("ECL82", "ECL86"), ("EL84", "EF80"), ("ECH81", "EABC80"),
    ("EM84", "EL84"),
]  # fmt: skip
# The footprint that the same library names for each symbol.
KICAD_FOOTPRINTS = {
    "Valve_Noval_P": (
        "EABC80", "6AK8", "9AK8", "PABC80", "UABC80", "ECC81", "ECC83", "ECC88", "ECH81", "ECL82",
        "ECL86", "EF80", "EF83", "EF85", "EF86", "EL84", "EM84",
    ),
    "Valve_Mini_P": ("EC92",),
    "Valve_Octal": ("EL34",),
}  # fmt: skip
FOOTPRINT_BASES = {
    "Valve_Noval_P": "noval",
    "Valve_Mini_P": "7-pin miniature",
    "Valve_Octal": "octal",
}


def _row(name: str) -> Tube:
    tube = lookup(name)
    assert tube is not None, name
    return tube


@pytest.mark.parametrize(("one", "two"), KICAD_SAME)
def test_types_drawn_with_the_same_pins_have_one_code(one: str, two: str) -> None:
    first, second = _row(one), _row(two)
    assert first.basing and first.basing == second.basing


@pytest.mark.parametrize(("one", "two"), KICAD_OTHER)
def test_types_drawn_with_other_pins_have_other_codes(one: str, two: str) -> None:
    first, second = _row(one), _row(two)
    assert first.basing and second.basing and first.basing != second.basing


def test_bases_agree_with_the_footprints_of_the_kicad_symbols() -> None:
    for footprint, names in KICAD_FOOTPRINTS.items():
        for name in names:
            assert _row(name).base == FOOTPRINT_BASES[footprint], name


# Heaters of further types, from memory: no handbook was at hand.
FROM_MEMORY = {
    "6BE6": (6.3, 0.3), "12BE6": (12.6, 0.15), "6BA6": (6.3, 0.3), "12BA6": (12.6, 0.15),
    "12AV6": (12.6, 0.15), "50C5": (50, 0.15), "35W4": (35, 0.15), "12AT7": (12.6, 0.15),
    "12AU7": (12.6, 0.15), "12AX7": (6.3, 0.3), "6SN7": (6.3, 0.6), "6SL7": (6.3, 0.3),
    "6L6": (6.3, 0.9), "6AQ5": (6.3, 0.45), "6BQ5": (6.3, 0.76), "EL34": (6.3, 1.5),
    "6X4": (6.3, 0.6), "5AR4": (5, 1.9), "1T4": (1.4, 0.05), "3V4": (2.8, 0.05),
    "3S4": (1.4, 0.1), "UCH42": (14, 0.1), "UL41": (45, 0.1), "UY41": (31, 0.1),
    "ECH81": (6.3, 0.3), "EF89": (6.3, 0.2), "EABC80": (6.3, 0.45), "EZ80": (6.3, 0.6),
    "PCL82": (16, 0.3), "UL84": (45, 0.1), "117Z3": (117, 0.04), "70L7": (70, 0.15),
}  # fmt: skip


@pytest.mark.parametrize("name", FROM_MEMORY)
def test_heaters_from_memory(name: str) -> None:
    assert any(pair == pytest.approx(FROM_MEMORY[name]) for pair in _row(name).heaters)


# Entries of the stock list that are no type as written, each with the reason.
NOT_A_TYPE: dict[str, str] = {
    "17J28": "no such shape; probably 17JZ8 with the Z read as 2",
    "33G47A": "no such shape; probably 33GY7A with the Y read as 4",
    "33CYLA": "no figure at the end; probably 33GY7 or 33CY7 misread",
    "CRC78": "the maker's letters before type 78",
    "6010": "an industrial number without a row; no rule decodes four digits",
}


def test_every_type_of_an_outside_stock_list_is_known_or_decoded() -> None:
    """pcjs_tubelist.csv, a stock list of the PCjs project."""
    types = reference_types()
    if not types:
        pytest.skip("BENCHFOLIO_REFERENCE does not name the folder of pcjs_tubelist.csv")
    missing = {name for name in types if known(name) is None}
    assert missing <= set(NOT_A_TYPE), missing
