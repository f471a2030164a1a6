"""Whether a part can have the value that was read: by its size, words, volts and column.

A scan gives pF for µF and the other way round, which is a factor of a million. Sizes of parts by
what they do are common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.trade.value_forms import trade_form
from indexer.trade.value_units import Value

TAKEN, UNSURE = "taken", "unsure"
LOOK_AT_IT = "Value doubtful, look at the page."

_STORES = re.compile(
    r"SMOOTH|RESERV|ELECTRO|\bELECT\b|\bELKO|\bELYT|\bLADE|\bSIEB|\bFILTER|\bFILTRE|\bFILTRAGE",
    re.I,
)
_PASSES = re.compile(
    r"\bBY\W?PASS|\bDE\W?COUP|\bENTKOPP|\bCATH|\bKATH?OD|\bTONE\b|\bPAPER|\bPAPIER|\bSCREEN|"
    r"\bSCHIRM|\bS\.?G\.? |\bH\.?T\.?\b|\bB\+|\bMAINS|\bLINE\b|\bBUFFER|\bA\.?F\.? COUP|"
    r"\bL\.?F\.? COUP|\bAUDIO COUP|\bOUTPUT COUP",
    re.I,
)
_TUNES = re.compile(
    r"\bR\.?F\.?\b|\bI\.?F\.?\b|\bH\.?F\.?\b|\bZ\.?F\.?\b|\bOSC|\bAERIAL|\bANT(?:ENN\w*)?\b|\bDIOD|"
    r"\bDET|\bTUN(?:ED|ING|ER)|\bTRIM|\bPADD|\bTRACK|\bTRAP|\bMICA|\bGLIMMER|\bCERAM|\bKERAM|"
    r"\bSHORT|\b[SF]\.?[WM]\.?\b|\bSILVER|\bNEUTRAL|\bFIXED TRIM",
    re.I,
)
_SMALL_UNIT = re.compile(r"\d\s*(?:[pn]|[uµμ]{2}|mm)\.?\s?f", re.I)
_IN_MICRO = re.compile(r"(?<!\d)0?\.000\d+\s*(?:[uµμ]|m)\.?f", re.I)
_LARGE_LOAD = re.compile(
    r"(?:GRID|\bC\.?G\.?|G1) LEAK|(?:ANODE|PLATE) LOAD|\bA\.?V\.?C\.? (?:DECOUP|FEED|LOAD|FILTER)|"
    r"\bDIODE LOAD|\bS\.?G\.? (?:FEED|DROP)|SCREEN (?:FEED|DROP)",
    re.I,
)
_CATHODE = re.compile(r"\bCATHODE (?:BIAS|RES)|\bG\.?B\.?\b|\bBIAS RES", re.I)

_LEAST_F = 1e-12  # smaller ones were not made
_LEAST_STORE_F, _MOST_STORE_F = 0.9e-6, 600e-6
_LEAST_AVC_F = 0.9e-8
_LEAST_PASS_F = 40e-12
_MOST_TUNED_F, _SURELY_NOT_TUNED_F = 0.5e-6, 5e-6
_LOW_V, _HIGH_V = 100.0, 400.0  # micas stand more than the first, large cans less than the second
_MOST_HIGH_V_F = 150e-6
_MOST_LOW_V_F, _LOW_CAN_V = 10e-3, 35.0
_LEAST_LOAD_OHMS, _MOST_BIAS_OHMS = 1e3, 50e3
_LEAST_OHMS, _MOST_OHMS = 0.1, 50e6


@dataclass(frozen=True, slots=True)
class Sense:
    """A value as it is to be taken; `state` is "", TAKEN (in another unit) or UNSURE, `doubt` a
    sentence that says why, else ""."""

    value: Value
    state: str = ""
    doubt: str = ""


def sense(value: Value, words: str, column: Sequence[str] = ()) -> Sense:
    """A capacitor's or resistor's value against the words of its row and of the list's others.

    Where one other unit agrees with all that is known, the value is taken in that unit, and told.
    """
    if value.kind == "farads":
        return _farads(value, words, column)
    if value.kind == "ohms":
        return _ohms(value, words)
    return Sense(value)


def _farads(value: Value, words: str, column: Sequence[str]) -> Sense:
    number, volts = value.number, value.working_v
    tuned = bool(_TUNES.search(words))
    stores = bool(_STORES.search(words)) and not tuned
    passes = bool(_PASSES.search(words)) and not tuned
    small = bool(_SMALL_UNIT.search(words))
    if number < _LEAST_F:
        if tuned:
            return _unsure(value, "too small")
        return _larger(value, "smaller than any made", 1e-9, _MOST_STORE_F)
    if stores and small and number < _LEAST_STORE_F:
        if re.search(r"\bA\.?[VG]\.?C\b", words, re.I) and number >= _LEAST_AVC_F:
            return Sense(value)
        return _larger(value, "too small for its job", _LEAST_STORE_F, _MOST_STORE_F)
    if passes and small and number < _LEAST_PASS_F:
        return _larger(value, "too small for its job", 1e-9, _MOST_STORE_F)
    if small and not tuned and volts and volts < _LOW_V and number < 1e-9:
        return _larger(value, f"too small for {volts:g} V", _LEAST_STORE_F, _MOST_STORE_F)
    if small and number < 1e-9 and any(_IN_MICRO.search(other) for other in column):
        return _unsure(value, "the list has mfd for parts as small")
    if tuned and number >= _MOST_TUNED_F and not (_PASSES.search(words) or _STORES.search(words)):
        if number >= _SURELY_NOT_TUNED_F:
            new = Value(value.kind, float(f"{number * 1e-6:.12g}"), working_v=volts)
            return _taken(value, new, "too large for its job")
        return _unsure(value, "too large for its job")
    high = bool(volts and volts >= _HIGH_V and number > _MOST_HIGH_V_F)
    most = _MOST_LOW_V_F if volts and volts <= _LOW_CAN_V else _MOST_STORE_F
    if high or number > most:
        return _unsure(value, "larger than such parts were made")
    return Sense(value)


def _larger(value: Value, why: str, least: float, most: float) -> Sense:
    """The value a thousand or a million times up, where just one of both is a usual size."""
    fits = [f for f in (1e6, 1e3) if least <= value.number * f <= most * (1 + 1e-9)]
    if not fits:
        return _unsure(value, why)
    number = float(f"{value.number * fits[0]:.12g}")
    new = Value(
        value.kind, number, value.tolerance_percent, value.working_v,
        minus_percent=value.minus_percent,
    )  # fmt: skip
    return _taken(value, new, why)


def _taken(value: Value, new: Value, why: str) -> Sense:
    doubt = f"Read as {trade_form(value)}: {why}, taken as {trade_form(new)}. {LOOK_AT_IT}"
    return Sense(new, TAKEN, doubt)


def _unsure(value: Value, why: str) -> Sense:
    return Sense(value, UNSURE, f"Read as {trade_form(value)}: {why}. {LOOK_AT_IT}")


def _ohms(value: Value, words: str) -> Sense:
    number = value.number
    if not _LEAST_OHMS <= number <= _MOST_OHMS:
        return _unsure(value, "no usual size")
    if _LARGE_LOAD.search(words) and number < _LEAST_LOAD_OHMS:
        return _unsure(value, "small for its job, a k or meg may be lost")
    if _CATHODE.search(words) and number > _MOST_BIAS_OHMS:
        return _unsure(value, "large for its job")
    return Sense(value)
