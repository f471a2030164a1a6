"""A bench session through the commands. The values are the trade's: common practice, no source."""

import csv
import json
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Run


@pytest.fixture
def bench_home(typed_home: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(typed_home, tmp_path / "home"))


def test_a_session_at_the_bench(quick: Run, bench_home: Path, tmp_path: Path) -> None:
    found = json.loads(quick("find", "5D10", "--json", home=bench_home).stdout)
    entry = found["matches"][0]["entry"]
    opened = quick("job", "open", "bench set", "--entry", entry, "--json", home=bench_home)
    job = str(json.loads(opened.stdout)["job"])

    asked = ("job", "reading", job, "R7", "800K", "--nominal", "470K", "--json")
    read = quick(*asked, home=bench_home)
    assert json.loads(read.stdout)["verdict"] == "out"

    assert quick("spares", "add", "12AT6", "1", home=bench_home).returncode == 0
    tubes = quick("job", "tubes", job, "--json", home=bench_home).stdout.splitlines()
    states = {line["tube"]: line["state"] for line in map(json.loads, tubes)}
    assert states["12AV6"] == "have a substitute"
    assert states["50C5"] == "order"
    taken = quick("job", "use", job, "12AT6", home=bench_home)
    assert taken.returncode == 0
    assert "for 12AV6; 0 left" in taken.stderr
    assert quick("spares", "list", home=bench_home).returncode == 1
    assert quick("job", "use", job, "12AT6", "--undo", home=bench_home).returncode == 0
    listed = quick("spares", "list", "--json", home=bench_home).stdout.splitlines()
    (spare,) = map(json.loads, listed)
    assert (spare["type"], spare["count"]) == ("12AT6", 1)
    assert quick("job", "use", job, "12AT6", "--undo", home=bench_home).returncode == 1

    sheet = json.loads(quick("job", "power-up", job, "--json", home=bench_home).stdout)
    assert sheet["live_chassis"] == "likely"
    assert sheet["string"].endswith("= 122.8 V at 0.15 A")

    assert quick("job", "add-part", job, "C7", ".05 mfd 400 V", home=bench_home).returncode == 0
    bought = quick("job", "parts", job, "--shopping", home=bench_home).stdout.splitlines()
    assert bought[1].startswith("1,0.047 µF 400 V")

    assert quick("job", "delete", job, home=bench_home).returncode == 0
    assert "bench set" not in quick("job", "list", home=bench_home).stdout
    assert quick("job", "undelete", job, home=bench_home).returncode == 0
    assert quick("backup", str(tmp_path / "copy.db"), home=bench_home).returncode == 0
    assert quick("restore", str(tmp_path / "copy.db"), home=bench_home).returncode == 2
    assert "bench set" in quick("job", "list", "800k", home=bench_home).stdout


def test_single_lines_and_a_table_of_readings(quick: Run, bench_home: Path, tmp_path: Path) -> None:
    opened = quick("job", "open", "lines", "--json", home=bench_home)
    job = str(json.loads(opened.stdout)["job"])

    added = quick("job", "add-part", job, "C20", ".05 mfd 400 V paper", home=bench_home)
    assert added.stdout.startswith("C20: 0.047 µF")
    target = tmp_path / "buy.csv"
    assert quick("job", "parts", job, "--csv", str(target), home=bench_home).returncode == 0
    assert target.read_text(encoding="utf-8").splitlines()[1].endswith("C20")
    for command, state in (("done", "done"), ("strike", "struck")):
        assert quick("job", command, job, "c20", home=bench_home).returncode == 0
        shown = quick("job", "parts", job, "--json", home=bench_home).stdout
        assert json.loads(shown)["state"] == state
    quick("job", "strike", job, "C20", "--undo", home=bench_home)
    assert json.loads(quick("job", "parts", job, "--json", home=bench_home).stdout)["state"] == ""
    assert quick("job", "done", job, "C99", home=bench_home).returncode == 1

    table = tmp_path / "meter.csv"
    table.write_text("point,reads,nominal\nR1,150,100 ohms\nR2,165,150 ohms 10%\n")
    assert quick("job", "reading", job, "--from", str(table), home=bench_home).returncode == 0
    lines = quick("job", "readings", job, "--taken", "--json", home=bench_home).stdout.splitlines()
    verdicts = {line["point"]: line["verdict"] for line in map(json.loads, lines)}
    assert verdicts == {"R1": "out", "R2": "at the edge"}
    assert quick("job", "reading", job, "V1 pin 1", "-6.5", home=bench_home).returncode == 0
    fill = tmp_path / "fill.csv"
    assert quick("job", "readings", job, "--csv", str(fill), home=bench_home).returncode == 0
    rows = list(csv.DictReader(fill.open(encoding="utf-8", newline="")))
    assert {row["point"] for row in rows} >= {"R1", "R2"}
    empty = quick("job", "reading", job, "--from", str(fill), home=bench_home)
    assert empty.returncode == 3, "a table that nobody filled in"
    fill.write_text("note,the pages say,reads,point\nwarm,100 ohms,101,R1\n,,,R2\n")
    assert quick("job", "reading", job, "--from", str(fill), home=bench_home).returncode == 0
    lines = quick("job", "readings", job, "--taken", "--json", home=bench_home).stdout.splitlines()
    assert "101" in {line["point"]: line["reads"] for line in map(json.loads, lines)}["R1"]
    table.write_text("R1\n")
    assert quick("job", "reading", job, "--from", str(table), home=bench_home).returncode == 3
