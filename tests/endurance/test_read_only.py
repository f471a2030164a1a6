"""A home where nothing can be written: what asks works, what changes says so in plain words."""

import os
import shutil
import sqlite3
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from indexer import Library, check_home
from indexer.store.connect import open_reader
from tests.commands import call
from tests.endurance.disks import mount
from tests.endurance.places import NOTE

_LOGS = ("catalogue.db", "records.db")
_NOBODY = 65_534


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home with three sets, a job, a spare and a correction. `left` beside it is the same as a
    program that was stopped leaves it: the last changes in the logs, the entries' index behind."""
    folder = tmp_path_factory.mktemp("made")
    shelf, home = folder / "shelf", folder / "home"
    shelf.mkdir()
    for n in (10, 11, 12):
        (shelf / f"set {n}.txt").write_text(NOTE.format(n=n))
    with Library(home) as library:
        library.index([shelf], workers=1)
        library.find(library.understand("Tillbrook"))
    with Library(home) as library:
        entry = next(library.all_entries())
        job = library.open_job("hum", entry)
        library.note(job.id, "C7 leaks")
        library.add_spare("12BE6", 2, "drawer 1")
        library.correct(entry.id, year=1937)
        shutil.copytree(home, folder / "left", ignore=shutil.ignore_patterns("*-shm"))
    assert all((folder / "left" / f"{name}-wal").stat().st_size for name in _LOGS)
    with Library(home) as library:
        library.find(library.understand("Tillbrook"))
    return home


@pytest.fixture(params=["home", "left"])
def medium(request: pytest.FixtureRequest, made: Path, tmp_path: Path) -> Iterator[Path]:
    """A home on a medium that is mounted read-only."""
    disk = tmp_path / "disk"
    if not mount(disk, "20m"):
        pytest.skip("no disk may be mounted here: no read-only medium to try")
    try:
        home = shutil.copytree(made.parent / request.param, disk / "home")
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        yield Path(home)
    finally:
        subprocess.run(["umount", str(disk)], check=True)  # nothing there is still open


@contextmanager
def ordinary_person() -> Iterator[None]:
    """Not as root, to whom rights mean nothing."""
    if os.geteuid():
        yield
        return
    os.setresuid(_NOBODY, _NOBODY, 0)
    try:
        yield
    finally:
        os.setresuid(0, 0, 0)


@pytest.fixture(params=["home", "left"])
def locked(request: pytest.FixtureRequest, made: Path) -> Iterator[Path]:
    """A home that the person may look into, but not write to."""
    if not hasattr(os, "setresuid"):
        pytest.skip("no such rights on this system")
    with tempfile.TemporaryDirectory(prefix="locked-") as name:
        home = Path(shutil.copytree(made.parent / request.param, Path(name) / "home"))
        for path in (Path(name), home, *home.rglob("*")):
            path.chmod(0o555 if path.is_dir() else 0o444)
        asks(home)  # loads what the commands need, which may lie where only root can read
        yield home
        for path in (Path(name), home, *home.rglob("*")):
            path.chmod(0o755)


def asks(home: Path) -> list[str]:
    """Every question answered; what the answers said."""
    with closing(open_reader(home / "catalogue.db")) as db:
        (entry,) = db.execute("SELECT id FROM entry WHERE year = 1937").fetchone()
    said = []
    for words in (
        "list", "list --pages", "find Tillbrook", "find 12BE6 12BA6", "kin 12BE6 12BA6 35W4",
        f"show {entry}", "tube 12BE6", "status", "job list", "job show 1", "spares list",
        "correct list", "want list", "check",
    ):  # fmt: skip
        done = call(*(words.split()), home=home)
        assert done.returncode == 0, (words, done.stderr)
        said.append(done.stdout)
    return said


