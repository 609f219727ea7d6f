"""A dask scheduler and workers as processes of their own on free ports of this machine, for tests that kill them."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from distributed import Client

ROOT = Path(__file__).parents[2]
BEGIN_SECONDS = 120
"""What a busy machine may take to start a worker."""
_HEAR = "import os, signal, sys; signal.signal(signal.SIGINT, signal.SIG_DFL); os.execv(sys.executable, [sys.executable, *sys.argv[1:]])"
HEARS_CONTROL_C = (sys.executable, "-c", _HEAR)
"""Python where Ctrl+C means what it means on a terminal: tests that run behind ``&`` of a shell have it switched off,
and so has all that they begin (POSIX Shell and Utilities, 2.11)."""


@dataclass(slots=True)
class Cluster:
    """The processes, and where the scheduler is."""

    address: str
    scheduler: subprocess.Popen[bytes]
    folder: Path
    workers: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def add_worker(self, *options: str, root: Path | None = ROOT) -> subprocess.Popen[bytes]:
        """One more worker that imports the program from ``root``, or cannot; it is there when this returns."""
        self.workers.append(start_process(self.folder, root, "dask_worker", self.address, "--no-dashboard", *(options or ("--nthreads", "1"))))
        wait_for_worker(self.address, len(self.workers))
        return self.workers[-1]

    def kill_workers(self, count: int = 1000) -> None:
        """The first ``count`` workers at once, each with the process that would start it again."""
        for worker in self.workers[:count]:
            kill(worker)
        del self.workers[:count]


def wait_for_worker(address: str, count: int = 1) -> None:
    """Until the scheduler knows so many workers; they do not count that are gone."""
    until = time.monotonic() + BEGIN_SECONDS
    with Client(address, timeout=BEGIN_SECONDS, set_as_default=False) as client:  # type: ignore[no-untyped-call]
        while len(client.scheduler_info(n_workers=-1)["workers"]) < count:
            assert time.monotonic() < until, "the worker did not start"
            time.sleep(0.1)


def kill(process: subprocess.Popen[bytes]) -> None:
    """End a process and all that it started, at once."""
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()


def free_address() -> str:
    """One at which nothing answers."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return f"tcp://127.0.0.1:{free.getsockname()[1]}"


@contextmanager
def start_cluster(workers: int = 0, *, scheduler_root: Path | None = ROOT) -> Iterator[Cluster]:
    """A scheduler and so many workers; none is left afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="handouts-cluster-"))
    address = free_address()
    words = ("--host", "127.0.0.1", "--port", address.rpartition(":")[2], "--no-dashboard", "--no-show")
    cluster = Cluster(address, start_process(folder, scheduler_root, "dask_scheduler", *words), folder)
    try:
        for _ in range(workers):
            cluster.add_worker()
        yield cluster
    finally:
        for process in (*cluster.workers, cluster.scheduler):
            kill(process)
        shutil.rmtree(folder, ignore_errors=True)


def start_process(folder: Path, root: Path | None, module: str, *words: str) -> subprocess.Popen[bytes]:
    """A scheduler or worker of dask that imports the program from ``root``, or cannot."""
    env = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"} | {"TMPDIR": str(folder)}
    if root is not None:
        env["PYTHONPATH"] = str(root)
    command = [sys.executable, "-m", f"distributed.cli.{module}", *words]
    with (folder / "log").open("ab") as log:
        return subprocess.Popen(command, cwd=folder, env=env, stdout=log, stderr=log, start_new_session=True)
