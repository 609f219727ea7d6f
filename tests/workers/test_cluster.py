"""Work done here, by processes of this machine and by a cluster gives the same; what is wrong with a cluster is said."""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from handouts.cli import main
from handouts.publishing.manifest import MANIFEST
from handouts.workers import Bounds, Workers, WorkersError
from handouts.workers import cluster as room
from handouts.workers.cluster import Cluster
from tests.small_library import texts_with
from tests.test_cli import write
from tests.workers.running import free_address, kill, start_cluster
from tests.workers.sleeping import nap

pytestmark = pytest.mark.filterwarnings("ignore")
"""The cluster's own warnings are not ours."""
PLAIN = texts_with("clinic.yaml", ("papers: [letter, a4]", "papers: [a4]"), ("type sizes: [standard, large]", "type sizes: [standard]"))


@pytest.fixture(scope="module")
def cluster() -> Iterator[str]:
    """The address of a scheduler with two worker processes."""
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1") as running:  # type: ignore[no-untyped-call]
        yield running.scheduler_address


def build(folder: Path, out: str, *options: str) -> int:
    """Build the library of a folder, sheets and all."""
    return main(["build", str(folder / "lib"), "--to", str(folder / out), "--today=2026-11-25", "--quiet", *options])


def test_same_bytes_on_a_cluster(
    tmp_path: Path, cluster: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Figures, pictures and PDFs that two workers of a cluster made are those that this process makes."""
    write(tmp_path / "lib", PLAIN)
    opened: list[str] = []
    monkeypatch.setattr(room, "Cluster", lambda address, bounds: opened.append(address) or Cluster(address, bounds))
    assert build(tmp_path, "here", "--jobs=1") == 0
    assert build(tmp_path, "there", f"--on={cluster}") == 0
    assert " PDFs (" in capsys.readouterr().out
    here, there = ((tmp_path / name / "site" / MANIFEST).read_bytes() for name in ("here", "there"))
    assert b".pdf" in here and here == there
    assert opened == [cluster]  # once for all figures, pictures and PDFs


def test_every_value_has_its_result(cluster: str) -> None:
    """In one process, in two, and on a cluster."""
    for who in (Workers(), Workers(2), Workers(on=cluster)):
        assert dict(who.map(abs, [-1, 2, -3])) == {-1: 1, 2: 2, -3: 3}
        assert list(who.map(abs, [])) == []


def refused(address: str) -> str:
    """What is said where a cluster cannot do the work."""
    with pytest.raises(WorkersError) as caught:
        list(Workers(on=address).map(abs, [1]))
    return f"{caught.value.problem.what}. {caught.value.problem.mend}"


def test_other_version(cluster: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A worker with another program would make other bytes."""
    monkeypatch.setattr(room, "digest_code", lambda module: b"other")
    assert refused(cluster).endswith(f"has another version of this program or of what it needs. {room.SAME}")


def test_worker_with_threads() -> None:
    """A worker that does several things at a time is refused, and so is a scheduler without workers."""
    for number, said in ((1, "does several things at a time, and the PDF writer cannot. Start each"), (0, "has no workers. Start some: dask worker tcp://")):
        with LocalCluster(n_workers=number, threads_per_worker=2, dashboard_address=None, protocol="tcp://", processes=False) as running:  # type: ignore[no-untyped-call]
            assert said in refused(running.scheduler_address)


def test_worker_without_the_program() -> None:
    """It is named with what it lacks before it is given a task, which would end it."""
    with start_cluster() as cluster:
        cluster.add_worker(root=None)
        told = refused(cluster.address)
    assert told.endswith(f"cannot load this program: ModuleNotFoundError(\"No module named 'handouts'\"). {room.SAME}")


def test_gone_in_mid_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Workers that are killed, a scheduler that hangs, and one that is killed: what was done by then is there; the rest is waited for a bounded time."""
    monkeypatch.setattr(room, "WAIT_SECONDS", 1.5)
    monkeypatch.setattr(room, "LOOK_SECONDS", 0.2)
    with start_cluster() as cluster:
        silent = "does not answer any more"
        faults = (
            (cluster.kill_workers, "has no worker left. Start workers"),
            (lambda: os.kill(cluster.scheduler.pid, signal.SIGSTOP), f"{silent}. Start it"),
            (lambda: kill(cluster.scheduler), f"{silent}. Start it"),
        )
        for fault, told in faults:
            if not cluster.workers:
                cluster.add_worker("--nthreads", "1", "--no-nanny")
            with Workers(on=cluster.address) as held:
                results = held.map(nap, [0.1] * 50)
                assert next(results)[1] != os.getpid()
                fault()
                with pytest.raises(WorkersError) as caught:
                    list(results)
                if cluster.scheduler.poll() is not None:
                    time.sleep(2 * room.WAIT_SECONDS)  # by then the connection is given up
                    with pytest.raises(WorkersError, match=silent):
                        list(held.map(nap, [0.1]))
                else:
                    os.kill(cluster.scheduler.pid, signal.SIGCONT)
            said = f"{caught.value.problem.what}. {caught.value.problem.mend}"
            assert said == f"the scheduler at '{cluster.address}' {told} again and run the same command: what was done is kept."


def test_task_without_end(cluster: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is done for too long, that is said."""
    monkeypatch.setattr(room, "LOOK_SECONDS", 0.1)
    monkeypatch.setattr("handouts.workers.workers.Bounds", lambda: Bounds(wall_seconds=1.0))
    with pytest.raises(WorkersError, match="no task was done in 1 seconds"):
        list(Workers(on=cluster).map(nap, [3.0]))


def test_task_that_ends_workers(cluster: str) -> None:
    """A task of which workers die is given up, and the others are done."""
    found = dict(Workers(on=cluster).map(nap, ["die", 0.1, 0.2], lost=lambda value, why: why))
    assert found.pop("die") == "4 workers died of it" and len(found) == 2


def test_no_scheduler(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing answers at the address: status 2 and a mend."""
    monkeypatch.setattr(room, "WAIT_SECONDS", 1)
    write(tmp_path / "lib", PLAIN)
    address = free_address()
    assert build(tmp_path, "out", f"--on={address}") == 2
    told = capsys.readouterr().err
    assert told == f"handouts: no scheduler answers at '{address}'. Start one with 'dask scheduler', and give the address that it prints.\n"


def test_without_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the extra its name is said."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert refused("tcp://x:1") == "'--on' needs the extra 'cluster', which is not installed. Install it: pip install 'handouts[cluster]'."
