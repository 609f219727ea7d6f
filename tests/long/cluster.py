"""Builds of the small library on a dask cluster of this machine to which something happens: ``python tests/long/cluster.py [PART OF A NAME]``.

Scheduler and workers are processes of their own.  What is told must be one line without a traceback, after a bounded wait, or the build
must succeed with the bytes of a build with one process.  Then builds of two processes are stopped by Ctrl+C, at twenty moments: one line,
status 130, no process and no temporary file left.  Prints a table; ends with 1 where anything else was seen.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.publishing.manifest import MANIFEST
from handouts.store.journal import read_batches
from tests.small_library import TEXTS
from tests.test_cli import write
from tests.workers.running import HEARS_CONTROL_C, ROOT, Cluster, kill, start_cluster
from tests.workers.test_builds import processes

MOST_SECONDS = 300
"""What a build may take that has lost its workers, on a busy machine."""


def build(folder: Path, out: str, *options: str) -> subprocess.Popen[str]:
    """A build that has begun."""
    (folder / "passing").mkdir(exist_ok=True)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder / "passing")}
    words = ["build", "lib", "--to", out, "--today=2026-11-25", "--quiet", f"--cache={out}/.cache", *options]
    command = [*HEARS_CONTROL_C, "-m", "handouts", *words]
    return subprocess.Popen(command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True)


@contextmanager
def other_program(edit: Callable[[Path], object]) -> Iterator[Path]:
    """A copy of the program in which something differs."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("handouts", "templates"):
            shutil.copytree(ROOT / name, Path(folder, name))
        edit(Path(folder, "handouts"))
        yield Path(folder)


def change(package: Path) -> None:
    """What figures are drawn by, and sheets are laid out by, differs; tasks that hold neither may go to such a worker."""
    for name in ("figure/body/body.py", "paper/contained_writer.py"):
        (package / name).write_text((package / name).read_text(encoding="utf-8") + "# other\n", encoding="utf-8")


def wait_for_results(folder: Path, out: str) -> None:
    """Until the build has kept a figure, which a worker drew."""
    until, journal = time.monotonic() + MOST_SECONDS, folder / out / ".cache/results/journal"
    while not any(batch.task.endswith(".drawing:draw_one") for batch in read_batches(journal)) and time.monotonic() < until:
        time.sleep(0.02)


def try_cluster(name: str, folder: Path, happens: Callable[[Cluster, Path, str], object], wanted: str, **start: object) -> bool:
    """One row of the table; ``wanted``: what is told, or nothing where the build must succeed."""
    out = name.replace(" ", "-")
    with start_cluster(**start) as cluster:  # type: ignore[arg-type]
        undo = happens(cluster, folder, "") if start["workers"] == 0 else None
        begun, going = time.monotonic(), build(folder, out, f"--on={cluster.address}")
        if undo is None and start["workers"] != 0:
            wait_for_results(folder, out)
            happened = time.monotonic()
            happens(cluster, folder, out)
        else:
            happened = begun
        try:
            _, told = going.communicate(timeout=MOST_SECONDS)
            seconds = time.monotonic() - happened
        except subprocess.TimeoutExpired:
            kill(going)  # type: ignore[arg-type]
            told, seconds = "WAITS FOR EVER", MOST_SECONDS
        lines = [line for line in told.splitlines() if line]
        manifest = folder / out / "site" / MANIFEST
        same = wanted or (manifest.exists() and manifest.read_bytes() == (folder / "here" / "site" / MANIFEST).read_bytes())
        good = same and (len(lines) == 1 and wanted in lines[0] and going.returncode == 2 if wanted else not lines and going.returncode == 0)
        print(f"{'good ' if good else 'WRONG'}  {seconds:5.1f} s  status {going.returncode}  {name}: {' / '.join(lines[-3:]) or 'built, the same bytes'}", flush=True)
    return bool(good)


