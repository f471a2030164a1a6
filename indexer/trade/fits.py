"""Whether one tube fits where another was: pins of the socket and connections of the heater.

The margins are common practice, no source.
"""

from indexer.trade.tubes import Tube

_VOLTS_APART = 0.05  # share of the larger
_AMPS_APART = 0.10

# Basing codes whose pins agree as far as a set's wiring can tell. 5L and 5DA bring the cathode
# to the heater pin from which a 5T filament rectifier gives its output, 4AD likewise beside 4C;
# 7S and 7AC, 8R and 8AD differ by what pin 1 joins (nothing, the shell, the suppressor); 9AJ, 9DE
# and 9LP by which triode counts as the first and whether pin 9 is a shield; 6AA and 6AE, 5E and 5F
# by a suppressor on the cathode, 7BK and 7CC by the shield; 6AD is 5AA with the pilot-lamp tap on
# the free pin 3.
_LIKE_PINS = tuple(
    frozenset(codes.split())
    for codes in (
        "5T 5L 5DA",
        "4C 4AD",
        "7S 7AC",
        "7BK 7CC",
        "8R 8AD",
        "9AJ 9DE 9LP",
        "6AA 6AE",
        "5AA 6AD",
        "5E 5F",
    )
)


def same_pins(asked: Tube, has: Tube) -> bool:
    """Whether one socket, as wired, takes both: same base and the same basing code."""
    if asked.base != has.base or asked.top_cap != has.top_cap:
        return False
    if _letter_kin(asked.type, has.type):
        return True
    if not asked.basing or not has.basing:
        return False
    codes = frozenset((asked.basing, has.basing))
    return len(codes) == 1 or any(codes <= group for group in _LIKE_PINS)


def _letter_kin(one: str, two: str) -> bool:
    """ECH42 and UCH42: by the letter rule one tube for two kinds of heater, on the same pins."""
    return one[1:] == two[1:] and one[:2].isalpha() and {one[0], two[0]} <= set("EUPHXL")


def socket_note(asked: Tube, has: Tube) -> str:
    """How the sockets differ, in words; "" when the offered tube goes straight in."""
    if same_pins(asked, has):
        return ""
    if asked.base != has.base:
        return f"{asked.base or 'unrecorded'} base wanted, {has.base or 'unrecorded'} offered"
    if asked.top_cap != has.top_cap:
        return f"same {asked.base} base, but one has a top cap where the other has a pin"
    if asked.basing and has.basing:
        return f"same {asked.base} base, other pins ({asked.basing}, {has.basing})"
    return f"same {asked.base} base, but the pins are not on record; compare them"


def heater_note(asked: Tube, has: Tube) -> str:
    """How the heaters differ; "" when any two connections agree within the margins."""
    if not asked.heaters or not has.heaters:
        if asked.heating == has.heating == "cold":
            return ""
        return "heater figures not on record; compare them"
    pairs = [(a, b) for a in asked.heaters for b in has.heaters]
    if any(near(a[0], b[0], _VOLTS_APART) and near(a[1], b[1], _AMPS_APART) for a, b in pairs):
        return ""
    alike = [(a, b) for a, b in pairs if near(a[0], b[0], _VOLTS_APART)]
    if alike:
        one, other = alike[0]
        return (
            f"at the same {one[0]:g} V the heater takes {other[1]:g} A, {one[1]:g} A wanted: not "
            "in a series string; in parallel if the supply can feed it"
        )
    volts, amps = asked.heaters[0]
    other_v, other_a = has.heaters[0]
    return f"heater {volts:g} V {amps:g} A wanted, {other_v:g} V {other_a:g} A offered"


def near(one: float, other: float, share: float) -> bool:
    """Whether two figures differ by no more than a share of the larger."""
    return abs(one - other) <= share * max(one, other) + 1e-9
