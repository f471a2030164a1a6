"""The parts-list reader: the words of a page become one line for each part or can section."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from indexer.bench.part_refs import Reference, clean_token, item_numbers, plain_reference, settle
from indexer.bench.part_rows import PartRow, part_rows
from indexer.bench.part_sense import TAKEN, sense
from indexer.bench.part_values import bare_lists, hint_of, m_is_thousand, repaired, values_in
from indexer.model import Box, PageReading, PageRef
from indexer.trade.preferred import is_preferred
from indexer.trade.value_forms import trade_form
from indexer.trade.value_units import Value

_SECTIONS = "ABCDEF"
_OLD_FIGURES = frozenset({14, 17, 25, 35, 40, 50, 60, 70, 80, 90, 26, 28, 32, 45, 55, 65, 85, 95})
_LARGEST_MICA_F = 1e-6
_SAME_ROW = 0.5  # of the lower one's height
_LISTED = re.compile(r"^(?:[,&]|AND\b)?\s*([A-Z]{1,2}\d{1,3}[A-F]?)[,.;]?$", re.I)


@dataclass(frozen=True, slots=True)
class PartLine:
    """One part of a parts list, or one section of a multi-section can.

    `value` is None where the line states none. `printed` is the value in the trade's form.
    `doubt` is a sentence where a person should look at the page, else ""; `sense` is "taken"
    where the value stands in another unit than was read, "unsure" where its size can't be right.
    """

    reference: str  # C8, "40" for a bare item number
    section: str  # "A" for a section of a can, else ""
    part_number: str
    value: Value | None
    description: str
    box: Box
    page: PageRef | None = None
    doubt: str = ""
    kind: str = ""  # the prefix that the words imply where the list numbers its items
    sense: str = ""

    @property
    def name(self) -> str:
        return self.reference + self.section

    @property
    def prefix(self) -> str:
        """The letters of the reference, "C"; for a bare item number those its words imply."""
        return self.kind or self.reference.rstrip("0123456789")

    @property
    def printed(self) -> str:
        return trade_form(self.value) if self.value else ""


def read_parts(
    reading: PageReading, page: PageRef | None = None, others: Sequence[PageReading] = ()
) -> tuple[PartLine, ...]:
    """The lines of a page's parts lists in printed order; () on a page without one.

    `others` are further readings of the same page (by one reader alone): where they agree
    against a doubtful or missing value, or know a reference that is missing, they fill it.
    """
    lines = _lines(reading, page)
    for other in others:
        lines = _filled(lines, _lines(other, page))
    return tuple(lines)


def _lines(reading: PageReading, page: PageRef | None) -> list[PartLine]:
    rows = part_rows(reading)
    hints = [hint_of(row.text) for row in rows]
    tokens = [row.token for row in rows]
    references = item_numbers(tokens) or settle(tokens, hints)
    kinds = [
        (ref.prefix or hint) if ref else "" for ref, hint in zip(references, hints, strict=True)
    ]
    texts = [repaired(row.text, kind) for row, kind in zip(rows, kinds, strict=True)]
    old_m = m_is_thousand([t for t, kind in zip(texts, kinds, strict=True) if kind == "R"])
    texts = bare_lists(texts, kinds, reading.text)
    capacitors = [t for t, kind in zip(texts, kinds, strict=True) if kind == "C"]
    starred = _starred(reading.text)
    lines: list[PartLine] = []
    for row, ref, kind, text in zip(rows, references, kinds, texts, strict=True):
        if ref is not None:
            if kind == "C" and starred and _bears(reading, row, starred):
                text = f"{text} (electrolytic, by its {starred})"
            lines += _parts_of(row, ref, kind, text, old_m, page, capacitors)
    return _sections_joined(lines)


def _bears(reading: PageReading, row: PartRow, mark: str) -> bool:
    """Whether a word of a printed row bears a mark."""
    left, right = row.box.left - 1, row.box.right + 1
    inside = (w for w in reading.words if left <= w.box.middle[0] <= right)
    return any(mark in w.text for w in inside if row.box.top < w.box.middle[1] < row.box.bottom)


def _starred(text: str) -> str:
    """The sign that a note at the foot of a list gives to electrolytics; "" without one."""
    found = re.search(r"([*†‡§])\s?[=:—–-]?\s?(?:denotes )?Electrolytic", text, re.I)
    return found[1] if found else ""


def _parts_of(
    row: PartRow,
    ref: Reference,
    kind: str,
    text: str,
    old_m: bool,
    page: PageRef | None,
    column: Sequence[str] = (),
) -> list[PartLine]:
    """A row's parts: several references in one row share its words, a can has its sections."""
    names, text = _more_names(ref, text)
    values = values_in(text, kind, old_m)
    made = []
    for name in names:
        base, section = name.text, name.section
        line = PartLine(base, section, row.part_number, None, text, row.box, page, kind=kind)
        own = values
        if len(names) == len(values) > 1:
            own = (values[names.index(name)],)
        if len(own) > 1 and not section:
            made += [
                replace(line, section=letter, value=value)
                for letter, value in zip(_SECTIONS, own, strict=False)
            ]
        else:
            made.append(replace(line, value=own[0] if own else None))
    return [_sensed(_small(replace(line, doubt=_doubt(line))), column) for line in made]


