"""Holding up, as a table: `python -m tests.endurance`; `--short` is the cut of 3 minutes.

Ends with 1 when a record or a sound file's page is lost, a run hangs, or an error is no plain one.
Disks of memory are mounted where that is permitted, else those rows say so.
"""

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.endurance import bombs, disks, fuzzing, intake_run, kills, places
from tests.endurance.damage import damaged
from tests.endurance.intake_run import Tally
from tests.endurance.seeds import corpus, drawn, seeds

_SEED = 20
_SLOW_BOMBS = (
    "content", "forms 10", "picture of 1 GB", "50000 frames", "100000 pages", "2000000", "one",
    "5 MB", "40000", "quotes", "zipped", "249",
)  # fmt: skip


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--short", action="store_true", help="the cut of 3 minutes")
    asked.add_argument("--files", type=int, help="damaged files (2,000; short 250)")
    asked.add_argument("--kills", type=int, help="kills (200; short 8)")
    asked.add_argument("--fuzz-s", type=float, help="seconds for each parser (60; short 5)")
    given = asked.parse_args()
    files = given.files if given.files is not None else (250 if given.short else 2_000)
    pulls = given.kills if given.kills is not None else (8 if given.short else 200)
    fuzz_s = given.fuzz_s if given.fuzz_s is not None else (5.0 if given.short else 60.0)
    started, bad = time.monotonic(), 0
    with tempfile.TemporaryDirectory(prefix="endurance-") as name:
        folder = Path(name)
        if files:
            bad += _files(folder / "files", files, given.short)
        bad += _places(folder)
        if pulls:
            bad += _kills(folder / "kills", pulls)
        if fuzz_s:
            bad += _fuzz(fuzz_s)
    print(
        f"\n{'Held.' if not bad else f'{bad} failures.'} {time.monotonic() - started:.0f} s in all"
    )
    return int(bad > 0)


def _files(folder: Path, count: int, short: bool) -> int:
    folder.mkdir()
    good = folder / "good.tif"
    good.write_bytes(drawn()["g4.tif"])
    tally = Tally()
    intake_run.run(_written(folder, damaged(seeds(), count, _SEED)), good, tally)
    intake_run.run(corpus(), good, tally)
    unfolded = folder / "bombs"
    unfolded.mkdir()
    made = bombs.write(unfolded, _SLOW_BOMBS if short else ())
    intake_run.run(made, good, tally, timeout_s=30.0)
    print(
        "hostile files                          ", f"{tally.files} tried in {tally.seconds:.0f} s"
    )
    print("  opened / refused plainly             ", f"{tally.opened} / {tally.refused}")
    print("  pages drawn / refused plainly        ", f"{tally.pages_drawn} / {tally.pages_refused}")
    for reason, n in sorted(tally.stopped.items()):
        print(f"  ended by a bound: {reason:<20.60}", n)
    print("  errors that are no plain ones        ", len(tally.raw))
    print("  sound files lost between them        ", len(tally.good_lost))
    print("  hangs                                ", tally.hangs)
    print(
        "  slowest                              ", f"{tally.slowest[0]:.1f} s, {tally.slowest[1]}"
    )
    for line in (*tally.raw[:20], *tally.good_lost[:5], *tally.notes[:20]):
        print("     ", line[:200])
    return len(tally.raw) + len(tally.good_lost) + tally.hangs


def _written(folder: Path, made: Iterator[tuple[str, bytes]]) -> Iterator[Path]:
    """Each file as it is asked for; those before the last hundred are taken away again."""
    kept: list[Path] = []
    for name, data in made:
        path = folder / name
        path.write_bytes(data)
        kept.append(path)
        if len(kept) > 100:
            kept.pop(0).unlink()
        yield path


def _places(folder: Path) -> int:
    bad = 0
    tries: tuple[tuple[str, Callable[[Path], list[str] | None]], ...] = (
        ("names of any bytes", places.odd_names),
        ("pipes, devices, sockets, loops", places.special_files),
        ("a share goes away and comes back", places.share_goes_away),
        ("a full disk", disks.full_disk),
        ("a home that can't be written", disks.read_only_home),
        ("two index runs, find and job beside", disks.at_once),
        ("all questions while entries change", disks.asked_meanwhile),
    )
    for said, attempt in tries:
        here = folder / attempt.__name__
        here.mkdir()
        wrong = attempt(here)
        bad += len(wrong or [])
        result = "held" if wrong == [] else "skipped: no disk may be mounted here"
        print(f"{said:<39}", f"{len(wrong)} failures" if wrong else result, flush=True)
        for line in (wrong or [])[:10]:
            print("     ", line[:300])
    return bad


def _kills(folder: Path, count: int) -> int:
    pulled = kills.pull(folder, count, _SEED)
    print("kills at random moments                ", f"{pulled.kills} in {pulled.seconds:.0f} s")
    print(
        "  while                                ",
        ", ".join(f"{w} {n}" for w, n in pulled.by.items()),
    )
    print("  changes promised before a kill       ", pulled.promises)
    print("  records lost                         ", len(pulled.lost))
    print("  stores unsound by `check`            ", len(pulled.unsound))
    print("  next index did not complete          ", len(pulled.not_resumed))
    print("  ended by themselves before the kill  ", len(pulled.ended))
    print("  index of entries in doubt, rebuilt   ", pulled.doubts, flush=True)
    troubles = (pulled.lost, pulled.unsound, pulled.not_resumed, pulled.ended)
    for line in (line for lines in troubles for line in lines[:10]):
        print("     ", line[:300])
    return sum(map(len, troubles))


def _fuzz(seconds: float) -> int:
    bad = 0
    for target in fuzzing.TARGETS:
        tried = fuzzing.fuzz(target, seconds, _SEED)
        how = "guided by coverage" if tried.guided else "at random"
        line = f"{tried.runs:,} tries {how}, {len(tried.faults)} faults"
        print(f"odd input: {target:<28}", line, flush=True)
        for fault, text in tried.faults[:5]:
            print("     ", fault[:150], repr(text[:100]))
        bad += len(tried.faults)
    return bad


if __name__ == "__main__":
    sys.exit(main())
