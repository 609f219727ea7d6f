"""Builds with two processes that are killed or stopped: what is told, and that nothing is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

import pytest

from tests.small_library import texts_with
from tests.test_cli import write
from tests.workers.running import HEARS_CONTROL_C, ROOT

pytestmark = pytest.mark.paper
PLAIN = texts_with("clinic.yaml", ("papers: [letter, a4]", "papers: [a4]"), ("type sizes: [standard, large]", "type sizes: [standard]"))
WAIT_SECONDS = 60


def begin(folder: Path) -> subprocess.Popen[str]:
    """A build in a session of its own, with an empty folder for temporary files."""
    write(folder / "lib", PLAIN)
    (folder / "passing").mkdir()
    env = {**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder / "passing")}
    words = ["build", "lib", "--to", "out", "--jobs=2", "--today=2026-11-25", "--quiet"]
    command = [*HEARS_CONTROL_C, "-m", "handouts", *words]
    return subprocess.Popen(command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True)


def processes(session: int) -> dict[int, int]:
    """Each living process of a session with its parent."""
    found = {}
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, parent, _, own = path.read_text(encoding="utf-8").rpartition(")")[2].split()[:4]
        except OSError:
            continue
        if int(own) == session and state not in "ZX":
            found[int(path.parent.name)] = int(parent)
    return found


def wait_for_workers(build: subprocess.Popen[str], folder: Path) -> list[int]:
    """The processes of the pool, once one of them has made a folder for itself."""
    until = time.monotonic() + WAIT_SECONDS
    while not list((folder / "passing").glob("*/*/*/*")):
        assert time.monotonic() < until and build.poll() is None
        time.sleep(0.02)
    known = processes(build.pid)
    return sorted(each for each, parent in known.items() if parent in known and known[parent] == build.pid)


def assert_nothing_is_left(session: int, folder: Path) -> None:
    """No process (the server of processes ends just after who asked it), no temporary file."""
    until = time.monotonic() + WAIT_SECONDS
    while processes(session) or list((folder / "passing").iterdir()):
        assert time.monotonic() < until, (processes(session), list((folder / "passing").rglob("*")))
        time.sleep(0.02)


def test_a_worker_is_killed(tmp_path: Path) -> None:
    """Its work is done by another one; the build succeeds."""
    build = begin(tmp_path)
    os.kill(wait_for_workers(build, tmp_path)[0], signal.SIGKILL)
    out, err = build.communicate(timeout=WAIT_SECONDS)
    assert (build.returncode, err) == (0, "") and " PDFs (" in out
    assert_nothing_is_left(build.pid, tmp_path)


def test_control_c(tmp_path: Path) -> None:
    """One line, status 130, at once."""
    build = begin(tmp_path)
    os.kill(wait_for_workers(build, tmp_path)[0], signal.SIGSTOP)  # so that it cannot be done before
    os.killpg(build.pid, signal.SIGINT)
    out, err = build.communicate(timeout=WAIT_SECONDS)
    assert (build.returncode, out, err) == (130, "", "handouts: stopped by Ctrl+C. Run the same command again.\n")
    assert_nothing_is_left(build.pid, tmp_path)


def test_the_build_is_killed(tmp_path: Path) -> None:
    """Nobody is there to remove what it made but its workers, when they have done what they are at."""
    build = begin(tmp_path)
    wait_for_workers(build, tmp_path)
    build.kill()
    build.communicate(timeout=WAIT_SECONDS)
    assert_nothing_is_left(build.pid, tmp_path)
