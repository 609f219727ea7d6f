"""A whole build, killed or on a full disk at some of its steps."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
EVERY = 250
"""In the suite a few steps of several hundred are tried; ``tests/long/builds.py`` tries each."""


def test_builds_cut_off() -> None:
    """In a process without threads, as it forks."""
    command = [sys.executable, "tests/long/builds.py", str(EVERY), "31"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert int(done.stdout.split()[5]) >= 4