def refused(home: Path, shelf: Path) -> None:
    """Every change refused, saying what is the matter and what to do."""
    (entry,) = open_reader(home / "catalogue.db").execute("SELECT min(id) FROM entry").fetchone()
    for words in (
        ["index", str(shelf)], ["job", "open", "new"], ["job", "note", "1", "x"],
        ["correct", "year", entry, "1940"], ["spares", "add", "12BE6", "1"],
    ):  # fmt: skip
        done = call(*words, home=home)
        assert done.returncode == 4, (words, done.stderr)
        what, todo = done.stderr.splitlines()
        assert what == f"The home {home} can't be written: it can be asked, but not changed."
        assert "--home" in todo


def test_a_medium_mounted_read_only_can_be_asked(made: Path, medium: Path, tmp_path: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in medium.rglob("*")}
    said = "\n".join(asks(medium))
    for wanted in ("1937", "hum", "C7 leaks", "drawer 1", "Tillbrook"):
        assert wanted in said
    refused(medium, made.parent / "shelf")
    assert call("backup", str(tmp_path / "copy.db"), home=medium).returncode == 0
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        assert copy.execute("SELECT text FROM note").fetchall() == [("C7 leaks",)]
    assert {path: path.stat().st_mtime_ns for path in medium.rglob("*")} == before


def test_a_home_without_the_right_to_write_can_be_asked(made: Path, locked: Path) -> None:
    with ordinary_person():
        assert not os.access(locked, os.W_OK)
        said = "\n".join(asks(locked))
        refused(locked, locked)
    for wanted in ("1937", "hum", "C7 leaks", "drawer 1", "Tillbrook"):
        assert wanted in said
    assert check_home(locked).findings == ()


def test_a_home_or_a_shelf_that_may_not_be_entered_is_said_plainly(
    made: Path, locked: Path
) -> None:
    with tempfile.TemporaryDirectory(prefix="shut-") as name:
        shut = Path(name)
        shut.chmod(0)
        with ordinary_person():
            asked = [
                call(*words, home=home)
                for words, home in (
                    (("list",), shut / "home"),
                    (("check",), shut / "home"),
                    (("job", "open", "new"), shut / "home"),
                    (("index", str(shut / "shelf")), locked),
                )
            ]
        shut.chmod(0o700)
    for done in asked:
        assert done.returncode == 3
        assert "(Permission denied)" in done.stderr
        assert len(done.stderr.splitlines()) == 2


def test_where_nothing_was_recorded_yet_nothing_is_made(made: Path, tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    if not mount(disk, "20m"):
        pytest.skip("no disk may be mounted here: no read-only medium to try")
    try:
        home = Path(shutil.copytree(made, disk / "home"))
        (home / "records.db").unlink()
        shutil.rmtree(home / "entries.index")
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        assert "Tillbrook" in call("find", "Tillbrook", home=home).stdout
        assert call("status", home=home).returncode == 0
        assert call("job", "list", home=home).returncode == 1
        done = call("job", "open", "new", home=home)
        assert (done.returncode, "can't be written" in done.stderr) == (4, True)
    finally:
        subprocess.run(["umount", str(disk)], check=True)  # nothing there is still open


def test_an_earlier_version_that_cannot_be_upgraded_is_said_plainly(
    made: Path, tmp_path: Path
) -> None:
    disk = tmp_path / "disk"
    if not mount(disk, "20m"):
        pytest.skip("no disk may be mounted here: no read-only medium to try")
    try:
        home = Path(shutil.copytree(made, disk / "home"))
        with closing(sqlite3.connect(home / "catalogue.db")) as db:
            db.execute("DELETE FROM _sqlite_migrations WHERE id = (SELECT max(id) FROM"
                       " _sqlite_migrations)")  # fmt: skip
            db.commit()
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        done = call("list", home=home)
        assert done.returncode == 4
        assert "is of an earlier version" in done.stderr
        assert "Copy " in done.stderr
    finally:
        subprocess.run(["umount", str(disk)], check=True)  # nothing there is still open
