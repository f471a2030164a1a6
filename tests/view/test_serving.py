"""The command itself: it starts, says where, serves many at once, and ends cleanly."""

import socket
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx2

from tests.view.conftest import ROOT, Names, serving


def test_fifty_requests_at_once(served: str, names: Names) -> None:
    kinds = (
        f"/look/{names.foldout}",
        f"/iiif/image/{names.foldout}/{{at}},0,512,512/max/0/default.jpg",
        "/?q=tillbrook+5D10",
        "/kin?tubes=12BE6+12BA6+12AT6+50B5+35W4",
        f"/iiif/set/{names.entry}/manifest.json",
    )
    paths = [kinds[n % len(kinds)].format(at=n * 100) for n in range(50)]

    def ask(path: str) -> int:
        return httpx2.get(served + path, timeout=60).status_code

    with ThreadPoolExecutor(50) as threads:
        assert set(threads.map(ask, paths)) == {200}


def test_it_says_nothing_of_what_serves_it(served: str) -> None:
    assert "server" not in httpx2.get(served + "/").headers


def test_a_port_in_use_is_told_plainly(view_shelf: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = _view("--home", str(view_shelf), "--port", str(taken.getsockname()[1]))
    assert done.returncode == 3
    assert "can't be used" in done.stderr
    assert "--port 8500" in done.stderr
    assert "Traceback" not in done.stderr


def test_without_a_library_it_says_what_to_do(tmp_path: Path) -> None:
    done = _view("--home", str(tmp_path / "none"))
    assert done.returncode == 3
    assert "benchfolio index" in done.stderr


def test_it_ends_with_all_its_processes(view_shelf: Path, names: Names) -> None:
    block = serving(view_shelf)
    with block as address:
        httpx2.get(f"{address}/iiif/image/{names.first}/info.json").raise_for_status()
        process = block._process
        children = _children(process.pid)
        assert children
    assert process.returncode is not None
    for _ in range(100):
        if not any(map(_runs, children)):
            return
        time.sleep(0.05)
    raise AssertionError(f"still running: {[pid for pid in children if _runs(pid)]}")


def test_the_command_line_does_not_load_it() -> None:
    loaded = "{'starlette', 'jinja2', 'uvicorn', 'pydantic'} & {*sys.modules}"
    said = f"import sys, cli.app; print({loaded})"
    done = subprocess.run(
        [sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "set()"


def _view(*options: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", "from cli.app import main; main()", "view", *options],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def _runs(pid: int) -> bool:
    try:
        status = Path(f"/proc/{pid}/stat").read_text()
    except OSError:
        return False
    return status.rpartition(")")[2].split()[0] not in "ZX"  # ended, only not yet waited for


def _children(pid: int) -> list[int]:
    tasks = Path(f"/proc/{pid}/task/{pid}/children")
    return [int(child) for child in tasks.read_text().split()] if tasks.exists() else []
