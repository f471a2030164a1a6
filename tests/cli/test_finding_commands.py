"""Batches, options, and the list of wanted pages, as a person runs them."""

import csv
import io
import json
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Run


@pytest.fixture
def home(typed_home: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(typed_home, tmp_path / "home"))


def test_options_say_it_outright(run: Run, typed_home: Path) -> None:
    done = run("find", "--maker", "tillbrook", "--model", "5D10", "--tubes", "12BE6 12BA6",
               "--json", home=typed_home)  # fmt: skip
    answer = json.loads(done.stdout)
    assert answer["asked"]["models"] == ["5D10"]
    assert answer["asked"]["tubes"] == ["12BE6", "12BA6"]
    assert answer["matches"][0]["grade"] == "exact"
    assert answer["matches"][0]["trust"]["circuit"]["applies"]


def test_a_model_outright_is_no_chassis(run: Run, typed_home: Path) -> None:
    done = run("find", "--chassis", "5D10", "--json", home=typed_home)
    assert all(m["grade"] != "exact" for m in json.loads(done.stdout)["matches"])


def test_labels_from_a_file_are_answered_one_by_one(
    run: Run, typed_home: Path, tmp_path: Path
) -> None:
    labels = tmp_path / "labels.txt"
    labels.write_text("tillbrook 5d10\n\nquarrydale 88-K\n", encoding="utf-8")
    done = run("find", "--from", str(labels), "--json", home=typed_home)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert [a["matches"][0]["models"] for a in answers] == [["5D10"], ["88-K"]]
    assert run("find", "--from", str(tmp_path / "none.txt"), home=typed_home).returncode == 3


def test_kin_of_an_entry_leaves_it_out(run: Run, typed_home: Path) -> None:
    done = run("find", "5D10", "--json", home=typed_home)
    entry = json.loads(done.stdout)["matches"][0]["entry"]
    answer = json.loads(run("kin", "--of", entry, "--json", home=typed_home).stdout)
    assert answer["asked"] == ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
    assert entry not in [m["entry"] for m in answer["matches"]]
    strict = run("kin", "--of", entry, "--same-sockets", "--json", home=typed_home)
    assert strict.returncode == 1
    assert json.loads(strict.stdout)["matches"] == []


def test_wanted_pages_are_listed_exported_and_dropped(run: Run, home: Path) -> None:
    added = run("want", "add", "tillbrook", "9Z77", "--note", "=hall", "--json", home=home)
    number = str(json.loads(added.stdout)["id"])
    listed = run("want", "list", home=home).stdout
    assert "Tillbrook 9Z77" in listed
    rows = list(csv.DictReader(io.StringIO(run("want", "export", home=home).stdout)))
    assert [(row["maker"], row["model"], row["note"]) for row in rows] == [
        ("Tillbrook", "9Z77", "'=hall")
    ]
    assert run("want", "drop", number, home=home).returncode == 0
    assert run("want", "drop", number, home=home).returncode == 1
    assert run("want", "add", home=home).returncode == 2


def test_a_photo_that_is_none_is_refused(run: Run, typed_home: Path, tmp_path: Path) -> None:
    (tmp_path / "label.jpg").write_bytes(b"no picture")
    done = run("find", "--photo", str(tmp_path / "label.jpg"), home=typed_home)
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
