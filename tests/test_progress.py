"""How far a command is: a bar on a terminal, a line now and then elsewhere, nothing where quiet is asked or the wait is short."""

from __future__ import annotations

import io
import os
import pty
import re
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from handouts.cli import main
from handouts.tasks import progress as module
from handouts.tasks.progress import Progress, Stage, say_seconds
from handouts.workers import Workers
from tests.small_library import texts_with
from tests.test_cli import TODAY, write

ROOT = Path(__file__).parents[1]
PLAIN = texts_with("clinic.yaml", ("papers: [letter, a4]", "papers: [a4]"), ("type sizes: [standard, large]", "type sizes: [standard]"))


@pytest.fixture
def fast(monkeypatch: pytest.MonkeyPatch) -> None:
    """The waits of a test are short."""
    for name, seconds in (("SILENT_SECONDS", 0.05), ("TICK_SECONDS", 0.01), ("LINE_SECONDS", 0.05)):
        monkeypatch.setattr(module, name, seconds)


class Clock:
    """A time that passes only when it is told to, so that no busy machine makes it longer."""

    def __init__(self) -> None:
        self.now = 0.0

    def monotonic(self) -> float:
        """Seconds."""
        return self.now


@pytest.fixture
def clock(fast: None, monkeypatch: pytest.MonkeyPatch) -> Clock:
    """What is shown follows this clock, and only when asked for."""
    found = Clock()
    monkeypatch.setattr(module, "time", found)
    monkeypatch.setattr(module, "TICK_SECONDS", 3600.0)
    return found


class Terminal(io.StringIO):
    """What is written to a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def work(progress: Progress, clock: Clock, seconds: float = 0.4) -> None:
    """A stage of ten parts; four times during each it is looked at whether there is something to show."""
    with progress.stage("laying out sheets", 10) as stage:
        stage.began, stage.line_at, stage.pause = clock.now, module.SILENT_SECONDS, module.LINE_SECONDS
        for _ in range(10):
            for _ in range(4):
                clock.now += seconds / 40
                if progress._shown:
                    progress._show(stage)
            stage.done()


def test_lines_elsewhere(clock: Clock, capsys: pytest.CaptureFixture[str]) -> None:
    """Whole lines with what is done, of how much, and how long it takes; fewer as time goes on."""
    work(Progress(), clock)
    lines = capsys.readouterr().err.splitlines()
    assert 2 <= len(lines) <= 6
    assert re.fullmatch(r"laying out sheets: \d+ of 10, about 1 s left", lines[-1])


def test_bar_on_a_terminal(clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    """One line that is written over, and gone at the end."""
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    work(Progress(), clock)
    shown = terminal.getvalue().split("\r")
    assert re.fullmatch(r"laying out sheets \[#+-+\] [1-9] of 10, about 1 s left *", shown[len(shown) // 2])
    assert "\n" not in terminal.getvalue()
    assert shown[-1] == "" and shown[-2].strip() == "" and len(shown[-2]) >= len(shown[-3].rstrip())


@pytest.mark.parametrize("quiet", [True, False])
def test_quiet_is_quiet(quiet: bool, clock: Clock, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing at all where it is asked; nothing for a short wait."""
    monkeypatch.setattr(sys, "stderr", terminal := Terminal())
    work(Progress(quiet), clock, 0.4 if quiet else 0.04)
    Progress(True).tell("a line")
    assert terminal.getvalue() == ""


