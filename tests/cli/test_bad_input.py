"""Whatever a person types or points at ends in a plain line and the agreed exit code."""

import json
import os
from pathlib import Path

import pytest

from cli.app import app
from tests.cli.conftest import Run

QUERIES = {
    "only spaces": ("   ", 2),
    "ten thousand characters": ("x" * 10_000, 2),
    "quotes": ("\"'\"' OR 1=1 --", 1),
    "stars": ("*** ** ?", 2),
    "backslashes": (r"\\server\share \n", 1),
    "control characters": ("\x01\x02\x1b[31m", 1),
    "full-text operators": ("NEAR( AND OR NOT ^ : {", 1),
}


@pytest.mark.parametrize(("query", "code"), QUERIES.values(), ids=QUERIES.keys())
def test_odd_questions_end_plainly(run: Run, typed_home: Path, query: str, code: int) -> None:
    done = run("find", query, home=typed_home)
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr
    if code == 2:
        assert done.stderr.strip()


def test_an_empty_answer_is_still_json(run: Run, typed_home: Path) -> None:
    done = run("find", "zzqx", "--json", home=typed_home)
    assert done.returncode == 1
    assert json.loads(done.stdout)["matches"] == []


def test_an_unknown_tube_is_named(run: Run, typed_home: Path) -> None:
    done = run("kin", "12BE6", "99ZZ99", home=typed_home)
    assert done.returncode == 2
    assert "99ZZ99" in done.stderr
    assert run("tube", "banana").returncode == 2


@pytest.mark.parametrize(
    "words",
    [
        ("show", "nothing-here"),
        ("show", "notes.pdf#²"),
        ("show", f"notes.pdf#{10**30}"),
        ("job", "show", "99"),
        ("job", "show", str(10**30)),
        ("want", "drop", str(10**30)),
        ("job", "mark", "99", "bcdfgh"),
    ],
)
def test_what_is_not_there_ends_with_one(run: Run, typed_home: Path, words: tuple[str]) -> None:
    done = run(*words, home=typed_home)
    assert done.returncode == 1
    assert "There is no" in done.stderr


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("want", "add", "7B3", "--note", "caf\udce9"), 2, "no text"),
        (("find", "--photo", "x" * 500), 3, "can't be used"),
    ],
)
def test_what_no_store_and_no_folder_can_hold(
    run: Run, typed_home: Path, words: tuple[str], code: int, said: str
) -> None:
    done = run(*words, home=typed_home)
    assert done.returncode == code
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_a_missing_folder(run: Run, tmp_path: Path) -> None:
    done = run("index", str(tmp_path / "nowhere"), home=tmp_path / "home")
    assert done.returncode == 3
    assert "is not there" in done.stderr


def test_an_empty_folder(run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    done = run("index", str(tmp_path / "empty"), home=tmp_path / "home")
    assert done.returncode == 3
    assert "no file to read" in done.stderr


def test_damaged_files_are_named_and_the_others_read(run: Run, tmp_path: Path) -> None:
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    (shelf / "good.txt").write_text("MODEL 7B3\nTUBES: 6BE6 6BA6 6AT6 6AQ5 6X4\n")
    (shelf / "cut.pdf").write_bytes(b"%PDF-1.4\n1 0 obj\n<<")
    (shelf / "zero.tif").write_bytes(b"")
    (shelf / "liar.png").write_bytes(b"this is no picture")
    done = run("index", str(shelf), home=tmp_path / "home")
    assert done.returncode == 0
    for name in ("cut.pdf", "zero.tif"):
        assert name in done.stderr
    listed = [
        json.loads(line)
        for line in run("list", "--pages", "--json", home=tmp_path / "home").stdout.splitlines()
    ]
    states = {page["file"]: (page["state"], bool(page["reason"])) for page in listed}
    assert states["good.txt"] == ("done", False)
    assert states["cut.pdf"] == ("failed", True)
    assert json.loads(run("list", "--json", home=tmp_path / "home").stdout)["models"] == ["7B3"]


def test_a_library_that_is_not_there_yet(run: Run, tmp_path: Path) -> None:
    done = run("find", "5D10", home=tmp_path / "home")
    assert done.returncode == 3
    assert "benchfolio index" in done.stderr


def test_a_broken_home(run: Run, tmp_path: Path) -> None:
    (tmp_path / "home").mkdir()
    (tmp_path / "home" / "catalogue.db").write_bytes(b"rubbish " * 500)
    done = run("find", "5D10", home=tmp_path / "home")
    assert done.returncode == 4
    assert "damaged" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(os.name == "nt", reason="a file can't stand where a folder is wanted there")
def test_a_home_that_is_a_file(run: Run, tmp_path: Path) -> None:
    (tmp_path / "home").write_text("a file")
    done = run("index", str(tmp_path), home=tmp_path / "home")
    assert done.returncode == 4


def test_every_command_explains_itself_with_an_example() -> None:
    named = [(c.name, c.callback) for c in app.registered_commands]
    for group in app.registered_groups:
        named += [(c.name, c.callback) for c in group.typer_instance.registered_commands]
    assert len(named) >= 15
    lacking = [
        name for name, callback in named if "Example: benchfolio" not in (callback.__doc__ or "")
    ]
    assert lacking == []
