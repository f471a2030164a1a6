"""Odd places: names that are no text, links and loops, pipes and devices, shares that go away."""

import os
import shutil
import sqlite3
import threading
import time
from contextlib import closing
from pathlib import Path

from indexer import Library, check_home

NOTE = "MODEL {n}T1\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"
NAMES = (
    b"line\nbreak.txt",
    b"tab\tand\x07bell.txt",
    "four bytes \U0001f4fb.txt".encode(),
    "right to left \u202e.txt".encode(),
    b"not utf-8 \xff\xfe\xe9.txt",
    b"back\\x41slash.txt",
    b"'; DROP TABLE file; --.txt",
    b"-rf.txt",
    b"a" * 251 + b".txt",
    b"percent %s %n {0}.txt",
)


def odd_names(folder: Path) -> list[str]:
    """Notes of odd names, in a folder of an odd name: each must be read, shown and found again.
    Returns what went wrong."""
    shelf = folder / os.fsdecode(b"sh\xe9lf\n\xf0\x9f\x93\xbb")
    shelf.mkdir(parents=True)
    for n, name in enumerate(NAMES):
        (shelf / os.fsdecode(name)).write_text(NOTE.format(n=n + 10))
    wrong = []
    with Library(folder / "home") as library:
        for _ in range(2):  # the second run must know them all again
            summary = library.index([shelf], workers=1)
            wrong += [f"{name!r}: {reason}" for name, reason in summary.failed]
        if (summary.files_unchanged, summary.entries) != (len(NAMES), len(NAMES)):
            wrong.append(f"{summary.files_unchanged} known again, {summary.entries} entries")
        pages = library.pages()
        for page in pages:
            card = library.page(page.name)
            if not card.path.is_file():
                wrong.append(f"{card.file!r} leads nowhere")
        again = library.index([], workers=1)  # the folder as the catalogue remembers it
        if again.files_unchanged != len(NAMES):
            wrong.append(f"{again.files_unchanged} found by the folder's own name")
    report = check_home(folder / "home", files=True)
    return wrong + [f"check: {finding.said}" for finding in report.findings]


def special_files(folder: Path) -> list[str]:
    """A pipe nobody writes to, a socket, a device, loops of links: none may stop the run."""
    import socket

    shelf = folder / "shelf"
    (shelf / "deep").mkdir(parents=True)
    (shelf / "good.txt").write_text(NOTE.format(n=10))
    os.mkfifo(shelf / "pipe.pdf")
    os.mkfifo(shelf / "pipe.txt")
    (shelf / "loop").symlink_to(shelf)
    (shelf / "deep" / "up").symlink_to("..")
    (shelf / "itself.pdf").symlink_to("itself.pdf")
    (shelf / "nothing.tif").symlink_to("not there")
    (shelf / "endless.txt").symlink_to("/dev/zero")
    (shelf / "null.pdf").symlink_to("/dev/null")
    (shelf / "memory.pdf").symlink_to("/proc/self/mem")
    with socket.socket(socket.AF_UNIX) as end:
        here = Path.cwd()
        os.chdir(shelf)  # a socket's path must be short
        end.bind("socket.pdf")
        os.chdir(here)
        started = time.monotonic()
        with Library(folder / "home") as library:
            summary = library.index([shelf], workers=1)
    wrong = [] if summary.entries == 1 else [f"{summary.entries} entries of 1"]
    wrong += [f"{name}: {reason}" for name, reason in summary.failed if name != "memory.pdf"]
    if (took := time.monotonic() - started) > 30:
        wrong.append(f"took {took:.0f} s")
    return wrong


def share_goes_away(folder: Path) -> list[str]:
    """The shelf vanishes while it is read, comes back: every page is read in the end, and what
    was known is not forgotten meanwhile."""
    shelf, away = folder / "shelf", folder / "away"
    (shelf / "sub").mkdir(parents=True)
    for n in range(150):
        (shelf / "sub" / f"set {n}.txt").write_text(NOTE.format(n=n + 10))
    wrong = []
    with Library(folder / "home") as library:
        library.index([shelf / "sub"], workers=1, quick=True)
        before = library.status()["entries"]
        for n in range(150):
            (shelf / "sub" / f"more {n}.txt").write_text(NOTE.format(n=n + 500))
        unplug = threading.Timer(0.4, lambda: shelf.rename(away))
        unplug.start()
        try:
            library.index([shelf / "sub"], workers=1)
        except Exception as error:
            if not hasattr(error, "remedy"):
                wrong.append(f"{type(error).__name__}: {error}")
        unplug.join()
        if library.status()["entries"] < before:
            wrong.append(f"{before - library.status()['entries']} entries forgotten")
        (shelf / "sub").mkdir(parents=True)  # the bare mount point
        try:
            library.index([shelf / "sub"], workers=1)
        except Exception as error:
            if not hasattr(error, "remedy"):
                wrong.append(f"{type(error).__name__}: {error}")
        if library.status()["entries"] < before:
            wrong.append(f"{before - library.status()['entries']} entries forgotten when unmounted")
        shutil.rmtree(shelf)
        away.rename(shelf)
        library.index([shelf / "sub"], workers=1)
        counts = library.status()
        if counts["entries"] != 300 or counts.get("failed", 0):
            wrong.append(f"after it came back: {counts}")
    return wrong


def rows(path: Path, question: str) -> list[tuple[object, ...]]:
    """What a store answers."""
    with closing(sqlite3.connect(path)) as db:
        return db.execute(question).fetchall()
