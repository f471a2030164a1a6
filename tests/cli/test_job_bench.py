"""A bench session through the commands. The values are the trade's: common practice, no source."""

import json
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Run


@pytest.fixture
def bench_home(typed_home: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(typed_home, tmp_path / "home"))


def test_a_session_at_the_bench(run: Run, bench_home: Path, tmp_path: Path) -> None:
    entry = json.loads(run("find", "5D10", "--json", home=bench_home).stdout)["matches"][0]["entry"]
    opened = run("job", "open", "bench set", "--entry", entry, "--json", home=bench_home)
    job = str(json.loads(opened.stdout)["job"])

    read = run("job", "reading", job, "R7", "800K", "--nominal", "470K", "--json", home=bench_home)
    assert json.loads(read.stdout)["verdict"] == "out"

    assert run("spares", "add", "12AT6", "1", home=bench_home).returncode == 0
    tubes = run("job", "tubes", job, "--json", home=bench_home).stdout.splitlines()
    states = {line["tube"]: line["state"] for line in map(json.loads, tubes)}
    assert states["12AV6"] == "have a substitute"
    assert states["50C5"] == "order"
    assert run("job", "tubes", job, "--use", "12AV6=12AT6", home=bench_home).returncode == 0
    assert run("spares", "list", home=bench_home).returncode == 1

    sheet = json.loads(run("job", "power-up", job, "--json", home=bench_home).stdout)
    assert sheet["live_chassis"] == "likely"
    assert sheet["string"].endswith("= 122.8 V at 0.15 A")

    assert run("job", "parts", job, "--add", "C7 .05 mfd 400 V", home=bench_home).returncode == 0
    bought = run("job", "parts", job, "--shopping", home=bench_home).stdout.splitlines()
    assert bought[1].startswith("1,0.047 µF 400 V")

    assert run("job", "delete", job, home=bench_home).returncode == 0
    assert "bench set" not in run("job", "list", home=bench_home).stdout
    assert run("job", "undelete", job, home=bench_home).returncode == 0
    assert run("backup", str(tmp_path / "copy.db"), home=bench_home).returncode == 0
    assert run("restore", str(tmp_path / "copy.db"), home=bench_home).returncode == 2
    assert "bench set" in run("job", "list", "--search", "800k", home=bench_home).stdout


def test_single_lines_and_a_table_of_readings(run: Run, bench_home: Path, tmp_path: Path) -> None:
    opened = run("job", "open", "lines", "--json", home=bench_home)
    job = str(json.loads(opened.stdout)["job"])

    added = run("job", "add-part", job, "C20", ".05 mfd 400 V paper", home=bench_home)
    assert added.stdout.startswith("C20: 0.047 µF")
    target = tmp_path / "buy.csv"
    assert run("job", "parts", job, "--csv", str(target), home=bench_home).returncode == 0
    assert target.read_text(encoding="utf-8").splitlines()[1].endswith("C20")
    for command, state in (("done", "done"), ("strike", "struck")):
        assert run("job", command, job, "c20", home=bench_home).returncode == 0
        shown = run("job", "parts", job, "--json", home=bench_home).stdout
        assert json.loads(shown)["state"] == state
    run("job", "strike", job, "C20", "--undo", home=bench_home)
    assert json.loads(run("job", "parts", job, "--json", home=bench_home).stdout)["state"] == ""
    assert run("job", "done", job, "C99", home=bench_home).returncode == 1

    table = tmp_path / "meter.csv"
    table.write_text("point,reads,nominal\nR1,150,100 ohms\nR2,165,150 ohms 10%\n")
    assert run("job", "reading", job, "--from", str(table), home=bench_home).returncode == 0
    lines = run("job", "readings", job, "--taken", "--json", home=bench_home).stdout.splitlines()
    verdicts = {line["point"]: line["verdict"] for line in map(json.loads, lines)}
    assert verdicts == {"R1": "out", "R2": "at the edge"}
    assert run("job", "reading", job, "V1 pin 1", "-6.5", home=bench_home).returncode == 0
    table.write_text("R1\n")
    assert run("job", "reading", job, "--from", str(table), home=bench_home).returncode == 3
