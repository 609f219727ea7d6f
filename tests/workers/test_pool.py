"""Bounded processes: time, memory and death of one task cost that task alone."""

from __future__ import annotations

import os
import signal
import tempfile
import threading
import time
from dataclasses import replace
from multiprocessing import active_children, util
from multiprocessing.context import ForkServerProcess
from pathlib import Path

import pytest

from handouts.workers.pool import Bounds, LostTask, Pool, call_bounded

BOUNDS = Bounds(processor_seconds=1)


def work(order: str) -> str:
    """Does as it is told."""
    name, _, rest = order.partition(" ")
    if name == "spin":
        while True:
            pass
    if name == "turn":
        until = time.process_time() + 0.7
        while time.process_time() < until:
            pass
    if name == "sleep":
        time.sleep(600)
    if name == "eat":
        return str(len(bytearray(BOUNDS.memory_bytes + 1)))
    if name == "die" or (name == "once" and not Path(rest).exists()):
        if rest:
            Path(rest).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    if name == "who":
        time.sleep(0.2)
        return f"{os.getpid()} {tempfile.mkdtemp()} {os.environ['TMPDIR']}"
    if name == "large":
        return "x" * 50_000_000
    if name == "raise":
        raise LookupError(rest)
    return f"done {order}"


@pytest.mark.parametrize("process", [1, 2])
def test_stopped_while_a_process_starts(process: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl+C at the moment in which a process begins: it is ended like all others, for nobody else knows it."""
    starts, real = [0], ForkServerProcess.start

    def start(self: ForkServerProcess) -> None:
        real(self)
        starts[0] += 1
        if starts[0] == process:
            os.kill(os.getpid(), signal.SIGINT)

    monkeypatch.setattr(ForkServerProcess, "start", start)
    before = set(active_children())
    heard = signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell has its background commands ignore the signal
    try:
        with pytest.raises(KeyboardInterrupt), Pool(2, BOUNDS) as pool:
            list(pool.map(work, ["a", "sleep"]))
    finally:
        signal.signal(signal.SIGINT, heard)
    assert starts[0] == process and set(active_children()) <= before


@pytest.mark.parametrize(
    ("order", "bounds", "why"),
    [
        ("spin", BOUNDS, "it took more than 1 seconds of processor time"),
        ("sleep", replace(BOUNDS, wall_seconds=3.0), "it took more than 3 seconds"),
        ("eat", BOUNDS, "it needs more than 4096 MiB of memory"),
        ("die", BOUNDS, "its process ended 2 times before it was done (exit code -9)"),
    ],
)
def test_one_task_is_lost(order: str, bounds: Bounds, why: str) -> None:
    """The task that exceeds or dies is named with its cause; those before and after it are done."""
    with Pool(1, bounds) as pool:
        found = dict(pool.map(work, ["a", order, "b"]))
    assert found == {"a": "done a", order: LostTask(why), "b": "done b"}


def test_death_is_tried_again(tmp_path: Path) -> None:
    """A process that is killed once: its task is done by another one."""
    order = f"once {tmp_path / 'died'}"
    with Pool(2, BOUNDS) as pool:
        assert dict(pool.map(work, [order, "a", "b"])) == {each: f"done {each}" for each in (order, "a", "b")}


def test_faults_of_the_program_are_raised() -> None:
    """What a task raises is raised where the results are wanted."""
    with pytest.raises(LookupError, match="what"):
        call_bounded(work, "raise what", BOUNDS)


def test_the_last_task_is_lost() -> None:
    """With nothing left to do no other process takes its place."""
    with Pool(1, BOUNDS) as pool:
        assert dict(pool.map(work, ["a", "die"])) == {"a": "done a", "die": LostTask("its process ended 2 times before it was done (exit code -9)")}


def test_one_pool_for_all_maps() -> None:
    """The same processes do the tasks of one map after the other, in folders of the pool, which are gone with it."""
    home = Path(util.get_temp_dir())
    before = sorted(home.iterdir())
    with Pool(2, BOUNDS) as pool:
        first, second = ([result.split() for _, result in pool.map(work, ["who"] * 6) if isinstance(result, str)] for _ in range(2))
        assert {pid for pid, _, _ in first} == {pid for pid, _, _ in second} and len({pid for pid, _, _ in first}) == 2
        assert len(first) == 6 and all(Path(folder).is_dir() and folder.startswith(told) for _, folder, told in (*first, *second))
    assert not any(Path(folder).exists() or Path(told).exists() or is_there(pid) for pid, folder, told in (*first, *second))
    assert [path for path in sorted(home.iterdir()) if path.is_dir()] == [path for path in before if path.is_dir()]


def is_there(pid: str) -> bool:
    """Whether a process has not ended."""
    stat = Path(f"/proc/{pid}/stat")
    return stat.exists() and stat.read_text(encoding="utf-8").rpartition(")")[2].split()[0] not in "ZX"


def test_folder_of_a_dead_process() -> None:
    """A process that was killed leaves no folder behind while the pool lives on."""
    with Pool(1, BOUNDS) as pool:
        ((_, told),) = pool.map(work, ["who"])
        assert isinstance(told, str)
        pid, folder, _ = told.split()
        os.kill(int(pid), signal.SIGKILL)
        assert dict(pool.map(work, ["a"])) == {"a": "done a"}
        assert not Path(folder).exists()


def test_a_map_that_is_given_up() -> None:
    """What is still at work then ends, and gives no answer to the next map."""
    before = set(active_children())
    with Pool(2, BOUNDS) as pool:
        begun = pool.map(work, ["a", "sleep", "sleep"])
        assert next(begun) == ("a", "done a")
        begun.close()
        assert set(active_children()) == before
        assert dict(pool.map(work, ["b", "c"])) == {"b": "done b", "c": "done c"}


def test_killed_in_the_middle_of_an_answer() -> None:
    """A process that is killed while it sends a large result holds up no other, and its task is done again."""
    with Pool(2, BOUNDS) as pool:
        pids = {result.split()[0] for _, result in pool.map(work, ["who"] * 6) if isinstance(result, str)}
        threading.Timer(0.1, os.kill, (int(min(pids)), signal.SIGKILL)).start()
        found = [len(result) for _, result in pool.map(work, ["large"] * 8) if isinstance(result, str)]
        assert found == [50_000_000] * 8


def test_each_task_has_the_whole_bound() -> None:
    """What a process did before does not count against its next task."""
    with Pool(1, BOUNDS) as pool:
        assert [result for _, result in pool.map(work, ["turn"] * 4)] == ["done turn"] * 4
