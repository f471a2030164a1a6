"""A real Dask cluster for tests and measurements: a scheduler and workers, each a process."""

import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

ROOT = Path(__file__).parents[2]
_START_TIMEOUT_S = 60.0


class Machines:
    """A scheduler and workers of one thread each, on loopback unless told otherwise.

    `inside[n]` is put before the command of worker n, to start it elsewhere (a namespace).
    """

    def __init__(self, workers: int, *, nanny: bool = False, host: str = "127.0.0.1") -> None:
        self.host = host
        self.port = free_port()
        self.nanny = nanny
        self.folder = tempfile.TemporaryDirectory(prefix="benchfolio-cluster-")
        self.scheduler = self.start_scheduler()
        self.workers = [self.start_worker() for _ in range(workers)]

    def wait_for_workers(self) -> None:
        """Until every worker that was started has found the scheduler."""
        from distributed import Client

        with Client(self.address, set_as_default=False) as client:
            client.wait_for_workers(len(self.workers), timeout=_START_TIMEOUT_S)

    @property
    def address(self) -> str:
        return f"tcp://{self.host}:{self.port}"

    def start_scheduler(self) -> "subprocess.Popen[bytes]":
        started = self._start(
            "dask_scheduler", "--host", self.host, "--port", str(self.port), "--no-dashboard"
        )
        until = time.monotonic() + _START_TIMEOUT_S
        while time.monotonic() < until:
            with socket.socket() as probe:
                if probe.connect_ex((self.host, self.port)) == 0:
                    return started
            time.sleep(0.1)
        raise AssertionError("the scheduler did not start")

    def start_worker(
        self, inside: Sequence[str] = (), options: Sequence[str] = ()
    ) -> "subprocess.Popen[bytes]":
        return self._start(
            "dask_worker", self.address, "--nthreads", "1", "--no-dashboard", "--memory-limit", "0",
            "--death-timeout", "60", "--nanny" if self.nanny else "--no-nanny",
            "--local-directory", self.folder.name, *options, inside=inside,
        )  # fmt: skip

    def _start(
        self, module: str, *arguments: str, inside: Sequence[str] = ()
    ) -> "subprocess.Popen[bytes]":
        environment = {
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "OMP_THREAD_LIMIT": "1",
            "DASK_DISTRIBUTED__COMM__TIMEOUTS__TCP": "11s",  # how soon a silent machine is given up
            "DASK_DISTRIBUTED__COMM__TIMEOUTS__CONNECT": "10s",
            "DASK_DISTRIBUTED__SCHEDULER__WORKER_TTL": "1s",
            # what Dask does when no page comes: 2 % of a core for each process, 0.3 % with these
            "DASK_DISTRIBUTED__ADMIN__TICK__INTERVAL": "1s",
            "DASK_DISTRIBUTED__ADMIN__SYSTEM_MONITOR__INTERVAL": "10s",
            "DASK_DISTRIBUTED__WORKER__PROFILE__ENABLED": "False",
        }
        command = [*inside, sys.executable, "-m", f"distributed.cli.{module}", *arguments]
        with (Path(self.folder.name) / "log.txt").open("ab") as log:
            # a group to end them by, but the same session: Linux shares a busy machine by sessions
            return subprocess.Popen(
                command, env=environment, stdout=log, stderr=log, process_group=0
            )

    def log(self) -> str:
        return (Path(self.folder.name) / "log.txt").read_text(errors="replace")

    @staticmethod
    def kill(machine: "subprocess.Popen[bytes]") -> None:
        """As when the power goes: at once, with all that it started."""
        with suppress(ProcessLookupError):
            os.killpg(machine.pid, signal.SIGKILL)
        machine.wait()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for machine in (*self.workers, self.scheduler):
            self.kill(machine)
        self.folder.cleanup()


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
