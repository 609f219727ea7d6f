"""The workers that a build asks: its tasks are done here, by a pool, or by a cluster; always the same work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import nullcontext
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Self, TypeVar

from handouts.tasks.progress import SILENT, Progress
from handouts.workers.pool import Bounds, LostTask, Pool, prepare
from handouts.workers.refusal import refuse

if TYPE_CHECKING:
    from handouts.workers.cluster import Cluster

Value = TypeVar("Value")
Result = TypeVar("Result")


@dataclass(slots=True)
class Workers:
    """Who does the work.  Within a ``with`` block all maps share one pool, which begins with the first task; else each has its own."""

    jobs: int = 1
    """Processes of this machine; with one the work is done in this process, without bounds."""
    on: str = ""
    """Address of a dask scheduler, as ``tcp://host:8786``; then the cluster does the work."""
    progress: Progress = field(default=SILENT, compare=False, repr=False)
    """Where it is shown how many tasks are done."""
    _held: bool = field(default=False, init=False, compare=False, repr=False)
    _running: Pool | Cluster | None = field(default=None, init=False, compare=False, repr=False)

    def __enter__(self) -> Self:
        self._held = True
        return self

    def __exit__(self, *_: object) -> None:
        running, self._running, self._held = self._running, None, False
        if running is not None:
            running.__exit__()

    def prepare(self, *modules: str) -> None:
        """Import modules for processes of this machine that begin later, while this one goes on; once in a program."""
        if not self.on and self.jobs > 1:
            prepare(modules)

    def map(
        self,
        task: Callable[[Value], Result],
        values: Iterable[Value],
        lost: Callable[[Value, str], Result] | None = None,
        what: str = "working",
    ) -> Iterator[tuple[Value, Result]]:
        """Each value with its result, in the order in which they are done; ``what`` is said of it while it goes on.

        In processes of this machine each task is bounded in time and memory; ``lost`` gives the result of one that
        exceeded them, from why.  Raises ``WorkersError``: without ``lost``, also for such a task.
        """
        waiting = list(values)
        with self.progress.stage(what, len(waiting)) as stage:
            for value, result in self._run(task, waiting, alone=lost is None):
                stage.done()
                if not isinstance(result, LostTask):
                    yield value, result
                elif lost:
                    yield value, lost(value, result.why)
                else:
                    what = f"a part of the work was not done: {result.why}"
                    raise refuse("worker-lost", what, "Run it again with --jobs 1, which names the fault.", self.on)

    def _run(self, task: Callable[[Value], Any], waiting: list[Value], alone: bool) -> Iterator[tuple[Value, Any]]:
        """``alone``: one task needs no process of its own."""
        if not waiting:
            return
        if not self.on and (self.jobs == 1 or (len(waiting) == 1 and alone)):
            yield from ((value, task(value)) for value in waiting)
            return
        with nullcontext() if self._held else self:
            if self._running is None:
                self._running = self._open().__enter__()
            yield from self._running.map(task, waiting)

    def _open(self) -> Pool | Cluster:
        if not self.on:
            return Pool(self.jobs, Bounds())
        from handouts.workers.cluster import Cluster  # named in tests/test_layers.py

        return Cluster(self.on, Bounds())
