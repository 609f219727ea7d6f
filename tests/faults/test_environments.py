"""The same bytes in other surroundings; ``build --verify`` (tests/test_verifying.py) changes five more at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.long import environments
from tests.long.environments import SURROUNDINGS, Run, compare


def test_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight surroundings in one build; ``tests/long/environments.py`` tries each, and sheets.

    A library that says something else gives another site, so a difference would be seen.
    """
    names = ("language of the machine", "folder it is started in", "rights of new files", "no home", "order of files", "two workers", "date of sources")

    def all_at_once(run: Run, scratch: Path) -> Run:
        for name in (*names, "clock"):
            run = SURROUNDINGS[name](run, scratch)
        return run

    def edit(run: Run, scratch: Path) -> Run:
        moved = environments.copied(run, scratch / "edited")
        path = moved.library / "clinic.yaml"
        path.write_text(path.read_text(encoding="utf-8").replace("555-0100", "555-0199"), encoding="utf-8")
        return moved

    monkeypatch.setattr(environments, "SURROUNDINGS", {**SURROUNDINGS, "all at once": all_at_once, "edited": edit})
    count, wrong = compare(["all at once", "edited"], paper=False)
    assert [each.partition(": ")[0] for each in wrong] == ["edited"] and wrong[0].startswith("edited: differs: ")
    assert count > 40
