"""Whether a home folder is sound: both stores, the index of entries, the photos, what they share.

Nothing is changed by looking. What can be made again is made again on request; the records, which
cannot, are only ever reported on.
"""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from filelock import FileLock, Timeout

from indexer.checking.catalogue import check_catalogue
from indexer.checking.entries import check_entries
from indexer.checking.files import check_files
from indexer.checking.findings import Finding, Report
from indexer.checking.records import check_records
from indexer.checking.repair import repair_catalogue, repair_entries, sweep
from indexer.errors import InputError, LibraryError
from indexer.limits import LOCK_TIMEOUT_S
from indexer.store.connect import unwritable

__all__ = ["Finding", "Report", "check_home"]


def check_home(home: Path, *, repair: bool = False, files: bool = False) -> Report:
    """Looks through the home folder; with `files` every scan is read and compared by its hash.

    With `repair` what is damaged and can be made again is put right first, and the report is of
    the home as it is then. Raises InputError when there is no library in `home`, LibraryError
    when `repair` finds another program writing.
    """
    try:
        there = any((home / name).exists() for name in ("catalogue.db", "records.db"))
    except OSError as error:
        raise InputError(
            f"The home {home} can't be looked into ({error.strerror}).", "See to its rights."
        ) from error
    if not there:
        raise InputError(
            f"There is no library in {home} yet.",
            "Make one: benchfolio index FOLDER-WITH-YOUR-SCANS",
        )
    report = _looked(home, files)
    if not repair or not (report.damaged or report.mendable):
        return report
    try:
        with FileLock(home / "writing.lock", timeout=LOCK_TIMEOUT_S):
            done = _repaired(home, report)
    except Timeout as error:
        raise LibraryError(
            "The library is busy: `benchfolio index` is running.", "Wait for it to finish."
        ) from error
    except OSError as error:
        raise unwritable(home, error) from error
    after = _looked(home, files)
    return Report(after.checked, after.findings, tuple(done))


def _looked(home: Path, files: bool) -> Report:
    checked: dict[str, str] = {}
    found: list[Finding] = []
    parts: list[tuple[str, Callable[[Path], tuple[str, list[Finding]]]]] = [
        ("catalogue.db", check_catalogue),
        ("entries.index", check_entries),
        ("records.db", check_records),
    ]
    if files:
        parts.append(("files", check_files))
    for name, look in parts:
        said, findings = look(home)
        checked[name] = said
        found += findings
    return Report(checked, tuple(found))


def _repaired(home: Path, report: Report) -> list[str]:
    done: list[str] = []
    done += repair_catalogue(home, [f for f in report.findings if f.where == "catalogue.db"])
    if any(f.where in ("catalogue.db", "entries.index") for f in report.findings):
        with suppress(LibraryError):  # the report that follows says what is still wrong
            done += repair_entries(home)
    return done + sweep(home)
