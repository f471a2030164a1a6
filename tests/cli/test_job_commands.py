"""Jobs through the commands: tag and dates, order of pages, photos, the drawer, undoing."""

import csv
import io
import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.cli.conftest import Run


@pytest.fixture
def home(typed_home: Path, tmp_path: Path) -> Path:
    """A home of its own, whose notes lie in a folder of its own too."""
    return Path(shutil.copytree(typed_home, tmp_path / "home"))


def opened(quick: Run, home: Path, *arguments: str) -> dict[str, Any]:
    done = quick("job", "open", *arguments, "--json", home=home)
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def shown(quick: Run, home: Path, job: int) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(quick("job", "show", str(job), "--json", home=home).stdout)
    return found


def test_a_set_typed_in_words_with_tag_and_dates(quick: Run, home: Path) -> None:
    job = opened(
        quick, home, "porch set", "--set", "Oxbarrow 207 chassis 21-C 6BE6 6BA6 6X4",
        "--tag", "114", "--on", "1998-05-31",
    )  # fmt: skip
    assert job["owner_tag"] == "114"
    assert job["opened"][:10] == "1998-05-31"
    assert job["chassis"] == ["21-C"]
    assert job["tubes"] == ["6BE6", "6BA6", "6X4"]
    number = str(job["job"])
    early = quick("job", "close", number, "new rectifier", "--on", "1998-05-30", home=home)
    assert early.returncode == 2, "it can't be closed before it was opened"
    closed = quick("job", "close", number, "new rectifier", "--on", "1998-06-02", home=home)
    assert closed.returncode == 0
    assert "114" in quick("job", "list", home=home).stdout
    assert quick("job", "open", "x", "--on", "31.5.1998", home=home).returncode == 2
    changed = quick("job", "change", number, "--tag", "115", "--symptom", "dead", home=home)
    assert "tag: 115" in changed.stdout
    for words in (["115", "oxbarrow"], ["1998-06-02"], ["rectifier", "6x4"]):
        assert "porch set" in quick("job", "list", *words, home=home).stdout, words
    assert quick("job", "list", "115", "vantrice", home=home).returncode == 1


def test_pages_move_and_one_that_is_gone_is_said(quick: Run, home: Path, tmp_path: Path) -> None:
    folder = tmp_path / "more"
    folder.mkdir()
    for number in range(3):
        text = f"MODEL 7{number}-K\nOXBARROW RADIO\nTUBES: 6SA7 6SK7 6V6GT\n"
        (folder / f"sheet {number}.txt").write_text(text, encoding="utf-8")
    assert quick("index", str(folder), home=home).returncode == 0
    job = str(opened(quick, home, "order")["job"])
    names = [f"sheet {number}.txt#1" for number in range(3)]
    assert quick("job", "mark", job, *names, "--why", "circuit", home=home).returncode == 0
    assert quick("job", "move", job, "3", names[1], "--to", "1", home=home).returncode == 0
    files = [mark["file"] for mark in shown(quick, home, int(job))["marks"]]
    assert files == ["sheet 2.txt", "sheet 1.txt", "sheet 0.txt"]

    (folder / "sheet 1.txt").rename(folder / "renamed.txt")
    assert quick("index", str(folder), home=home).returncode == 0
    marks = shown(quick, home, int(job))["marks"]
    assert [bool(mark["missing"]) for mark in marks] == [False, False, False]

    (folder / "sheet 2.txt").unlink()
    done = quick("job", "show", job, home=home)
    assert "sheet 2.txt page 1: circuit  (gone)" in done.stdout
    assert "Missing: sheet 2.txt page 1 can't be shown" in done.stderr
    (folder / "sheet 0.txt").write_text("something else altogether\n", encoding="utf-8")
    assert "holds something else now" in quick("job", "show", job, home=home).stderr
    packet = tmp_path / "p.pdf"
    done = quick("job", "packet", job, "--out", str(packet), home=home)
    assert done.stderr.count("Missing:") == 2
    assert quick("job", "unmark", job, "1", home=home).returncode == 0, "gone ones come off too"
    assert len(shown(quick, home, int(job))["marks"]) == 2
    assert quick("job", "unmark", job, "7", home=home).returncode == 1
    assert quick("job", "move", job, "nosuch", "--to", "1", home=home).returncode == 1


