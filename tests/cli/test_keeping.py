"""What a person typed is kept: a copy, and plain files that read back to the same records."""

import json
import shutil
from pathlib import Path

from tests.cli.conftest import Run


def test_records_come_back_from_an_export_and_from_a_backup(
    run: Run, typed_home: Path, tmp_path: Path
) -> None:
    home = Path(shutil.copytree(typed_home, tmp_path / "home"))
    job = str(json.loads(run("job", "open", "hall set", "--json", home=home).stdout)["job"])
    run("job", "note", job, "00123 on the chassis", home=home)
    run("spares", "add", "12BE6", "2", home=home)
    before = run("job", "list", "--json", home=home).stdout
    spares = run("spares", "list", "--json", home=home).stdout
    assert "00123" in before
    assert "12BE6" in spares

    copy, folder = tmp_path / "copy.db", tmp_path / "export"
    assert run("backup", str(copy), home=home).returncode == 0
    assert run("export", "records", str(folder), home=home).returncode == 0

    run("job", "note", job, "written after the copy", home=home)
    assert run("import", str(folder), home=home).returncode != 0, "--force must be asked for"
    done = run("import", str(folder), "--force", home=home)
    assert done.returncode == 0, done.stderr
    assert run("job", "list", "--json", home=home).stdout == before

    run("job", "note", job, "written after the import", home=home)
    done = run("restore", str(copy), "--force", home=home)
    assert done.returncode == 0, done.stderr
    assert run("job", "list", "--json", home=home).stdout == before
    assert run("spares", "list", "--json", home=home).stdout == spares