def _sensed(line: PartLine, column: Sequence[str]) -> PartLine:
    """The line with its value in the unit that its words and its column allow, and told."""
    if line.value is None or line.prefix not in ("C", "R") or not line.value.number > 0:
        return line
    found = sense(line.value, line.description, column)
    if not found.state:
        return line
    doubt = found.doubt if found.state == TAKEN else f"{line.doubt} {found.doubt}".strip()
    return replace(line, value=found.value, sense=found.state, doubt=doubt)


def _small(line: PartLine) -> PartLine:
    """Mica and ceramic capacitors of the period are counted in mmf: a unit that seems to say
    otherwise was misread, and that is told. Common practice, no source."""
    value = line.value
    if value is None or value.kind != "farads" or value.number < _LARGEST_MICA_F:
        return line
    if not re.search(r"\bMICA\b|\bCERAMIC\b", line.description, re.I):
        return line
    doubt = f"Read as {trade_form(value)}: too large for mica or ceramic, taken as mmf."
    return replace(line, value=replace(value, number=value.number * 1e-6), doubt=doubt)


def _more_names(ref: Reference, text: str) -> tuple[list[Reference], str]:
    """Further references at the head of a row's words ("C7A," "C7B 50-30 mfd"), then the rest."""
    names, words = [ref], text.split()
    while words:
        found = _LISTED.match(words[0])
        more = plain_reference(found[1]) if found else None
        if more is None or more.prefix != ref.prefix:
            break
        names.append(more)
        words = words[1:]
    return names, " ".join(words)


def _sections_joined(lines: Sequence[PartLine]) -> list[PartLine]:
    """Cans printed once whole and once by section (C7; C7A, C7B below it) counted once."""
    by_row = {(line.reference, line.section): i for i, line in enumerate(lines)}
    kept: list[PartLine] = []
    for i, line in enumerate(lines):
        if by_row[line.reference, line.section] != i and line.section:
            continue  # a later, plainer line for the same section follows
        sections = [s for ref, s in by_row if ref == line.reference and s]
        if not line.section and line.prefix == "C" and sections and line.value is None:
            continue  # the can's own heading line
        kept.append(line)
    return kept


def _doubt(line: PartLine) -> str:
    value = line.value
    words = line.description.upper()
    if value is None:
        wanted = line.prefix == "R" or (
            line.prefix == "C" and re.search(r"M?MFD?\b|PAPER|MICA|ELECTROLYTIC", words)
        )
        return "The value was not read." if wanted else ""
    if value.kind == "farads" and value.number >= 2e-6 and "PAPER" in words:
        return "Large for paper: a dot may be lost before the value."
    if value.kind == "ohms" and value.number > 2e6 and "CONTROL" in words:
        return "Large for a control: a dot may be lost before the value."
    if value.kind in ("ohms", "farads") and not _usual(value.number):
        return "Not a usual value: check it on the page."
    return ""


def _usual(number: float) -> bool:
    """Whether the figures are those of a preferred value or of an old round one."""
    figures = int(clean_token(f"{number:.1e}")[:3].replace(".", ""))
    return figures % 10 == 0 or figures in _OLD_FIGURES or is_preferred(number, "E24")


def _filled(lines: list[PartLine], other: list[PartLine]) -> list[PartLine]:
    """The lines with doubtful values taken from another reading that has none of that doubt."""
    better: dict[str, list[PartLine]] = {}
    for line in other:
        better.setdefault(line.reference, []).append(line)
    known = {line.reference for line in lines}
    kept: list[PartLine] = []
    done: set[str] = set()
    for line in lines:
        options = better.get(line.reference, [])
        sure = options and not any(o.doubt for o in options) and options[0].value
        if line.reference in done:
            continue
        if line.doubt and sure:
            kept += [replace(o, part_number=o.part_number or line.part_number) for o in options]
            done.add(line.reference)
        else:
            kept.append(line)
    missing = [o for o in other if o.reference not in known and o.value and not o.doubt]
    kept += [o for o in missing if not any(_same_row(o.box, line.box) for line in lines)]
    return kept


def _same_row(one: Box, other: Box) -> bool:
    """Whether two boxes of one page are of the same printed row and column."""
    across = min(one.right, other.right) - max(one.left, other.left)
    down = min(one.bottom, other.bottom) - max(one.top, other.top)
    return across > 0 and down > _SAME_ROW * min(one.height, other.height)