def test_photos_are_kept_byte_for_byte(quick: Run, home: Path, tmp_path: Path) -> None:
    job = str(opened(quick, home, "with photos")["job"])
    photo = tmp_path / "under chassis.jpg"
    Image.new("RGB", (64, 48), "brown").save(photo)
    done = quick("job", "photo", job, str(photo), "--why", "before the work", home=home)
    assert "photo 1: under chassis.jpg" in done.stdout
    (kept,) = shown(quick, home, int(job))["photos"]
    assert (home / "photos" / f"{kept['sha256']}.jpg").read_bytes() == photo.read_bytes()
    assert quick("job", "photo", job, str(photo), home=home).returncode == 0
    assert [one["why"] for one in shown(quick, home, int(job))["photos"]] == ["before the work"]
    assert "with photos" in quick("job", "list", "chassis.jpg", "before", home=home).stdout

    (tmp_path / "cut.jpg").write_bytes(photo.read_bytes()[:-200])
    (tmp_path / "text.jpg").write_text("no picture")
    os.mkfifo(tmp_path / "pipe.jpg")
    with (tmp_path / "large.jpg").open("wb") as stream:
        stream.truncate(26_000_000)
    for name in ("cut.jpg", "text.jpg", "pipe.jpg", "large.jpg", "nosuch.jpg"):
        done = quick("job", "photo", job, str(tmp_path / name), home=home)
        assert done.returncode == 3, name
        assert name in done.stderr
    bomb = tmp_path / "bomb.png"
    Image.new("1", (12_000, 12_000)).save(bomb)
    assert quick("job", "photo", job, str(bomb), home=home).returncode == 3
    assert len(list((home / "photos").iterdir())) == 1
    assert quick("job", "photo", job, "--remove", "2", home=home).returncode == 1
    assert quick("job", "photo", job, "--remove", "1", home=home).returncode == 0
    assert shown(quick, home, int(job))["photos"] == []

    copy = tmp_path / "copy.db"
    quick("job", "photo", job, str(photo), home=home)
    assert quick("backup", str(copy), home=home).returncode == 0
    assert quick("export", "records", str(tmp_path / "out"), home=home).returncode == 0
    for command in (["restore", str(copy)], ["import", str(tmp_path / "out")]):
        empty = tmp_path / command[0]
        done = quick(*command, home=empty)
        assert done.returncode == 0, done.stderr
        (name,) = [path.name for path in (empty / "photos").iterdir()]
        assert (empty / "photos" / name).read_bytes() == photo.read_bytes()


def test_the_drawer_in_and_out(quick: Run, home: Path, tmp_path: Path) -> None:
    assert quick("spares", "add", "6v6 gt", "2", "--place", "drawer 4", home=home).returncode == 0
    assert quick("spares", "add", "6V6", "1", home=home).returncode == 0
    text = quick("spares", "export", home=home).stdout
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [(row["type"], row["count"], row["place"]) for row in rows] == [
        ("6V6", "1", ""),
        ("6V6GT", "2", "drawer 4"),
    ]
    file = tmp_path / "spares.csv"
    file.write_text(text.replace("6V6GT,2", "6V6GT,5"), encoding="utf-8")
    assert quick("spares", "import", str(file), home=home).returncode == 0
    assert quick("spares", "import", str(file), home=home).returncode == 0, "the same counts again"
    assert "6V6GT,5,drawer 4" in quick("spares", "export", home=home).stdout
    file.write_text("12BE6,3\n6V6,1\n", encoding="utf-8")
    assert quick("spares", "import", str(file), "--add", home=home).returncode == 0
    assert "6V6,2," in quick("spares", "export", home=home).stdout
    for bad in ("6V6,two\n", "hello,1\n", "6V6,-1\n", "6V6,1\n6V6,2\n", "\xff"):
        file.write_bytes(("12BE6,9\n" + bad).encode("latin-1"))
        assert quick("spares", "import", str(file), home=home).returncode == 3, bad
    assert "12BE6,3," in quick("spares", "export", home=home).stdout, "all lines or none"

    assert quick("spares", "take", "6V6GT", "4", home=home).returncode == 0
    done = quick("spares", "take", "6V6GT", "2", home=home)
    assert done.returncode == 1
    assert "2 are asked for" in done.stderr
    assert "2 6V6" in done.stderr, "it says what lies there instead"


