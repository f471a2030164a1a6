"""What a person typed is kept: a copy, and plain files that read back to the same records."""

import json
import shutil
from pathlib import Path

from tests.cli.conftest import Run


def test_records_come_back_from_an_export_and_from_a_backup(
    quick: Run, typed_home: Path, tmp_path: Path
) -> None:
    home = Path(shutil.copytree(typed_home, tmp_path / "home"))
    job = str(json.loads(quick("job", "open", "hall set", "--json", home=home).stdout)["job"])
    quick("job", "note", job, "00123 on the chassis", home=home)
    quick("spares", "add", "12BE6", "2", home=home)
    before = quick("job", "list", "--json", home=home).stdout
    spares = quick("spares", "list", "--json", home=home).stdout
    assert "00123" in before
    assert "12BE6" in spares

    copy, folder = tmp_path / "copy.db", tmp_path / "export"
    assert quick("backup", str(copy), home=home).returncode == 0
    assert quick("export", "records", str(folder), home=home).returncode == 0

    quick("job", "note", job, "written after the copy", home=home)
    assert quick("import", str(folder), home=home).returncode != 0, "--force must be asked for"
    done = quick("import", str(folder), "--force", home=home)
    assert done.returncode == 0, done.stderr
    assert quick("job", "list", "--json", home=home).stdout == before

    quick("job", "note", job, "written after the import", home=home)
    done = quick("restore", str(copy), "--force", home=home)
    assert done.returncode == 0, done.stderr
    assert quick("job", "list", "--json", home=home).stdout == before
    assert quick("spares", "list", "--json", home=home).stdout == spares
