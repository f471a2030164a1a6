"""How one tube type stands to another: may it be plugged in, rewired for, or only understood?

Derived from the table (basing, heater, sections, amplification, ratings) and overruled by
`data/relations.csv`, the exceptions that experience teaches (common practice, no source).
The margins below are common practice, no source.
"""

from dataclasses import dataclass
from functools import cache, lru_cache

from indexer.trade.fits import heater_note, near, same_pins, socket_note
from indexer.trade.jobs import (
    LOW_PLATE,
    is_output,
    is_rectifier,
    main_sections,
    oscillator_plate,
    role_class,
    sections,
)
from indexer.trade.metal_tubes import METAL
from indexer.trade.numbering import parse_tube
from indexer.trade.tubes import (
    Tube,
    all_tubes,
    are_equals,
    equal_group,
    known,
    lookup,
    packaged_rows,
    table_name,
)

__all__ = ["KINDS", "RANK", "Relation", "relation", "same_pins", "substitutes"]

KINDS = (
    "same",
    "same, other envelope",
    "direct substitute",
    "other heater",
    "other socket",
    "same role",
    "none",
)
RANK = {kind: place for place, kind in enumerate(KINDS)}

_NO_TAP = "the asked type has a tap for the pilot lamp, this one has none"
_METAL_MARKS = frozenset({"", "M"})  # a number without a letter is the metal tube's, if any
_MU_RATIO = 1.5  # 70 stands for 100, 20 does not stand for 70
_WEAKER = 0.85  # a rating below this share of the asked tube's serves no more as it stands
_FAR_WEAKER = 0.45  # below this share not even the circuit compares
_STRONGER = 1.25


@dataclass(frozen=True, slots=True)
class Relation:
    """`kind` is one of `KINDS`, strongest first; `note` is one short reason or warning."""

    kind: str
    note: str = ""


def _group_of(name: str) -> str:
    return equal_group(table_name(name) or name)


@cache
def _exceptions() -> dict[tuple[str, str], Relation]:
    _, *rows = packaged_rows("relations.csv")["relations.csv"]
    return {
        (_group_of(asked), _group_of(has)): Relation(kind, note) for asked, has, kind, note in rows
    }


@lru_cache(maxsize=65536)
def relation(asked: str, has: str) -> Relation:
    """How `has`, a tube on offer, stands to `asked`, the one that the set wants.

    Direction matters: a heavier tube may serve where a lighter one was, not the other way round.
    Types may be written as printed. Unknown types are related only to themselves.
    """
    first, second = parse_tube(asked), parse_tube(has)
    if first is None or second is None:
        return Relation("none", "not a known tube type")
    one = table_name(first.base) or first.base
    two = table_name(second.base) or second.base
    if one == two:
        if first.suffix == second.suffix:
            note = "" if first.base == second.base else "one tube under two numbers"
            return Relation("same", note)
        glass = one in METAL and first.suffix in _METAL_MARKS and second.suffix not in _METAL_MARKS
        note = _suffix_note(first.revision, second.revision, glass)
        return Relation("same, other envelope", note)
    tube, other = known(one), known(two)
    if tube is None or other is None:
        return Relation("none", "not in the tube table")
    if are_equals(one, two):
        return Relation("same", "one tube under two numbers")
    listed = _exceptions().get((equal_group(one), equal_group(two)))
    return listed or _derived(tube, other)


def _suffix_note(asked: str, has: str, glass: bool) -> str:
    """What to mind; `glass` where a glass tube comes where the metal one of that number stood."""
    if asked == has and glass:
        return "only the envelope differs; glass may want a shield where metal stood"
    if asked == has:
        return "only the envelope differs; see that it has room"
    if has > asked:
        return "later version of the same type; it serves for the earlier one"
    return "earlier version; the later one may stand higher ratings or a set heating time"


def _derived(asked: Tube, has: Tube) -> Relation:
    role = role_class(asked)
    if not role or role != role_class(has):
        return _across_roles(asked, has)
    differs = _job_differs(asked, has)
    weaker = _share(asked.rating, has.rating)
    socket = socket_note(asked, has)
    heater = heater_note(asked, has)
    if asked.pilot_tap and not has.pilot_tap:
        heater = heater or _NO_TAP
    if differs or weaker < _FAR_WEAKER:
        plain = not socket and not heater
        note = differs or _rating_note(asked, has)
        return Relation("same role", f"same pins and heater, but {note}" if plain else note)
    if socket:
        return Relation("other socket", _joined(socket, heater, *_extras(asked, has)))
    if heater:
        return Relation("other heater", _joined(heater, *_extras(asked, has)))
    if weaker < _WEAKER:
        note = _rating_note(asked, has)
        return Relation("same role", f"same pins and heater, but weaker: {note}")
    return Relation("direct substitute", _direct_note(asked, has))


def _across_roles(asked: Tube, has: Tube) -> Relation:
    """A first audio triode with and without diodes still does one job; most else does not."""
    pair = {role_class(asked), role_class(has)}
    if pair == {"output", "triode and output"} and set(asked.functions) & set(has.functions):
        return Relation("same role", "one holds a triode besides")
    if pair in ({"twin triode", "twin output"}, {"triode", "output"}) and _all_triodes(asked, has):
        return Relation("same role", "voltage amplifier and output triode: other bias and load")
    if {_first_audio(asked), _first_audio(has)} == {"triode", "sharp pentode"}:
        return Relation(
            "same role", "detector and first audio: one amplifies by a triode, one a pentode"
        )
    return Relation("none", "another job")


