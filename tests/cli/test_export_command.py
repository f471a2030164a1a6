"""`benchfolio export` through the command line."""

import csv
import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run


def first_entry(run: Run, home: Path) -> str:
    return str(json.loads(run("list", "--json", home=home).stdout.splitlines()[0])["entry"])


@pytest.mark.parametrize("form", ["hocr", "alto"])
def test_a_page_as_xml(run: Run, typed_home: Path, tmp_path: Path, form: str) -> None:
    entry = first_entry(run, typed_home)
    out = tmp_path / "page.xml"
    done = run("export", "page", f"{entry}/1", "--as", form, "--out", str(out), home=typed_home)
    assert done.returncode == 0, done.stderr
    ET.parse(out)
    assert "QUARRYDALE" in out.read_text(encoding="utf-8")


def test_an_entry_as_searchable_pdf(run: Run, typed_home: Path, tmp_path: Path) -> None:
    out = tmp_path / "set.pdf"
    entry = first_entry(run, typed_home)
    done = run("export", "pdf", entry, "--out", str(out), home=typed_home)
    assert done.returncode == 0, done.stderr
    assert "QUARRYDALE" in PdfReader(out).pages[0].extract_text()


def test_lists_as_csv_and_json_lines(run: Run, typed_home: Path) -> None:
    table = run("export", "list", "entries", home=typed_home).stdout
    lines = run("export", "list", "entries", "--as", "jsonl", home=typed_home).stdout
    rows = list(csv.DictReader(table.splitlines()))
    assert [row["entry"] for row in rows] == [json.loads(x)["entry"] for x in lines.splitlines()]
    assert rows[0]["tubes"].startswith("6SA7; ")


def test_wrong_forms_end_with_two(run: Run, typed_home: Path) -> None:
    entry = first_entry(run, typed_home)
    assert run("export", "list", "wishes", home=typed_home).returncode == 2
    assert run("export", "page", f"{entry}/1", "--as", "pdf", home=typed_home).returncode == 2
    assert run("export", "pdf", "no-such-set", home=typed_home).returncode == 1
