"""Corrections, doubts and typed lists through the commands; the plug pulled half way."""

import contextlib
import io
import json
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cli.app import main
from tests.cli.conftest import ROOT

LIST = """where;model;tubes;maker;condition
blue binder, tab 3;00123;12BE6 12BA6 12AV6 50C5 35W4;Oxbarrow;torn
box 4;;;Larkmoor;
"""


@pytest.fixture
def home(typed_home: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(typed_home, tmp_path / "home"))


def run(*arguments: str, home: Path) -> subprocess.CompletedProcess[str]:
    """A command in this process, which spares the start of another for each of them."""
    out, err, code = io.StringIO(), io.StringIO(), 0
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["benchfolio", *arguments])
        patch.setenv("BENCHFOLIO_HOME", str(home))
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                main()
            except SystemExit as ended:
                code = int(ended.code or 0)
    return subprocess.CompletedProcess(arguments, code, out.getvalue(), err.getvalue())


def entries(home: Path) -> dict[str, dict[str, object]]:
    lines = run("list", "--json", home=home).stdout.splitlines()
    return {row["entry"]: row for row in map(json.loads, lines)}


def test_a_correction_shows_and_survives_and_is_taken_back(home: Path, tmp_path: Path) -> None:
    before = run("list", "--json", home=home).stdout
    name = next(n for n in entries(home) if n.startswith("tillbrook"))
    done = run("correct", "model", name, "00123", home=home)
    assert done.returncode == 0, done.stderr
    assert run("correct", "kinds", f"{name}/1", "parts-list", home=home).returncode == 0
    row = entries(home)[name]
    assert (row["models"], row["corrected"]) == (["00123"], ["models"])
    assert "models: your correction" in run("show", name, home=home).stdout
    page = json.loads(run("show", f"{name}/1", "--json", home=home).stdout)
    assert (page["kinds"], page["corrected"]) == (["parts list"], ["kinds"])
    assert (
        json.loads(run("find", "00123", "--json", home=home).stdout)["matches"][0]["entry"] == name
    )

    corrected = run("list", "--json", home=home).stdout
    again = run("index", "--catalogue-only", home=home)
    assert again.returncode == 0, again.stderr
    assert "none read" in again.stderr
    assert run("list", "--json", home=home).stdout == corrected

    table, records = tmp_path / "c.csv", tmp_path / "records"
    assert run("correct", "export", str(table), home=home).returncode == 0
    assert "00123" in table.read_text(encoding="utf-8")
    assert run("export", "records", str(records), home=home).returncode == 0
    for _ in range(2):
        assert run("correct", "undo", home=home).returncode == 0
    assert run("list", "--json", home=home).stdout == before
    assert run("correct", "undo", home=home).returncode == 1
    for said in ("2 corrections added", "0 corrections added, 2 known"):
        assert said in run("correct", "import", str(table), home=home).stderr
        assert run("list", "--json", home=home).stdout == corrected

    run("correct", "maker", name, "Oxbarrow", home=home)
    done = run("import", str(records), "--force", home=home)
    assert done.returncode == 0, done.stderr
    assert run("list", "--json", home=home).stdout == corrected
    assert len(run("correct", "list", "--json", home=home).stdout.splitlines()) == 2


KILLED = """
import os, signal, sys
from indexer.corrections import settle
from indexer.store.corrections import CorrectionList
from cli.app import main

def pull_the_plug(*arguments, **settings):
    os.kill(os.getpid(), signal.SIGKILL)

where = sys.argv.pop(1)
if where == "before":
    CorrectionList.add = pull_the_plug
elif where == "between":
    import indexer.corrections_desk as desk
    desk.settle = pull_the_plug
else:
    settle.Given.set_stamp = pull_the_plug
main()
"""


@pytest.mark.parametrize(("where", "kept"), [("before", 0), ("between", 1), ("within", 1)])
def test_the_plug_pulled_in_a_correction(home: Path, where: str, kept: int) -> None:
    name = next(n for n in entries(home) if n.startswith("tillbrook"))
    done = subprocess.run(
        [sys.executable, "-c", KILLED, where, "correct", "maker", name, "Oxbarrow"],
        env={**os.environ, "PYTHONPATH": str(ROOT), "BENCHFOLIO_HOME": str(home)},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == -signal.SIGKILL
    listed = run("correct", "list", "--json", home=home).stdout.splitlines()
    assert len(listed) == kept
    row = entries(home)[name]
    assert row["maker"] == ("Oxbarrow" if kept else "Tillbrook")
    assert row["corrected"] == (["maker"] if kept else [])


def test_a_typed_list_becomes_sets_on_paper(tmp_path: Path) -> None:
    shelf, home = tmp_path / "shelf", tmp_path / "home"
    shelf.mkdir()
    (shelf / "on paper.csv").write_bytes(LIST.encode("latin-1"))
    done = run("index", str(shelf), "--workers", "1", home=home)
    assert done.returncode == 0, done.stderr
    assert "1 sets on paper" in done.stderr
    assert "on paper.csv row 3: it names no model, chassis or tubes" in done.stderr
    ((name, row),) = entries(home).items()
    assert (row["models"], row["pages"], row["on_paper"]) == (["00123"], [], "blue binder, tab 3")
    for asked in (
        ("find", "Oxbarrow", "00123"),
        ("kin", "12BE6", "12BA6", "12AV6", "50C5", "35W4"),
    ):
        found = run(*asked, home=home)
        assert found.returncode == 0, found.stderr
        assert "on paper: blue binder, tab 3" in found.stdout
    shown = run("show", name, home=home)
    assert "condition: torn" in shown.stdout
    assert "models read on on paper.csv row 2" in shown.stdout
    refused = run("correct", "maker", name, "Larkmoor", home=home)
    assert refused.returncode == 2
    assert "on paper.csv row 2" in refused.stderr
    doubts = [json.loads(line) for line in run("doubts", "--json", home=home).stdout.splitlines()]
    assert [(d["sort"], d["file"]) for d in doubts] == [("row not used", "on paper.csv")]
    listed = run("list", "--json", home=home).stdout
    run("index", "--catalogue-only", home=home)
    assert run("list", "--json", home=home).stdout == listed
    (shelf / "on paper.csv").unlink()
    (shelf / "note.txt").write_text("MODEL 5D10\nTUBES: 12BE6 12BA6\n", encoding="utf-8")
    run("index", str(shelf), "--workers", "1", home=home)
    assert name not in entries(home)
