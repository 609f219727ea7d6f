"""The clinician's pages are valid HTML by an outside validator (the Nu Html Checker)."""

from __future__ import annotations

from pathlib import Path

from tests.clinician.making import the_site
from tests.site.making import write_site
from tests.site.validator import ask_validator

UNNAMED = "Section lacks heading."
"""The validator advises a heading in every section; the dose of a sheet is read from its numerals."""

GUESSED = "This document appears to be written in English"
"""The validator guesses at the language; the small library's Spanish pages say all but the interface in English."""


def test_bundle_page_and_sheets_are_valid(tmp_path: Path) -> None:
    """No error and no other warning in the bundle pages and the sheets of both languages and type sizes."""
    write_site({path: data for path, data in the_site().items() if "/bundle/" in path or "/sheets/" in path}, tmp_path)
    assert len(list(tmp_path.rglob("*.html"))) == 6
    messages = [(each["url"], each["message"]) for each in ask_validator(tmp_path)]
    guessed = [(url, message) for url, message in messages if "/es/" in url and message.startswith(GUESSED)]
    assert [each for each in messages if each not in guessed and not each[1].startswith(UNNAMED)] == []
