"""Nothing is fetched, no shell is started, no pickle is read from disk."""

import ast
import os
import pickle
import re
import subprocess
import sys
from pathlib import Path

import pytest

from indexer import limits
from indexer.search import plain_data
from tests.endurance.guard import BROKEN
from tests.endurance.seeds import sheet

ROOT = Path(__file__).parents[2]
SOURCES = sorted([*(ROOT / "indexer").rglob("*.py"), *(ROOT / "cli").rglob("*.py")])
UNPICKLING = {"pickle", "cPickle", "dill", "cloudpickle", "shelve", "marshal", "joblib"}
RESTRICTED = ROOT / "indexer/search/plain_data.py"  # reads plain data only, as shown below
NETWORK = {"socket", "urllib.request", "http.client", "requests", "httpx", "ftplib", "smtplib"}
# These serve or ask other machines of the person's own: the view, and a cluster that was named.
SERVING = {"cli/view", "cli/view_command.py", "indexer/work_remote.py"}


def imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def calls(path: Path) -> set[str]:
    return {
        ast.unparse(node.func)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
    }


def test_the_sources_read_no_pickles_and_start_no_shell():
    assert len(SOURCES) > 100
    for path in SOURCES:
        assert not imports(path) & UNPICKLING or path == RESTRICTED, path
        assert not calls(path) & {"eval", "exec", "os.system", "os.popen", "pickle.loads"}, path
        assert "shell=True" not in path.read_text(encoding="utf-8"), path
        name = path.relative_to(ROOT).as_posix()
        if not any(name.startswith(part) for part in SERVING):
            assert not imports(path) & NETWORK, path


def guarded(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "tests.endurance.guard", *arguments, "--home", str(home)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.mark.skipif(sys.platform == "win32", reason="workers inherit the watch by forking")
def test_the_main_job_runs_with_no_network_no_shell_and_no_pickle(tmp_path):
    shelf, home = tmp_path / "shelf", tmp_path / "home"
    shelf.mkdir()
    sheet("TILLBROOK RADIO\nMODEL 6T10\nV1 12BE6 V2 12BA6").save(shelf / "sheet.png")
    (shelf / "set.txt").write_text("MODEL 5D10\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 35W4\n")
    read = guarded(home, "index", str(shelf), "--workers", "1")
    assert read.returncode == 0, read.stderr
    assert "2 pages read, 1 of them by the second reader" in read.stderr
    for words in (("find", "Tillbrook", "5D10"), ("kin", "12BE6", "12BA6"), ("list",), ("check",)):
        done = guarded(home, *words)
        assert done.returncode == 0, done.stderr
    assert guarded(home, "job", "open", "hum").returncode == 0


def test_an_index_that_holds_anything_but_plain_data_is_refused():
    plain = {"a": (1, b"2", [None, 3.5], {4})}
    assert plain_data.loads(pickle.dumps(plain)) == plain
    for thing in (os.getpid, Path("x"), ValueError("x")):
        with pytest.raises(pickle.UnpicklingError):
            plain_data.loads(pickle.dumps(thing))
    plain_data.restrict()
    from whoosh.codec import whoosh3
    from whoosh.filedb import structfile

    assert (structfile.load_pickle, whoosh3.loads) == (plain_data.load, plain_data.loads)


def test_the_watch_sees_what_it_should(tmp_path):
    tries = (
        "import socket; socket.create_connection(('127.0.0.1', 9))",
        "import os; os.system('true')",
        "import subprocess; subprocess.run(['true'])",
        "import pickle; pickle.loads(b'cos\\ngetpid\\n.')",
    )
    for line in tries:
        code = (
            f"import sys; from tests.endurance.guard import watch; sys.addaudithook(watch); {line}"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], cwd=ROOT, check=False, capture_output=True
        )
        assert done.returncode == BROKEN, line


def test_the_bounds_in_the_readme_are_those_that_hold():
    told = (ROOT / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| .+? \| ([\d.,]+)(?: ([^|]*))? \| `(\w+)` \|$", told, re.MULTILINE)
    assert len(rows) >= 15
    units = {"GB": 1e9, "MB": 1e6, "kB": 1e3, "million": 1e6}
    for number, unit, name in rows:
        factor = units.get(unit.split(" ")[0], 1)
        assert float(number.replace(",", "")) * factor == getattr(limits, name), name
