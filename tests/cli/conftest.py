"""Commands run as a person runs them, in a process of their own."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands import call

Run = Callable[..., subprocess.CompletedProcess[str]]
ROOT = Path(__file__).parents[2]

NOTE = """MODEL 5D10
CHASSIS CH-41A
TILLBROOK RADIO MFG. CO.
TUBES: 12BE6 12BA6 12AV6 50C5 35W4
I.F. 455 KC   1951
\fMODEL 88-K
QUARRYDALE RADIO CORP.
TUBES: 6SA7 6SK7 6SQ7 6V6GT 5Y3GT
power transformer
"""


@pytest.fixture(scope="session")
def run() -> Run:
    """`run("find", "5D10", home=…)`: the finished process with its two outputs."""

    def command(*arguments: str, home: Path | None = None) -> subprocess.CompletedProcess[str]:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100"}
        environment.pop("BENCHFOLIO_HOME", None)
        if home is not None:
            environment["BENCHFOLIO_HOME"] = str(home)
        return subprocess.run(
            [sys.executable, "-c", "from cli.app import main; main()", *arguments],
            capture_output=True,
            text=True,
            env=environment,
            timeout=300,
            check=False,
        )

    return command


@pytest.fixture(scope="session")
def quick() -> Run:
    """As `run`, but in this process: for long sessions of commands that start no other process."""
    return call


@pytest.fixture(scope="session")
def typed_home(tmp_path_factory: pytest.TempPathFactory, run: Run) -> Path:
    """A small library of typed notes: two sets, no scan to read."""
    folder = tmp_path_factory.mktemp("typed")
    (folder / "notes").mkdir()
    (folder / "notes" / "sets.txt").write_text(NOTE, encoding="utf-8")
    done = run("index", str(folder / "notes"), home=folder / "home")
    assert done.returncode == 0, done.stderr
    return folder / "home"
