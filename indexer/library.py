"""The library: reading what is new, and the questions a bench asks.

Thin on purpose: it only joins the parts.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from indexer.desk import Desk
from indexer.doubts_desk import DoubtsDesk
from indexer.errors import InputError, LibraryError
from indexer.limits import DEFAULT_ANSWERS, LOCK_TIMEOUT_S
from indexer.model import Entry
from indexer.search import find as finding
from indexer.search import kin as nearness
from indexer.search.query import Query, tubes_in, understand, unread_in
from indexer.store.connect import reading, unwritable
from indexer.store.entries import line_up_key
from indexer.store.records import JobRecord
from indexer.trade.codes import fold
from indexer.trade.lineup import LineupFacts, analyse
from indexer.trade.numbering import registered

if TYPE_CHECKING:
    from indexer import work
    from indexer.indexing import Report, Summary
    from indexer.search.explain import Trust
    from indexer.search.photos import PhotoReading


class Library(DoubtsDesk, Desk):
    """A restorer's own service information under one home folder.

    Use it as a context manager. Every method raises BenchfolioError kinds only.
    """

    def index(
        self,
        paths: Sequence[Path],
        *,
        workers: int | None = None,
        quick: bool = False,
        report: "Report | None" = None,
        cluster: str = "",
        shared: bool = False,
        read_again: bool = False,
    ) -> "Summary":
        """Reads what is new or changed under `paths` (all known folders when empty).

        With `cluster`, the address of a Dask scheduler, its workers read the pages; with `shared`
        they find the files under the same paths where they can. With `read_again` pages that an
        earlier state of the readers read are read anew. Raises InputError for a path that
        isn't there or a folder without readable files, LibraryError when another run is writing or
        the cluster is lost.
        """
        from indexer import indexing, work

        wanted = [path.absolute() for path in paths] or list(self.catalogue.folders().values())
        if not wanted:
            raise InputError("No folder is known yet.", "Give one: benchfolio index FOLDER")
        for path in wanted:
            _must_be_there(path)
        with self._one_writer(), self._place(cluster, shared) as place:
            summary = indexing.index(
                self.catalogue,
                wanted,
                workers=workers or work.default_workers(),
                quick=quick,
                report=report or (lambda progress: None),
                asked={mark.ref for job in self.records.jobs() for mark in job.marks},
                corrections=self._said,
                place=place,
                read_again=read_again,
            )
            self._index.refresh()
            summary.came_in = [(item.title, file) for item, file in self.tick_wanted()]
        if not summary.files_seen:
            raise InputError(
                f"There is no file to read in {', '.join(map(str, wanted))}.",
                "Give the folder that holds your scans.",
            )
        return summary

    def catalogue_again(self, report: "Report | None" = None) -> "Summary":
        """Catalogues everything anew from what was read; no file is opened.

        Raises LibraryError when another run is writing.
        """
        from indexer import indexing

        with self._one_writer():
            summary = indexing.catalogue_again(
                self.catalogue,
                report=report or (lambda progress: None),
                corrections=self._said,
            )
            self._index.refresh()
        return summary

    @staticmethod
    @contextmanager
    def _place(cluster: str, shared: bool) -> "Iterator[work.Place | None]":
        if not cluster:
            yield None
            return
        from indexer.work_cluster import Cluster

        with Cluster(cluster, shared=shared) as place:
            yield place

    @contextmanager
    def _one_writer(self) -> Iterator[None]:
        lock = FileLock(self.home / "writing.lock", timeout=LOCK_TIMEOUT_S)
        try:
            lock.acquire()
        except Timeout as error:
            raise LibraryError(
                "The library is busy: another `benchfolio index` is running.",
                "Wait for it to finish; `benchfolio find` works meanwhile.",
            ) from error
        except OSError as error:
            raise unwritable(self.home, error) from error
        try:
            yield
        finally:
            lock.release()

    def status(self) -> dict[str, int]:
        """Counts: files and pages by state, entries, jobs."""
        counts = self.catalogue.counts()
        counts["entries"] = len(self.entries.ids())
        counts["jobs"] = len(self.records.jobs())
        return counts

    def understand(self, text: str) -> Query:
        """A typed question taken apart, with this library's makers known."""
        return understand(text, {fold(name): name for name in self.entries.makers().values()})

    def find(self, asked: Query, limit: int = DEFAULT_ANSWERS) -> finding.Answer:
        """What serves the set asked for, best first."""
        with reading(self.catalogue.db):
            return finding.find(self.entries, self._index, asked, limit)

    @staticmethod
    def tubes_in(text: str) -> list[str]:
        """The registered types named in a text, repeats kept. Raises UsageError for others."""
        return tubes_in(text)

    @staticmethod
    def unread_in(text: str) -> int:
        """How many tubes of a list are only marked as there, by a "?" that stands alone."""
        return unread_in(text)

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
        with reading(self.catalogue.db):
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

    def photo_question(
        self, photos: "Sequence[PhotoReading]", strike: Sequence[str] = (), add: str = ""
    ) -> Query:
        """What photos of one set ask for, with words struck out and others added."""
        from indexer.search.photos import question

        asked = question(photos, list(self.entries.makers().values()), strike)
        return asked.plus(self.understand(add)) if add.strip() else asked

    @staticmethod
    def trust(
        near: nearness.Nearness, asked: LineupFacts, entry: Entry, grade: str = ""
    ) -> "tuple[Trust, ...]":
        """What of an entry's pages applies to a set with the asked line-up, and what not."""
        from indexer.search.explain import trust

        return trust(near, asked, entry, grade)


def _must_be_there(path: Path) -> None:
    try:
        there = path.exists()
    except OSError as error:  # in a folder that this person may not enter
        raise InputError(
            f"{path} can't be read ({error.strerror}).", "See to its rights."
        ) from error
    if not there:
        raise InputError(f"{path} is not there.", "Check the spelling, or mount its disk.")
