"""A dask cluster that does the tasks of a build: each way in which it can fail is one line that says so, after a bounded wait.

Each task carries the digest of the code behind it, so that a worker with other sources or packages refuses it, whenever it joined.
"""

from __future__ import annotations

import logging
import pickle
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Any, Self, TypeVar

from handouts.store.code_digest import Code
from handouts.workers.pool import Bounds, LostTask
from handouts.workers.refusal import WorkersError, refuse

WAIT_SECONDS = 15.0
"""How long a scheduler may take to answer, and how long it may have no worker."""
LOOK_SECONDS = 1.0
"""How often the scheduler is asked for its workers while no task is done."""
SAME = "Install the same version of it, and of what it needs, on every machine of the cluster."
Value = TypeVar("Value")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class _Unfit:
    """In place of a result: the worker must not do the task."""

    rule: str
    what: str
    mend: str


class Cluster:
    """The workers of a dask scheduler; the connection ends with the ``with`` block.  Raises ``WorkersError``."""

    def __init__(self, address: str, bounds: Bounds) -> None:
        self._address, self._bounds = address, bounds
        self._client: Any = None

    def __enter__(self) -> Self:
        try:
            import distributed  # an extra; named in tests/test_layers.py
        except ImportError as error:
            what = "'--on' needs the extra 'cluster', which is not installed"
            raise self._refuse("no-cluster", what, "Install it: pip install 'handouts[cluster]'.") from error
        _silence_log()
        connect: Any = distributed.Client
        try:
            self._client = connect(self._address, timeout=WAIT_SECONDS, set_as_default=False)
        except (OSError, ValueError) as error:
            what = f"no scheduler answers at '{self._address}'"
            mend = "Start one with 'dask scheduler', and give the address that it prints."
            raise self._refuse("no-scheduler", what, mend) from error
        if not self._count_workers():
            self.__exit__()
            what, mend = f"the scheduler at '{self._address}' has no workers", f"Start some: dask worker {self._address} --nthreads 1."
            raise self._refuse("no-workers", what, mend)
        return self

    def __exit__(self, *_: object) -> None:
        with suppress(OSError, RuntimeError):  # a scheduler that does not answer cannot be told that this was all
            self._client.close(timeout=LOOK_SECONDS)

    def map(self, task: Callable[[Value], Result], values: Iterable[Value]) -> Iterator[tuple[Value, Result | LostTask]]:
        """Each value with its result, in the order in which they are done; what a task raises is raised here."""
        module = (task.func if isinstance(task, partial) else task).__module__
        self._check_workers(module)
        code, done = digest_code(module), SimpleQueue[Any]()
        running: dict[str, tuple[Any, Value]] = {}
        try:
            for value in values:
                future = self._client.submit(do_task, pickle.dumps((task, value)), module, code, pure=False)
                future.add_done_callback(done.put)
                running[future.key] = future, value
        except Exception as error:
            if self._client.status == "running":
                raise
            raise self._gone("does not answer any more", "it") from error
        while running:
            future = self._wait(done)
            try:
                result = self._read(future)
            except TimeoutError:  # its worker is gone: it is done again
                future.add_done_callback(done.put)
                continue
            _, value = running.pop(future.key)
            yield value, result

    def _check_workers(self, module: str) -> None:
        """Ask each worker whether it has the program; one that cannot read a task would end, and its task go to the next."""
        try:
            found = self._client.run(digest_code, module, on_error="return", callback_timeout=WAIT_SECONDS)
        except (OSError, AttributeError):
            return  # who does not answer is seen while tasks are waited for
        for worker, digest in sorted(found.items()):
            if isinstance(digest, Exception) and not isinstance(digest, OSError):
                raise self._refuse("worker-version", f"the worker '{worker}' cannot load this program: {digest}", SAME)

    def _wait(self, done: SimpleQueue[Any]) -> Any:
        """The next future that is done."""
        began = alive = time.monotonic()
        while True:
            try:
                return done.get(timeout=LOOK_SECONDS)
            except Empty:
                now = time.monotonic()
            count = self._count_workers()
            if count:
                alive = now
            if now - alive > WAIT_SECONDS:
                raise self._gone("does not answer any more", "it") if count is None else self._gone("has no worker left", "workers")
            if now - began > self._bounds.wall_seconds:
                what = f"no task was done in {self._bounds.wall_seconds:g} seconds"
                raise self._refuse("worker-lost", what, "Run it again with --jobs 2, which names the fault.")

    def _read(self, future: Any) -> Any:
        """The result of a future that is done, or ``LostTask``."""
        import distributed  # as above

        try:
            result = future.result(timeout=WAIT_SECONDS)
        except TimeoutError:
            raise
        except distributed.CancelledError as error:
            raise self._gone("does not answer any more", "it") from error
        except distributed.KilledWorker as error:
            return LostTask(f"{error.allowed_failures + 1} workers died of it")
        except RuntimeError as error:
            if not str(error).startswith("Error during deserialization of the task graph"):
                raise
            raise self._refuse("worker-version", f"the scheduler at '{self._address}' cannot load this program", SAME) from error
        if isinstance(result, _Unfit):
            raise self._refuse(result.rule, result.what, result.mend)
        return result

    def _count_workers(self) -> int | None:
        """How many workers the scheduler has; None where it does not answer."""
        try:
            found = self._client.sync(self._client.scheduler.identity, n_workers=-1, callback_timeout=WAIT_SECONDS / 3)
        except (OSError, AttributeError):  # a client that was closed has no scheduler
            return None
        return len(found["workers"])

    def _gone(self, how: str, start: str) -> WorkersError:
        mend = f"Start {start} again and run the same command: what was done is kept."
        return self._refuse("workers-gone", f"the scheduler at '{self._address}' {how}", mend)

    def _refuse(self, rule: str, what: str, mend: str) -> WorkersError:
        return refuse(rule, what, mend, self._address)


def do_task(packed: bytes, module: str, code: bytes) -> Any:
    """On a worker: the result of a task for a value, where this is the same program."""
    import distributed  # as above

    worker = distributed.get_worker()
    if worker.state.nthreads != 1:
        what = f"the worker '{worker.address}' does several things at a time, and the PDF writer cannot"
        return _Unfit("worker-threads", what, "Start each worker with '--nthreads 1'.")
    if digest_code(module) != code:
        what = f"the worker '{worker.address}' has another version of this program or of what it needs"
        return _Unfit("worker-version", what, SAME)
    task, value = pickle.loads(packed)
    return task(value)


@cache
def digest_code(module: str) -> bytes:
    """The digest of the code behind a module, here or on a worker; of one that is not of this program, the digest of this room."""
    try:
        return _own_code().digest(module)
    except KeyError:
        return _own_code().digest(__name__)


@cache
def _own_code() -> Code:
    return Code(Path(__file__).parents[1])


def _silence_log() -> None:
    """What the client logs of a lost connection is said by us, in one line."""
    for name in ("asyncio", "tornado", *logging.root.manager.loggerDict):
        if name.partition(".")[0] in ("asyncio", "distributed", "tornado"):
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)
