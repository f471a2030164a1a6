"""Odd names and special files, a folder out of reach, odd input: the quick part of the run."""

import random
import sys

import pytest

from indexer.absent import gone_for_good
from tests.endurance import fuzzing, places, targets


@pytest.mark.skipif(sys.platform != "linux", reason="names of any bytes are a Linux matter")
def test_files_and_folders_of_any_name_are_read_and_found_again(tmp_path):
    assert places.odd_names(tmp_path) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes and devices in folders there")
def test_pipes_sockets_devices_and_loops_stop_nothing(tmp_path):
    assert places.special_files(tmp_path) == []


def test_what_is_out_of_reach_is_not_gone(tmp_path):
    known = {"a.pdf", "sub/b.pdf", "other/c.pdf"}
    (tmp_path / "a.pdf").touch()
    gone, why = gone_for_good(tmp_path, known, {"a.pdf"}, ["sub"])
    assert (gone, why) == ({"other/c.pdf"}, "")
    (tmp_path / "a.pdf").unlink()
    gone, why = gone_for_good(tmp_path, known, set(), [])
    assert not gone
    assert "3 files" in why
    assert gone_for_good(tmp_path / "no", known, set(), []) == (set(), "")


@pytest.mark.parametrize("name", targets.TARGETS)
def test_odd_input_gives_plain_errors_only(name):
    chance = random.Random(name)
    for text in targets.SEEDS[name]:
        assert targets.tried(name, text) == ""
        for _ in range(12):
            odd = fuzzing._mutated(text, chance)
            assert targets.tried(name, odd) == "", repr(odd)