def test_what_is_within_is_shown(fast: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stage inside another takes its place, and gives it back; all by the clock of the machine."""
    monkeypatch.setattr(sys, "stderr", said := io.StringIO())

    def see(name: str) -> None:
        until = time.monotonic() + 60
        while not said.getvalue().rpartition("\n")[0].rpartition("\n")[2].startswith(f"{name}: "):
            assert time.monotonic() < until, said.getvalue()
            time.sleep(0.01)

    progress = Progress()
    with progress.stage("outer") as outer:
        outer.line_at = outer.pause = 0.05
        with progress.stage("inner") as inner:
            inner.line_at = inner.pause = 0.05
            see("inner")
        see("outer")


def test_time_left_follows_what_is_done_now() -> None:
    """What was kept from before counts no longer once the slow part has begun: 300 at once, then one a second."""
    stage = Stage("sheets", 400)
    stage.past.extend([(30.0, 310), (50.0, 330)])
    stage.count = 330
    assert stage.say(bar=False) == "sheets: 330 of 400, about 1 min left"
    assert Stage("reading").say(bar=True) == "reading: 1 s so far"


@pytest.mark.parametrize(("seconds", "said"), [(0, "1 s"), (59.4, "59 s"), (90, "2 min"), (3540, "59 min"), (5400, "1.5 h")])
def test_lengths_of_time(seconds: float, said: str) -> None:
    """As exactly as anyone wants to know."""
    assert say_seconds(seconds) == said


def _slow(number: int) -> int:
    time.sleep(0.05)
    return number


def test_workers_tell(fast: None, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Each task that is done counts."""
    seen: list[tuple[int, int]] = []
    real = Stage.done

    def done(self: Stage, count: int = 1) -> None:
        real(self, count)
        seen.append((self.count, self.of))

    monkeypatch.setattr(Stage, "done", done)
    assert [result for _, result in Workers(1, progress=Progress()).map(_slow, range(4), what="waiting")] == [0, 1, 2, 3]
    assert seen == [(1, 4), (2, 4), (3, 4), (4, 4)]


def test_build_says_how_far_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Every part of a build that takes its time is named, with its count; and how to look at the pages meanwhile."""
    from handouts.commands import making

    seen: list[Stage] = []
    real = Progress.stage

    def stage(self: Progress, *given: Any, **more: Any) -> Any:
        block = real(self, *given, **more)
        seen.append(given)  # type: ignore[arg-type]
        return block

    monkeypatch.setattr(Progress, "stage", stage)
    monkeypatch.setattr(making, "WAIT_SECONDS", 0.0)
    library = write(tmp_path / "lib", PLAIN)
    assert main(["build", str(library), "--to", str(tmp_path / "out"), TODAY]) == 0
    names = [given[0] for given in seen]
    for what in ("reading, checking and translating", "drawing figures", "making pages", "laying out sheets", "publishing"):
        assert what in names
    assert f"The pages are made. To look at them meanwhile: handouts preview {library}\n" in capsys.readouterr().err
    (tmp_path / "lib/exercises/foot-lift.md").write_text((tmp_path / "lib/exercises/foot-lift.md").read_text().replace("Sit tall.", "Sit very tall."))
    assert main(["build", str(library), "--to", str(tmp_path / "out"), "--quiet", TODAY]) == 0
    assert "The pages are made" not in capsys.readouterr().err


FAKE = """#!/bin/sh
case "$*" in
    *pip*) echo "Collecting one==1"; echo "Collecting two==1"
           tries=0; until [ -e seen ] || [ "$tries" -gt 1200 ]; do sleep 0.1; tries=$((tries + 1)); done
           echo "Collecting three==1"
           echo "WARNING: running pip as the root user" >&2; exit STATUS ;;
    *) echo "ran: $*" ;;
esac
"""
SHOWN = r"Installing Python packages: 2 of 3 \(two\), about \d+ s left"
"""What is to be seen before the installation goes on."""


def a_checkout(folder: Path, status: int = 0, *, waits: bool = False) -> Path:
    """``run`` in a folder of its own, with a Python that only pretends to install three packages; ``waits`` for a file ``seen``."""
    folder.mkdir()
    (folder / "run").write_text((ROOT / "run").read_text())
    (folder / "requirements.lock").write_text("".join(f"{name}==1 \\\n    --hash=sha256:0\n" for name in ("one", "two", "three")))
    python = folder / ".venv/bin/python"
    python.parent.mkdir(parents=True)
    python.write_text(FAKE.replace("STATUS", str(status)))
    python.chmod(0o755)
    if not waits:
        (folder / "seen").touch()
    return folder


def test_run_says_what_it_installs(tmp_path: Path) -> None:
    """Which package, how many of how many; pip's warnings are not shown where all went well."""
    folder, until = a_checkout(tmp_path / "a", waits=True), time.monotonic() + 60
    with (tmp_path / "said").open("wb") as said, subprocess.Popen(["sh", "run", "site"], cwd=folder, stdout=subprocess.PIPE, stderr=said) as run:
        while not re.search(f"^{SHOWN}$", (tmp_path / "said").read_text(), re.MULTILINE):
            assert time.monotonic() < until, (tmp_path / "said").read_text()
            time.sleep(0.1)
        (folder / "seen").touch()
        out, _ = run.communicate(timeout=60)
    assert run.returncode == 0 and b"ran: -m handouts build content" in out
    assert "WARNING" not in (tmp_path / "said").read_text()


APT = """#!/bin/sh
wait_for() { tries=0; until [ -e "$1" ] || [ "$tries" -gt 1200 ]; do sleep 0.1; tries=$((tries + 1)); done; }
case "$*" in
    "install -s "*) echo "Inst one (1)"; echo "Inst two (1)" ;;
    *--download-only*) echo "Get:1 http://host/debian bookworm/main amd64 one amd64 1 [9 B]"; wait_for fetched
                       echo "Get:2 http://host/debian bookworm/main amd64 two amd64 1 [9 B]" ;;
    *install*) echo "Unpacking one (1) ..."; echo "Unpacking two (1) ..."; echo "Setting up one (1) ..."; wait_for installed
               echo "Setting up two (1) ..." ;;
esac
"""


