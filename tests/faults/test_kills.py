"""Killed at any step, the site is whole, old or new, and the next build is as if nothing had been."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.faults.publishing import SITES, Scenario
from tests.long.kills import kill_all

ROOT = Path(__file__).parents[2]
EVERY = 27
"""In the suite every 27th step is tried; ``tests/long/kills.py`` tries each."""


def test_kills() -> None:
    """Some steps of every scenario, in a process without threads, as it forks."""
    command = [sys.executable, "tests/long/kills.py", str(EVERY), "4"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert int(done.stdout.splitlines()[-1].split()[0]) > 35


def test_a_torn_site_is_seen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The harness itself: files written in place, one after the other, are found torn."""

    def write_in_place(out: Path) -> None:
        for path, data in SITES["new"].items():
            (out / "site" / path).parent.mkdir(parents=True, exist_ok=True)
            (out / "site" / path).write_bytes(data)

    scenario = Scenario(("old",), write_in_place, {"old", "new"}, "old")
    points, wrong = kill_all("in place", scenario, can_exchange=True, every=7, offset=3)
    assert points > 3
    assert wrong == points
    assert "has other bytes than were written" in capsys.readouterr().out
