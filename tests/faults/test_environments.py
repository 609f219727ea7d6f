"""The same bytes in other surroundings; ``build --verify`` (tests/test_verifying.py) changes five more at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.long import environments
from tests.long.environments import SURROUNDINGS, Run, compare


def test_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight surroundings in one build; ``tests/long/environments.py`` tries each, and sheets."""
    names = ("language of the machine", "folder it is started in", "rights of new files", "no home", "order of files", "two workers", "date of sources")

    def all_at_once(run: Run, scratch: Path) -> Run:
        for name in (*names, "clock"):
            run = SURROUNDINGS[name](run, scratch)
        return run

    monkeypatch.setattr(environments, "SURROUNDINGS", {"all at once": all_at_once})
    count, wrong = compare(["all at once"], paper=False)
    assert wrong == []
    assert count > 40


def test_a_difference_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """The harness itself: a library that says something else gives another site."""

    def edit(run: Run, scratch: Path) -> Run:
        moved = environments.copied(run, scratch / "edited")
        path = moved.library / "clinic.yaml"
        path.write_text(path.read_text(encoding="utf-8").replace("555-0100", "555-0199"), encoding="utf-8")
        return moved

    monkeypatch.setattr(environments, "SURROUNDINGS", {"edited": edit})
    _, wrong = compare(["edited"], paper=False)
    assert len(wrong) == 1 and wrong[0].startswith("edited: differs: ")
