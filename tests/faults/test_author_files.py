"""Commands that write files of authors, killed, without room, and at once: a part of the long run."""

from __future__ import annotations

import random
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from handouts.publishing.author_files import Change, HeldLibrary, as_file_problem
from tests.long.author_files import a_room, errors

ROOT = Path(__file__).parents[2]
COUNT = 20
"""Of each kind; ``tests/long/author_files.py`` tries 1,000."""


def test_disturbed() -> None:
    """Kills, errors, commands ten at a time, in a process without threads, as it forks."""
    command = [sys.executable, "tests/long/author_files.py", str(COUNT)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert [line.partition(",")[0] for line in done.stdout.splitlines()] == [
        f"{COUNT} kills: 0 wrong", f"{COUNT} errors of the disk: 0 wrong", f"{COUNT} commands at once: 0 wrong",
    ]  # fmt: skip


def test_a_torn_file_is_seen(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The harness itself: a file that is written in place is found torn."""

    def in_place(self: HeldLibrary, changes: Mapping[str, Change]) -> None:
        for path, change in changes.items():
            with as_file_problem(self.root / path):
                data = change(self.read(path))
                (self.root / path).write_bytes(data)

    monkeypatch.setattr(HeldLibrary, "_write", in_place)
    with a_room() as room:
        _, wrong = errors(room, 20, random.Random(1))
    assert wrong > 5
    assert "is neither old nor new" in capsys.readouterr().out
