"""Processes of this machine that live as long as their pool, each task bounded in time and memory.

A process starts when there is work for it, imports what its tasks need once, and is replaced when it exceeds its bounds or
dies; a task whose process died without a cause of its own is tried once more.  Each process has a pipe of its own, so that
one killed in the middle of an answer spoils no other's.  Temporary folders of the processes belong to the pool, which removes them.
"""

from __future__ import annotations

import os
import shutil
import signal
import tempfile
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import forkserver, get_context, parent_process, resource_tracker, util
from multiprocessing.connection import Connection, wait
from typing import Any, Self, TypeVar

from handouts.workers.refusal import refuse

ATTEMPTS = 2
"""How often a task is begun whose process dies."""
START_SECONDS = 60
"""What a new process may take beside its first task."""
END_SECONDS = 5
"""What a process that has closed its pipe may take to end; then it is killed."""
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
class LostTask:
    """A task that could not be done."""

    why: str


@dataclass(frozen=True, slots=True)
class _Answer:
    """What came of a task: a result, what it raised, or why its process is of no more use."""

    result: Any = None
    error: Exception | None = None
    lost: str = ""
    again: bool = False
    """Whether the task had no part in the end of its process, as far as anyone knows."""


class Pool:
    """At most ``jobs`` processes at a time, for any number of maps; they end with the ``with`` block."""

    def __init__(self, jobs: int, bounds: Bounds) -> None:
        self._jobs, self._bounds = jobs, bounds
        self._home = ""
        self._idle: list[_Process] = []
        self._all: list[_Process] = []
        """Every one that was begun, so that none is forgotten where Ctrl+C falls between two lines."""

    def __enter__(self) -> Self:
        self._home = tempfile.mkdtemp(dir=util.get_temp_dir())
        return self

    def __exit__(self, *_: object) -> None:
        while self._all:
            self._all[-1].end()
            self._all.pop()
        shutil.rmtree(self._home, ignore_errors=True)

    def map(self, task: Callable[[Value], Result], values: Iterable[Value]) -> Iterator[tuple[Value, Result | LostTask]]:
        """Each value with its result, in the order in which they are done; what a task raises is raised here."""
        waiting = deque((value, 1) for value in values)
        busy: list[_Process] = []
        try:
            while True:
                done = list(self._take_answers(busy, waiting)) if busy else []
                while waiting and len(busy) < self._jobs:
                    busy.append(self._idle.pop() if self._idle else self._start())
                    busy[-1].begin(task, *waiting.popleft())
                yield from done
                if not busy:
                    return
        finally:
            for process in busy:
                process.end()

    def _start(self) -> _Process:
        self._all.append(_Process(self._home, self._bounds))
        self._all[-1].start()
        return self._all[-1]

    def _take_answers(self, busy: list[_Process], waiting: deque[tuple[Any, int]]) -> Iterator[tuple[Any, Any]]:
        """Wait until something happens; processes that are done are idle then, and what should be tried again waits."""
        soonest = min(process.deadline for process in busy)
        ready = wait([process.pipe for process in busy], max(0.0, soonest - time.monotonic()))
        for process in tuple(busy):
            if process.pipe in ready:
                answer = process.answer()
            elif time.monotonic() > process.deadline:
                answer = _Answer(lost=f"it took more than {self._bounds.wall_seconds:g} seconds")
            else:
                continue
            if answer.error:
                raise answer.error
            busy.remove(process)
            if not answer.lost:
                self._idle.append(process)
                yield process.value, answer.result
                continue
            process.end()
            if answer.again and process.attempt < ATTEMPTS:
                waiting.appendleft((process.value, process.attempt + 1))
            else:
                yield process.value, LostTask(answer.lost)


def prepare(modules: Iterable[str]) -> None:
    """Begin the server that processes are forked from, and have it import modules meanwhile; once in a program, before the first process."""
    server = get_context("forkserver")
    server.set_forkserver_preload(["__main__", *modules])
    with _control_c_held_back():
        forkserver.ensure_running()


