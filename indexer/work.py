"""Where page work runs: worker processes here, each page on its own, bounded in time and memory."""

import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, TimeoutError, wait
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from pebble import ProcessExpired, ProcessPool

from indexer.errors import BenchfolioError
from indexer.limits import PAGE_MEMORY_BYTES, PAGE_TIMEOUT_S

Job = TypeVar("Job")
_JOBS_AHEAD = 3  # a worker: enough to keep it busy, few enough to forget on a stop


@dataclass(frozen=True)
class Outcome(Generic[Job]):
    """What became of one job: its result, or the reason why there is none."""

    job: Job
    result: Any = None
    reason: str = ""


class Place(Protocol):
    """Somewhere that page work runs."""

    def run(
        self,
        function: Callable[..., Any],
        jobs: Iterable[tuple[Job, tuple[Any, ...]]],
        *,
        timeout_s: float = PAGE_TIMEOUT_S,
    ) -> Iterator[Outcome[Job]]:
        """Calls `function(*arguments)` for each (job, arguments); each one's outcome as it ends."""


@dataclass(frozen=True, slots=True)
class Here:
    """This machine: as many worker processes as `workers`."""

    workers: int

    def run(
        self,
        function: Callable[..., Any],
        jobs: Iterable[tuple[Job, tuple[Any, ...]]],
        *,
        timeout_s: float = PAGE_TIMEOUT_S,
    ) -> Iterator[Outcome[Job]]:
        """As `run` below."""
        return run(function, jobs, workers=self.workers, timeout_s=timeout_s)


def run(
    function: Callable[..., Any],
    jobs: Iterable[tuple[Job, tuple[Any, ...]]],
    *,
    workers: int,
    timeout_s: float = PAGE_TIMEOUT_S,
) -> Iterator[Outcome[Job]]:
    """Calls `function(*arguments)` for each (job, arguments) in worker processes.

    Yields an Outcome as each ends, in no fixed order. A job that raises, hangs past `timeout_s`,
    grows past the memory bound or kills its worker becomes an Outcome with a reason; the others
    go on in a fresh worker.
    """
    waiting: dict[Any, Job] = {}
    source = iter(jobs)
    with ProcessPool(max_workers=workers, initializer=bound_worker) as pool:
        future: Any
        try:
            exhausted = False
            while waiting or not exhausted:
                while not exhausted and len(waiting) < workers * _JOBS_AHEAD:
                    try:
                        job, arguments = next(source)
                    except StopIteration:
                        exhausted = True
                        break
                    future = pool.schedule(function, args=arguments, timeout=timeout_s)
                    waiting[future] = job
                done, _ = wait(waiting, return_when=FIRST_COMPLETED)
                for future in done:
                    yield outcome_of(waiting.pop(future), future, timeout_s)
        except BaseException:
            pool.stop()  # type: ignore[no-untyped-call]
            raise


def default_workers() -> int:
    """As many as this process may use cores."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def outcome_of(job: Job, future: "Future[Any]", timeout_s: float) -> Outcome[Job]:
    """What became of a job, from its future in a pool of bounded processes."""
    try:
        return Outcome(job, future.result())
    except TimeoutError:
        return Outcome(job, reason=f"took longer than {timeout_s:.0f} s")
    except ProcessExpired as error:
        return Outcome(job, reason=f"the reader crashed on it (exit code {error.exitcode})")
    except MemoryError:
        return Outcome(job, reason="needs more memory than one page may take")
    except CancelledError:
        return Outcome(job, reason="was stopped")
    except BenchfolioError as error:
        return Outcome(job, reason=str(error))
    except Exception as error:  # whatever a library raised on one page costs that page only
        return Outcome(job, reason=f"{type(error).__name__}: {error}")


def bound_worker() -> None:
    """Limits a worker's memory, and leaves interrupts to the parent."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.environ["OMP_THREAD_LIMIT"] = "1"
    try:
        import resource
    except ImportError:  # not on Windows
        return
    resource.setrlimit(resource.RLIMIT_AS, (PAGE_MEMORY_BYTES, PAGE_MEMORY_BYTES))
