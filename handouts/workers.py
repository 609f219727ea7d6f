"""Where heavy work is done: in this process, in processes of this machine, or on a dask cluster; always the same work.

Tasks are functions of the package with values that can be sent to another process.  Knows no figure and no sheet.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future, as_completed
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, TypeVar

from handouts.assets import read_templates
from handouts.cache import key_of
from handouts.pool import Bounds, Lost, map_bounded
from handouts.problems import Place, Problem
from handouts.program import program_digest
from handouts.progress import SILENT, Progress

WAIT_SECONDS = 15
"""How long a scheduler may take to answer."""
Value = TypeVar("Value")
Result = TypeVar("Result")


class WorkersError(Exception):
    """The workers cannot be reached or cannot do the work; ``problem`` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Workers:
    """Who does the work of a build."""

    jobs: int = 1
    """Processes of this machine; with one the work is done in this process, without bounds."""
    on: str = ""
    """Address of a dask scheduler, as ``tcp://host:8786``; then the cluster does the work."""
    progress: Progress = field(default=SILENT, compare=False, repr=False)
    """Where it is shown how many tasks are done."""

    def map(
        self,
        task: Callable[[Value], Result],
        values: Iterable[Value],
        lost: Callable[[Value, str], Result] | None = None,
        what: str = "working",
    ) -> Iterator[tuple[Value, Result]]:
        """Each value with its result, as ``_map`` gives them; ``what`` is said of it while it goes on."""
        waiting = list(values)
        with self.progress.stage(what, len(waiting)) as stage:
            for pair in self._map(task, waiting, lost):
                stage.done()
                yield pair

    def _map(
        self,
        task: Callable[[Value], Result],
        waiting: list[Value],
        lost: Callable[[Value, str], Result] | None,
    ) -> Iterator[tuple[Value, Result]]:
        """Each value with its result, in the order in which they are done.

        In processes of this machine each task is bounded in time and memory; ``lost`` gives the result of one that
        exceeded them, from why.  Raises ``WorkersError``: without ``lost``, also for such a task.
        """
        if self.on and waiting:
            with open_cluster(self.on) as pool:
                running: dict[Future[Result], Value] = {pool.submit(task, value): value for value in waiting}
                for future in as_completed(running):
                    yield running.pop(future), future.result()
        elif self.jobs == 1 or (len(waiting) < 2 and lost is None):
            yield from ((value, task(value)) for value in waiting)
        else:
            for value, result in map_bounded(task, waiting, self.jobs, Bounds()):
                if not isinstance(result, Lost):
                    yield value, result
                elif lost:
                    yield value, lost(value, result.why)
                else:
                    what = f"a part of the work was not done: {result.why}"
                    mend = "Run it again with --jobs 1, which names the fault."
                    raise WorkersError(Problem(Place(""), "worker-lost", what, mend))


@contextmanager
def open_cluster(address: str) -> Iterator[Executor]:
    """The workers of a dask scheduler as an executor, all of the same program as this one.  Raises ``WorkersError``."""
    try:
        import distributed  # an extra; named in tests/test_layers.py
    except ImportError as error:
        what = "'--on' needs the extra 'cluster', which is not installed"
        raise _refusal(address, "no-cluster", what, "Install it: pip install 'handouts[cluster]'.") from error
    connect: Any = distributed.Client
    try:
        client = connect(address, timeout=WAIT_SECONDS)
    except (OSError, ValueError) as error:
        what = f"no scheduler answers at '{address}'"
        mend = "Start one with 'dask scheduler', and give the address that it prints."
        raise _refusal(address, "no-scheduler", what, mend) from error
    with client:
        _check_workers(client, address)
        yield client.get_executor()


def what_works() -> str:
    """The digest of the program and its templates, here or on a worker."""
    templates = (part for pair in sorted(read_templates().items()) for part in pair)
    return key_of(program_digest(), *templates)


def _check_workers(client: Any, address: str) -> None:
    workers = client.scheduler_info(n_workers=-1)["workers"]
    if not workers:
        what, mend = "the scheduler has no workers", f"Start some: dask worker {address} --nthreads 1."
        raise _refusal(address, "no-workers", what, mend)
    if any(worker["nthreads"] != 1 for worker in workers.values()):
        what = "a worker does several things at a time, and the PDF writer cannot"
        raise _refusal(address, "worker-threads", what, "Start each worker with '--nthreads 1'.")
    strangers = [name for name, found in client.run(what_works).items() if found != what_works()]
    if strangers:
        what = f"the worker '{sorted(strangers)[0]}' has another version of this program"
        raise _refusal(address, "worker-version", what, "Install the same version on every machine.")


def _refusal(address: str, rule: str, what: str, mend: str) -> WorkersError:
    return WorkersError(Problem(Place(address), rule, what, mend))
