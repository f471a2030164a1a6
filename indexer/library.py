"""The library: one home folder with its two stores, and the questions a bench asks of them.

Thin on purpose: it only joins the parts.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from filelock import FileLock, Timeout

from indexer.bench.marked import PacketPage
from indexer.errors import InputError, LibraryError, NothingFound, UsageError
from indexer.limits import DEFAULT_ANSWERS, LOCK_TIMEOUT_S, MAX_QUERY_TUBES
from indexer.model import Entry, PageReading
from indexer.search import find as finding
from indexer.search import kin as nearness
from indexer.search.entries import EntryIndex
from indexer.search.query import Query, understand
from indexer.store.catalogue import Catalogue, PageRow
from indexer.store.entries import EntryStore, PageCard, line_up_key
from indexer.store.records import JobRecord, Mark, Records
from indexer.trade.codes import fold, normal
from indexer.trade.lineup import LineupFacts, analyse
from indexer.trade.numbering import parse_line_up, registered

if TYPE_CHECKING:
    from PIL import Image

    from indexer.bench.sheets import WorkSheets
    from indexer.indexing import Report, Summary
    from indexer.search.explain import Trust
    from indexer.search.photos import PhotoReading
    from indexer.store.wanted import Wanted, WantedList


class Library:
    """A restorer's own service information under one home folder.

    Use it as a context manager. Every method raises BenchfolioError kinds only.
    """

    def __init__(self, home: Path) -> None:
        self.home = home
        try:
            home.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise LibraryError(
                f"The home folder {home} can't be made ({error.strerror}).",
                "Choose another with --home or BENCHFOLIO_HOME.",
            ) from error
        self.catalogue = Catalogue(home / "catalogue.db")
        self.entries = EntryStore(self.catalogue)

    @cached_property
    def records(self) -> Records:
        """What the person gave; opened on first use."""
        return Records(self.home / "records.db")

    @cached_property
    def _index(self) -> EntryIndex:
        return EntryIndex(self.home / "entries.index", self.entries)

    def close(self) -> None:
        """Lets go of every file."""
        if "_index" in self.__dict__:
            self._index.close()
        if "records" in self.__dict__:
            self.records.close()
        self.catalogue.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # -- indexing

    def index(
        self,
        paths: Sequence[Path],
        *,
        workers: int | None = None,
        quick: bool = False,
        report: "Report | None" = None,
    ) -> "Summary":
        """Reads what is new or changed under `paths` (all known folders when empty).

        Raises InputError for a path that isn't there or a folder without readable files, and
        LibraryError when another run is writing.
        """
        from indexer import indexing, work

        wanted = [path.absolute() for path in paths] or list(self.catalogue.folders().values())
        if not wanted:
            raise InputError("No folder is known yet.", "Give one: benchfolio index FOLDER")
        for path in wanted:
            if not path.exists():
                raise InputError(f"{path} is not there.", "Check the spelling, or mount its disk.")
        with self._one_writer():
            summary = indexing.index(
                self.catalogue,
                wanted,
                workers=workers or work.default_workers(),
                quick=quick,
                report=report or (lambda progress: None),
            )
            self._index.refresh()
            summary.came_in = [(item.title, file) for item, file in self.tick_wanted()]
        if not summary.files_seen:
            raise InputError(
                f"There is no file to read in {', '.join(map(str, wanted))}.",
                "Give the folder that holds your scans.",
            )
        return summary

    @contextmanager
    def _one_writer(self) -> Iterator[None]:
        try:
            with FileLock(self.home / "writing.lock", timeout=LOCK_TIMEOUT_S):
                yield
        except Timeout as error:
            raise LibraryError(
                "The library is busy: another `benchfolio index` is running.",
                "Wait for it to finish; `benchfolio find` works meanwhile.",
            ) from error

    # -- questions

    def understand(self, text: str) -> Query:
        """A typed question taken apart, with this library's makers known."""
        return understand(text, {fold(name): name for name in self.entries.makers().values()})

    def find(self, asked: Query, limit: int = DEFAULT_ANSWERS) -> finding.Answer:
        """What serves the set asked for, best first."""
        return finding.find(self.entries, self._index, asked, limit)

    @staticmethod
    def tubes_in(text: str) -> list[str]:
        """The registered types named in a text, repeats kept.

        Raises UsageError for a word that is no tube type, and for an empty text.
        """
        found: list[str] = []
        rest = text
        for token in parse_line_up(text):
            found += [token.type] * token.count
            rest = rest.replace(text[token.start : token.end], " ", 1)
        unknown = [word for word in rest.replace(",", " ").split() if normal(word)]
        if unknown:
            raise UsageError(
                f"{unknown[0]} is not a tube type known here.",
                "Check the spelling, or leave it out.",
            )
        if not found:
            raise UsageError("No tube type is given.", "Example: benchfolio kin 12BE6 12BA6")
        if len(found) > MAX_QUERY_TUBES:
            raise UsageError(f"{len(found)} tubes are given; {MAX_QUERY_TUBES} is the most.")
        return found

    @staticmethod
    def line_up(tubes: Sequence[str]) -> LineupFacts:
        """What a line-up tells: roles, supply, heater string."""
        return analyse([tube.partition("/")[0] for tube in tubes])

    def kin(
        self,
        tubes: Sequence[str],
        limit: int = DEFAULT_ANSWERS,
        *,
        with_schematic: bool = False,
        same_sockets: bool = False,
        partial: bool | None = None,
        maker: str = "",
        without: str = "",
    ) -> list[tuple[nearness.Nearness, Entry]]:
        """The sets nearest by line-up, nearest first. `tubes` may be as printed.

        `with_schematic` keeps to entries that print one, `same_sockets` to sets whose every tube
        stands in the same socket wiring, `without` leaves one entry out. `partial` says that not
        all tubes were read (None: judged by the tubes). Equals are ordered by supply, count, maker
        (`maker` first), year.
        """
        types = ["/".join(map(registered, tube.split("/"))) for tube in tubes]
        if partial is None:
            partial = nearness.looks_partial(types)
        return list(
            self._kin(
                types,
                limit,
                with_schematic=with_schematic,
                same_sockets=same_sockets,
                partial=partial,
                maker=maker,
                without=without,
            )
        )

    def _kin(
        self,
        types: list[str],
        left: int,
        *,
        with_schematic: bool,
        same_sockets: bool,
        partial: bool,
        maker: str,
        without: str,
    ) -> Iterator[tuple[nearness.Nearness, Entry]]:
        for group in nearness.ranked(types, self.entries.line_ups(), partial=partial):
            near = {line_up: n for n, line_up in group if n.same_sockets or not same_sockets}
            if not near:
                continue
            ids = self.entries.with_line_ups(
                list(near), left + bool(without), maker=maker, schematic=with_schematic
            )
            for entry_id in ids:
                if entry_id != without and left > 0:
                    left -= 1
                    entry = self.entry(entry_id)
                    yield near[line_up_key(entry.tubes)], entry
            if left <= 0:
                return

    def jobs_for(self, entries: Iterable[Entry], asked: Query | None = None) -> list[JobRecord]:
        """Earlier jobs on these entries' sets, on a set with the asked codes, or on near kin."""
        return [job for job, _ in self.earlier_jobs(entries, asked)]

    def earlier_jobs(
        self, entries: Iterable[Entry], asked: Query | None = None
    ) -> list[tuple[JobRecord, str]]:
        """As `jobs_for`, each job with the reason it comes up; newest first within a reason."""
        if not (self.home / "records.db").exists():
            return []
        from indexer.search.memory import earlier

        return earlier(self.records.jobs(), list(entries), asked)

    # -- photos of a set, and wanted pages

    def photo_question(
        self, photos: "Sequence[PhotoReading]", strike: Sequence[str] = (), add: str = ""
    ) -> Query:
        """What photos of one set ask for, with words struck out and others added."""
        from indexer.search.photos import question

        asked = question(photos, list(self.entries.makers().values()), strike)
        return asked.plus(self.understand(add)) if add.strip() else asked

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

    @staticmethod
    def trust(
        near: nearness.Nearness, asked: LineupFacts, entry: Entry, grade: str = ""
    ) -> "tuple[Trust, ...]":
        """What of an entry's pages applies to a set with the asked line-up, and what not."""
        from indexer.search.explain import trust

        return trust(near, asked, entry, grade)

    def entry(self, entry_id: str) -> Entry:
        """One entry. Raises NothingFound."""
        found = self.entries.entry(entry_id)
        if found is None:
            raise NothingFound(
                f"There is no entry {entry_id}.", "`benchfolio list` shows the entries."
            )
        return found

    def all_entries(self) -> Iterator[Entry]:
        """Every entry, by maker."""
        for entry_id in self.entries.ids():
            yield self.entry(entry_id)

    # -- pages

    def page(self, name: str) -> PageCard:
        """A page by its short name, `ENTRY/2` (its second page) or `FILE#PAGE`.

        Raises NothingFound, or UsageError when the name fits several pages.
        """
        if "/" in name and not name.rpartition("#")[2].isdigit():
            entry_id, _, number = name.rpartition("/")
            if number.isdigit() and self.entries.entry(entry_id) is not None:
                cards = self.entries.cards(entry_id)
                if not 1 <= int(number) <= len(cards):
                    raise NothingFound(f"{entry_id} has {len(cards)} pages, no page {number}.")
                return cards[int(number) - 1]
        file, mark, number = name.rpartition("#")
        if mark and number.isdigit():
            rows = self.catalogue.pages("file.name = ? AND page.number = ?", file, int(number))
        else:
            rows = self.catalogue.pages("page.name = ?", name.lower())
        if not rows:
            raise NothingFound(
                f"There is no page {name}.",
                "Use a short name, ENTRY/2 or FILE#PAGE, as `benchfolio list --pages` shows.",
            )
        if len(rows) > 1:
            raise UsageError(f"{len(rows)} pages are called {name}.", "Use FILE#PAGE instead.")
        card = self.entries.card(rows[0].page_id)
        if card is None:
            raise NothingFound(f"The page {name} is gone.", "Run `benchfolio index` again.")
        return card

    def pages(self) -> list[PageRow]:
        """Every page of the library, in file order."""
        return self.catalogue.pages()

    def reading(self, page: PageCard, reader: str = "") -> PageReading:
        """The words of a page; empty for one that could not be read."""
        found = self.catalogue.reading(page.page_id, reader)
        return found or PageReading((), 1, 1, "")

    def picture(self, page: PageCard) -> "Image.Image":
        """The page drawn upright, as it was read. Raises InputError when its file can't be used."""
        from indexer.intake.sources import open_source
        from indexer.reading.page import upright

        with open_source(page.path) as source:
            return upright(source.page(page.ref.page), self.reading(page))

    @staticmethod
    def words_over(reading: PageReading, picture: "Image.Image") -> "Image.Image":
        """The picture with each word read drawn in a frame over its place."""
        from indexer.bench.overlay import draw_words

        return draw_words(reading, picture)

    # -- jobs

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

        kind = self.tubes_in(tube)[0]
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

    def status(self) -> dict[str, int]:
        """Counts: files and pages by state, entries, jobs."""
        counts = self.catalogue.counts()
        counts["entries"] = len(self.entries.ids())
        counts["jobs"] = len(self.records.jobs())
        return counts
