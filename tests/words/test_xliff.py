"""A round trip through a translation office loses nothing and takes nothing that does not fit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.words.catalogue import Catalogue, Entry
from handouts.words.xliff import read_xliff, write_xliff
from tests.small_library import small_library
from tests.words.sample import change, translated, untranslated
from tests.words.test_catalogue import ENTRIES


@settings(deadline=None)
@given(st.lists(ENTRIES, unique_by=lambda entry: entry.key, max_size=6))
def test_round_trip(entries: list[Entry]) -> None:
    """Texts that go out translated come back into an empty catalogue as they were, finished or not."""
    catalogue = Catalogue("es", "es.po", tuple(entries))
    empty = change(catalogue, lambda entry: replace(entry, forms=("",), fuzzy=False))
    back, problems = read_xliff(write_xliff(catalogue, "en"), "es.xlf", empty)
    assert problems == []
    for entry, old in zip(back.entries, entries, strict=True):
        assert (entry.key, entry.forms) == (old.key, old.forms)
        assert entry.usable == old.usable


def test_unchanged_file_changes_nothing() -> None:
    """Exported and taken back as it is: the same catalogue, fuzzy marks and former sources included."""
    catalogue = change(translated(small_library()), lambda entry: replace(entry, fuzzy=len(entry.source) % 2 == 0, previous="x" if len(entry.source) % 2 == 0 else ""))
    assert read_xliff(write_xliff(catalogue, "en"), "es.xlf", catalogue) == (catalogue, [])


def test_plural_forms() -> None:
    """Each form of a count is a unit of its own."""
    entry = Entry("dose.sets", "{n} set", ("una", "{n} de", "{n}"), source_plural="{n} sets")
    catalogue = Catalogue("es", "es.po", (entry,))
    empty = Catalogue("es", "es.po", (replace(entry, forms=("", "", "")),))
    assert read_xliff(write_xliff(catalogue, "en"), "es.xlf", empty) == (catalogue, [])


def rules_of(data: bytes) -> list[str]:
    """The problems with a file that comes back, and that nothing was taken."""
    catalogue = untranslated(small_library())
    back, problems = read_xliff(data, "es.xlf", catalogue)
    assert back == catalogue
    return [f"{problem.rule}:{problem.place.line}" for problem in problems]


@pytest.mark.parametrize(
    ("old", "new", "rules"),
    [
        ('trgLang="es"', 'trgLang="fr"', ["xliff-language:1"]),
        ('version="2.0"', 'version="1.2"', ["xliff-version:1"]),
        ("</xliff>", "", ["xliff-syntax:"]),
        ("<xliff", '<!DOCTYPE x [<!ENTITY a "b">]><xliff', ["xliff-refused:1"]),
        (">Foot lift</source>", ">Foot rise</source><target>Otro</target>", ["xliff-source:1"]),
    ],
)
def test_refused_files(old: str, new: str, rules: list[str]) -> None:
    """A file of another language, version or source is not taken."""
    text = write_xliff(untranslated(small_library()), "en").decode()
    assert text.count(old) == 1
    found = rules_of(text.replace(old, new).encode())
    assert [rule[: len(wanted)] for rule, wanted in zip(found, rules, strict=True)] == rules


def test_text_that_is_gone() -> None:
    """A unit whose source has changed meanwhile is named, and the others are taken."""
    catalogue = translated(small_library())
    fewer = replace(catalogue, entries=catalogue.entries[1:])
    back, problems = read_xliff(write_xliff(catalogue, "en"), "es.xlf", fewer)
    assert back == fewer
    assert [problem.what for problem in problems] == [
        f"the text '{catalogue.entries[0].source}' is not in the catalogue (any more)"
    ]
