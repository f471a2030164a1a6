"""A scheduler or a network that goes away: a plain error or a wait, and no page lost."""

import os
import subprocess
import threading
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from indexer import Library, limits
from tests.cluster import pages
from tests.cluster.contents import contents
from tests.cluster.machines import Machines
from tests.cluster.test_cluster import digests, jobs
from tests.commands import call

pytest.importorskip("distributed", reason="distributed is not installed: no cluster to try")

from indexer.errors import LibraryError
from indexer.work_cluster import Cluster

_SUBNET = "10.213.77"  # private, and not likely in use here


def test_nobody_there_is_said_plainly(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "CLUSTER_WAIT_S", 1.0)
    (tmp_path / "note.txt").write_text("Tillbrook 5D10")
    asked = ("index", str(tmp_path / "note.txt"), "--cluster", "tcp://127.0.0.1:9")
    said = call(*asked, home=tmp_path / "home")
    assert said.returncode == 4
    assert said.stderr.startswith("The cluster at tcp://127.0.0.1:9 does not answer.\nStart it")


def test_a_lost_scheduler_ends_the_run_and_the_next_goes_on(
    sheets: list[Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, "CLUSTER_WAIT_S", 2.0)
    shelf = sheets[0].parent
    with Library(tmp_path / "home") as library, Machines(1) as machines:
        machines.wait_for_workers()

        def end(progress: object) -> None:
            stage, done = (getattr(progress, name) for name in ("stage", "done"))
            if stage == "first reading" and done == 5:
                machines.kill(machines.scheduler)

        with pytest.raises(LibraryError, match="does not answer"):
            library.index([shelf], quick=True, cluster=machines.address, report=end)
        waiting = library.status()["waiting"]
        assert 0 < waiting <= 25
        summary = library.index([shelf], quick=True)
        assert summary.pages_read == waiting
    with Library(tmp_path / "here") as library:
        library.index([shelf], quick=True)
    assert contents(tmp_path / "home") == contents(tmp_path / "here")


def test_a_scheduler_that_comes_back_gets_what_was_out_again(sheets: list[Path]) -> None:
    got: Counter[Path] = Counter()
    nannied = Machines(1, nanny=True)  # as `dask worker` starts them by itself
    with nannied as machines, Cluster(machines.address, wait_s=30) as cluster:
        for n, outcome in enumerate(cluster.run(pages.digest, jobs(sheets))):
            if n == 8:
                for machine in (machines.scheduler, *machines.workers):
                    machines.kill(machine)
                machines.scheduler = machines.start_scheduler()
                machines.workers = [machines.start_worker()]
            assert (outcome.reason, outcome.result) == ("", digests(sheets)[outcome.job])
            got[outcome.job] += 1
    assert got == Counter(sheets)


@pytest.fixture
def namespaces() -> Iterator[list[str]]:
    """Three machines' worth of network, joined to this one by a bridge."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("network namespaces want root")
    names = [f"bf{os.getpid()}n{n}" for n in range(3)]
    bridge = f"bf{os.getpid() % 100_000}b"

    def ip(*arguments: str, check: bool = True) -> None:
        subprocess.run(["ip", *arguments], check=check, capture_output=True)

    try:
        ip("link", "add", bridge, "type", "bridge")
        ip("addr", "add", f"{_SUBNET}.1/24", "dev", bridge)
        ip("link", "set", bridge, "up")
        for n, name in enumerate(names):
            ip("netns", "add", name)
            ip("link", "add", f"{bridge}{n}", "type", "veth", "peer", "name", "eth0", "netns", name)
            ip("link", "set", f"{bridge}{n}", "master", bridge, "up")
            ip("-n", name, "addr", "add", f"{_SUBNET}.{n + 2}/24", "dev", "eth0")
            ip("-n", name, "link", "set", "eth0", "up")
            ip("-n", name, "link", "set", "lo", "up")
        yield names
    except (subprocess.CalledProcessError, FileNotFoundError) as error:
        said = getattr(error, "stderr", b"") or b""
        pytest.skip(f"no network namespaces here: {said.decode(errors='replace').strip() or error}")
    finally:
        for n, name in enumerate(names):
            ip("link", "delete", f"{bridge}{n}", check=False)  # what lingers would keep it
            ip("netns", "delete", name, check=False)
        ip("link", "delete", bridge, check=False)


@pytest.mark.parametrize("for_good", [True, False], ids=["for good", "for three seconds"])
def test_a_machine_cut_off_the_network_costs_no_page(
    namespaces: list[str], sheets: list[Path], for_good: bool
) -> None:
    got: Counter[Path] = Counter()

    def link(state: str) -> None:
        subprocess.run(("ip", "-n", namespaces[1], "link", "set", "eth0", state), check=True)

    back = threading.Timer(3.0, link, ("up",))
    with Machines(0, host=f"{_SUBNET}.1") as machines:
        machines.workers = [
            machines.start_worker(("ip", "netns", "exec", name), ("--host", f"{_SUBNET}.{n + 2}"))
            for n, name in enumerate(namespaces)
        ]
        machines.wait_for_workers()
        with Cluster(machines.address) as cluster:
            for n, outcome in enumerate(cluster.run(pages.digest, jobs(sheets))):
                if n == 6:  # the cable is pulled: nobody hears that the machine is gone
                    link("down")
                    machines.kill(machines.workers[1]) if for_good else back.start()
                assert (outcome.reason, outcome.result) == ("", digests(sheets)[outcome.job])
                got[outcome.job] += 1
        if not for_good:
            back.join()
    assert got == Counter(sheets)
