"""A spare that doesn't fit is told at once. Bases and heaters: common practice, no source."""

import json
import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import Run


@pytest.mark.parametrize(
    ("spare", "place", "said"),
    [
        ("12SA7", "12BE6", "octal offered"),
        ("6BE6", "12BE6", "6.3 V"),
        ("12AT6", "12AV6", "Mind:"),
        ("12AV6", "12AV6", ""),
    ],
)
def test_a_spare_of_another_base_or_heater_is_warned_of_at_once(
    quick: Run, typed_home: Path, tmp_path: Path, spare: str, place: str, said: str
) -> None:
    home = Path(shutil.copytree(typed_home, tmp_path / "home"))
    found = json.loads(quick("find", "5D10", "--json", home=home).stdout)
    entry = found["matches"][0]["entry"]
    job = json.loads(quick("job", "open", "set", "--entry", entry, "--json", home=home).stdout)
    assert quick("spares", "add", spare, "1", home=home).returncode == 0
    taken = quick("job", "use", str(job["job"]), spare, "--for", place, home=home)
    assert taken.returncode == 0 and f"{spare} for {place}" in taken.stderr
    assert said in taken.stderr
    warned = "does not go in" in taken.stderr
    assert warned == (said not in ("", "Mind:"))
