"""One run over the library's folders: what changed, hand pages to work, catalogue, write."""

import hashlib
import time
from collections.abc import Callable, Container, Iterable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path, PurePosixPath

from indexer import work
from indexer.absent import gone_for_good, is_there
from indexer.errors import InputError
from indexer.intake.lists import TypedList, read_list
from indexer.intake.sources import FileKind, open_source
from indexer.intake.walk import Found, walk
from indexer.limits import PAGE_TIMEOUT_S
from indexer.model import PageRef, PageState
from indexer.reading.page import read_first, read_second
from indexer.reading.settings import READERS
from indexer.store.catalogue import Catalogue, FileRow, PageTask
from indexer.store.entries import EntryStore
from indexer.store.looks import Looks
from indexer.store.reading_age import ReadingAge
from indexer.units import Corrections, catalogue_stale

_HASH_BLOCK = 1 << 20
_CATALOGUE_EVERY_S = 300.0  # while the second reader works


@dataclass(frozen=True, slots=True)
class Progress:
    """Where a run stands: what it is at, how far, and how fast."""

    stage: str  # "files", "first reading", "second reading", "cataloguing"
    done: int
    total: int
    seconds: float

    @property
    def per_second(self) -> float:
        return self.done / self.seconds if self.seconds > 0 else 0.0

    @property
    def seconds_left(self) -> float:
        return (self.total - self.done) / self.per_second if self.per_second else 0.0


@dataclass
class Summary:
    """What a run did."""

    files_seen: int = 0
    files_unchanged: int = 0
    files_new: int = 0
    files_gone: int = 0
    pages_read: int = 0
    pages_read_again: int = 0  # by the second reader
    entries: int = 0
    seconds: float = 0.0
    pages_catalogued: int = 0  # from the stored readings alone
    seconds_reading: float = 0.0  # what those readings once took
    read_earlier: int = 0  # pages that an earlier state of the readers read
    on_paper: int = 0  # sets that typed lists name
    skipped: list[tuple[str, str]] = field(default_factory=list)  # (file, reason)
    failed: list[tuple[str, str]] = field(default_factory=list)  # (file or page, reason)
    came_in: list[tuple[str, str]] = field(default_factory=list)  # (wanted, file)


@dataclass(frozen=True, slots=True)
class Probe:
    """What a first look at a file tells."""

    sha256: str
    kind: str
    title: str
    labels: tuple[str, ...]
    listed: TypedList | None = None  # the sets on paper, of a typed list


Report = Callable[[Progress], None]


def index(
    catalogue: Catalogue,
    paths: Iterable[Path],
    *,
    workers: int,
    quick: bool = False,
    report: Report = lambda progress: None,
    asked: Container[PageRef] = frozenset(),
    corrections: Corrections = tuple,
    place: work.Place | None = None,
    read_again: bool = False,
) -> Summary:
    """Brings the catalogue up to date with folders or single files.

    The second reader takes the pages in `asked` first, then the newest files. `corrections` gives
    what the person said against the reading; it wins. Pages are read at `place`, here when None.
    With `read_again` pages that an earlier state of the readers read are read anew.
    Whatever was done stays done when the run is stopped; the next one goes on from there.
    """
    started = time.monotonic()
    summary = Summary()
    place = place or work.Here(workers)
    for path in paths:
        _take_stock(catalogue, path, workers, report, summary)
    catalogue.forget_orphans()
    if read_again:
        ReadingAge(catalogue).read_again(READERS)
    _first_pass(catalogue, place, report, summary)
    _catalogue_stale(catalogue, report, corrections)
    if not quick:
        _second_pass(catalogue, place, report, summary, asked, corrections)
        _catalogue_stale(catalogue, report, corrections)
    summary.entries = len(EntryStore(catalogue).ids())
    summary.read_earlier = ReadingAge(catalogue).earlier(READERS)
    summary.seconds = time.monotonic() - started
    return summary


def probe(path: Path) -> Probe:
    """Hashes a file and looks at its structure. Raises InputError when it can't be used."""
    digest = hashlib.sha256()
    try:
        with path.open("rb") as stream:
            while block := stream.read(_HASH_BLOCK):
                digest.update(block)
    except OSError as error:
        raise InputError(f"{path.name} can't be read ({error.strerror}).") from error
    with open_source(path) as source:
        labels = tuple(source.page(n).printed for n in range(1, source.page_count + 1))
        listed = read_list(path) if source.kind is FileKind.NOTES else None
        return Probe(digest.hexdigest(), source.kind.value, source.title, labels, listed)


def _take_stock(
    catalogue: Catalogue, path: Path, workers: int, report: Report, summary: Summary
) -> None:
    folder_id = catalogue.folder_id(path if path.is_dir() else path.parent)
    known = catalogue.files(folder_id)
    seen: set[str] = set()
    fresh: list[tuple[Found, tuple[Path]]] = []
    for found in walk([path]):
        if found.skipped:
            summary.skipped.append((found.name, found.skipped))
            continue
        summary.files_seen += 1
        seen.add(found.name)
        if _unchanged(known.get(found.name), found):
            summary.files_unchanged += 1
        else:
            fresh.append((found, (found.path,)))
    gone, kept = set[str](), ""
    if path.is_dir():
        gone, kept = gone_for_good(path, known, seen, [name for name, _ in summary.skipped])
    if kept:
        summary.skipped.append((str(path), kept))
    started = time.monotonic()
    for n, outcome in enumerate(work.run(probe, fresh, workers=workers), 1):
        _place(catalogue, folder_id, outcome, summary)
        report(Progress("files", n, len(fresh), time.monotonic() - started))
    catalogue.forget_files(folder_id, gone)
    summary.files_gone += len(gone)


