"""`python -m tests.speed.reading`: how long our reading takes beside bare engines, as ratios.

Pages of the press are drawn to files, then in one run on the same cores: the plain `tesseract`
program on each file; our quick pass, `Library.index(quick=True)`, turning and cataloguing
included; our second pass, which goes on from it; RapidOCR's defaults on every page. Each engine
has one thread, and so many pages are in hand at once as `--workers` says. Exits with 1 when a
ratio of processor seconds misses its target. Cores count as busy by what others left of them;
they are judged only when as many pages are in hand as there are cores.
"""

import argparse
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from indexer import Library
from indexer.reading.tesseract import engine
from indexer.work import default_workers
from tests.accuracy.press.pages import one_page, save
from tests.accuracy.reading_readers import PLAIN_RAPIDOCR, results

QUICK_TO_BARE = 1.15  # at most
WHOLE_TO_BOTH = 0.5  # at most, of both engines in full on every page
BUSY = 0.95  # at least, of the cores while pages are read


@dataclass(frozen=True)
class Phase:
    """What one way of reading took. `cpu_s` is this process and its children together;
    `idle_share` the share (0 to 1) of the machine's cores that nobody used meanwhile."""

    name: str
    wall_s: float
    cpu_s: float
    idle_share: float

    @property
    def busy(self) -> float:
        """The share (0 to 1) that the work used of what others left it of the machine's cores."""
        idle_s = self.idle_share * self.wall_s * (os.cpu_count() or 1)
        return self.cpu_s / (self.cpu_s + idle_s)


def timed(name: str, work: Callable[[], object]) -> Phase:
    """Runs some work and tells what it took."""
    started, cpu, idle = time.perf_counter(), _cpu_s(), _idle_s()
    work()
    wall_s = time.perf_counter() - started
    cores = os.cpu_count() or 1
    return Phase(name, wall_s, _cpu_s() - cpu, (_idle_s() - idle) / (wall_s * cores))


def _cpu_s() -> float:
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


def _idle_s() -> float:
    """Seconds that the machine's cores stood idle since it was started (Linux; else nan)."""
    try:
        fields = Path("/proc/stat").read_text(encoding="ascii").split("\n", 1)[0].split()
    except OSError:
        return float("nan")
    return (int(fields[4]) + int(fields[5])) / os.sysconf("SC_CLK_TCK")  # idle and waiting


def bare_tesseract(files: list[Path], workers: int, out: Path) -> None:
    """The program on each file, as one would run it from the shell."""
    found = engine()
    where = ["--tessdata-dir", found.data_dir] if found.data_dir else []

    def run(path: Path) -> None:
        command = [found.program, str(path), str(out / path.stem), "-l", "eng", *where]
        subprocess.run(command, check=True, capture_output=True, timeout=600)

    with ThreadPoolExecutor(workers) as pool:
        list(pool.map(run, files))


def bare_rapidocr(files: list[Path], workers: int) -> None:
    """RapidOCR's defaults on each file."""
    with ProcessPoolExecutor(workers) as pool:
        list(pool.map(_rapidocr_on, files))


def _rapidocr_on(path: Path) -> None:
    results(path, (PLAIN_RAPIDOCR,), None)


def compare(files: list[Path], workers: int, scratch: Path) -> tuple[Phase, ...]:
    """(bare tesseract, our quick pass, our second pass, bare RapidOCR) over the files."""
    shelf = files[0].parent
    bare = timed("tesseract, bare", partial(bare_tesseract, files, workers, scratch))
    with Library(scratch / "home") as library:
        quick = timed(
            "ours, quick pass", lambda: library.index([shelf], workers=workers, quick=True)
        )
        second = timed("ours, second pass", lambda: library.index([shelf], workers=workers))
    rapid = timed("RapidOCR, bare", partial(bare_rapidocr, files, workers))
    return bare, quick, second, rapid


def main() -> int:
    """Draws, times and prints the table; 1 when a ratio misses its target."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--split", choices=("look", "report"), default="report")
    parser.add_argument("--pages", type=int, default=24)
    parser.add_argument("--workers", type=int, default=default_workers())
    given = parser.parse_args()
    os.environ["OMP_THREAD_LIMIT"] = "1"
    with tempfile.TemporaryDirectory() as name:
        shelf = Path(name) / "shelf"
        shelf.mkdir()
        files = [save(one_page(given.split, n), shelf, n) for n in range(given.pages)]
        phases = compare(files, given.workers, Path(name))
    bare, quick, second, rapid = phases
    print(f"{given.pages} pages of the {given.split} split, {given.workers} at once")
    print(
        f"{'':22}{'s a page':>9}{'to bare tesseract':>19}{'cpu s':>8}{'to bare':>9}"
        f"{'cores idle':>12}{'busy':>8}"
    )
    for phase in phases:
        print(
            f"{phase.name:22}{phase.wall_s / given.pages:9.2f}{phase.wall_s / bare.wall_s:19.2f}"
            f"{phase.cpu_s / given.pages:8.2f}{phase.cpu_s / bare.cpu_s:9.2f}"
            f"{phase.idle_share:12.2f}{phase.busy:8.2f}"
        )
    whole_s = quick.wall_s + second.wall_s
    whole_cpu_s = quick.cpu_s + second.cpu_s
    shares = (  # by processor seconds: what others take of the machine meanwhile does not count
        ("quick pass to bare tesseract", quick.cpu_s / bare.cpu_s, QUICK_TO_BARE),
        ("whole reading to both engines", whole_cpu_s / (bare.cpu_s + rapid.cpu_s), WHOLE_TO_BOTH),
    )
    for what, ratio, most in shares:
        print(f"{what}: {ratio:.2f} (at most {most})")
    busy = (quick.busy * quick.wall_s + second.busy * second.wall_s) / whole_s
    judged = given.workers >= (os.cpu_count() or 1)
    print(
        f"cores busy while reading: {busy:.2f} (at least {BUSY}{'' if judged else ', not judged'})"
    )
    return int(any(ratio > most for _, ratio, most in shares) or (judged and busy < BUSY))


if __name__ == "__main__":
    sys.exit(main())