def stop_builds(folder: Path, count: int) -> int:
    """Builds of two processes stopped at moments of their own; how many were not as wanted."""
    wrong, slowest = 0, 0.0
    for number in range(count):
        shutil.rmtree(folder / "stopped", ignore_errors=True)
        going = build(folder, "stopped", "--jobs=2")
        time.sleep(1.0 + 0.15 * number)
        os.killpg(going.pid, signal.SIGINT)
        begun = time.monotonic()
        _, told = going.communicate(timeout=MOST_SECONDS)
        slowest = max(slowest, time.monotonic() - begun)
        time.sleep(0.5)
        left = [*processes(going.pid), *(folder / "passing").iterdir()]
        if left or (going.returncode, len(told.splitlines())) not in ((130, 1), (0, 0)):
            wrong += 1
            print(f"WRONG  stopped after {1.0 + 0.15 * number:.2f} s: status {going.returncode}, left {left}: {told[-300:]}", flush=True)
    print(f"{'WRONG' if wrong else 'good '}  {count} builds stopped by Ctrl+C, {wrong} wrong; the slowest ended after {slowest:.2f} s")
    return wrong


def main() -> int:
    """Every row whose name holds the word."""
    word, wrong = " ".join(sys.argv[1:]), 0
    os.environ["DASK_DISTRIBUTED__SCHEDULER__WORKER_TTL"] = "20s"  # how soon a silent worker is given up; dask looks every 5 minutes by itself
    with tempfile.TemporaryDirectory() as name, other_program(change) as other, \
         other_program(lambda package: shutil.rmtree(package / "workers")) as older:
        folder = Path(name)
        write(folder / "lib", TEXTS)
        assert build(folder, "here", "--jobs=1").wait() == 0
        rows: list[tuple[str, Callable[[Cluster, Path, str], object], str, dict[str, object]]] = [
            ("nothing happens", lambda *_: None, "", {"workers": 2}),
            ("one of two workers killed", lambda cluster, *_: cluster.kill_workers(1), "", {"workers": 2}),
            ("all workers killed", lambda cluster, *_: cluster.kill_workers(), "has no worker left", {"workers": 2}),
            ("scheduler killed", lambda cluster, *_: kill(cluster.scheduler), "does not answer any more", {"workers": 2}),
            ("scheduler hangs", lambda cluster, *_: os.kill(cluster.scheduler.pid, signal.SIGSTOP), "does not answer any more", {"workers": 2}),
            ("a worker hangs, the other works", lambda cluster, *_: os.killpg(cluster.workers[0].pid, signal.SIGSTOP), "", {"workers": 2}),
            ("a worker of another version takes over", lambda cluster, *_: (os.killpg(cluster.workers[0].pid, signal.SIGSTOP), cluster.add_worker(root=other)), "has another version of this program", {"workers": 1}),
            ("worker without the package", lambda cluster, *_: cluster.add_worker(root=None), "No module named 'handouts'", {"workers": 0}),
            ("worker of another version", lambda cluster, *_: cluster.add_worker(root=other), "has another version of this program", {"workers": 0}),
            ("worker of a version without this room", lambda cluster, *_: cluster.add_worker(root=older), "cannot load this program", {"workers": 0}),
            ("worker with two threads", lambda cluster, *_: cluster.add_worker("--nthreads", "2"), "several things at a time", {"workers": 0}),
            ("no worker", lambda *_: None, "has no workers", {"workers": 0}),
            ("scheduler without the package", lambda cluster, *_: cluster.add_worker(), "cannot load this program", {"workers": 0, "scheduler_root": None}),
            ("scheduler hangs from the beginning", lambda cluster, *_: os.kill(cluster.scheduler.pid, signal.SIGSTOP), "no scheduler answers", {"workers": 0}),
            ("no scheduler", lambda cluster, *_: kill(cluster.scheduler), "no scheduler answers", {"workers": 0}),
        ]
        for row, happens, wanted, start in rows:
            if word in row:
                wrong += not try_cluster(row, folder, happens, wanted, **start)
        if word in "ctrl+c":
            wrong += stop_builds(folder, 20)
    print(f"{wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
