"""How often radio sets used a type, and whether a type fits the others of one set.

Both are grounds for choosing between look-alikes on a bad print; common practice and from memory,
no source. Neither ever speaks against a type that is plainly printed.
"""

from collections.abc import Sequence

from indexer.trade.jobs import CONVERTERS, MIXER_HALVES, OUTPUTS, RECTIFIERS
from indexer.trade.strings import US_LINE_V, connection_at, heater_string
from indexer.trade.tubes import Tube, known

# Types that came in set after set.
_STAPLE_TYPES = """
    12BE6 12BA6 12AV6 12AT6 50C5 50B5 35C5 35W4 12SA7 12SK7 12SQ7 50L6 35L6 35Z5 35Z4 12A8 12K7
    12Q7 6SA7 6SK7 6SQ7 6SN7 6SL7 6SJ7 6SC7 6V6 6F6 6K6 6L6 5Y3 5U4 5Y4 5V4 5Z4 6X4 6X5 6BE6 6BA6
    6AV6 6AT6 6AQ5 6AU6 6AL5 6C4 6J5 6H6 6A8 6K7 6Q7 6U5 6E5 6U7 6D6 6C6 6A7 75 76 77 78 80 41 42
    43 47 45 24A 27 35 56 57 58 2A5 2A7 2B7 25L6 25Z5 25Z6 12AX7 12AU7 12AT7 12J5 12SJ7 14Q7 14A7
    14B6 50A5 35Y4 35A5 7A8 7A7 7B7 7B6 7C5 7C6 7Y4 7F7 7Q7 1A7 1N5 1H5 1A5 1C5 1Q5 3Q5 3S4 3Q4
    3V4 1L6 1U4 1U5 1S5 1T4 1LA6 1LN5 1LH4 1LB4 117Z3 117Z6 0Z4 6BQ5 6BQ7 ECH42 ECH81 EF41 EF80
    EF85 EF89 EBC41 EABC80 EBF80 EBF89 EL41 EL84 EZ40 EZ80 EM34 EM80 ECC81 ECC82 ECC83 ECC85 UCH42
    UCH81 UF41 UF89 UBC41 UBF80 UBF89 UABC80 UL41 UL84 UY41 UY85 UAF42 EAF42 UCL82 ECL82 DK96 DF96
    DAF96 DL96 DK91 DF91 DAF91 DL94
"""
# Types that a repair shop knew well enough, if not from every set.
_USUAL_TYPES = """
    12BD6 12AU6 12AL5 12BF6 12SG7 12SR7 12SN7 12SF7 12SC7 12C8 12B8 25B6 25A6 25C6 35B5 45Z5 50Y6
    50X6 70L7 32L7 117L7 117N7 117P7 6SB7 6SG7 6SS7 6SR7 6SF5 6SF7 6SH7 6SD7 6ST7 6AB4 6AC7 6AG5
    6AK5 6AK6 6AQ6 6AR5 6AS5 6BD6 6BF6 6BH6 6BJ6 6BK5 6BN6 6BZ6 6CB6 6CM6 6B6 6B7 6B8 6C5 6C8 6D8
    6F5 6F7 6F8 6G5 6G6 6J7 6J8 6K8 6L7 6N7 6P5 6R7 6S7 6T5 6T7 6T8 6V8 6W4 6X8 6Y6 6AD7 6AF6 6J6
    6K5 6SU7 84 85 89 36 37 38 39 26 30 31 32 33 34 46 48 49 53 55 59 71A 83 1A4 1A6 1B4 1B5 1B7
    1C6 1C7 1D5 1D7 1D8 1E7 1F4 1F5 1F6 1F7 1G4 1G6 1H4 1J6 1P5 1R4 1LC6 1LD5 1LE3 1LC5 1AC5 19 22
    15 2A3 2A6 2E5 5W4 5X4 5T4 5AX4 7A4 7A5 7A6 7AF7 7AG7 7AH7 7B4 7B5 7B8 7C7 7E6 7E7 7F8 7G7
    7H7 7J7 7K7 7L7 7N7 7R7 7S7 7V7 7W7 7X7 7Z4 14A4 14AF7 14B8 14C5 14C7 14E6 14E7 14F7 14F8 14H7
    14J7 14N7 14R7 14S7 14W7 14X7 35Z3 0A2 0B2 0D3 3LF4 3Q5 3A8 3B7 3D6 19T8 19C8 12BK5 12CA5 12DT8
    12DT5 12AQ5 12V6 12X4 12Z3 25Z3 ECH41 ECH83 EF86 EL34 EL42 EL95 EM84 EM87 EZ41 EZ81 GZ34 EBL21
    ECH21 EBC81 ECL80 ECL86 EK90 UCH41 UCH21 UBL21 UF80 UF85 UBC81 UY42 UY82 UY89 UM80 UCC85 DY86
"""
_STAPLE, _USUAL = frozenset(_STAPLE_TYPES.split()), frozenset(_USUAL_TYPES.split())
_STAPLE_GAIN, _USUAL_GAIN = 0.12, 0.06
_FITS_GAIN, _ROLE_GAIN = 0.1, 0.1
_COMPANY = (3, 9)  # distinct types that may be one set's
_JOBS = (CONVERTERS | MIXER_HALVES, OUTPUTS, RECTIFIERS)


def familiarity(name: str) -> float:
    """How much (0 to 0.12, in the cost of look-alikes) it speaks for a type that sets used it."""
    return _STAPLE_GAIN if name in _STAPLE else _USUAL_GAIN if name in _USUAL else 0.0


def fit(name: str, company: Sequence[str]) -> tuple[float, str]:
    """How much (0 to 0.3, in the cost of look-alikes) the other types of a page speak for a type,
    and why in a few words.

    They speak for it when its heater runs on the current or voltage that the others share, when
    it brings their series string to the line voltage, and when it does a job that a set must have
    and none of them does. Fewer than three or more than nine others say nothing.
    """
    others = [tube for kind in dict.fromkeys(company) if kind != name and (tube := known(kind))]
    tube = known(name)
    if tube is None or not _COMPANY[0] <= len(others) <= _COMPANY[1]:
        return 0.0, ""
    gain, grounds = _heater_ground(tube, others)
    parts = set(tube.functions)
    missing = [jobs for jobs in _JOBS if not any(set(o.functions) & jobs for o in others)]
    if any(parts & jobs for jobs in missing):
        gain += _ROLE_GAIN
        grounds.append("does a job that the others leave open")
    return round(gain, 2), "; ".join(grounds)


def _heater_ground(tube: Tube, others: Sequence[Tube]) -> tuple[float, list[str]]:
    string = heater_string(others)
    if string and len(string.places) >= max(2, 0.6 * len(others)) and string.volts > 20:
        volts = connection_at(tube, string.current_a)
        if volts is None:
            return 0.0, []
        total = string.volts + volts
        if string.volts < 0.9 * US_LINE_V <= total <= 1.08 * US_LINE_V:
            return 2 * _FITS_GAIN, [f"brings the heater string to {total:.0f} V"]
        return _FITS_GAIN, [f"its heater takes the others' {string.current_a:g} A"]
    shared = [o.heater_v for o in others if o.heater_v]
    if shared and tube.heater_v:
        common = max(set(shared), key=shared.count)
        if shared.count(common) >= 0.6 * len(others) and abs(tube.heater_v - common) < 0.4:
            return _FITS_GAIN, [f"its heater takes the others' {common:g} V"]
    return 0.0, []