def test_run_says_what_it_fetches_and_installs_of_the_system(tmp_path: Path) -> None:
    """Each package as it comes, and again as it is unpacked and set up: no part of a long wait stands at nought."""
    folder, tools = a_checkout(tmp_path / "a"), tmp_path / "tools"
    tools.mkdir()
    for name, text in (("apt-get", APT), ("id", "#!/bin/sh\necho 0\n"), ("ldconfig", "#!/bin/sh\n")):
        (tools / name).write_text(text)
        (tools / name).chmod(0o755)
    env = {**os.environ, "PATH": f"{tools}:{os.environ['PATH']}"}
    with (tmp_path / "said").open("wb") as said, subprocess.Popen(["sh", "run", "site"], cwd=folder, env=env, stdout=subprocess.PIPE, stderr=said) as run:
        for line, mark in (("Fetching system packages: 1 of 2 (one)", "fetched"), ("Installing system packages, in two steps each: 3 of 4 (one)", "installed")):
            until = time.monotonic() + 60
            while line not in (tmp_path / "said").read_text():
                assert time.monotonic() < until, (tmp_path / "said").read_text()
                time.sleep(0.1)
            (folder / mark).touch()
        out, _ = run.communicate(timeout=60)
    assert run.returncode == 0 and b"ran: -m handouts build content" in out


TOGETHER = """#!/bin/sh
wait_for() { tries=0; until [ -e "$1" ]; do sleep 0.1; tries=$((tries + 1)); [ "$tries" -lt 300 ] || exit 9; done; }
case "$0 $*" in
    *apt-get*update*) echo read >> lists ;;
    *apt-get*"install -s "*) echo "Inst one (1)" ;;
    *apt-get*--download-only*libatomic1*) touch system-began; wait_for python-began ;;
    *python*pip*) touch python-began; wait_for system-began; wait_for node-began ;;
    */npm*) mkdir -p tests/node/node_modules; touch node-began ;;
    *"-m pytest"*) echo "ran: $*" ;;
esac
"""
"""Packages of the system, of Node, and pip: pip ends only when the others have begun, and those of the system only when it has."""


def test_run_installs_all_kinds_of_packages_at_once(tmp_path: Path) -> None:
    """As root, for the tests: neither waits for the end of the other, and the lists are read once."""
    folder, tools = a_checkout(tmp_path / "a"), tmp_path / "tools"
    (folder / "requirements-dev.lock").write_text("one==1\n")
    (folder / "tests/node").mkdir(parents=True)
    (folder / "tests/node/package-lock.json").touch()
    tools.mkdir()
    for path, text in ((folder / ".venv/bin/python", TOGETHER), *((tools / name, TOGETHER) for name in ("apt-get", "npm", "dpkg-deb")),
                       (tools / "id", "#!/bin/sh\necho 0\n"), (tools / "ldconfig", "#!/bin/sh\n")):  # fmt: skip
        path.write_text(text)
        path.chmod(0o755)
    env = {**os.environ, "PATH": f"{tools}:{os.environ['PATH']}"}
    done = subprocess.run(["sh", "run", "tests", "-k", "one"], cwd=folder, env=env, capture_output=True, text=True, check=False, timeout=120)
    assert (done.returncode, done.stdout) == (0, "ran: -m pytest --numprocesses auto --dist worksteal -k one\n"), done.stderr
    assert (folder / "lists").read_text() == "read\n"


def test_run_shows_all_where_it_fails(tmp_path: Path) -> None:
    """Then everything that pip said, and its status; nothing counts as installed."""
    folder = a_checkout(tmp_path / "a", 3)
    done = subprocess.run(["sh", "run", "site"], cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 3
    assert "WARNING: running pip as the root user" in done.stderr and "Collecting two==1" in done.stderr
    assert not list((folder / ".venv").glob("*.sum"))


def test_run_is_quiet(tmp_path: Path) -> None:
    """With ``--quiet`` nothing but the command's own words."""
    done = subprocess.run(["sh", "run", "build", "--quiet"], cwd=a_checkout(tmp_path / "a"), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr, done.stdout) == (0, "", "ran: -m handouts build --quiet\n")


def test_run_on_a_terminal(tmp_path: Path) -> None:
    """One line that is written over and then gone."""
    folder, until, shown = a_checkout(tmp_path / "a", waits=True), time.monotonic() + 60, ""
    leader, follower = pty.openpty()
    with subprocess.Popen(["sh", "run", "site"], cwd=folder, stdout=subprocess.DEVNULL, stderr=follower) as run:
        os.close(follower)
        while not re.search(rf"\r{SHOWN}", shown):
            assert time.monotonic() < until, shown
            shown += os.read(leader, 65536).decode()
        (folder / "seen").touch()
        with suppress(OSError):  # the other side is closed at the end
            while more := os.read(leader, 65536).decode():
                shown += more
        assert run.wait(timeout=60) == 0
    os.close(leader)
    assert shown.endswith("\r\x1b[K") and "\n" not in shown.strip("\r\n\x1b[K")
