"""Copies and exports with bytes changed at random (seeded): taken whole or refused whole."""

import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from indexer.errors import BenchfolioError
from indexer.store import exporting, keeping
from indexer.store.photos import PhotoFolder
from indexer.store.records import Records
from tests.store.test_round_trip import EMPTY_JOB, everything, filled, opened

TIMES = 16
INSERTED = [b",", b'"', b"\n", b"\r", b"\0", b"\xff", b"'", b"[", b"9" * 30]


@pytest.fixture
def whole(tmp_path: Path) -> Path:
    """A folder with a copy and an export of some jobs."""
    records, photos = opened(tmp_path / "whole.db"), PhotoFolder(tmp_path / "whole photos")
    job = {**EMPTY_JOB, "models": ["5D10"], "notes": ["hum"] * 5, "photos": [(b"x", "a.jpg", "")]}
    filled(records, photos, [job] * 6, [])
    keeping.back_up(records, tmp_path / "copy.db", photos)
    exporting.export(records, tmp_path / "out", photos)
    return tmp_path


def taken_or_refused(records: Records, take: Callable[[], object]) -> bool:
    """Whether it was taken; the records are sound and of use either way."""
    before, took = everything(records), True
    try:
        take()
    except BenchfolioError:
        took = False
        assert everything(records) == before
    assert not records.db.conn.in_transaction
    for deleted in (False, True):
        records.search_jobs("hum", deleted=deleted)
    records.open_job("and work goes on")
    return took


def test_a_spoilt_copy(whole: Path) -> None:
    good, draw = (whole / "copy.db").read_bytes(), random.Random(7)
    records, photos = opened(whole / "records.db"), PhotoFolder(whole / "photos")
    took = 0
    for number in range(TIMES):
        data = bytearray(good)
        at = draw.randrange(len(data))
        if number % 3 == 0:
            del data[at:]
        elif number % 3 == 1:
            data[at : at + 4096] = bytes(min(4096, len(data) - at))
        else:
            for _ in range(30):
                data[draw.randrange(len(data))] ^= 1 << draw.randrange(8)
        (whole / "bad.db").write_bytes(data)
        took += taken_or_refused(
            records, lambda: keeping.restore(records, whole / "bad.db", photos, force=True)
        )
    assert took < TIMES / 2
    keeping.restore(records, whole / "copy.db", photos, force=True)
    assert everything(records) == everything(Records(whole / "whole.db"))


def test_a_spoilt_export(whole: Path) -> None:
    draw = random.Random(7)
    records, photos = opened(whole / "records.db"), PhotoFolder(whole / "photos")
    files = sorted(path.name for path in (whole / "out").glob("*.csv"))
    for _ in range(TIMES):
        shutil.copytree(whole / "out", whole / "bad", dirs_exist_ok=True)
        path = whole / "bad" / draw.choice(files)
        data = bytearray(path.read_bytes())
        for _ in range(4):
            at = draw.randrange(len(data))
            data[at : at + draw.choice([0, 0, 9])] = draw.choice(INSERTED)
        path.write_bytes(data)
        taken_or_refused(
            records, lambda: exporting.bring_in(records, whole / "bad", photos, force=True)
        )
    exporting.bring_in(records, whole / "out", photos, force=True)
    assert everything(records) == everything(Records(whole / "whole.db"))
