"""`python -m tests.accuracy.reading`: pages of the press read by us and by plain engines.

Prints, by class of page and reader: recall and precision of tube types with their repeats and of
the distinct ones, of model and chassis codes against every code printed as such, letters wrong a
printed line, and wrong turns; then real scans against their own text. Tune on `--split look`;
report `--split report`, whose seeds, faces and wear are others. Twice-photocopied pages and those
scanned in black and white at 150 dpi have rows of their own. `--quick` reads a few pages by our
own readers only. Exits with 1 when a figure is below its floor in `reading_floors`.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from indexer.work import default_workers
from tests.accuracy.measures import Score
from tests.accuracy.measures import table as score_table
from tests.accuracy.press.faces import missing
from tests.accuracy.press.pages import GROUPS, one_page, save
from tests.accuracy.reading_facts import page_facts
from tests.accuracy.reading_floors import QUICK_PAGES, below
from tests.accuracy.reading_measures import HARD, Figures, measured, page_class
from tests.accuracy.reading_readers import BOTH, OURS, READERS, results
from tests.accuracy.reading_scans import scans_table

CLASSES = (*GROUPS, *HARD)


@dataclass
class Turns:
    """How pages were turned, counted on our own reading."""

    upright: int = 0
    wrong: int = 0  # upright as filed, and turned all the same
    turned: int = 0  # filed sideways or upside down
    left: int = 0  # of those, left as filed or turned the wrong way

    def count(self, filed_deg: int, applied_deg: int) -> None:
        """Counts one page: the turn it needs and the turn it was given."""
        self.upright += filed_deg == 0
        self.wrong += filed_deg == 0 != applied_deg
        self.turned += filed_deg != 0
        self.left += filed_deg not in (0, applied_deg)


@dataclass
class Run:
    """Figures by class and reader, and the turns."""

    figures: dict[tuple[str, str], Figures] = field(default_factory=dict)
    facts: dict[tuple[str, str], Score] = field(default_factory=dict)
    turns: Turns = field(default_factory=Turns)


@dataclass(frozen=True)
class PageJob:
    """One page to draw, read and measure."""

    split: str
    n: int
    readers: tuple[str, ...]
    kept: Path | None


@dataclass(frozen=True)
class PageDone:
    """What was measured on one page."""

    name: str
    class_: str
    figures: dict[str, Figures]
    facts: dict[str, Score]
    filed_deg: int
    applied_deg: int


def read_page(job: PageJob) -> PageDone:
    """Draws one page, has it read and measures each reading."""
    page = one_page(job.split, job.n)
    with tempfile.TemporaryDirectory() as scratch:
        found = results(save(page, Path(scratch), job.n), job.readers, job.kept)
    figures = {name: measured(page, result) for name, result in found.items()}
    name = f"{job.split} {job.n} ({page.group}, {page.layout}, {page.wear})"
    last = found[job.readers[-1]]
    facts = page_facts(page, last)
    return PageDone(name, page_class(page), figures, facts, page.turned_deg, last.rotation_deg)


def measure(jobs: list[PageJob], workers: int, show: bool) -> Run:
    """All pages measured, in so many processes."""
    run = Run()
    for done in _done(jobs, workers):
        run.turns.count(done.filed_deg, done.applied_deg)
        for reader, figures in done.figures.items():
            run.figures.setdefault((done.class_, reader), Figures())
            run.figures[done.class_, reader] += figures
        for what, score in done.facts.items():
            run.facts.setdefault((done.class_, what), Score())
            run.facts[done.class_, what] += score
        if show:
            for what, printed, read in done.figures[BOTH].missed:
                print(f"{done.name}: {what} printed [{printed}] read [{read}]")
            if done.filed_deg != done.applied_deg:
                print(f"{done.name}: needs {done.filed_deg}, was turned {done.applied_deg}")
        print(f"\r{done.name:<78.78}", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    return run


def _done(jobs: list[PageJob], workers: int) -> Iterator[PageDone]:
    if workers < 2:
        yield from map(read_page, jobs)
        return
    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(read_page, jobs)


def table(run: Run) -> str:
    """The figures, one line a class and reader."""
    head = f"{'tubes':>15}{'distinct':>14}{'codes':>14}{'letters':>10}{'lines':>7}{'rows in':>9}"
    lines = [
        f"{'':38}{head}{'seconds':>9}",
        f"{'':38}{'found':>8}{'right':>7}" + f"{'found':>7}{'right':>7}" * 2
        + f"{'wrong':>10}{'wrong':>7}{'order':>9}{'a page':>9}{'printed':>9}",
    ]  # fmt: skip
    for (class_, reader), f in sorted(run.figures.items(), key=_row_order):
        row = f"{class_ + ', ' + reader:38}{f.tubes.recall:8.3f}{f.tubes.precision:7.3f}"
        row += f"{f.distinct_tubes.recall:7.3f}{f.distinct_tubes.precision:7.3f}"
        row += f"{f.codes.recall:7.3f}{f.codes.precision:7.3f}"
        text = f.letters.whole > 0
        row += f"{f.letters.value:10.3f}{f.lines.value:7.3f}" if text else f"{'':17}"
        row += f"{f.order.value:9.3f}" if text else f"{'':9}"
        lines.append(f"{row}{f.seconds.value:9.1f}{f.tubes.wanted:5}/{f.codes.wanted}")
    return "\n".join(lines)


def facts_table(run: Run) -> str:
    """What cataloguing keeps of each page's final reading, by class."""
    rows = sorted(run.facts.items(), key=lambda item: CLASSES.index(item[0][0]))
    return score_table((f"{class_}, {what}", score) for (class_, what), score in rows)


def _row_order(item: tuple[tuple[str, str], Figures]) -> tuple[int, int]:
    class_, reader = item[0]
    return CLASSES.index(class_), READERS.index(reader)


def main() -> int:
    """Draws, reads and prints the tables; 1 when a figure is below its floor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=("look", "report"), default="report")
    parser.add_argument("--pages", type=int, default=24)
    parser.add_argument("--quick", action="store_true", help="a few pages, our readers only")
    parser.add_argument("--ours", action="store_true", help="our readers only")
    parser.add_argument("--show", action="store_true", help="print what was missed, page by page")
    parser.add_argument("--no-scans", action="store_true", help="leave the real scans out")
    parser.add_argument("--kept", type=Path, help="folder that keeps results for the next run")
    parser.add_argument("--workers", type=int, default=default_workers())
    given = parser.parse_args()
    if given.quick and (lacking := missing(given.split)):
        print("not measured: these typefaces are not installed:", *lacking)
        return 0
    readers = OURS if given.quick or given.ours else READERS
    numbers = QUICK_PAGES if given.quick else range(given.pages)
    jobs = [PageJob(given.split, n, readers, given.kept) for n in numbers]
    run = measure(jobs, given.workers, given.show)
    print(f"{len(jobs)} pages of the {given.split} split")
    print(table(run))
    print("facts as catalogued, each page by itself:")
    print(facts_table(run))
    t = run.turns
    print(f"upright pages turned: {t.wrong} of {t.upright}; "
          f"turned pages left or turned wrong: {t.left} of {t.turned}")  # fmt: skip
    if not (given.quick or given.no_scans):
        print(scans_table(readers, given.kept))
    too_low = below(run.figures, BOTH, t.wrong, quick=given.quick)
    print("\n".join(too_low) or "every figure is at or above its floor")
    return int(bool(too_low))


if __name__ == "__main__":
    sys.exit(main())