def test_several_types_go_into_the_drawer_at_once(quick: Run, home: Path) -> None:
    done = quick("spares", "add", "12SA7", "6X5GT", "12SA7", "--place", "tin", home=home)
    assert done.returncode == 0, done.stderr
    assert "2 12SA7" in done.stderr and "1 6X5GT" in done.stderr
    assert quick("spares", "add", "45", "2", home=home).stderr.startswith("2 45")
    assert quick("spares", "add", "6V6", "99QQ", home=home).returncode == 2
    assert quick("spares", "add", "45", "0", home=home).returncode == 2
    assert "6V6" not in quick("spares", "export", home=home).stdout, "all types or none"
    assert "6X9" in quick("spares", "add", "6X9", home=home).stderr.splitlines()[1], "a warning"


def test_a_spare_used_and_put_back(quick: Run, home: Path) -> None:
    (entry,) = [
        found["entry"]
        for found in json.loads(quick("find", "88-K", "--json", home=home).stdout)["matches"]
        if "88-K" in found["models"]
    ]
    job = str(opened(quick, home, "large set", "--entry", entry)["job"])
    quick("spares", "add", "6V6", "1", "--place", "tin", home=home)
    assert quick("job", "use", job, "6X4", home=home).returncode == 2, "no place for it"
    assert quick("job", "use", job, "6V6GT", home=home).returncode == 1, "only 6V6 lies there"
    done = quick("job", "use", job, "6V6", home=home)
    assert done.stderr.strip() == "6V6 from tin for 6V6GT; 0 left in the drawer."
    lines = quick("job", "tubes", job, "--json", home=home).stdout.splitlines()
    used = {line["tube"]: line["used"] for line in map(json.loads, lines)}
    assert used["6V6GT"]
    assert sum(used.values()) == 1
    assert quick("job", "use", job, "6V6", "--for", "6SK7", home=home).returncode == 1
    assert quick("job", "use", job, "6V6", "--for", "12BE6", home=home).returncode == 2
    assert "6V6 from the drawer for 6V6GT" in quick("job", "show", job, home=home).stdout
    assert quick("job", "use", job, "6V6", "--undo", home=home).returncode == 0
    assert "6V6,1,tin" in quick("spares", "export", home=home).stdout


def test_deleting_and_merging_are_undone(quick: Run, home: Path) -> None:
    one, other = (str(opened(quick, home, title)["job"]) for title in ("first", "second"))
    quick("job", "note", other, "fuse blown", home=home)
    before = shown(quick, home, int(one)), shown(quick, home, int(other))
    assert quick("job", "merge", one, one, home=home).returncode == 2
    assert quick("job", "merge", one, other, home=home).returncode == 0
    assert "fuse blown" in quick("job", "show", one, home=home).stdout
    refused = quick("job", "note", other, "more", home=home)
    assert refused.returncode == 2
    assert f"merged into job {one}" in refused.stderr
    assert quick("job", "undelete", other, home=home).returncode == 0
    assert (shown(quick, home, int(one)), shown(quick, home, int(other))) == before
    assert quick("job", "undelete", other, home=home).returncode == 2

    assert quick("job", "delete", one, home=home).returncode == 0
    assert "first" not in quick("job", "list", home=home).stdout
    assert "first" in quick("job", "list", "--deleted", home=home).stdout
    for command in (["note", one, "x"], ["close", one, "x"], ["delete", one], ["mark", one, "a"]):
        assert quick("job", *command, home=home).returncode != 0, command
    assert quick("job", "undelete", one, home=home).returncode == 0


@pytest.mark.parametrize("text", ["bytes that no text has: \udcff\udc80", "x" * 200, "a\0b"])
def test_odd_text_is_kept_or_refused_plainly(quick: Run, home: Path, text: str) -> None:
    job = str(opened(quick, home, text)["job"])
    assert quick("job", "note", job, text, home=home).returncode == 0
    assert quick("job", "list", home=home).returncode == 0
    assert quick("job", "open", "x" * 201, home=home).returncode == 2
    assert quick("job", "open", "  ", home=home).returncode == 2
    assert quick("job", "note", job, "x" * 100_001, home=home).returncode == 2
