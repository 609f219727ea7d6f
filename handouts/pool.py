"""Warm processes of this machine, each task bounded in time and memory; one that exceeds its bounds or dies is replaced.

A task whose process died without a cause of its own is tried once more.  Knows nothing of what the tasks are.
"""

from __future__ import annotations

import signal
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from typing import Any, TypeVar

ATTEMPTS = 2
"""How often a task is begun whose process dies."""
START_SECONDS = 60
"""What a new process may take beside its first task."""
Value = TypeVar("Value")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Bounds:
    """What one task may take."""

    processor_seconds: int = 120
    """Time of the processor: the same on a busy machine.  The longest booklet of the demo takes about 10 s."""
    wall_seconds: float = 1800.0
    """Time by the clock, for a task that waits for ever."""
    memory_bytes: int = 4 * 1024**3
    """Address space of the whole process."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A task that could not be done."""

    why: str


@dataclass(slots=True)
class _Hand:
    """A process and what it is at."""

    process: Any
    pipe: Connection
    value: Any = None
    attempt: int = 0
    deadline: float = 0.0


@dataclass(slots=True)
class _Pool:
    """The processes of one map."""

    task: Callable[[Any], Any]
    bounds: Bounds
    waiting: deque[tuple[Any, int]]
    busy: list[_Hand] = field(default_factory=list)

    def start(self) -> None:
        """A new process at the next task."""
        context = get_context("forkserver")
        pipe, other = context.Pipe()
        process = context.Process(target=_serve, args=(other, self.task, self.bounds), daemon=True)
        process.start()
        other.close()
        hand = _Hand(process, pipe)
        self.busy.append(hand)
        self.give(hand)

    def give(self, hand: _Hand) -> None:
        """The next task; the process ends where there is none."""
        if not self.waiting:
            self.busy.remove(hand)
            _end(hand)
            return
        start = 0 if hand.attempt else START_SECONDS
        hand.value, hand.attempt = self.waiting.popleft()
        hand.deadline = time.monotonic() + start + self.bounds.wall_seconds
        with suppress(OSError):  # a process that is dead already is seen when it is asked
            hand.pipe.send(hand.value)

    def replace(self, hand: _Hand) -> None:
        """Another process in the place of one that is gone."""
        self.busy.remove(hand)
        _end(hand)
        if self.waiting:
            self.start()

    def answer(self, hand: _Hand) -> Iterator[tuple[Any, Any]]:
        """What a process has to say: a result, or nothing more."""
        value = hand.value
        try:
            done, result = hand.pipe.recv()
        except (EOFError, OSError):
            lost = self._say_why(hand)
            if lost is None:
                self.waiting.appendleft((value, hand.attempt + 1))
            self.replace(hand)
            if lost is not None:
                yield value, lost
            return
        if isinstance(result, Lost):
            self.replace(hand)
        elif not done:
            raise result
        else:
            self.give(hand)
        yield value, result

    def _say_why(self, hand: _Hand) -> Lost | None:
        """Why a process is gone; None where its task should be tried again."""
        hand.process.join()
        code = hand.process.exitcode
        if code == -signal.SIGXCPU:
            return Lost(f"it took more than {self.bounds.processor_seconds} seconds of processor time")
        if hand.attempt < ATTEMPTS:
            return None
        return Lost(f"its process ended {ATTEMPTS} times before it was done (exit code {code})")


def map_bounded(
    task: Callable[[Value], Result], values: Iterable[Value], jobs: int, bounds: Bounds
) -> Iterator[tuple[Value, Result | Lost]]:
    """Each value with its result, in the order in which they are done; what a task raises is raised here."""
    pool = _Pool(task, bounds, deque((value, 1) for value in values))
    try:
        for _ in range(min(jobs, len(pool.waiting))):
            pool.start()
        while pool.busy:
            left = min(hand.deadline for hand in pool.busy) - time.monotonic()
            ready = wait([hand.pipe for hand in pool.busy], max(0.0, left))
            for hand in tuple(pool.busy):
                if hand.pipe in ready:
                    yield from pool.answer(hand)
                elif time.monotonic() > hand.deadline:
                    pool.replace(hand)
                    yield hand.value, Lost(f"it took more than {bounds.wall_seconds:g} seconds")
    finally:
        for hand in pool.busy:
            _end(hand)


def _end(hand: _Hand) -> None:
    """The process is gone when this returns."""
    hand.pipe.close()
    hand.process.kill()
    hand.process.join()


def _serve(pipe: Connection, task: Callable[[Any], Any], bounds: Bounds) -> None:
    """In a process of the pool: one task after the other, until the pipe is closed."""
    import resource  # only on POSIX; named in tests/test_layers.py

    with suppress(OSError, ValueError):  # not every system bounds the address space
        resource.setrlimit(resource.RLIMIT_AS, (bounds.memory_bytes, resource.RLIM_INFINITY))
    while True:
        try:
            value = pipe.recv()
        except (EOFError, OSError):
            return
        used = sum(resource.getrusage(resource.RUSAGE_SELF)[:2])
        resource.setrlimit(resource.RLIMIT_CPU, (int(used) + bounds.processor_seconds + 1, resource.RLIM_INFINITY))
        answer: tuple[bool, Any]
        try:
            answer = True, task(value)
        except MemoryError:
            answer = True, Lost(f"it needs more than {bounds.memory_bytes // 1024**2} MiB of memory")
        except Exception as error:  # for the process that asked
            answer = False, error
        pipe.send(answer)
