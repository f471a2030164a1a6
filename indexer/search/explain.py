"""What a near set's pages are good for on the set at hand, and what not. Common practice, no
source: a circuit follows the tubes' jobs, pin numbers their sockets, values their types and
supply, alignment the frequency changer and the intermediate frequency."""

from dataclasses import dataclass

from indexer.model import Entry
from indexer.search.kin import SAME_SOCKET, Nearness
from indexer.trade.jobs import role_class
from indexer.trade.lineup import LineupFacts
from indexer.trade.tubes import known

_ALIKE = frozenset({"same", "same, other envelope", "direct substitute"})
_OWN = frozenset({"exact", "in range"})
_TUNED = frozenset({"converter", "voltage pentode"})


@dataclass(frozen=True, slots=True)
class Trust:
    """One kind of information: whether it applies ("yes", "in part" or "no"), and why."""

    what: str  # "circuit", "values", "pin numbers" or "alignment"
    applies: str
    why: str


def trust(near: Nearness, asked: LineupFacts, entry: Entry, grade: str = "") -> tuple[Trust, ...]:
    """What of an entry's pages applies to the asked set, in the order of `Trust.what`.

    `grade` of an exact match or a member of a printed range means the pages are the set's own.
    """
    alike = all(pair.relation in _ALIKE for pair in near.exchange)
    if grade in _OWN and alike and not near.missing:
        names = ("circuit", "values", "pin numbers", "alignment")
        return tuple(Trust(name, "yes", "the pages are for this set") for name in names)
    supply_differs = "unknown" not in (asked.supply, entry.supply) and asked.supply != entry.supply
    return (
        _circuit(near, supply_differs),
        _values(near, supply_differs, asked, entry),
        _pins(near),
        _alignment(near, entry),
    )


def _circuit(near: Nearness, supply_differs: bool) -> Trust:
    loose = [f"no counterpart for {t}" for t in near.missing]
    loose += [f"{t} more" for t in near.extra]
    weak = [p for p in near.exchange if p.relation in ("same role", "none")]
    loose += [f"{p.asked} against {p.has} does the job otherwise" for p in weak]
    if supply_differs:
        loose.append("the supply is another")
    if not loose:
        return Trust("circuit", "yes", "every tube has a counterpart for its job")
    whole = len(near.exchange) + len(near.missing)
    applies = "in part" if len(near.exchange) * 2 > whole else "no"
    return Trust("circuit", applies, "; ".join(loose[:3]))


def _values(near: Nearness, supply_differs: bool, asked: LineupFacts, entry: Entry) -> Trust:
    other = [p for p in near.exchange if p.relation not in _ALIKE]
    if near.missing or supply_differs:
        why = "the supply is another" if supply_differs else f"{near.missing[0]} has no counterpart"
        return Trust("values", "no", f"{why}: voltages and resistors go with them")
    if other:
        names = ", ".join(f"{p.asked}/{p.has}" for p in other[:3])
        return Trust("values", "in part", f"not those around {names}")
    one, two = asked.string_volts, entry.string_volts
    if near.extra:
        more = ", ".join(near.extra[:3])
        return Trust("values", "in part", f"not those around {more}, which is more here")
    if one and two and abs(two - one) > 2:
        return Trust(
            "values", "in part", f"the string is {two:.1f} V, here {one:.1f} V: not its drop"
        )
    return Trust("values", "yes", "same types and supply; compare parts that can be seen")


def _pins(near: Nearness) -> Trust:
    exchange, missing = near.exchange, near.missing
    other = [p for p in exchange if p.relation not in SAME_SOCKET]
    if not other and not missing:
        if near.extra:
            more = ", ".join(near.extra[:3])
            return Trust("pin numbers", "in part", f"of the sockets asked for; {more} more here")
        return Trust("pin numbers", "yes", "every socket takes the same basing")
    names = ", ".join([f"{p.asked}/{p.has}" for p in other[:4]] + list(missing[:2]))
    applies = "in part" if len(other) * 2 < len(exchange) else "no"
    return Trust("pin numbers", applies, f"other sockets for {names}")


def _alignment(near: Nearness, entry: Entry) -> Trust:
    tuned = [p for p in near.exchange if _is_tuned(p.asked)]
    lost = [t for t in near.missing if _is_tuned(t)]
    other = [p for p in tuned if p.relation in ("same role", "none")]
    frequency = (
        f"only if the I.F. is {entry.if_khz:g} kc here too"
        if entry.if_khz
        else ("only if the I.F. agrees; these pages don't say theirs")
    )
    if lost or other or not tuned:
        return Trust("alignment", "no", "the tuned stages differ")
    return Trust("alignment", "in part", frequency)


def _is_tuned(type_: str) -> bool:
    tube = known(type_.partition("/")[0])
    return tube is not None and role_class(tube) in _TUNED
