"""One run over the library's folders: what changed, hand pages to work, catalogue, write."""

import hashlib
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from indexer import work
from indexer.cataloguing.unit import catalogue_unit, makers_named
from indexer.errors import InputError
from indexer.intake.sources import open_source
from indexer.intake.walk import Found, walk
from indexer.limits import PAGE_TIMEOUT_S
from indexer.model import PageInput, PageState
from indexer.reading.page import read_first, read_second
from indexer.store.catalogue import Catalogue, FileRow, PageTask
from indexer.store.entries import EntryStore

_HASH_BLOCK = 1 << 20


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


Report = Callable[[Progress], None]


def index(
    catalogue: Catalogue,
    paths: Iterable[Path],
    *,
    workers: int,
    quick: bool = False,
    report: Report = lambda progress: None,
) -> Summary:
    """Brings the catalogue up to date with folders or single files.

    Whatever was done stays done when the run is stopped; the next one goes on from there.
    """
    started = time.monotonic()
    summary = Summary()
    for path in paths:
        _take_stock(catalogue, path, workers, report, summary)
    catalogue.forget_orphans()
    _first_pass(catalogue, workers, report, summary)
    _catalogue_stale(catalogue, report)
    if not quick:
        _second_pass(catalogue, workers, report, summary)
        _catalogue_stale(catalogue, report)
    summary.entries = len(EntryStore(catalogue).ids())
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
        return Probe(digest.hexdigest(), source.kind.value, source.title, labels)


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
    gone = set(known) - seen if path.is_dir() else set()
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
        catalogue.put_file(
            folder_id, found.name, size, mtime, state="failed", reason=outcome.reason
        )
        return
    probed: Probe = outcome.result
    unit = _unit(folder_id, found.name, probed)
    catalogue.put_content(probed.sha256, probed.kind, probed.title, unit, probed.labels)
    catalogue.place_content(probed.sha256, unit)
    catalogue.put_file(folder_id, found.name, size, mtime, sha256=probed.sha256)
    summary.files_new += 1


def _unit(folder_id: int, name: str, probed: Probe) -> str:
    """Pages catalogued together: a bound file by itself, loose sheets with their folder."""
    if len(probed.labels) > 1:
        return probed.sha256
    return f"{folder_id}:{PurePosixPath(name).parent}"


def _first_pass(catalogue: Catalogue, workers: int, report: Report, summary: Summary) -> None:
    tasks = catalogue.tasks(PageState.WAITING)
    started = time.monotonic()
    jobs = ((task, (task.path, task.ref.page)) for task in tasks)
    for n, outcome in enumerate(work.run(read_first, jobs, workers=workers), 1):
        task: PageTask = outcome.job
        if outcome.reason:
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
            )
            summary.pages_read += 1
        report(Progress("first reading", n, len(tasks), time.monotonic() - started))


def _second_pass(catalogue: Catalogue, workers: int, report: Report, summary: Summary) -> None:
    tasks = catalogue.tasks(PageState.READ)
    started = time.monotonic()
    jobs = ((task, (task.path, task.ref.page, catalogue.reading(task.page_id))) for task in tasks)
    done = work.run(read_second, jobs, workers=workers, timeout_s=PAGE_TIMEOUT_S)
    for n, outcome in enumerate(done, 1):
        task: PageTask = outcome.job
        if outcome.reason:
            catalogue.settle_page(task.page_id, f"second reader: {outcome.reason}")
            summary.failed.append(
                (f"{task.path.name} page {task.ref.page}, second reader", outcome.reason)
            )
        else:
            catalogue.put_second(task.page_id, *outcome.result)
            summary.pages_read_again += 1
        report(Progress("second reading", n, len(tasks), time.monotonic() - started))


def _pages(catalogue: Catalogue, unit: str) -> list[PageInput]:
    return [page for _, page in catalogue.unit_pages(unit)]


def _catalogue_stale(catalogue: Catalogue, report: Report) -> None:
    store = EntryStore(catalogue)
    units = catalogue.stale_units()
    makers = tuple(
        dict.fromkeys(
            [
                *store.makers().values(),
                *(name for unit in units for name in makers_named(_pages(catalogue, unit))),
            ]
        )
    )
    started = time.monotonic()
    for n, unit in enumerate(units, 1):
        pages = list(catalogue.unit_pages(unit))
        made = catalogue_unit([page for _, page in pages], makers)
        ids = {page.ref: page_id for page_id, page in pages}
        facts = [
            (ids[page.ref], page, text, keys)
            for page, text, keys in zip(made.facts, made.texts, made.keys, strict=True)
        ]
        store.replace_unit(unit, facts, made.entries, made.listings)
        report(Progress("cataloguing", n, len(units), time.monotonic() - started))
    if units:
        store.resolve_listings()
