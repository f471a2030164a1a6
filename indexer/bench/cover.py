"""The sheets a packet adds of its own: cover, source lines, typed notes."""

from collections.abc import Sequence

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from indexer.model import Entry
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord
from indexer.trade.cautions import applying
from indexer.trade.lineup import analyse
from indexer.trade.tubes import known

PAPER_PT = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}
_LEFT_PT = 50.0
_BODY, _SMALL, _TITLE = 10.0, 8.0, 18.0


class _Sheet(FPDF):
    """A plain sheet in points with a serif face, as the trade's own sheets are set."""

    def __init__(self, paper: str) -> None:
        super().__init__(orientation="portrait", unit="pt", format=PAPER_PT[paper])
        self.set_margins(_LEFT_PT, 46, _LEFT_PT)
        self.set_auto_page_break(True, margin=46)

    def write_line(self, text: str, size: float = _BODY, style: str = "", gap: float = 3) -> None:
        """One paragraph, wrapped."""
        self.set_font("Times", style, size)
        self.multi_cell(0, size * 1.25, _latin(text), new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self.ln(gap)

    def write_heading(self, text: str) -> None:
        """A heading with a rule under it."""
        self.ln(7)
        self.write_line(text, 12, "B", gap=1)
        self.line(_LEFT_PT, self.get_y(), self.w - _LEFT_PT, self.get_y())
        self.ln(5)

    def write_rows(self, rows: Sequence[Sequence[str]], widths: Sequence[float]) -> None:
        """A small table; the first row is its head."""
        for i, row in enumerate(rows):
            self.set_font("Times", "B" if i == 0 else "", _BODY)
            for text, width in zip(row, widths, strict=True):
                shown = _latin(text)
                while shown and self.get_string_width(shown) > width - 4:
                    shown = shown[:-1]
                self.cell(width, _BODY * 1.35, shown)
            self.ln(_BODY * 1.35)
        self.ln(3)


def cover_sheet(
    job: JobRecord,
    entry: Entry | None,
    pages: Sequence[PageCard],
    gone: Sequence[str],
    paper: str,
) -> bytes:
    """The cover sheet as a PDF: the set, its marked pages, its line-up, the cautions that apply."""
    sheet = _Sheet(paper)
    sheet.add_page()
    sheet.write_line(f"Job {job.id}: {job.title}", _TITLE, "B")
    maker = entry.maker if entry else job.maker
    models = entry.models if entry else job.models
    chassis = entry.chassis if entry else job.chassis
    for name, value in (
        ("Maker", maker),
        ("Models", ", ".join(models)),
        ("Chassis", ", ".join(chassis)),
        ("Year", str(entry.year or "") if entry else ""),
        ("Intermediate frequency", f"{entry.if_khz:g} kc" if entry and entry.if_khz else ""),
        ("Symptom", job.symptom),
        ("Opened", job.opened[:16].replace("T", " ")),
    ):
        if value:
            sheet.write_line(f"{name}: {value}", gap=1)
    _write_cautions(sheet, job, entry)
    _write_line_up(sheet, [place.type for place in entry.tubes] if entry else list(job.tubes))
    sheet.write_heading("Pages marked")
    rows = [("Sheet", "Page", "Printed", "What it shows", "File")]
    rows += [
        (str(n), str(card.ref.page), card.printed, ", ".join(card.kinds), card.file)
        for n, card in enumerate(pages, 1)
    ]
    sheet.write_rows(rows, (40, 40, 50, 190, 175))
    for line in gone:
        sheet.write_line(f"Missing: {line}.", style="I", gap=1)
    if job.notes:
        sheet.write_heading("Notes")
        for note in job.notes:
            sheet.write_line(f"{note.at[:16].replace('T', ' ')}  {note.text}", gap=1)
    return bytes(sheet.output())


def footers(notes: Sequence[str], before: int, paper: str) -> bytes:
    """A PDF with one sheet for each note, the note and its sheet number at the foot."""
    sheet = _Sheet(paper)
    sheet.set_auto_page_break(False)
    for number, note in enumerate(notes, before + 1):
        sheet.add_page()
        sheet.set_font("Times", "", _SMALL)
        sheet.text(_LEFT_PT, sheet.h - 16, _latin(note))
        sheet.text(sheet.w - _LEFT_PT - 30, sheet.h - 16, f"sheet {number}")
    if not notes:
        sheet.add_page()
    return bytes(sheet.output())


def text_sheets(text: str, paper: str) -> bytes:
    """A typed note as a PDF."""
    sheet = _Sheet(paper)
    sheet.add_page()
    sheet.set_font("Courier", "", _BODY)
    sheet.multi_cell(0, _BODY * 1.3, _latin(text))
    return bytes(sheet.output())


def _write_cautions(sheet: _Sheet, job: JobRecord, entry: Entry | None) -> None:
    types = [place.type for place in entry.tubes] if entry else list(job.tubes)
    facts = analyse(types)
    sheet.write_heading("Before power is applied")
    live = entry.live_chassis if entry else facts.live_chassis
    supply = entry.supply if entry else facts.supply
    year = entry.year if entry else None
    for caution in applying(live_chassis=live, supply=supply, tubes=types, words="", year=year):
        sheet.write_line(f"{caution.title}. {caution.text}", gap=2)


def _write_line_up(sheet: _Sheet, types: Sequence[str]) -> None:
    sheet.write_heading("Line-up")
    if not types:
        sheet.write_line("No tubes are known for this set.", style="I")
        return
    facts = analyse(types)
    rows = [("Tube", "Role", "Heater volts", "Heater amperes", "Base")]
    for kind, role in zip(types, facts.roles, strict=True):
        tube = known(kind)
        volts = f"{tube.heater_v:g}" if tube and tube.heater_v else ""
        amperes = f"{tube.heater_a:g}" if tube and tube.heater_a else ""
        rows.append((kind, role, volts, amperes, tube.base if tube else ""))
    sheet.write_rows(rows, (80, 140, 90, 100, 85))
    supply = f"Supply: {facts.supply}."
    if facts.supply == "series string" and facts.string_volts:
        current = f" at {facts.string_current_a:g} A" if facts.string_current_a else ""
        supply += f" The heaters in series make {facts.string_volts:.1f} V{current}."
    sheet.write_line(supply, gap=1)
    for reason in facts.reasons:
        sheet.write_line(reason, gap=1)


def _latin(text: str) -> str:
    """Text in the letters that the standard PDF fonts have."""
    plain = text.replace("Ω", "ohm").replace("–", "-").replace("—", "-").replace("’", "'")
    return plain.encode("latin-1", "replace").decode("latin-1")
