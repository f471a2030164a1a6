"""The replacement list: what to fit today for each part of a parts list, and what to leave."""

import csv
import io
import re
from collections.abc import Mapping, Sequence

from indexer.bench.part_sense import LOOK_AT_IT, UNSURE
from indexer.bench.parts import PartLine
from indexer.bench.sheet_types import (
    CHECK,
    LEAVE,
    LOOK,
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
    r"(?<!B\+ )(?<!V\.C\. )(?<!AVC )\bLINE\b|\bMAINS\b|\bCHASSIS\b|\bISOLAT|"
    r"\bNETZ(?!TEIL)|\bSECTEUR\b|\bNÄT|\bRETE\b",
    re.I,
)
_ADJUSTED = re.compile(
    r"\bGANG|\bTRIMMER|\bPADD?ER|\bTUNING\b(?! INDIC)|\bVARIABLE\b|\bPRE-?SET\b|\bDREHKO", re.I
)
_TOUCHED = re.compile(
    r"\bAERIAL|\bANT(?:\.|ENN\w*)?(?!\w)|\bEARTH\b|\bGROUND\b|\bERDE?\b|\bP\.?U\.?(?!\w)|\bPICK\W?UP|"
    r"\bGRAM",
    re.I,
)
_TOUCHED_FROM_F = 0.4e-9  # smaller ones pass little current at the line's frequency
_TOUCHED_NOTE = (
    "Aerial, earth and pick-up capacitors of such a set keep the line off what can be touched: a Y "
    "type, not larger than printed."
)
_CONTROLS = frozenset({"RV", "VR"})
_NOT_READ = "The value was not read: look at the page."
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

    One whose value was not read, or whose size can't be right, stays on the list to be looked at
    on the page. Paper and electrolytic capacitors are to be replaced, those the list places on
    the power line by a safety-rated type; mica, gangs and trimmers stay; a resistor is measured
    first, and is replaced only when it read out. In a set that may be `line_connected` a paper
    capacitor whose place the list doesn't say is to be traced first: on the line it must be
    safety-rated.
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
        if part.prefix == "C"
        or (part.prefix in ("R", *_CONTROLS) and (part.value is not None or part.doubt))
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
            part = line.fit[0] if line.fit else f"{line.printed} (see its note on the list)"
            if line.action == TRACE:
                part += " (trace first: X or Y class if it is on the line)"
            if line.doubtful:
                sold = f"{line.fit[0]} for {line.printed}" if line.fit else line.printed
                part = f"{sold or 'value not read'} (look at the page first)"
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
        if _TOUCHED.search(words):
            notes.insert(1, _TOUCHED_NOTE)
    if part.prefix == "R" and read:
        notes.insert(0, f"Reads {read}.")
    doubtful = bool(part.sense) or action == LOOK
    if action == LOOK:
        notes = [_NOT_READ] if part.value is None else [part.doubt or LOOK_AT_IT]
    sold = () if action == LOOK or found is None else found.values or found.by_class
    return ReplacementLine(
        reference=part.name,
        printed=part.printed,
        description=words,
        action=action,
        fit=tuple(today_form(value) for value in sold),
        working_v_at_least=found.working_v_at_least if found else None,
        type=found.type if found and action != LOOK else "",
        note=" ".join(text for text in notes if text),
        part_number=part.part_number,
        source=source,
        page=part.page,
        state=edit.state if edit else "",
        doubtful=doubtful,
    )


def _on_line(part: PartLine) -> bool:
    words = part.description.upper()
    stores = re.search(r"ELECTRO|\bELKO", words)
    return part.prefix == "C" and not stores and bool(_ON_LINE.search(words))


def _where(part: PartLine) -> str:
    """The list's words, and where they only hint at the power line, that said outright."""
    if not _on_line(part):
        return f"{part.description}, control" if part.prefix in _CONTROLS else part.description
    chassis = re.search(r"CHASSIS|ISOLAT", part.description, re.I)
    return f"{part.description}, {'line to chassis' if chassis else 'across the line'}"


def _action(part: PartLine, adjusted: bool, read: str, line_connected: bool) -> str:
    value, words = part.value, part.description.upper()
    if adjusted:
        return LOOK if part.sense else LEAVE
    if value is None or part.sense == UNSURE:
        return LOOK
    if part.prefix != "C":
        return {OUT: REPLACE, IN: LEAVE}.get(read, CHECK)
    if _on_line(part):
        return SAFETY
    touched = _TOUCHED.search(words) and _TOUCHED_FROM_F <= value.number < _ELECTROLYTIC_FROM_F
    if line_connected and touched:
        return TRACE
    small = "PAPER" not in words and "ELECTRO" not in words and value.number < _PAPER_FROM_F
    if "MICA" in words or "CERAMIC" in words or small:
        return LOOK if part.sense else LEAVE
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
        fit=tuple(today_form(v) for v in found.values or found.by_class) if found else (),
        working_v_at_least=found.working_v_at_least if found else None,
        type=found.type if found else "",
        note=found.note if found else "Added by hand.",
        state=edit.state,
        added=True,
    )
