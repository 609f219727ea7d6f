"""Who does the work of a build: one pool for all its maps within a block, one each outside."""

from __future__ import annotations

import os
from multiprocessing import active_children

import pytest

from handouts.workers import Workers, WorkersError
from tests.workers.sleeping import nap


def pids(workers: Workers) -> set[int]:
    """The processes that did six tasks."""
    return {pid for _, pid in workers.map(nap, [0.1] * 6)}


def test_one_pool_within_a_block() -> None:
    """The same two processes; others before and after; none is left."""
    workers, living = Workers(2), set(active_children())
    before = pids(workers)
    with workers:
        first, second = pids(workers), pids(workers)
    assert set(active_children()) == living
    assert first == second and len(first) == 2
    assert not first & before and not first & pids(workers)
    assert set(active_children()) == living


def test_who_does_it() -> None:
    """With one process it is this one; one task that cannot be lost needs no other; one that can is bounded."""
    assert pids(Workers(1)) == {os.getpid()}
    assert dict(Workers(2).map(nap, [0.0])) == {0.0: os.getpid()}
    assert dict(Workers(2).map(nap, [0.0], lost=lambda *_: 0))[0.0] not in (0, os.getpid())


def test_what_is_lost() -> None:
    """Its result is what is given for it; where nothing is, that is an error with a mend."""
    assert dict(Workers(2).map(nap, ["die"], lost=lambda value, why: len(why)))["die"] > 0
    with pytest.raises(WorkersError) as caught:
        list(Workers(2).map(nap, ["die", 0.0]))
    assert caught.value.problem.what == "a part of the work was not done: its process ended 2 times before it was done (exit code -9)"
    assert caught.value.problem.mend == "Run it again with --jobs 1, which names the fault."
