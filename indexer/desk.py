"""What is made of a job (work sheets, packet, open forms), wanted pages, and keeping it all."""

from collections.abc import Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from indexer import limits
from indexer.bench.marked import PacketPage, PacketPhoto
from indexer.drawer import DrawerDesk
from indexer.errors import NothingFound, UsageError
from indexer.jobs import typed
from indexer.store.entries import PageCard
from indexer.store.records import Mark

if TYPE_CHECKING:
    from indexer.bench.sheets import WorkSheets
    from indexer.store.wanted import Wanted, WantedList


class Desk(DrawerDesk):
    """What is made of a job, and keeping what the person gave."""

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
        if not job.marks and not job.photos:
            raise UsageError(
                f"Job {job_id} has no marked pages.",
                f"Mark some: benchfolio job mark {job_id} PAGE…",
            )
        entry = self.entries.entry(job.entry) if job.entry else None
        pages, gone = self._to_print(job_id)
        sheets = self.work_sheets(job_id)
        photos = [PacketPhoto(photo, self.photos.path(photo.kept_as)) for photo in job.photos]
        return gone + write_packet(target, job, entry, pages, gone, paper, foldouts, sheets, photos)

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
            pages, gone = self._to_print(job.id)
            return gone + write_searchable(target, job.title, pages)
        entry = self.entries.entry(what)
        cards = self.entries.cards(what) if entry else [self.page(what)]
        packed = [PacketPage(card, Mark(card.ref), self.reading(card)) for card in cards]
        return write_searchable(target, what, packed)

    def _to_print(self, job_id: int) -> tuple[list[PacketPage], list[str]]:
        """A job's pages whose files are there, and a line for each of the others."""
        pages, gone = [], []
        for marked in self.marked_pages(job_id):
            if marked.card is None:
                gone.append(marked.missing.removesuffix("."))
            else:
                pages.append(PacketPage(marked.card, marked.mark, self.reading(marked.card)))
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

    def add_part(self, job_id: int, reference: str, words: str) -> None:
        """Adds a line of one's own to the replacement list, or gives one other words."""
        self._live(job_id)
        name = _reference(reference)
        self.records.bench.edit_part(
            job_id, name, added=typed(words, "value", limits.MAX_TITLE_CHARS, needed=True)
        )

    def set_parts(self, job_id: int, references: Sequence[str], state: str) -> None:
        """Marks lines of the replacement list "done" or "struck", or "" to put them back.

        Raises NothingFound for one that is not on the list, and then changes none.
        """
        if state not in ("", "done", "struck"):
            raise UsageError(f"A line can't be {state}.", "Choose done, struck or nothing.")
        self._live(job_id)
        listed = {line.reference for line in self.work_sheets(job_id).replacements}
        names = [_reference(reference) for reference in references]
        unknown = [name for name in names if name not in listed]
        if unknown:
            raise NothingFound(
                f"{', '.join(unknown)} is not on the replacement list.",
                f"See it: benchfolio job parts {job_id}",
            )
        for name in names:
            self.records.bench.edit_part(job_id, name, state=state)

    def forget_part(self, job_id: int, reference: str) -> None:
        """Undoes every edit of a line; a line of one's own goes."""
        self._live(job_id)
        self.records.bench.forget_part(job_id, _reference(reference))

    def take_reading(
        self, job_id: int, point: str, reads: str, nominal: str = "", note: str = ""
    ) -> None:
        """Keeps what the meter says at a point of a job's set."""
        self.take_readings(job_id, [(point, reads, nominal, note)])

    def take_readings(self, job_id: int, rows: Sequence[tuple[str, str, str, str]]) -> None:
        """Keeps several readings (point, reads, nominal, note), all or none."""
        from indexer.store.bench_records import Taken

        self._live(job_id)
        most = limits.MAX_TITLE_CHARS
        taken = [
            Taken(
                " ".join(typed(point, "point", most, needed=True).upper().split()),
                typed(reads, "reading", most, needed=True).strip(),
                typed(nominal, "nominal value", most).strip(),
                typed(note, "note"),
            )
            for point, reads, nominal, note in rows
        ]
        self.records.bench.take_all(job_id, taken)

    def back_up(self, target: Path) -> list[str]:
        """Writes a consistent copy of the records with their photos, also while in use.

        Returns a line for each photo that is missing from it.
        """
        from indexer.store import keeping

        return keeping.back_up(self.records, target, self.photos)

    def restore(self, source: Path, *, force: bool = False) -> Path | None:
        """Puts a copy of the records back; where the earlier ones were kept, if any."""
        from indexer.store import keeping

        return keeping.restore(self.records, source, self.photos, force=force)

    def export_records(self, folder: Path) -> list[Path]:
        """Writes everything a person typed as CSV and Markdown, with the photos; the files."""
        from indexer.store import exporting

        return exporting.export(self.records, folder, self.photos)

    def import_records(self, folder: Path, *, force: bool = False) -> int:
        """Reads an export back; how many rows came in."""
        from indexer.store import exporting

        return exporting.bring_in(self.records, folder, self.photos, force=force)

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


def _reference(text: str) -> str:
    """The name of a part as lists print it: C8A."""
    return "".join(typed(text, "reference", limits.MAX_TITLE_CHARS, needed=True).upper().split())