def _unchanged(known: FileRow | None, found: Found) -> bool:
    return (
        known is not None
        and known.state == "ok"
        and (known.size_bytes, known.mtime_ns)
        == (
            found.size,
            found.mtime_ns,
        )
    )


def _place(
    catalogue: Catalogue, folder_id: int, outcome: "work.Outcome[Found]", summary: Summary
) -> None:
    found = outcome.job
    size, mtime = found.size, found.mtime_ns
    if outcome.reason:
        summary.failed.append((found.name, outcome.reason))
        if is_there(found.path):  # else its disk went away: what is known of it stays
            catalogue.put_file(
                folder_id, found.name, size, mtime, state="failed", reason=outcome.reason
            )
        return
    probed: Probe = outcome.result
    unit = _unit(folder_id, found.name, probed)
    catalogue.put_content(probed.sha256, probed.kind, probed.title, unit, probed.labels)
    catalogue.place_content(probed.sha256, unit)
    if probed.listed is not None:
        Looks(catalogue).put_list(probed.sha256, probed.listed.sets, probed.listed.troubles)
        summary.on_paper += len(probed.listed.sets)
        for line, reason in probed.listed.troubles:
            summary.failed.append((f"{found.name} row {line}", reason))
    catalogue.put_file(folder_id, found.name, size, mtime, sha256=probed.sha256)
    summary.files_new += 1


def _unit(folder_id: int, name: str, probed: Probe) -> str:
    """Pages catalogued together: a bound file or typed list by itself, loose sheets with their
    folder."""
    if len(probed.labels) > 1 or probed.listed is not None:
        return probed.sha256
    return f"{folder_id}:{PurePosixPath(name).parent}"


def _first_pass(catalogue: Catalogue, place: work.Place, report: Report, summary: Summary) -> None:
    tasks = catalogue.tasks(PageState.WAITING)
    started = time.monotonic()
    jobs = ((task, (task.path, task.ref.page)) for task in tasks)
    for n, outcome in enumerate(place.run(read_first, jobs), 1):
        task: PageTask = outcome.job
        if outcome.reason:
            if is_there(task.path):  # else it waits for the next run
                catalogue.fail_page(task.page_id, outcome.reason)
            summary.failed.append((f"{task.path.name} page {task.ref.page}", outcome.reason))
        else:
            read = outcome.result
            catalogue.put_reading(
                task.page_id,
                read.readings,
                read.best,
                read.picture,
                state=PageState.READ if read.wants_second else PageState.DONE,
                wants_second=read.wants_second,
                readers=READERS,
            )
            summary.pages_read += 1
        report(Progress("first reading", n, len(tasks), time.monotonic() - started))


def _second_pass(
    catalogue: Catalogue,
    place: work.Place,
    report: Report,
    summary: Summary,
    asked: Container[PageRef] = frozenset(),
    corrections: Corrections = tuple,
) -> None:
    """The second reader's turn, page by page. What it found so far is catalogued every few
    minutes, so that a long pass is of use before it ends."""
    tasks = in_turn(catalogue.tasks(PageState.READ), asked)
    started = catalogued = time.monotonic()
    jobs = ((task, (task.path, task.ref.page, catalogue.reading(task.page_id))) for task in tasks)
    done = place.run(read_second, jobs, timeout_s=PAGE_TIMEOUT_S)
    for n, outcome in enumerate(done, 1):
        task: PageTask = outcome.job
        if outcome.reason:
            if is_there(task.path):  # else it waits for the next run
                catalogue.settle_page(task.page_id, f"second reader: {outcome.reason}")
            summary.failed.append(
                (f"{task.path.name} page {task.ref.page}, second reader", outcome.reason)
            )
        else:
            catalogue.put_second(task.page_id, *outcome.result)
            summary.pages_read_again += 1
        report(Progress("second reading", n, len(tasks), time.monotonic() - started))
        if time.monotonic() - catalogued >= _CATALOGUE_EVERY_S:
            _catalogue_stale(catalogue, report, corrections)
            catalogued = time.monotonic()


def in_turn(tasks: Iterable[PageTask], asked: Container[PageRef]) -> list[PageTask]:
    """Pages in the order in which the second reader takes them: those asked for first, then the
    newest files; the pages of a file stay together."""

    @cache
    def age(path: Path) -> float:
        try:
            return -path.stat().st_mtime
        except OSError:
            return 0.0

    return sorted(
        tasks, key=lambda task: (task.ref not in asked, age(task.path), task.path, task.ref.page)
    )


def _catalogue_stale(catalogue: Catalogue, report: Report, corrections: Corrections) -> None:
    def step(done: int, total: int, seconds: float) -> None:
        report(Progress("cataloguing", done, total, seconds))

    catalogue_stale(catalogue, step, corrections)


def catalogue_again(
    catalogue: Catalogue,
    *,
    report: Report = lambda progress: None,
    corrections: Corrections = tuple,
) -> Summary:
    """Catalogues every unit anew from the stored readings; no file is opened, no page read.

    Stopped half way, the next run catalogues what is left.
    """
    started = time.monotonic()
    looks = Looks(catalogue)
    catalogue.make_stale(looks.units())
    _catalogue_stale(catalogue, report, corrections)
    summary = Summary(entries=len(EntryStore(catalogue).ids()))
    summary.pages_catalogued = len(catalogue.pages())
    summary.seconds = time.monotonic() - started
    summary.seconds_reading = looks.seconds_reading()
    return summary
