"""The work sheets of a job, put together from its pages and from what the person entered."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from indexer.bench.alignment import alignment_table
from indexer.bench.charts import ChartPoint, read_charts
from indexer.bench.named_parts import BUFFER, named_buffer
from indexer.bench.parts import PartLine, read_parts
from indexer.bench.power_up import live_chassis, power_up_sheet
from indexer.bench.readings import chart_lines, point_name, points_of, reading_lines
from indexer.bench.replacements import replacement_list, shopping_list
from indexer.bench.sheet_types import (
    CHECK,
    HAVE,
    LEAVE,
    LOOK,
    ORDER,
    REPLACE,
    SAFETY,
    SUBSTITUTE,
    AlignmentTable,
    DrawerLine,
    PowerUpSheet,
    ReadingLine,
    ReplacementLine,
    ShoppingLine,
    WorkSheets,
)
from indexer.bench.spares import drawer_lines, places_of
from indexer.cataloguing.particulars import supply_in
from indexer.model import Entry, PageReading, PageRef
from indexer.store.bench_records import BenchRecords, Taken
from indexer.store.job_rows import JobRecord

__all__ = [
    "CHECK",
    "HAVE",
    "LEAVE",
    "ORDER",
    "REPLACE",
    "SAFETY",
    "SUBSTITUTE",
    "AlignmentTable",
    "DrawerLine",
    "PowerUpSheet",
    "ReadingLine",
    "ReplacementLine",
    "SheetPage",
    "ShoppingLine",
    "WorkSheets",
    "work_sheets",
]


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A page of the set: its reading, what each reader alone saw, and its name as a source."""

    ref: PageRef
    source: str  # "Annual.pdf page 5"
    reading: PageReading
    raw: tuple[PageReading, ...] = ()


def work_sheets(
    job: JobRecord, entry: Entry | None, pages: Sequence[SheetPage], bench: BenchRecords
) -> WorkSheets:
    """Every sheet of a job, from the set's pages (each once) and what the person entered."""
    tubes = [place.type for place in entry.tubes] if entry else list(job.tubes)
    words = "\n".join(page.reading.text for page in pages)
    line_connected = entry is None or live_chassis(entry, tubes, words) != "no"
    fed_by_vibrator = "vibrator" in (entry.supply if entry else "", supply_in(words))
    lines: list[ReplacementLine] = []
    readings: list[ReadingLine] = []
    seen: set[str] = set()
    doubts: list[str] = []
    edits, taken = bench.part_edits(job.id), bench.taken(job.id)
    parts: dict[str, list[PartLine]] = {}
    for page in pages:
        fresh = [
            part for part in read_parts(page.reading, page.ref, page.raw) if part.name not in seen
        ]
        if fed_by_vibrator and BUFFER not in seen:
            buffer = named_buffer(page.reading, page.ref, [p for ps in parts.values() for p in ps])
            if buffer and not any("buffer" in part.description.lower() for part in fresh):
                fresh.append(buffer)
        seen |= {part.name for part in fresh}
        doubts += [f"{p.name}: {p.doubt} ({page.source})" for p in fresh if p.doubt]
        parts.setdefault(page.source, []).extend(fresh)
    part_points: set[str] = set()
    for source, found in parts.items():
        own = {part.name for part in found}
        own_points = points_of(found)
        part_points |= own_points
        judged = reading_lines(found, [t for t in taken if t.point.upper() in own_points], source)
        verdicts = {line.point: line.verdict for line in judged}
        own_edits = [edit for edit in edits if edit.reference in own]
        lines += replacement_list(found, own_edits, source, verdicts, line_connected=line_connected)
        readings += judged
    points: set[str] = set()
    charts: list[tuple[SheetPage, list[ChartPoint]]] = []
    for page in pages:
        new = [p for p in read_charts(page.reading, page.ref, tubes) if p.name not in points]
        points |= {point.name for point in new}
        charts.append((page, new))
    known = {point_name(name) for name in points}
    taken = [at_its_point(one, known) for one in taken]
    charted = [line for page, new in charts for line in chart_lines(new, taken, page.source)]
    taken = [one for one in taken if point_name(one.point) not in known]
    lines += replacement_list((), [e for e in edits if e.reference not in seen])
    readings += reading_lines((), [t for t in taken if t.point.upper() not in part_points])
    readings += charted
    tables = (alignment_table(page.reading, page.ref, page.source) for page in pages)
    told = {doubt.partition(":")[0] for doubt in doubts}
    doubts += [
        f"{n.reference}: {n.note} ({n.source})"
        for n in lines
        if n.action == LOOK and n.reference not in told
    ]
    return WorkSheets(
        replacements=tuple(lines),
        shopping=shopping_list(lines),
        readings=tuple(readings),
        drawer=drawer_lines(places_of(job, entry), bench.spares(), bench.spare_uses(job.id)),
        power_up=power_up_sheet(tubes, entry, words, [table for table in tables if table]),
        doubts=tuple(doubts),
    )


_IN_OHMS = re.compile(r"[\d.,]\s*(?:K|M|MEG|Ω|OHMS?)\s*$|^\s*(?:OPEN|INF)", re.IGNORECASE)


def at_its_point(one: Taken, known: set[str]) -> Taken:
    """A reading in ohms at "6CB6 pin 5" belongs to that pin's point of the resistance chart, and
    so does one without a unit where the charts give only ohms there."""
    name = point_name(one.point)
    of_chart = f"{name} OHMS"
    if of_chart in known and (name not in known or _IN_OHMS.search(one.reads)):
        return replace(one, point=of_chart)
    return one
