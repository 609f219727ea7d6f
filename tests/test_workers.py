"""Work done here, by processes of this machine and by a cluster gives the same; what is wrong with a cluster is said."""

from __future__ import annotations

import socket
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from handouts import workers
from handouts.cli import main
from handouts.manifest import MANIFEST
from handouts.workers import Workers, WorkersError
from tests.small_library import texts_with
from tests.test_cli import write

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


def test_same_bytes_on_a_cluster(tmp_path: Path, cluster: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Figures, pictures and PDFs that two workers of a cluster made are those that this process makes."""
    write(tmp_path / "lib", PLAIN)
    assert build(tmp_path, "here", "--jobs=1") == 0
    assert build(tmp_path, "there", f"--on={cluster}") == 0
    assert " PDFs (" in capsys.readouterr().out
    here, there = ((tmp_path / name / "site" / MANIFEST).read_bytes() for name in ("here", "there"))
    assert b".pdf" in here and here == there


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
    monkeypatch.setattr(workers, "program_digest", lambda: "other")
    assert "has another version of this program. Install the same version on every machine." in refused(cluster)


def test_worker_with_threads() -> None:
    """A worker that does several things at a time is refused, and so is a scheduler without workers."""
    for number, said in ((1, "a worker does several things at a time"), (0, "the scheduler has no workers")):
        with LocalCluster(n_workers=number, threads_per_worker=2, dashboard_address=None, protocol="tcp://", processes=False) as running:  # type: ignore[no-untyped-call]
            assert refused(running.scheduler_address).startswith(said)


def test_no_scheduler(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing answers at the address: status 2 and a mend."""
    monkeypatch.setattr(workers, "WAIT_SECONDS", 1)
    write(tmp_path / "lib", PLAIN)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        address = f"tcp://127.0.0.1:{free.getsockname()[1]}"
        assert build(tmp_path, "out", f"--on={address}") == 2
    told = capsys.readouterr().err
    assert f"no scheduler answers at '{address}'. Start one with 'dask scheduler', and give the address that it prints." in told


def test_without_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the extra its name is said."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert refused("tcp://x:1") == "'--on' needs the extra 'cluster', which is not installed. Install it: pip install 'handouts[cluster]'."
