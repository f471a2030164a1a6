"""The cover sheet of a packet: the set, its pages, its line-up, what to mind."""

from collections.abc import Sequence
from dataclasses import dataclass

from indexer.bench.paper import BODY, LEFT_PT, SMALL, TITLE, Sheets
from indexer.model import Entry, TubePlace
from indexer.store.records import JobRecord
from indexer.trade.cautions import DEFER, Caution, applying
from indexer.trade.lineup import analyse
from indexer.trade.tubes import known


@dataclass(frozen=True, slots=True)
class PageLine:
    """One marked page as the cover lists it; `sheets` is "2" or "3 to 6"."""

    sheets: str
    source: str
    shows: str
    why: str


def write_cover(
    sheets: Sheets,
    job: JobRecord,
    entry: Entry | None,
    pages: Sequence[PageLine],
    gone: Sequence[str],
) -> None:
    """Adds the cover to `sheets`; it runs on to a second sheet where it must."""
    sheets.typed_sheet()
    _write_title(sheets, job, entry)
    cautions = _cautions(job, entry)
    for caution in cautions:
        if caution.key == "live chassis":
            sheets.boxed(f"{caution.title}: {_live_word(job, entry)}", f"{_bare(caution)} {DEFER}")
    _write_pages(sheets, pages, gone)
    _write_line_up(sheets, job, entry)
    _write_cautions(sheets, [c for c in cautions if c.key != "live chassis"])
    if job.notes:
        sheets.heading("Notes")
        for note in job.notes:
            sheets.para(f"{note.at[:16].replace('T', ' ')}   {note.text}", gap=1)


def _write_title(sheets: Sheets, job: JobRecord, entry: Entry | None) -> None:
    sheets.para(f"Job {job.id}, opened {job.opened[:10]}", SMALL, gap=0)
    sheets.para(job.title, TITLE, "B", gap=4)
    supply = (entry.supply if entry else analyse(job.tubes).supply) or "unknown"
    facts = (
        ("Maker", entry.maker if entry else job.maker),
        ("Models", ", ".join(entry.models if entry else job.models)),
        ("Chassis", ", ".join(entry.chassis if entry else job.chassis)),
        ("Year", str(entry.year or "") if entry else ""),
        ("I.F.", f"{entry.if_khz:g} kc" if entry and entry.if_khz else ""),
        ("Supply", supply),
        ("Symptom", job.symptom),
        ("Outcome", job.outcome),
    )
    for name, value in facts:
        if value:
            sheets.set_font("text", "B", BODY)
            sheets.set_x(LEFT_PT)
            sheets.cell(62, BODY * 1.4, name)
            sheets.set_font("text", "", BODY)
            sheets.multi_cell(0, BODY * 1.4, value, align="L", new_x="LMARGIN", new_y="NEXT")


def _write_pages(sheets: Sheets, pages: Sequence[PageLine], gone: Sequence[str]) -> None:
    sheets.heading("Marked pages")
    rows = [("Sheet", "Page", "Shows", "Why")]
    rows += [(page.sheets, page.source, page.shows, page.why) for page in pages]
    sheets.rows(rows, (12, 44, 44, 26))
    for line in gone:
        sheets.para(f"Missing: {line}.", style="B", gap=1)


def _places(job: JobRecord, entry: Entry | None) -> list[TubePlace]:
    if entry and entry.tubes:
        return list(entry.tubes)
    return [TubePlace(kind) for kind in job.tubes]


def _write_line_up(sheets: Sheets, job: JobRecord, entry: Entry | None) -> None:
    sheets.heading("Line-up")
    places = _places(job, entry)
    if not places:
        sheets.para("No tubes are known for this set.")
        return
    facts = analyse([place.type for place in places])
    rows = [("", "Tube", "Role", "Heater", "", "Base")]
    for place, role in zip(places, facts.roles, strict=True):
        tube = known(place.type)
        volts = f"{tube.heater_v:g} V" if tube and tube.heater_v else ""
        amperes = f"{tube.heater_a:g} A" if tube and tube.heater_a else ""
        base = tube.base if tube else ""
        shown = place.printed or place.type
        rows.append((place.symbol, shown, place.role or role, volts, amperes, base))
    sheets.rows(rows, (10, 22, 44, 16, 16, 30))
    if facts.supply == "series string" and facts.string_volts:
        current = f" at {facts.string_current_a:g} A" if facts.string_current_a else ""
        heaters = f"The heaters in series make {facts.string_volts:.1f} V{current}."
        sheets.para(heaters, style="B", gap=1)
    else:
        sheets.para(f"Supply: {facts.supply}.", style="B", gap=1)
    for reason in facts.reasons:
        sheets.para(reason, SMALL, gap=0)


def _cautions(job: JobRecord, entry: Entry | None) -> tuple[Caution, ...]:
    types = [place.type for place in _places(job, entry)]
    facts = analyse(types)
    return applying(
        live_chassis=entry.live_chassis if entry else facts.live_chassis,
        supply=entry.supply if entry else facts.supply,
        tubes=types,
        year=entry.year if entry else None,
    )


def _live_word(job: JobRecord, entry: Entry | None) -> str:
    live = entry.live_chassis if entry else analyse(job.tubes).live_chassis
    return "likely in this set" if live == "likely" else "not known, so take it as live"


def _write_cautions(sheets: Sheets, cautions: Sequence[Caution]) -> None:
    if not cautions:
        return
    sheets.heading("Before power is applied")
    for caution in cautions:
        sheets.set_font("text", "B", SMALL)
        sheets.para(f"{caution.title} ({caution.because})", SMALL, "B", gap=0)
        sheets.para(_bare(caution), SMALL, gap=2)
    sheets.para(DEFER, SMALL, "B", gap=1)


def _bare(caution: Caution) -> str:
    """The text without the closing sentence that all of them share."""
    return caution.text.removesuffix(DEFER).strip()
