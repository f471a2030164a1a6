"""The replacement list: what to fit today for each part of a parts list, and what to leave."""

import csv
import io
import re
from collections.abc import Mapping, Sequence

from indexer.bench.parts import PartLine
from indexer.bench.sheet_types import (
    CHECK,
    LEAVE,
    REPLACE,
    SAFETY,
    TRACE,
    ReplacementLine,
    ShoppingLine,
)
from indexer.store.bench_records import PartEdit
from indexer.trade.replacing import replace_with
from indexer.trade.value_forms import today_form
from indexer.trade.value_parse import parse_value
from indexer.trade.value_verdict import IN, OUT

_PAPER_FROM_F, _ELECTROLYTIC_FROM_F = 0.9e-9, 0.9e-6
_PAPER_ON_LINE_FROM_F = 0.9e-8  # smaller ones are no line filters
_TRACE_NOTE = (
    "This set may be joined to the line. Trace this capacitor before you buy: across the line it "
    "must be an X type, from the line to the chassis a Y type (IEC 60384-14)."
)
_ON_LINE = re.compile(
    r"(?<!B\+ )(?<!V\.C\. )(?<!AVC )\bLINE\b|\bMAINS\b|\bCHASSIS\b|\bISOLAT", re.I
)
_ADJUSTED = re.compile(r"\bGANG\b|\bTRIMMER|\bPADDER|\bTUNING\b|\bVARIABLE\b", re.I)
_ADJUSTED_NOTE = "Adjusted part: leave it alone. Clean it; set it only in the course of alignment."


def replacement_list(
    parts: Sequence[PartLine],
    edits: Sequence[PartEdit],
    source: str = "",
    verdicts: Mapping[str, str] | None = None,
    *,
    line_connected: bool = False,
) -> tuple[ReplacementLine, ...]:
    """One line for each capacitor and resistor, then the person's own; edits give the state.

    Paper and electrolytic capacitors are to be replaced, those the list places on the power line
    by a safety-rated type; mica, gangs and trimmers stay; a resistor is measured first, and is
    replaced only when it read out. In a set that may be `line_connected` a paper capacitor whose
    place the list doesn't say is to be traced first: on the line it must be safety-rated.
    `verdicts` holds the verdict of each reading by reference.
    Common practice, no source.
    """
    by_name = {edit.reference: edit for edit in edits}
    lines = [
        _line(
            part,
            by_name.get(part.name),
            source,
            (verdicts or {}).get(part.name, ""),
            line_connected,
        )
        for part in parts
        if part.prefix == "C" or (part.prefix == "R" and part.value is not None)
    ]
    listed = {line.reference for line in lines}
    lines += [_own(edit) for edit in edits if edit.added and edit.reference not in listed]
    return tuple(lines)


def shopping_csv(lines: Sequence[ShoppingLine]) -> str:
    """The shopping list as CSV text (RFC 4180) with a head row; references parted by spaces."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(("count", "part", "type", "references"))
    writer.writerows((s.count, s.part, s.type, " ".join(s.references)) for s in lines)
    return out.getvalue()


def shopping_list(lines: Sequence[ReplacementLine]) -> tuple[ShoppingLine, ...]:
    """What is still to buy, equal parts added up; struck and done lines are left out."""
    totals: dict[tuple[str, str], list[str]] = {}
    for line in lines:
        if line.to_buy:
            part = line.fit[0] if line.fit else f"{line.printed} (see note)"
            if line.action == TRACE:
                part += " (trace first: X or Y class if it is on the line)"
            totals.setdefault((part, line.type), []).append(line.reference)
    return tuple(
        ShoppingLine(len(names), part, kind, tuple(names)) for (part, kind), names in totals.items()
    )


def _line(
    part: PartLine, edit: PartEdit | None, source: str, read: str, line_connected: bool
) -> ReplacementLine:
    words = part.description
    adjusted = bool(part.prefix == "C" and _ADJUSTED.search(words))
    found = None
    if part.value is not None and part.value.number > 0 and not adjusted:
        found = replace_with(part.value, _where(part))
    action = _action(part, adjusted, read, line_connected)
    notes = [part.doubt, found.note if found else "", _ADJUSTED_NOTE if adjusted else ""]
    if action == TRACE:
        notes.insert(0, _TRACE_NOTE)
    if part.prefix == "R" and read:
        notes.insert(0, f"Reads {read}.")
    return ReplacementLine(
        reference=part.name,
        printed=part.printed,
        description=words,
        action=action,
        fit=tuple(today_form(value) for value in found.values) if found else (),
        working_v_at_least=found.working_v_at_least if found else None,
        type=found.type if found else "",
        note=" ".join(text for text in notes if text),
        part_number=part.part_number,
        source=source,
        page=part.page,
        state=edit.state if edit else "",
    )


def _on_line(part: PartLine) -> bool:
    words = part.description.upper()
    return part.prefix == "C" and "ELECTROLYTIC" not in words and bool(_ON_LINE.search(words))


def _where(part: PartLine) -> str:
    """The list's words, and where they only hint at the power line, that said outright."""
    if not _on_line(part):
        return part.description
    chassis = re.search(r"CHASSIS|ISOLAT", part.description, re.I)
    return f"{part.description}, {'line to chassis' if chassis else 'across the line'}"


def _action(part: PartLine, adjusted: bool, read: str, line_connected: bool) -> str:
    value, words = part.value, part.description.upper()
    if part.prefix == "R":
        return {OUT: REPLACE, IN: LEAVE}.get(read, CHECK)
    if adjusted:
        return LEAVE
    if value is None:
        return CHECK
    if _on_line(part):
        return SAFETY
    if "MICA" in words or "CERAMIC" in words:
        return LEAVE
    if "PAPER" not in words and "ELECTROLYTIC" not in words and value.number < _PAPER_FROM_F:
        return LEAVE
    if line_connected and _PAPER_ON_LINE_FROM_F <= value.number < _ELECTROLYTIC_FROM_F:
        return TRACE
    return REPLACE


def _own(edit: PartEdit) -> ReplacementLine:
    values = parse_value(edit.added)
    found = replace_with(values[0], edit.added) if values and values[0].number > 0 else None
    return ReplacementLine(
        reference=edit.reference,
        printed=edit.added,
        description=edit.added,
        action=REPLACE,
        fit=tuple(today_form(value) for value in found.values) if found else (),
        working_v_at_least=found.working_v_at_least if found else None,
        type=found.type if found else "",
        note=found.note if found else "Added by hand.",
        state=edit.state,
        added=True,
    )
