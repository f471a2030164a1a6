"""The cover sheet of a packet: the set, its pages, its line-up, what to mind."""

from collections.abc import Sequence
from dataclasses import dataclass

from indexer.bench.paper import BODY, LEFT_PT, SMALL, TITLE, Sheets
from indexer.bench.power_up import line_up_facts, live_chassis, supply_note
from indexer.bench.sheet_types import PowerUpSheet
from indexer.model import Entry, TubePlace
from indexer.store.records import JobRecord
from indexer.trade.cautions import DEFER, Caution, applying
from indexer.trade.lineup import analyse
from indexer.trade.tubes import known

_LABEL_PT = 56.0


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
    power_up: PowerUpSheet | None = None,
) -> None:
    """Adds the cover to `sheets`; it runs on to a second sheet where it must."""
    sheets.typed_sheet()
    _write_title(sheets, job, entry)
    cautions = power_up.cautions if power_up else _cautions(job, entry)
    live = power_up.live_chassis if power_up else live_chassis(entry, job.tubes)
    for caution in cautions:
        if caution.key == "live chassis":
            sheets.boxed(f"{caution.title}: {_live_word(live)}", f"{_bare(caution)} {DEFER}")
    _write_pages(sheets, pages, gone)
    _write_line_up(sheets, job, entry)
    _write_cautions(sheets, [c for c in cautions if c.key != "live chassis"])
    if job.notes:
        sheets.heading("Notes")
        for note in job.notes:
            sheets.para(f"{note.at[:16].replace('T', ' ')}   {note.text}", gap=1)


def _write_title(sheets: Sheets, job: JobRecord, entry: Entry | None) -> None:
    tag = f", tag {job.owner_tag}" if job.owner_tag else ""
    ended = f", closed {job.closed[:10]}" if job.closed else ""
    sheets.para(f"Job {job.id}{tag}, opened {job.opened[:10]}{ended}", SMALL, gap=0)
    sheets.para(job.title, TITLE, "B", gap=4)
    supply = (entry.supply if entry else analyse(job.tubes).supply) or "unknown"
    pairs = (
        ("Maker", entry.maker if entry else job.maker),
        ("Year", str(entry.year or "") if entry else ""),
        ("Models", ", ".join(entry.models if entry else job.models)),
        ("I.F.", f"{entry.if_khz:g} kc" if entry and entry.if_khz else ""),
        ("Chassis", ", ".join(entry.chassis if entry else job.chassis)),
        ("Supply", supply),
    )
    shown = [(name, value) for name, value in pairs if value]
    middle = LEFT_PT + (sheets.w - 2 * LEFT_PT) / 2
    for at, (name, value) in enumerate(shown):
        half = middle - LEFT_PT - _LABEL_PT - 10
        if at % 2 == 0 or len(value) * BODY * 0.5 > half:  # a long value has the line to itself
            if sheets.x > LEFT_PT:
                sheets.ln(BODY * 1.4)
            _fact(sheets, LEFT_PT, name, value)
        else:
            _fact(sheets, middle, name, value)
    sheets.ln(BODY * 1.4)
    for name, value in (("Symptom", job.symptom), ("Outcome", job.outcome)):
        if value:
            _fact(sheets, LEFT_PT, name, "")
            sheets.set_x(LEFT_PT + _LABEL_PT)
            sheets.multi_cell(0, BODY * 1.4, value, align="L", new_x="LMARGIN", new_y="NEXT")


def _fact(sheets: Sheets, x: float, name: str, value: str) -> None:
    sheets.set_x(x)
    sheets.set_font("text", "B", BODY)
    sheets.cell(_LABEL_PT, BODY * 1.4, name)
    sheets.set_font("text", "", BODY)
    if value:
        room = sheets.w - LEFT_PT - sheets.x
        sheets.cell(0, BODY * 1.4, sheets.shortened(value, room))


def _write_pages(sheets: Sheets, pages: Sequence[PageLine], gone: Sequence[str]) -> None:
    if pages or gone:
        sheets.heading("Marked pages")
    if pages:
        rows = [("Sheet", "Page", "Shows", "Why")]
        rows += [(page.sheets, page.source, page.shows, page.why) for page in pages]
        sheets.rows(rows, (11, 52, 44, 24), SMALL)
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
    facts = line_up_facts(entry, [place.type for place in places])
    supply = entry.supply if entry else facts.supply
    rows = [("", "Tube", "Role", "Heater", "", "Base")]
    for place, role in zip(places, facts.roles, strict=True):
        tube = known(place.type)
        volts = f"{tube.heater_v:g} V" if tube and tube.heater_v else ""
        amperes = f"{tube.heater_a:g} A" if tube and tube.heater_a else ""
        base = tube.base if tube else ""
        shown = place.printed or place.type
        rows.append((place.symbol, shown, place.role or role, volts, amperes, base))
    rows[1:] = sorted(rows[1:], key=lambda row: _symbol_order(row[0]))
    sheets.rows(rows, (10, 22, 44, 16, 16, 30), SMALL)
    if facts.supply == supply == "series string" and facts.string_volts:
        current = f" at {facts.string_current_a:g} A" if facts.string_current_a else ""
        heaters = f"The heaters in series make {facts.string_volts:.1f} V{current}."
        sheets.para(heaters, style="B", gap=1)
    else:
        said = f"Supply: {supply or 'unknown'}. {supply_note(supply, facts)}".strip()
        sheets.para(said, style="B", gap=1)


def _symbol_order(symbol: str) -> int:
    """V10 after V9; a tube without a number last."""
    digits = "".join(letter for letter in symbol if letter.isdecimal())
    return int(digits) if digits else 1_000


def _cautions(job: JobRecord, entry: Entry | None) -> tuple[Caution, ...]:
    types = [place.type for place in _places(job, entry)]
    live = live_chassis(entry, types)
    supply = entry.supply if entry else analyse(types).supply
    return applying(
        live_chassis=live,
        supply="unknown" if live == "unknown" else supply,
        tubes=types,
        year=entry.year if entry else None,
    )


def _live_word(live: str) -> str:
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
