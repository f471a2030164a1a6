"""Relations between types. The wanted answers are common practice, no source, unless marked."""

import pytest

from indexer.trade.relations import KINDS, RANK, relation, same_pins, substitutes
from indexer.trade.tubes import all_tubes, equal_group, lookup, packaged_rows

WANTED = [
    ("6SN7GT", "6SN7GTB", "same, other envelope"),
    ("6SN7", "6SN7", "same"),
    ("12AX7", "ECC83", "same"),
    ("6BQ5", "EL84", "same"),
    ("6SK7", "6SK7GT", "same, other envelope"),
    ("12AV6", "12AT6", "direct substitute"),
    ("6AV6", "6AT6", "direct substitute"),
    ("6BE6", "12BE6", "other heater"),
    ("12BE6", "12SA7", "other socket"),
    ("50B5", "50C5", "other socket"),
    ("35Z5", "35W4", "other socket"),
    ("6SN7", "6SL7", "same role"),
    ("6V6", "6L6", "direct substitute"),
    ("6L6", "6V6", "same role"),
    ("5Y3", "5U4", "direct substitute"),
    ("5Y3", "5V4", "direct substitute"),
    ("5U4", "5Y3", "same role"),
    ("5Y3", "80", "other socket"),
    ("1T4", "1U4", "same role"),
    ("12SK7", "12SJ7", "same role"),
    ("12SK7", "12SG7", "other socket"),
    ("6SK7", "6K7", "other socket"),
    ("6SA7", "6BE6", "other socket"),
    ("6X5", "84", "other socket"),
    ("25L6", "50L6", "other heater"),
    ("35L6", "50L6", "other heater"),
    ("50L6", "50C5", "other socket"),
    ("14Q7", "12SA7", "other socket"),
    ("UCH42", "ECH42", "other heater"),
    ("12AX7", "12AU7", "same role"),
    ("6SK7", "12SK7", "other heater"),
    ("6SQ7", "12SQ7", "other heater"),
    ("6V6", "6AQ5", "other socket"),
    ("42", "6F6", "other socket"),
    ("41", "6K6", "other socket"),
    ("78", "6K7", "other socket"),
    ("77", "6C6", "direct substitute"),
    ("78", "6D6", "direct substitute"),
    ("57", "6C6", "other heater"),
    ("2A5", "42", "other heater"),
    ("57", "58", "same role"),
    ("2A7", "6A7", "other heater"),
    ("6A7", "6A8", "other socket"),
    ("6SN7", "12SN7", "other heater"),
    ("6SN7", "6CG7", "other socket"),
    ("6BA6", "6BD6", "direct substitute"),
    ("6BA6", "6AU6", "same role"),
    ("12BA6", "12SK7", "other socket"),
    ("3S4", "3V4", "other socket"),
    ("6X4", "6X5", "other socket"),
    ("6J5", "6C5", "direct substitute"),
    ("7A7", "14A7", "other heater"),
    ("7C5", "6V6", "other socket"),
    ("EL86", "UL84", "other heater"),
    ("EL84", "UL84", "same role"),
    ("12BE6", "12AD6", "same role"),
    ("5Y3", "GZ34", "direct substitute"),
    ("6L6", "807", "other socket"),
    ("EF80", "UF80", "other heater"),
    ("0A2", "0B2", "same role"),
    ("5U4", "5Z3", "other socket"),
    ("80", "5Z3", "direct substitute"),
    ("6E5", "6U5", "direct substitute"),
    ("35W4", "50C5", "none"),
    ("12BE6", "12AV6", "none"),
    ("6V6", "5Y3", "none"),
    ("6SK7", "ZZZZ", "none"),
]


@pytest.mark.parametrize(("asked", "has", "kind"), WANTED)
def test_relations_that_the_bench_knows(asked: str, has: str, kind: str) -> None:
    found = relation(asked, has)
    assert found.kind == kind, found


def test_a_5z3_serves_for_an_80_without_rewiring() -> None:
    """So says RADIO.TXT on disk 1432 of the PC-SIG Library, 1989."""
    assert relation("80", "5Z3").kind == "direct substitute"


def test_notes_say_what_to_mind() -> None:
    assert "pins" in relation("50B5", "50C5").note
    assert "tap" in relation("35Z5", "35W4").note
    assert "20" in relation("6SN7", "6SL7").note and "70" in relation("6SN7", "6SL7").note
    assert "0.9 A" in relation("6V6", "6L6").note
    assert "B+" in relation("5Y3", "5V4").note
    assert "remote" in relation("1T4", "1U4").note
    assert "12.6 V" in relation("6BE6", "12BE6").note


def test_every_pair_gives_one_of_the_kinds_and_a_reason() -> None:
    names = sorted(all_tubes())
    for asked in names[::37]:
        for has in names[::41]:
            found = relation(asked, has)
            assert found.kind in KINDS
            assert found.note or found.kind == "same"
            if asked == has:
                assert found.kind == "same"


def _groups(asked: str, has: str) -> tuple[str, str]:
    return equal_group(asked), equal_group(has)


def test_direct_substitutes_share_pins_and_heater() -> None:
    """What may be plugged in must fit: the table's own columns, exceptions aside."""
    listed = {
        (equal_group(row[0]), equal_group(row[1]))
        for row in packaged_rows("relations.csv")["relations.csv"]
    }
    for asked in sorted(all_tubes()):
        for has, link in substitutes(asked):
            if link.kind != "direct substitute" or _groups(asked, has) in listed:
                continue
            one, two = lookup(asked), lookup(has)
            assert one and two and same_pins(one, two)
            assert one.heating == two.heating == "cold" or any(
                abs(a[0] - b[0]) <= 0.05 * max(a[0], b[0]) + 1e-9
                and abs(a[1] - b[1]) <= 0.10 * max(a[1], b[1]) + 1e-9
                for a in one.heaters
                for b in two.heaters
            ), (asked, has)


def test_curated_relations_are_sound() -> None:
    header, *rows = packaged_rows("relations.csv")["relations.csv"]
    assert header == ["asked", "has", "relation", "note"]
    assert len({(row[0], row[1]) for row in rows}) == len(rows)
    for asked, has, kind, note in rows:
        assert kind in KINDS[2:6] and note
        assert lookup(asked) is not None and lookup(has) is not None, (asked, has)


def test_curated_plug_ins_have_the_same_pins() -> None:
    for asked, has, kind, _ in packaged_rows("relations.csv")["relations.csv"][1:]:
        if kind == "direct substitute":
            one, two = lookup(asked), lookup(has)
            assert one and two and same_pins(one, two), (asked, has, one, two)


def test_substitutes_come_strongest_first_and_few() -> None:
    found = substitutes("6V6GT")
    ranks = [RANK[link.kind] for _, link in found]
    assert ranks == sorted(ranks) and found
    assert len(found) <= 80
    assert substitutes("ZZZZ") == []
    assert "12AT6" in [name for name, _ in substitutes("12AV6")]
