"""The commands answer, in words and in JSON with the agreed keys."""

import json
from pathlib import Path

from tests.cli.conftest import Run


def test_list_gives_one_json_object_a_line(run: Run, typed_home: Path) -> None:
    done = run("list", "--json", home=typed_home)
    entries = [json.loads(line) for line in done.stdout.splitlines()]
    assert [entry["models"] for entry in entries] == [["88-K"], ["5D10"]]
    tillbrook = entries[1]
    assert tillbrook["maker"] == "Tillbrook"
    assert tillbrook["chassis"] == ["CH-41A"]
    assert tillbrook["tubes"] == ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
    assert (tillbrook["year"], tillbrook["if_khz"]) == (1951, 455)
    # 12.6 + 12.6 + 12.6 + 50 + 35: common practice, no source
    assert tillbrook["string_volts"] == 122.8
    assert (tillbrook["supply"], tillbrook["live_chassis"]) == ("series string", "likely")
    assert set(tillbrook["pages"][0]) >= {"file", "page", "printed", "kinds"}


def test_pages_are_listed_with_their_text(run: Run, typed_home: Path) -> None:
    done = run("list", "--pages", "--text", "--json", home=typed_home)
    pages = [json.loads(line) for line in done.stdout.splitlines()]
    assert [page["page"] for page in pages] == [1, 2]
    assert "QUARRYDALE" in pages[1]["text"]
    assert pages[0]["state"] == "done"
    assert pages[0]["entry"]


def test_an_exact_model_comes_first(run: Run, typed_home: Path) -> None:
    done = run("find", "tillbrook", "5d10", "--json", home=typed_home)
    answer = json.loads(done.stdout)
    assert answer["matches"][0]["models"] == ["5D10"]
    assert answer["matches"][0]["grade"] == "exact"
    assert answer["asked"]["makers"] == ["Tillbrook"]


def test_an_unprinted_model_is_found_by_its_chassis(run: Run, typed_home: Path) -> None:
    done = run("find", "5D99 chassis ch-41a", "--json", home=typed_home)
    best = json.loads(done.stdout)["matches"][0]
    assert (best["grade"], best["models"]) == ("same chassis", ["5D10"])


def test_a_misread_code_shows_both_forms(run: Run, typed_home: Path) -> None:
    done = run("find", "5DI0", home=typed_home)
    assert "likely misread" in done.stdout
    assert "5D10" in done.stdout
    assert "5DI0" in done.stdout


def test_tubes_alone_find_the_nearest_set(run: Run, typed_home: Path) -> None:
    done = run("kin", "12BE6", "12BA6", "12AT6", "50C5", "35W4", "--json", home=typed_home)
    answer = json.loads(done.stdout)
    assert answer["supply"] == "series string"
    best = answer["matches"][0]
    assert best["entry"].startswith("tillbrook")
    exchanged = {(pair["asked"], pair["has"]): pair["relation"] for pair in best["exchange"]}
    assert exchanged["12AT6", "12AV6"] == "direct substitute"
    assert best["same_sockets"] is True


def test_show_says_where_each_fact_was_read(run: Run, typed_home: Path) -> None:
    entry = json.loads(run("find", "5D10", "--json", home=typed_home).stdout)["matches"][0]["entry"]
    done = run("show", entry, home=typed_home)
    assert "models read on sets.txt page 1" in done.stdout
    assert "isolation transformer" in done.stdout


def test_an_unchanged_library_costs_no_reading(run: Run, typed_home: Path) -> None:
    done = run("index", home=typed_home)
    assert "0 new or changed, 1 unchanged" in done.stderr
    assert "0 pages read" in done.stderr


def test_a_job_is_kept_and_comes_up_again(run: Run, typed_home: Path, tmp_path: Path) -> None:
    entry = json.loads(run("find", "88-K", "--json", home=typed_home).stdout)["matches"][0]["entry"]
    opened = run("job", "open", "hall set", "--entry", entry, "--json", home=typed_home)
    job = str(json.loads(opened.stdout)["job"])
    run("job", "mark", job, f"{entry}/1", "--why", "line-up", home=typed_home)
    run("job", "note", job, "rectifier arcs", home=typed_home)
    out = tmp_path / "packet.pdf"
    packed = run("job", "packet", job, "--out", str(out), "--paper", "Letter", home=typed_home)
    assert packed.returncode == 0, packed.stderr
    assert out.read_bytes().startswith(b"%PDF")
    run("job", "close", job, "new 5Y3", home=typed_home)
    assert "new 5Y3" in run("find", "88-K", home=typed_home).stdout


def test_tube_and_value_need_no_library(run: Run) -> None:
    tube = json.loads(run("tube", "12AT6", "--json").stdout)
    assert tube["heater_v"] == 12.6  # type-number rule: 12… is 12.6 V
    value = json.loads(run("value", "50 mfd 150 V", "--json").stdout)
    assert value["nominal"] == 50e-6
    assert 47e-6 in [round(v, 9) for v in value["replace_with"]]  # 50 -> 47: common practice
    judged = json.loads(run("value", "470K 10%", "--reads", "800K", "--json").stdout)
    assert judged["verdict"] == "out"