def _first_audio(tube: Tube) -> str:
    """The amplifying section of a detector and first audio tube (1H5, 1S5); "" for others."""
    main = main_sections(tube)
    return main[0] if len(main) == 1 and "diode" in tube.functions else ""


def _all_triodes(*tubes: Tube) -> bool:
    return all(set(main_sections(tube)) <= {"triode", "power triode"} for tube in tubes)


def _job_differs(asked: Tube, has: Tube) -> str:
    """Why two tubes of one role are no equals in it; "" when they are."""
    grids = {oscillator_plate(asked), oscillator_plate(has)}
    if grids == {True, False}:
        return "one's oscillator has a plate grid of its own, the other's has none"
    if (asked.type in LOW_PLATE) != (has.type in LOW_PLATE):
        return "one is made for 12 V on the plate (hybrid car sets), the other is not"
    if sections(asked) != sections(has):
        if main_sections(asked) == main_sections(has):
            return "one has small diodes that the other lacks"
        return f"{_and(main_sections(asked))} wanted, {_and(main_sections(has))} offered"
    if asked.mu and has.mu and max(asked.mu, has.mu) > _MU_RATIO * min(asked.mu, has.mu):
        return f"amplification {asked.mu:g} wanted, {has.mu:g} offered: other gain and bias"
    if (asked.heating == "cold") != (has.heating == "cold"):
        return "one needs a heater, the other none"
    if asked.functions == ("gas regulator",) and _share(asked.rating, has.rating) != 1.0:
        return f"{asked.rating or 0:g} V wanted, {has.rating or 0:g} V offered"
    if _battery(asked) != _battery(has):
        return "one is a battery tube with a filament, the other has a heater and cathode"
    return ""


def _and(names: tuple[str, ...]) -> str:
    return " and ".join(dict.fromkeys(names))


def _battery(tube: Tube) -> bool:
    return tube.heating == "direct" and not is_rectifier(tube) and not is_output(tube)


def _share(asked: float | None, has: float | None) -> float:
    return has / asked if asked and has else 1.0


def _rating_note(asked: Tube, has: Tube) -> str:
    unit = "mA" if is_rectifier(asked) else "W at the plate"
    return f"{asked.rating:g} {unit} wanted, {has.rating:g} offered"


def _extras(asked: Tube, has: Tube) -> tuple[str, str]:
    """What else to mind: the pilot-lamp tap, and ratings that are far apart."""
    apart = not _WEAKER <= _share(asked.rating, has.rating) <= _STRONGER
    return _tap_note(asked, has), _rating_note(asked, has) if apart else ""


def _tap_note(asked: Tube, has: Tube) -> str:
    if asked.pilot_tap and not has.pilot_tap:
        return _NO_TAP
    if has.pilot_tap and not asked.pilot_tap:
        return "this one has a pilot-lamp tap that the set does not use"
    return "mind the pilot-lamp tap" if asked.pilot_tap else ""


def _direct_note(asked: Tube, has: Tube) -> str:
    notes = []
    if asked.mu and has.mu and not near(asked.mu, has.mu, 0.1):
        notes.append(f"amplification {asked.mu:g} against {has.mu:g}")
    if _share(asked.rating, has.rating) > _STRONGER:
        notes.append(f"the heavier tube: {_rating_note(asked, has)}")
    if asked.heaters and has.heaters and asked.heaters[0] != has.heaters[0]:
        notes.append("heater current differs a little: measure before use in a series string")
    return "; ".join(notes) or "same pins, heater and job"


def _joined(*notes: str) -> str:
    return "; ".join(dict.fromkeys(note for note in notes if note))


@cache
def _by_role() -> dict[str, tuple[str, ...]]:
    groups: dict[str, list[str]] = {}
    for name, tube in all_tubes().items():
        groups.setdefault(role_class(tube), []).append(name)
    return {role: tuple(names) for role, names in groups.items()}


_SHOWN = {
    "same": 20,
    "direct substitute": 20,
    "other heater": 10,
    "other socket": 10,
    "same role": 6,
}


@lru_cache(maxsize=1024)
def _substitutes(name: str) -> tuple[tuple[str, Relation], ...]:
    tube = lookup(name)
    if tube is None:
        return ()
    others = set(_by_role().get(role_class(tube), ()))
    group = equal_group(tube.type)
    others |= {has for asked, has in _exceptions() if asked == group}
    found = [(other, relation(tube.type, other)) for other in others - {tube.type}]
    found.sort(key=lambda item: (RANK[item[1].kind], _distance(tube, item[0]), item[0]))
    shown: list[tuple[str, Relation]] = []
    room = dict(_SHOWN)
    for other, link in found:
        if room.get(link.kind, 0) > 0:
            room[link.kind] -= 1
            shown.append((other, link))
    return tuple(shown)


def _distance(tube: Tube, other: str) -> float:
    """Orders equals in rank: same base first, then near heater, amplification and rating."""
    has = all_tubes()[other]
    apart = 0.0 if has.base == tube.base else 2.0
    for one, two in (
        (tube.heater_v, has.heater_v), (tube.heater_a, has.heater_a), (tube.mu, has.mu),
        (tube.rating, has.rating),
    ):  # fmt: skip
        if one and two:
            apart += 1 - min(one, two) / max(one, two)
        elif one or two:
            apart += 0.5
    return apart


def substitutes(type_: str) -> list[tuple[str, Relation]]:
    """Other types that may stand for a printed type, strongest relation first, for showing.

    Empty when the table has no row for it. At most a few dozen; weak kinds are cut short.
    """
    return list(_substitutes(type_))