@contextmanager
def _control_c_held_back() -> Iterator[None]:
    """Ctrl+C reaches every process of a terminal: it is for the one that asked, the others are ended by it.

    So they begin, and the server that forks them, with the signal held back.  Starting the tracker of resources would let it through.
    """
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def call_bounded(task: Callable[[Value], Result], value: Value, bounds: Bounds) -> Result | LostTask:
    """The result of one task in a process of its own."""
    with Pool(1, bounds) as pool:
        ((_, result),) = pool.map(task, [value])
    return result


class _Process:
    """A process and what it is at."""

    def __init__(self, home: str, bounds: Bounds) -> None:
        self._bounds = bounds
        self._folder = tempfile.mkdtemp(dir=home)
        self.value: Any = None
        self.attempt = 0
        self.deadline = time.monotonic() + START_SECONDS
        context = get_context("forkserver")
        self.pipe, other = context.Pipe()
        self._process = context.Process(target=_serve, args=(other, self._folder, bounds), daemon=True)
        self._other = other

    def start(self) -> None:
        """Begin the process; once."""
        try:
            with _control_c_held_back():
                self._process.start()
        except (OSError, EOFError) as error:
            what = f"no process could be started: {error}"
            raise refuse("worker-lost", what, "Close other programs, or run it again with --jobs 1.") from error
        finally:
            self._other.close()

    def begin(self, task: Callable[[Any], Any], value: Any, attempt: int) -> None:
        """Send the process its next task."""
        self.value, self.attempt = value, attempt
        self.deadline = max(self.deadline, time.monotonic()) + self._bounds.wall_seconds
        with suppress(OSError):  # a process that is dead already is seen when it is asked
            self.pipe.send((task, value))

    def answer(self) -> _Answer:
        """What the process has to say."""
        self.deadline = 0.0
        try:
            answer: _Answer = self.pipe.recv()
            return answer
        except (EOFError, OSError):
            self._process.join(END_SECONDS)
        code = self._process.exitcode
        if code == -signal.SIGXCPU:
            return _Answer(lost=f"it took more than {self._bounds.processor_seconds} seconds of processor time")
        return _Answer(lost=f"its process ended {ATTEMPTS} times before it was done (exit code {code})", again=True)

    def end(self) -> None:
        """The process and its folder are gone when this returns; it may be asked again."""
        self.pipe.close()
        if self._process.pid is not None:
            self._process.kill()
            self._process.join()
        shutil.rmtree(self._folder, ignore_errors=True)


def _serve(pipe: Connection, folder: str, bounds: Bounds) -> None:
    """In a process of the pool: one task after the other, until the pipe is closed."""
    import resource  # only on POSIX; named in tests/test_layers.py

    tempfile.tempdir = os.environ["TMPDIR"] = folder
    with suppress(OSError, ValueError):  # not every system bounds the address space
        resource.setrlimit(resource.RLIMIT_AS, (bounds.memory_bytes, resource.RLIM_INFINITY))
    with suppress(EOFError, OSError):
        while True:
            task, value = pipe.recv()
            used = sum(resource.getrusage(resource.RUSAGE_SELF)[:2])
            resource.setrlimit(resource.RLIMIT_CPU, (int(used) + bounds.processor_seconds + 1, resource.RLIM_INFINITY))
            try:
                answer = _Answer(task(value))
            except MemoryError:
                answer = _Answer(lost=f"it needs more than {bounds.memory_bytes // 1024**2} MiB of memory")
            except Exception as error:  # for the process that asked
                answer = _Answer(error=error)
            pipe.send(answer)
    asked = parent_process()
    if asked is not None and not asked.is_alive():  # it was killed: nobody else removes what it made
        shutil.rmtree(util.get_temp_dir(), ignore_errors=True)
