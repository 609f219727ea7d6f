"""Bounded processes: time, memory and death of one task cost that task alone."""

from __future__ import annotations

import os
import signal
import time
from dataclasses import replace
from pathlib import Path

import pytest

from handouts.pool import Bounds, Lost, map_bounded

BOUNDS = Bounds(processor_seconds=1)


def work(order: str) -> str:
    """Does as it is told."""
    name, _, rest = order.partition(" ")
    if name == "spin":
        while True:
            pass
    if name == "sleep":
        time.sleep(600)
    if name == "eat":
        return str(len(bytearray(BOUNDS.memory_bytes + 1)))
    if name == "die" or (name == "once" and not Path(rest).exists()):
        if rest:
            Path(rest).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    if name == "raise":
        raise LookupError(rest)
    return f"done {order}"


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
    found = dict(map_bounded(work, ["a", order, "b"], 1, bounds if order == "sleep" else BOUNDS))
    assert found == {"a": "done a", order: Lost(why), "b": "done b"}


def test_death_is_tried_again(tmp_path: Path) -> None:
    """A process that is killed once: its task is done by another one."""
    order = f"once {tmp_path / 'died'}"
    assert dict(map_bounded(work, [order, "a", "b"], 2, BOUNDS)) == {each: f"done {each}" for each in (order, "a", "b")}


def test_faults_of_the_program_are_raised() -> None:
    """What a task raises is raised where the results are wanted."""
    with pytest.raises(LookupError, match="what"):
        list(map_bounded(work, ["raise what"], 1, BOUNDS))


def test_the_last_task_is_lost() -> None:
    """With nothing left to do no other process takes its place."""
    assert dict(map_bounded(work, ["a", "die"], 1, BOUNDS)) == {"a": "done a", "die": Lost("its process ended 2 times before it was done (exit code -9)")}
