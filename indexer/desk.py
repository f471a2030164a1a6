"""Jobs on the library's pages: marks, packets, sheets, spares, wanted pages, keeping."""

from collections.abc import Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from indexer.bench.marked import PacketPage
from indexer.errors import NothingFound, UsageError
from indexer.model import Entry
from indexer.search.query import tubes_in
from indexer.shelf import Shelf
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord, Mark

if TYPE_CHECKING:
    from indexer.bench.sheets import WorkSheets
    from indexer.store.wanted import Wanted, WantedList


class Desk(Shelf):
    """Jobs, and what the person gave."""

    def open_job(self, title: str, entry: Entry | None = None, symptom: str = "") -> JobRecord:
        """Opens a job for a set that an entry names, or for one described by `title` alone."""
        job_id = self.records.open_job(
            title,
            entry=entry.id if entry else "",
            maker=entry.maker if entry else "",
            models=entry.models if entry else (),
            chassis=entry.chassis if entry else (),
            tubes=[place.type for place in entry.tubes] if entry else (),
            symptom=symptom,
        )
        return self.job(job_id)

    def job(self, job_id: int) -> JobRecord:
        """One job. Raises NothingFound."""
        found = self.records.job(job_id)
        if found is None:
            raise NothingFound(f"There is no job {job_id}.", "`benchfolio job list` shows them.")
        return found

    def mark(self, job_id: int, pages: Sequence[PageCard], why: str = "") -> JobRecord:
        """Marks pages for a job, in the order given."""
        self.job(job_id)
        self.records.mark(job_id, [Mark(page.ref, why, page.file) for page in pages])
        return self.job(job_id)

    def packet(
        self, job_id: int, target: Path, paper: str = "A4", foldouts: str = "tile"
    ) -> list[str]:
        """Writes the job's packet: cover sheet, the marked pages from their own files, work sheets.

        `paper` is "A4" or "Letter"; `foldouts` "tile" or "fit". Returns a line for each marked
        page whose file is gone or could not be printed. Raises InputError when `target` can't be
        written, UsageError when nothing is marked.
        """
        from indexer.bench.packet import write_packet

        job = self.job(job_id)
        if not job.marks:
            raise UsageError(
                f"Job {job_id} has no marked pages.",
                f"Mark some: benchfolio job mark {job_id} PAGE…",
            )
        entry = self.entries.entry(job.entry) if job.entry else None
        pages, gone = self._marked(job)
        sheets = self.work_sheets(job_id)
        return gone + write_packet(target, job, entry, pages, gone, paper, foldouts, sheets)

    def page_as(self, page: PageCard, form: str) -> str:
        """What was read on a page as "hocr", "alto" or "text". Raises UsageError for another."""
        from indexer.bench.exports.alto import alto
        from indexer.bench.exports.hocr import hocr

        reading = self.reading(page)
        if form == "text":
            return reading.text + "\n"
        if form not in ("hocr", "alto"):
            raise UsageError(f"There is no form {form}.", "Choose hocr, alto or text.")
        return (hocr if form == "hocr" else alto)(reading, page.file, page.ref.page)

    def searchable_pdf(self, what: str, target: Path) -> list[str]:
        """Writes the pages of an entry, of a job (by number) or one page as a searchable PDF.

        Returns a line for each page that is missing from it. Raises NothingFound, or InputError
        when `target` can't be written.
        """
        from indexer.bench.exports.searchable import write_searchable

        if what.isdecimal():
            job = self.job(int(what))
            pages, gone = self._marked(job)
            return gone + write_searchable(target, job.title, pages)
        entry = self.entries.entry(what)
        cards = self.entries.cards(what) if entry else [self.page(what)]
        packed = [PacketPage(card, Mark(card.ref), self.reading(card)) for card in cards]
        return write_searchable(target, what, packed)

    def _marked(self, job: JobRecord) -> tuple[list[PacketPage], list[str]]:
        """A job's pages whose files are there, and a line for each of the others."""
        pages, gone = [], []
        for mark in job.marks:
            card = self.entries.card_of(mark.ref)
            if card is None or not card.path.exists():
                gone.append(f"{mark.file} page {mark.ref.page} is not there any more")
            else:
                pages.append(PacketPage(card, mark, self.reading(card)))
        return pages, gone

    def work_sheets(self, job_id: int) -> "WorkSheets":
        """The job's replacement list, readings, tubes against the drawer, and power-up sheet.

        Made from the marked pages first, then the other pages of the job's entry.
        """
        from indexer.bench.sheets import SheetPage, work_sheets

        job = self.job(job_id)
        entry = self.entries.entry(job.entry) if job.entry else None
        refs = [mark.ref for mark in job.marks] + list(entry.pages if entry else ())
        pages = []
        for ref in dict.fromkeys(refs):
            card = self.entries.card_of(ref)
            if card is not None:
                raw = [
                    found
                    for reader in ("tesseract", "second")
                    if (found := self.catalogue.reading(card.page_id, reader))
                ]
                source = f"{card.file} page {ref.page}"
                pages.append(SheetPage(ref, source, self.reading(card), tuple(raw)))
        return work_sheets(job, entry, pages, self.records.bench)

    def take_reading(
        self, job_id: int, point: str, reads: str, nominal: str = "", note: str = ""
    ) -> None:
        """Keeps what the meter says at a point of a job's set."""
        from indexer.store.bench_records import Taken

        self.job(job_id)
        self.records.bench.take(job_id, Taken(point.strip().upper(), reads, nominal, note))

    def add_spare(self, tube: str, count: int, place: str = "", note: str = "") -> str:
        """Puts tubes into the drawer; the registered type. Raises UsageError for no tube type."""
        from indexer.store.bench_records import Spare

        kind = tubes_in(tube)[0]
        self.records.bench.add_spare(Spare(kind, count, place, note))
        return kind

    def back_up(self, target: Path) -> None:
        """Writes a consistent copy of the records."""
        from indexer.store import keeping

        keeping.back_up(self.records, target)

    def restore(self, source: Path, *, force: bool = False) -> Path | None:
        """Puts a copy of the records back; where the earlier ones were kept, if any."""
        from indexer.store import keeping

        return keeping.restore(self.records, source, force=force)

    def export_records(self, folder: Path) -> list[Path]:
        """Writes the records as CSV; the files written."""
        from indexer.store import keeping

        return keeping.export_csv(self.records, folder)

    def import_records(self, folder: Path, *, force: bool = False) -> int:
        """Reads an export back; how many rows came in."""
        from indexer.store import keeping

        return keeping.import_csv(self.records, folder, force=force)

    @cached_property
    def wanted(self) -> "WantedList":
        """The list of wanted pages; opened on first use."""
        from indexer.store.wanted import WantedList

        return WantedList(self.records)

    def tick_wanted(self) -> "list[tuple[Wanted, str]]":
        """Ticks off the wanted pages that have come in; each with the name of its file."""
        if not (self.home / "records.db").exists():
            return []
        from indexer.search.wanting import came_in

        came = came_in(self.entries, self.wanted.all(open_only=True))
        self.wanted.tick(came)
        return [(item, file) for item, _, file in came]
