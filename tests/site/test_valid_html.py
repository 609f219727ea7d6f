"""Every page of a site is valid HTML by an outside validator (the Nu Html Checker)."""

from __future__ import annotations

from pathlib import Path

from tests.site.making import make_site, two_languages, write_site
from tests.site.validator import ask_validator

NO_SCRIPT, DATA = "Inline script violates Content Security Policy", '<script type="application/ld+json">'
"""It takes data for a script; a data block is never run (HTML, 4.12.1), and test_structured.py asks a browser."""


def test_every_page_is_valid(tmp_path: Path) -> None:
    """No error and no warning in the whole folder."""
    write_site({path: data for path, data in make_site(two_languages()).items() if path.endswith(".html")}, tmp_path)
    messages = [each for each in ask_validator(tmp_path) if not (each["message"].startswith(NO_SCRIPT) and DATA in each.get("extract", ""))]
    assert [(each["url"].removeprefix(f"file:{tmp_path}/"), each["message"], each.get("extract")) for each in messages] == []


def test_a_fault_is_seen(tmp_path: Path) -> None:
    """The validator is asked at all: an element that is not closed is told."""
    (tmp_path / "a.html").write_text('<!DOCTYPE html><html lang="en"><title>A</title><p><em>A</p>')
    assert any("em" in each["message"] for each in ask_validator(tmp_path))
