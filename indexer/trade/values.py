"""Printed values of parts: what they say, what is sold today, and what a reading makes of them.

Spelling is in `value_units` and `value_parse`, today's and the trade's form in `value_forms`,
the E series in `preferred`, replacement rules in `replacing`, tolerance in `value_verdict`.
"""

import re
from dataclasses import dataclass, replace
from math import inf, log

from indexer.errors import UsageError
from indexer.trade.preferred import is_preferred, neighbours, preferred
from indexer.trade.replacing import Replacement, replace_with
from indexer.trade.value_forms import today_form, trade_form
from indexer.trade.value_parse import parse_tolerance, parse_value
from indexer.trade.value_units import KINDS, Value
from indexer.trade.value_verdict import Verdict, limits, verdict

__all__ = [
    "KINDS",
    "Replacement",
    "Value",
    "ValueAnswer",
    "Verdict",
    "answer",
    "is_preferred",
    "limits",
    "neighbours",
    "parse_tolerance",
    "parse_value",
    "preferred",
    "replace_with",
    "today_form",
    "trade_form",
    "unit_doubt",
    "verdict",
]

_WORDS_READ = {"open": inf, "o.l.": inf, "ol": inf, "infinite": inf, "short": 0.0, "shorted": 0.0}


@dataclass(frozen=True, slots=True)
class ValueAnswer:
    """One section of a printed value with all that follows from it. Numbers are in SI units."""

    value: Value
    replacement: Replacement
    low: float
    high: float
    verdict: Verdict | None = None

    def facts(self) -> dict[str, object]:
        """Plain data for machine-readable output; keys may be added, never renamed."""
        judged = self.verdict
        return {
            "nominal": self.value.number,
            "unit": self.value.kind,
            "printed": trade_form(self.value),
            "today": today_form(self.value),
            "tolerance_percent": self.value.tolerance_percent,
            "replace_with": [v.number for v in self.replacement.values],
            "replace_as": [today_form(v) for v in self.replacement.values],
            "working_v_at_least": self.replacement.working_v_at_least,
            "type": self.replacement.type,
            "note": self.replacement.note,
            "replace_by_class": [today_form(v) for v in self.replacement.by_class],
            "low": self.low,
            "high": self.high,
            "verdict": judged.state if judged else None,
            "off_percent": judged.off_percent if judged and judged.off_percent != inf else None,
            "reading_note": judged.note if judged else None,
        }


_BARE = re.compile(r"\d*\.?\d+")
_FARADS = {"µF": 1e-6, "nF": 1e-9, "pF": 1e-12}


def read_as(text: str, kind: str) -> float:
    """A measured value in the SI unit of `kind`: "800K", "165", "open". Raises UsageError.

    A bare number is in the unit itself, for capacitors in microfarads.
    """
    word = text.strip().lower()
    if word in _WORDS_READ:
        return _WORDS_READ[word]
    found = [value.number for value in parse_value(text, kind=kind) if value.kind == kind]
    if len(found) != 1:
        raise UsageError(f"The reading {text!r} is not one value in {kind}.", "Try 800K or 0.047.")
    return found[0]


def read_near(text: str, nominal: Value) -> tuple[float, str]:
    """What the meter says beside a nominal value, in SI units, and a sentence where its unit had
    to be supposed. Raises UsageError.

    A capacitance without a unit is taken in the one that brings it nearest to the nominal value;
    a resistance without one is in ohms, since 470 for 470K is a fault to be seen.
    """
    if nominal.kind != "farads" or not _BARE.fullmatch(text.strip()) or not float(text):
        return read_as(text, nominal.kind), ""
    unit = min(_FARADS, key=lambda name: abs(log(float(text) * _FARADS[name] / nominal.number)))
    said = "" if unit == "µF" else f"Taken as {float(text):g} {unit}."
    return float(text) * _FARADS[unit], said


_OTHER_UNIT = {"farads": 300.0, "ohms": 3e5}  # times off, up or down; K and M are faults to see


def unit_doubt(nominal: Value, reads: float) -> str:
    """A sentence where a reading is so far from the nominal value that its unit must be another
    (then it is not to be judged), else "". `reads` in the nominal value's SI unit."""
    most = _OTHER_UNIT.get(nominal.kind, inf)
    if not 0 < reads < inf or 1 / most < reads / nominal.number < most:
        return ""
    off = max(reads / nominal.number, nominal.number / reads)
    side = "larger" if reads > nominal.number else "smaller"
    times = f"{float(f'{off:.1g}'):,.0f}"
    shown = f"{today_form(Value(nominal.kind, reads))} is about {times} times {side} than printed"
    fault = ""
    if nominal.kind == "farads" and side == "smaller":
        fault = " If the unit is right, it is open."
    return f"Unit? {shown}: not judged. See the unit on the meter and on the page.{fault}"


def answer(
    text: str, reads: str = "", part: str = "", old_m: bool = False
) -> tuple[ValueAnswer, ...]:
    """All that is known of a printed value, one answer for each section.

    `reads` is what the meter shows ("800K"); it is judged against a single section only.
    Raises UsageError when either is not understood.
    """
    values = parse_value(text, old_m=old_m)
    if not values or any(not value.number > 0 for value in values):
        raise UsageError(
            f"{text!r} is not a value.", "Give it with its unit: 50 mfd 150 V, 470K 10%, .05 mfd."
        )
    if reads and len(values) > 1:
        raise UsageError("A reading belongs to one section.", "Ask for one section at a time.")
    answers = []
    for value in values:
        low, high = limits(value)
        judged = None
        if reads:
            number, said = read_near(reads, value)
            judged = verdict(value, number)
            doubt = unit_doubt(value, number)
            state, note = ("unit?", doubt) if doubt else (judged.state, judged.note)
            judged = replace(judged, state=state, note=f"{said} {note}".strip())
        answers.append(ValueAnswer(value, replace_with(value, part), low, high, judged))
    return tuple(answers)
