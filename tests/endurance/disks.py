"""Full disks, homes that can't be written, several commands at once."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

from indexer import BenchfolioError, Library, check_home
from tests.commands import call
from tests.endurance.kills import ROOT, shelf_and_home, start
from tests.endurance.places import NOTE, rows


def _command(*arguments: str, user: int | None = None) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, "-c", "from cli.app import main; main()", *arguments],
        env={**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        user=user,
    )


def _notes(shelf: Path, count: int, more: str = "") -> None:
    shelf.mkdir(parents=True, exist_ok=True)
    for n in range(count):
        (shelf / f"set {n}.txt").write_text(NOTE.format(n=n + 10) + more)


def mount(folder: Path, size: str) -> bool:
    """A small disk in memory at `folder`; False where that is not permitted."""
    folder.mkdir(parents=True, exist_ok=True)
    if shutil.which("mount") is None:
        return False
    command = ["mount", "-t", "tmpfs", "-o", f"size={size}", "none", str(folder)]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def full_disk(folder: Path) -> list[str] | None:
    """Notes typed and an index run until the disk is full: plain errors only, nothing that was
    promised is lost, and with space again the run completes. None where no disk can be mounted."""
    disk, shelf = folder / "disk", folder / "shelf"
    _notes(shelf, 20, "WORDS " + " ".join(f"word{n}" for n in range(300)))
    if not mount(disk, "3m"):
        return None
    wrong, promised = [], []
    try:
        home = disk / "home"
        with Library(home) as library:
            job = library.open_job("full")
            for n in range(20_000):
                try:
                    library.note(job.id, f"note {n} " + "x" * 2_000)
                    promised.append(f"note {n} ")
                except BenchfolioError as error:
                    if "full" not in str(error):
                        wrong.append(f"note: {error}")
                    break
            else:
                wrong.append("the disk never filled")
        for words in (["index", str(shelf), "--workers", "1"], ["backup", str(disk / "copy.db")]):
            done = _command(*words, "--home", str(home))
            said = done.communicate(timeout=120)[1]
            if done.returncode not in (0, 3, 4) or "Traceback" in said:
                wrong.append(f"{words[0]}: exit {done.returncode}: {said[-300:]}")
        subprocess.run(["mount", "-o", "remount,size=80m", str(disk)], check=True)
        kept = {
            str(row[0]) for row in rows(home / "records.db", "SELECT substr(text, 1, 10) FROM note")
        }
        lost = [text for text in promised if text[:10].strip() not in {k.strip("x ") for k in kept}]
        if lost:
            wrong.append(f"{len(lost)} notes lost, {lost[0]!r}")
        with Library(home) as library:
            summary = library.index([shelf], workers=1)
            if summary.entries != 20 or summary.failed:
                wrong.append(f"with space again: {summary.entries} entries, {summary.failed[:2]}")
        wrong += [f"check: {f.where} {f.said}" for f in check_home(home).findings]
    finally:
        subprocess.run(["umount", str(disk)], capture_output=True, check=False)
    return wrong


def read_only_home(folder: Path) -> list[str] | None:
    """A home on a read-only disk: every question is answered, every change is refused plainly.
    None where no disk can be mounted."""
    disk, shelf = folder / "disk", folder / "shelf"
    _notes(shelf, 3)
    if not mount(disk, "20m"):
        return None
    wrong = []
    try:
        home = disk / "home"
        with Library(home) as library:
            library.index([shelf], workers=1)
            job = library.open_job("read only")
            entry = next(library.all_entries()).id
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        for asks, words in (
            (True, ["find", "Tillbrook"]),
            (True, ["list"]),
            (True, ["show", entry]),
            (True, ["kin", "12BE6", "12BA6"]),
            (True, ["status"]),
            (True, ["job", "show", str(job.id)]),
            (True, ["check"]),
            (True, ["backup", str(folder / "copy.db")]),
            (False, ["job", "note", str(job.id), "x"]),
            (False, ["correct", "year", entry, "1940"]),
            (False, ["index", str(shelf)]),
        ):
            done = _command(*words, "--home", str(home))
            said = done.communicate(timeout=120)[1]
            plain = not said if asks else "can't be written" in said and said.count("\n") == 2
            if done.returncode != (0 if asks else 4) or (not plain and words[0] != "check"):
                wrong.append(f"{' '.join(words)}: exit {done.returncode}: {said[-300:]}")
    finally:
        subprocess.run(["umount", str(disk)], capture_output=True, check=False)
    return wrong


def at_once(folder: Path) -> list[str]:
    """Two `index` runs, `find`, `job` and `correct` beside them: nobody sees an error other than
    "busy", and everything is there afterwards."""
    shelf, home = folder / "shelf", folder / "home"
    _notes(shelf, 40)
    with Library(home) as library:
        library.index([shelf], workers=1)
    wrong = []
    for turn in range(2):
        _notes(shelf, 40, f"{turn}\n")
        running = [
            _command("index", str(shelf), "--workers", "1", "--home", str(home)) for _ in "12"
        ]
        ends = time.monotonic() + 120
        finds = 0
        while any(one.poll() is None for one in running) and time.monotonic() < ends:
            for words in (["find", "Tillbrook"], ["job", "open", f"while {turn}-{finds}"]):
                done = _command(*words, "--home", str(home))
                said = done.communicate(timeout=60)[1]
                if done.returncode and "busy" not in said and "brought up to date" not in said:
                    wrong.append(f"{words[0]}: exit {done.returncode}: {said[-200:]}")
            finds += 1
        for one in running:
            said = one.communicate(timeout=60)[1]
            if one.returncode and "busy" not in said:
                wrong.append(f"index: exit {one.returncode}: {said[-200:]}")
        jobs = rows(
            home / "records.db", f"SELECT count(*) FROM job WHERE title LIKE 'while {turn}%'"
        )
        if jobs[0][0] != finds:
            wrong.append(f"{finds} jobs opened, {jobs[0][0]} there")
    return wrong + [f"check: {f.where} {f.said}" for f in check_home(home).findings]


_ASKED = (
    "list", "list --pages", "list --json", "find Tillbrook", "find 12BE6", "kin 12BE6 12BA6 35W4",
    "status", "doubts", "job open x", "job list", "correct list",
)  # fmt: skip
_MAY_BE_NONE = ("doubts", "correct list")
_ASKED_FOR_S = 12.0


def asked_meanwhile(folder: Path) -> list[str]:
    """Every question again and again while `index` and `correct` make entries anew: each is
    answered, from one state of the catalogue."""
    home = shelf_and_home(folder / "kept")
    beside = [start(what, home, "beside") for what in ("index", "correct")]
    wrong, asked = [], 0
    ends = time.monotonic() + _ASKED_FOR_S
    while time.monotonic() < ends or not asked:
        for words in _ASKED:
            done = call(*words.split(), home=home)
            asked += 1
            found = not done.returncode or (done.returncode == 1 and words in _MAY_BE_NONE)
            if not found and "busy" not in done.stderr:
                wrong.append(f"{words}: exit {done.returncode}: {done.stderr[-200:]}")
    for actor in beside:
        if actor.poll() is not None:
            wrong.append(f"ended by itself: {actor.communicate()[1][-300:]}")
        else:
            os.killpg(actor.pid, signal.SIGKILL)
            actor.communicate()
    return wrong + [f"check: {f.where} {f.said}" for f in check_home(home).findings if f.damage]
