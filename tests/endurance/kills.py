"""The plug pulled at random moments; afterwards every promise must have been kept."""

import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from indexer import Library, check_home

ROOT = Path(__file__).parents[2]
WHATS = ("index", "job", "correct", "backup", "index+job", "index+correct")
_LONGEST_S = 2.5  # from the first sign of life to the kill


@dataclass
class Pulled:
    """What the kills showed."""

    kills: int = 0
    by: Counter[str] = field(default_factory=Counter)
    promises: int = 0
    lost: list[str] = field(default_factory=list)
    unsound: list[str] = field(default_factory=list)
    not_resumed: list[str] = field(default_factory=list)
    ended: list[str] = field(default_factory=list)  # by themselves, before the kill
    doubts: int = 0  # times the index of entries was in doubt and built again
    seconds: float = 0.0


def shelf_and_home(folder: Path) -> Path:
    """A small shelf of typed notes, indexed; the home."""
    shelf, home = folder / "shelf", folder / "home"
    shelf.mkdir(parents=True)
    for n in range(24):
        text = f"MODEL {n + 10}T1\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"
        (shelf / f"set {n}.txt").write_text(text)
    with Library(home) as library:
        library.index([shelf], workers=1)
    return home


def start(what: str, home: Path, run: str) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, "-m", "tests.endurance.actors", what, str(home), run],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


def pull(folder: Path, kills: int, seed: int) -> Pulled:
    """Kills `kills` runs, each at a moment of its own, and looks after each."""
    chance = random.Random(seed)
    pulled = Pulled()
    started = time.monotonic()
    home = shelf_and_home(folder)
    for n in range(kills):
        what = WHATS[n % len(WHATS)]
        actors = [start(one, home, f"{n}") for one in what.split("+")]
        for actor in actors:
            assert actor.stdout is not None
            if '"ready"' not in _until_ready(actor):
                pulled.ended.append(f"{what}: did not start: {_errors(actor)}")
        time.sleep(chance.random() ** 2 * _LONGEST_S)
        for actor in actors:
            if actor.poll() is not None:
                pulled.ended.append(f"{what}: ended by itself: {_errors(actor)}")
            else:
                os.killpg(actor.pid, signal.SIGKILL)
        said = [json.loads(line) for actor in actors for line in _lines(actor)]
        pulled.kills += 1
        pulled.by[what] += 1
        _look(home, what, said, pulled)
        if n % 5 == 4 or "index" in what:
            _go_on(home, what, pulled)
    pulled.seconds = time.monotonic() - started
    return pulled


def _until_ready(actor: "subprocess.Popen[str]") -> str:
    assert actor.stdout is not None
    line = ""
    for line in actor.stdout:
        actor.__dict__.setdefault("said", []).append(line)
        if '"ready"' in line:
            break
    return line


def _lines(actor: "subprocess.Popen[str]") -> list[str]:
    assert actor.stdout is not None
    lines = [*actor.__dict__.get("said", []), *actor.stdout]
    actor.stdout.close()
    actor.wait()
    return [line for line in lines if line.endswith("]\n")]


def _errors(actor: "subprocess.Popen[str]") -> str:
    assert actor.stderr is not None
    return actor.stderr.read()[-300:]


def _look(home: Path, what: str, said: list[list[object]], pulled: Pulled) -> None:
    report = check_home(home)
    for finding in report.findings:
        if finding.damage:
            pulled.unsound.append(f"{what}: {finding.where} {finding.said}")
        elif finding.where == "entries.index":
            pulled.doubts += 1
    with closing(sqlite3.connect(home / "records.db")) as db:
        for promise in said:
            if promise[0] not in ("ready", "indexed"):
                pulled.promises += 1
                if not _kept(db, home, promise):
                    pulled.lost.append(f"{what}: {promise}")


_QUESTIONS = {
    "job": "SELECT 1 FROM job WHERE id = ? AND title = ?",
    "note": "SELECT 1 FROM note WHERE job_id = ? AND text = ?",
    "mark": "SELECT 1 FROM mark WHERE job_id = ? AND why = ?",
    "reading": "SELECT 1 FROM taken WHERE job_id = ?",
    "spare": "SELECT 1 FROM spare WHERE place = ? AND count = 1",
    "correction": "SELECT 1 FROM correction WHERE id = ? AND value LIKE '%' || ? || '%'",
    "undone": "SELECT 1 FROM correction WHERE id = ? AND undone IS NOT NULL",
}


def _kept(db: sqlite3.Connection, home: Path, promise: list[object]) -> bool:
    what, *values = promise
    if what != "copy":
        return db.execute(_QUESTIONS[str(what)], values).fetchone() is not None
    name, text = values
    with closing(sqlite3.connect(home / "copies" / str(name))) as copy:
        sound = copy.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        found = copy.execute("SELECT 1 FROM note WHERE text = ?", [text]).fetchone()
    (home / "copies" / str(name)).unlink()
    return sound and found is not None


def _go_on(home: Path, what: str, pulled: Pulled) -> None:
    """The next `index` must complete, and `find` must see what it read."""
    try:
        with Library(home) as library:
            summary = library.index([home.parent / "shelf"], workers=1)
            found = library.find(library.understand("Tillbrook"))
        if summary.failed or not found.matches:
            pulled.not_resumed.append(f"{what}: {summary.failed[:3]}, {len(found.matches)} found")
    except Exception as error:
        pulled.not_resumed.append(f"{what}: {type(error).__name__}: {error}")
        return
    # A marked page whose note was written over is a fact of the records, no fault.
    after = [f for f in check_home(home).findings if f.damage or f.where != "records.db"]
    if after:
        pulled.not_resumed.append(f"{what}: after the next index: {after[0]}")
    left = [path.name for path in (home / "copies").glob(".benchfolio-*")]
    for name in left:  # a half copy under a name of its own is no copy
        (home / "copies" / name).unlink()
