"""A library in git: what start writes, and a sample of ``python tests/long/merges.py``: two authors on branches, merged at random."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.ledger.entries import Ledger
from handouts.ledger.read import read_ledger
from handouts.ledger.write import write_ledger
from tests.git.merging import TwoAuthors
from tests.ledger.test_ledger import the_ledger
from tests.small_library import TEXTS

with_git = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")


def test_start_in_a_repository(tmp_path: Path) -> None:
    """The history of an empty folder is no content; attributes and what is ignored stand beside the library."""
    (tmp_path / "ours/.git").mkdir(parents=True)
    assert main(["start", str(tmp_path / "ours")]) == 0
    assert "ledger.yaml merge=union" in (tmp_path / "ours/.gitattributes").read_text()
    assert "/build/" in (tmp_path / "ours/.gitignore").read_text()
    assert main(["check", str(tmp_path / "ours"), "--today=2026-11-25"]) == 0


def test_no_line_of_the_ledger_stands_in_two_entries() -> None:
    """A line that is common to two entries would be taken out of one of them where git keeps the lines of both sides."""
    lines = [line for line in write_ledger(the_ledger()).decode().splitlines() if line.startswith("  ")]
    assert len(lines) == len(set(lines)) > 12
    codes = [line.split('"')[1] for line in lines if line.startswith("  - code")]
    assert codes == sorted(codes)


def test_a_doubled_line_of_a_version_counts_once() -> None:
    """The same line from both sides."""
    lines = write_ledger(the_ledger()).decode().splitlines(keepends=True)
    doubled = "".join(line * (2 if "- {version:" in line else 1) for line in lines)
    ledger, problems = read_ledger(doubled.encode(), "ledger.yaml")
    assert problems == [] and isinstance(ledger, Ledger)
    assert ledger == the_ledger()


@with_git
def test_two_authors(tmp_path: Path) -> None:
    """Ten steps each with two seeds."""
    for seed in (1, 2):
        work = TwoAuthors(tmp_path / f"lib{seed}", random.Random(seed))
        work.begin(dict(TEXTS))
        work.run(8)
        assert work.counts["merges that stay"] >= 1, work.counts
