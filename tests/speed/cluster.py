"""`python -m tests.speed.cluster`: what a cluster costs beside worker processes here.

The same pages of the sample shelf, by the first reader: one and two processes here, one and two
workers of a Dask cluster on loopback. Time is compared, and processor seconds, which tell more on
a machine that is shared: two workers are there only as fast as the cores that others leave, but
what a page costs by one and by two shows whether they stand in each other's way. Exits with 1 when
the cluster's processor seconds exceed the local ones by more than 10 %.
"""

import argparse
import os
import resource
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psutil  # comes with distributed

from indexer import work
from indexer.intake.sources import open_source
from indexer.intake.walk import walk
from indexer.reading.page import read_first
from indexer.work_cluster import Cluster
from tests.cluster.machines import Machines

SHELF = Path(__file__).parents[2] / "sample_library" / "shelf"
MOST_OVERHEAD = 0.10
Jobs = list[tuple[tuple[str, int], tuple[Path, int]]]


def pages(count: int) -> Jobs:
    """Pages of the sample shelf, spread over it."""
    found: Jobs = []
    for file in walk([SHELF]):
        with open_source(file.path) as source:
            found += [((file.name, n + 1), (file.path, n + 1)) for n in range(source.page_count)]
    step = max(1, len(found) // count)
    return found[::step][:count]


def _processor_s(roots: list[int]) -> float:
    """Processor seconds of this process, of processes it has ended, and of other trees."""
    own = resource.getrusage(resource.RUSAGE_SELF)
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    total = own.ru_utime + own.ru_stime + ended.ru_utime + ended.ru_stime
    for root in roots:
        process = psutil.Process(root)
        for one in (process, *process.children(recursive=True)):
            total += sum(one.cpu_times()[:4])  # its own and its ended children's
    return total


def measure(
    run: Callable[[Jobs], Iterator[Any]], jobs: Jobs, roots: list[int]
) -> tuple[float, float]:
    """Seconds and processor seconds; every page must have been read."""
    started, before = time.perf_counter(), _processor_s(roots)
    outcomes = list(run(jobs))
    took = time.perf_counter() - started, _processor_s(roots) - before
    assert len(outcomes) == len(jobs)
    assert not [outcome.reason for outcome in outcomes if outcome.reason]
    return took


@contextmanager
def cluster_of(workers: int) -> Iterator[tuple[Cluster, list[int]]]:
    """A cluster whose workers have read a page each, and the processes it consists of."""
    with Machines(workers) as machines:
        machines.wait_for_workers()
        with Cluster(machines.address) as cluster:
            list(cluster.run(read_first, pages(2 * workers)))
            yield cluster, [m.pid for m in (machines.scheduler, *machines.workers)]


def main() -> int:
    """Measures in turn, so that a busy neighbour falls on all alike; prints the best of each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pages", type=int, default=16)
    parser.add_argument("--rounds", type=int, default=2)
    given = parser.parse_args()
    jobs = pages(given.pages)
    best: dict[tuple[str, int], tuple[float, float]] = {}
    with cluster_of(1) as (one, one_pids), cluster_of(2) as (two, two_pids):
        for _ in range(given.rounds):
            for name, workers, run, pids in (
                ("here", 1, work.Here(1).run, []),
                ("cluster", 1, one.run, one_pids),
                ("here", 2, work.Here(2).run, []),
                ("cluster", 2, two.run, two_pids),
            ):
                took = measure(lambda asked, run=run: run(read_first, asked), jobs, pids)  # type: ignore[misc]
                known = best.get((name, workers), took)
                best[name, workers] = (min(known[0], took[0]), min(known[1], took[1]))
    count = len(jobs)
    print(f"{count} pages, best of {given.rounds}")
    print(f"{'':12}{'workers':>8}{'s':>9}{'pages/s':>9}{'cpu s':>9}{'cpu s/page':>12}")
    for (name, workers), (wall, cpu) in best.items():
        print(f"{name:12}{workers:8}{wall:9.1f}{count / wall:9.2f}{cpu:9.1f}{cpu / count:12.2f}")
    worst = 0.0
    for workers in (1, 2):
        here, there = best["here", workers], best["cluster", workers]
        worst = max(worst, there[1] / here[1] - 1)
        print(
            f"cluster against here, {workers} workers: time {there[0] / here[0] - 1:+.1%},"
            f" processor seconds {there[1] / here[1] - 1:+.1%}"
        )
    for name in ("here", "cluster"):
        gain = best[name, 1][0] / best[name, 2][0]
        print(
            f"{name}, two workers against one: {gain:.2f} times as fast, efficiency {gain / 2:.0%};"
            f" by processor seconds a page {best[name, 1][1] / best[name, 2][1]:.0%}"
        )
    print(
        f"load of the machine, of {os.cpu_count()} cores: {os.getloadavg()[0]:.1f}, ours included"
    )
    return 1 if worst > MOST_OVERHEAD else 0


if __name__ == "__main__":
    sys.exit(main())
