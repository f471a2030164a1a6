"""Page work on a Dask cluster: pages go out, readings come back, one process here writes.

What a page costs is bounded on the worker as it is here. A worker, a scheduler or a network that
is lost costs retries: a page is out until its answer is here, and what never comes back stays
waiting for the next run.
"""

import logging
import queue
import time
import uuid
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import TracebackType
from typing import Any, Generic, Self

from indexer import limits, work_remote
from indexer.errors import BenchfolioError, LibraryError, UsageError
from indexer.limits import PAGE_TIMEOUT_S
from indexer.work import Job, Outcome

_JOBS_AHEAD = 3  # a thread: enough to keep it busy while answers travel
_LOOK_EVERY_S = 2.0  # how often the workers are counted
_SILENT = 3  # times a page's bound, and no answer at all: something is stuck


class _Lost(Exception):
    """The scheduler does not answer any more."""


@dataclass(eq=False, slots=True)
class _Trip(Generic[Job]):
    """One page on its way."""

    job: Job
    path: Path
    rest: tuple[Any, ...]
    tries: int = 0


@dataclass(slots=True)
class _Run(Generic[Job]):
    """What one call of `run` has out and has to send again."""

    function: Callable[..., Any]
    timeout_s: float
    source: Iterator[tuple[Job, tuple[Any, ...]]]
    exhausted: bool = False
    again: deque[_Trip[Job]] = field(default_factory=deque)
    out: dict[Any, _Trip[Job]] = field(default_factory=dict)
    ended: "queue.SimpleQueue[Any]" = field(default_factory=queue.SimpleQueue)
    heard: float = field(default_factory=time.monotonic)

    def next(self) -> _Trip[Job] | None:
        if self.again:
            return self.again.popleft()
        if not self.exhausted:
            for job, (path, *rest) in self.source:
                return _Trip(job, path, tuple(rest))
            self.exhausted = True
        return None


