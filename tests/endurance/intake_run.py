"""Hostile files through the way in, as `index` takes it: bounded workers, no character reading."""

import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from indexer import work
from indexer.errors import BenchfolioError
from indexer.indexing import probe
from indexer.intake.sources import open_source

_PAGES_A_FILE = 4  # drawn of each: the first ones and the last
_SIDE_PX = 900
GOOD_EVERY = 25  # a sound file between the hostile ones


@dataclass(frozen=True, slots=True)
class Looked:
    """What became of a file: pages drawn, pages refused plainly, refusal of the whole."""

    drawn: int = 0
    refused: int = 0
    whole: str = ""
    raw: tuple[str, ...] = ()  # errors that are no plain ones


@dataclass
class Tally:
    """What a run over many files showed."""

    files: int = 0
    opened: int = 0
    refused: int = 0
    pages_drawn: int = 0
    pages_refused: int = 0
    stopped: Counter[str] = field(default_factory=Counter)  # by the bounds: time, memory, crash
    raw: list[str] = field(default_factory=list)
    good_lost: list[str] = field(default_factory=list)
    slowest: tuple[float, str] = (0.0, "")
    hangs: int = 0
    seconds: float = 0.0
    notes: list[str] = field(default_factory=list)


def look(path: Path) -> tuple[Looked, float]:
    """In a worker: what `index` does with a file before the readers, and how long it took."""
    started = time.monotonic()
    return _look(path), time.monotonic() - started


def _look(path: Path) -> Looked:
    raw: list[str] = []
    drawn = refused = 0
    try:
        probed = probe(path)
        count = len(probed.labels)
        with open_source(path) as source:
            first = range(1, min(count, _PAGES_A_FILE - 1) + 1)
            for number in dict.fromkeys((*first, count)):
                try:
                    page = source.page(number)
                    if page.has_picture:
                        page.draw(_SIDE_PX)
                    page.embedded  # noqa: B018 (read for what it may raise)
                    page.reason  # noqa: B018
                    drawn += 1
                except BenchfolioError as error:
                    refused += 1
                    if not error.message or "\n" in str(error):
                        raw.append(f"no plain message: {error!r}")
                except Exception as error:
                    raw.append(f"page {number}: {type(error).__name__}: {error}")
    except BenchfolioError as error:
        return Looked(drawn, refused, error.message, tuple(raw))
    except Exception as error:
        raw.append(f"{type(error).__name__}: {error}")
    return Looked(drawn, refused, "", tuple(raw))


def run(
    paths: Iterable[Path], good: Path, tally: Tally, *, workers: int = 1, timeout_s: float = 60.0
) -> None:
    """Every file through `look`, a sound one after every few; adds to `tally`."""
    started = last = time.monotonic()
    jobs = ((path, (path,)) for path in _mixed(paths, good))
    for outcome in work.run(look, jobs, workers=workers, timeout_s=timeout_s):
        now = time.monotonic()
        if now - last > timeout_s + 30:  # the bound did not hold
            tally.hangs += 1
            tally.notes.append(f"hang: {outcome.job.name}")
        last = now
        _count(outcome, good, tally)
    tally.seconds += time.monotonic() - started


def _mixed(paths: Iterable[Path], good: Path) -> Iterator[Path]:
    for n, path in enumerate(paths):
        if n % GOOD_EVERY == 0:
            yield good
        yield path
    yield good


def _count(outcome: "work.Outcome[Path]", good: Path, tally: Tally) -> None:
    name = outcome.job.name
    if outcome.job == good:
        if outcome.reason or not outcome.result[0].drawn or outcome.result[0].raw:
            tally.good_lost.append(outcome.reason or str(outcome.result[0]))
        return
    tally.files += 1
    if outcome.reason:
        tally.stopped[outcome.reason] += 1
        tally.notes.append(f"{name}: {outcome.reason}")
        return
    looked, seconds = outcome.result
    tally.slowest = max(tally.slowest, (seconds, name))
    tally.pages_drawn += looked.drawn
    tally.pages_refused += looked.refused
    tally.raw += [f"{name}: {line}" for line in looked.raw]
    tally.opened += not looked.whole
    tally.refused += bool(looked.whole)