class Cluster:
    """The workers behind a Dask scheduler. Use it as a context manager.

    `address` is the scheduler's, such as "tcp://host:8786" (or tls://, with Dask's own settings
    for certificates). With `shared`, files are read under the same path on the workers where they
    can; else, and where they can't, their bytes are sent. `wait_s` bounds the wait for a first
    worker and for a scheduler that was lost. Raises UsageError when Dask is not installed,
    LibraryError when nobody answers.
    """

    def __init__(self, address: str, *, shared: bool = False, wait_s: float | None = None) -> None:
        self.address = address
        self._shared = shared
        self._wait_s = limits.CLUSTER_WAIT_S if wait_s is None else wait_s
        self._salt = uuid.uuid4().hex[:12]
        self._keys: dict[Path, tuple[str, int]] = {}
        self._threads = 0
        self._looked = 0.0
        self._client: Any = None
        self._connect()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Takes the run's files off the workers and lets go of the scheduler."""
        if self._alive():
            with suppress(Exception):
                self._client.run(work_remote.forget, self._salt, on_error="ignore")
        self._drop()

    def run(
        self,
        function: Callable[..., Any],
        jobs: Iterable[tuple[Job, tuple[Any, ...]]],
        *,
        timeout_s: float = PAGE_TIMEOUT_S,
    ) -> Iterator[Outcome[Job]]:
        """Calls `function(path, *arguments)` for each (job, (path, *arguments)) on the workers.

        Yields an Outcome as each ends, in no fixed order, as `indexer.work.run` does. Raises
        LibraryError when the cluster is lost for longer than `wait_s`; jobs without an outcome
        are then undone.
        """
        run = _Run(function, timeout_s, iter(jobs))
        try:
            while True:
                try:
                    yield from self._round(run)
                    return
                except _Lost:
                    for trip in run.out.values():
                        self._retry(run, trip)
                    run.out.clear()
                    run.ended = queue.SimpleQueue()
                    self._drop()
                    self._connect()
        finally:
            if run.out and self._alive():
                with suppress(Exception):
                    self._client.cancel(list(run.out), force=True)

    def _round(self, run: _Run[Job]) -> Iterator[Outcome[Job]]:
        while True:
            room = self._room()
            while len(run.out) < room:
                trip = run.next()
                if trip is None:
                    break
                failed = self._send(run, trip)
                if failed is not None:
                    yield failed
            if not run.out and run.exhausted and not run.again:
                return
            try:
                future = run.ended.get(timeout=_LOOK_EVERY_S)
            except queue.Empty:
                if not self._alive():
                    raise _Lost from None
                if time.monotonic() - run.heard > _SILENT * run.timeout_s + self._wait_s:
                    raise self._gone("has not answered for a long while") from None
                continue
            run.heard = time.monotonic()
            outcome = self._received(run, future)
            if outcome is not None:
                yield outcome

    def _send(self, run: _Run[Job], trip: _Trip[Job]) -> Outcome[Job] | None:
        try:
            card = self._card(trip.path)
        except OSError as error:
            reason = f"{trip.path.name} can't be read ({error.strerror})."
            return Outcome(trip.job, reason=reason)
        trip.tries += 1
        ours = work_remote.installed()
        try:
            future = self._submit(
                work_remote.read_there, run.function, card, trip.rest, run.timeout_s, ours
            )
        except _Lost:
            run.again.appendleft(trip)
            raise
        run.out[future] = trip
        future.add_done_callback(run.ended.put)
        return None

    def _received(self, run: _Run[Job], future: Any) -> Outcome[Job] | None:
        from distributed import CancelledError, KilledWorker

        trip = run.out.get(future)
        if trip is None:
            return None
        try:
            answer: work_remote.Answer = future.result(timeout=self._wait_s)
        except (CancelledError, KilledWorker, OSError, TimeoutError) as error:
            if not self._alive() or isinstance(error, CancelledError):
                raise _Lost from error
            run.out.pop(future)
            self._retry(run, trip)
            return None
        except Exception as error:  # pages' own errors come as answers, so the worker is at fault
            raise LibraryError(
                f"A worker of {self.address} can't read pages ({type(error).__name__}: {error}).",
                "Install the same Benchfolio there. What was read is kept; the next run goes on.",
            ) from error
        run.out.pop(future)
        if answer.differs:
            raise LibraryError(
                f"The worker {answer.worker} has {answer.differs}.",
                "Install the same there. What was read is kept; the next run goes on.",
            )
        if answer.lacks_file:
            self._retry(run, trip)
            with suppress(OSError, TimeoutError, KilledWorker):  # else it is asked for once more
                self._send_file(trip.path, answer.worker)
            return None
        return Outcome(trip.job, answer.result, answer.reason)

    def _retry(self, run: _Run[Job], trip: _Trip[Job]) -> None:
        if trip.tries >= limits.CLUSTER_TRIES:
            raise self._gone(f"lost {trip.path.name} {trip.tries} times")
        run.again.append(trip)

    def _card(self, path: Path) -> work_remote.FileCard:
        if path not in self._keys:
            size = path.stat().st_size
            self._keys[path] = (f"{self._salt}-{len(self._keys)}", size)
        key, size = self._keys[path]
        data = None
        if not self._shared and size <= limits.CLUSTER_BLOCK_BYTES:
            data = path.read_bytes()
            if len(data) != size:
                raise OSError(5, "it changes while it is read")
        return work_remote.FileCard(key, path, size, self._shared, data)

    def _send_file(self, path: Path, worker: str) -> None:
        """Sends a file to one worker, block by block. Raises OSError or TimeoutError."""
        key, size = self._keys[path]
        with path.open("rb") as stream:
            for offset in range(0, max(size, 1), limits.CLUSTER_BLOCK_BYTES):
                data = stream.read(min(limits.CLUSTER_BLOCK_BYTES, size - offset))
                self._submit(
                    work_remote.take_block, key, path.name, offset, data, size, workers=[worker]
                ).result(timeout=limits.CLUSTER_BLOCK_TIMEOUT_S)

    def _submit(self, function: Callable[..., Any], *arguments: object, **options: object) -> Any:
        try:
            return self._client.submit(function, *arguments, pure=False, **options)
        except Exception as error:
            raise _Lost from error

    def _room(self) -> int:
        """How many pages may be out: a few for each of the workers' threads. Waits for a first
        worker."""
        if self._threads and time.monotonic() - self._looked < _LOOK_EVERY_S:
            return self._threads * _JOBS_AHEAD
        until = time.monotonic() + self._wait_s
        while True:
            if not self._alive():
                raise _Lost
            try:
                self._threads = sum(self._client.nthreads().values())
            except Exception as error:
                raise _Lost from error
            self._looked = time.monotonic()
            if self._threads:
                return self._threads * _JOBS_AHEAD
            if self._looked > until:
                raise self._gone("has no worker")
            time.sleep(0.2)

    def _alive(self) -> bool:
        return self._client is not None and self._client.status == "running"

    def _connect(self) -> None:
        """Finds the scheduler. Raises LibraryError when it does not answer within `wait_s`."""
        try:
            from distributed import Client
        except ImportError as error:
            raise UsageError(
                "Reading on a cluster needs Dask.", "Run: pip install 'benchfolio[cluster]'"
            ) from error
        for name in ("distributed", "distributed.client", "distributed.core", "distributed.comm"):
            logging.getLogger(name).setLevel(logging.CRITICAL)  # what matters is said below
        self._threads = 0
        try:
            self._client = Client(  # type: ignore[no-untyped-call]
                self.address, timeout=self._wait_s, set_as_default=False, name="benchfolio"
            )
        except (OSError, TimeoutError, ValueError) as error:
            raise self._gone("does not answer") from error

    def _drop(self) -> None:
        if self._client is not None:
            with suppress(Exception):
                self._client.close(timeout=2)
        self._client = None

    def _gone(self, what: str) -> BenchfolioError:
        return LibraryError(
            f"The cluster at {self.address} {what}.",
            "Start it again, or leave --cluster out. What was read is kept; the next run goes on.",
        )
