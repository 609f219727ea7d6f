"""A round trip through a translation office loses nothing and takes nothing that does not fit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.problems import show_problem
from handouts.words import catalogue as catalogue_room
from handouts.words import xliff
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


def test_obsolete_messages_do_not_travel() -> None:
    """What no text needs any more is not sent, and stays as it is."""
    gone = Entry("a/title", "Old", ("Viejo",), obsolete=True)
    catalogue = Catalogue("es", "es.po", (gone,))
    data = write_xliff(catalogue, "en")
    assert b"Old" not in data
    assert read_xliff(data, "es.xlf", catalogue) == (catalogue, [])


def test_space_between_segments_stays() -> None:
    """A tool that splits a text keeps the space between its parts in an 'ignorable' without a target."""
    catalogue = Catalogue("es", "es.po", (Entry("a/title", "One. Two.", ("",)),))
    text = write_xliff(catalogue, "en").decode()
    begin, end = text.index("<segment"), text.index("</segment>") + len("</segment>")
    split = "<segment state='final'><source>One.</source><target>Uno.</target></segment><ignorable><source> </source></ignorable><segment state='final'><source>Two.</source><target>Dos.</target></segment>"
    back, problems = read_xliff((text[:begin] + split + text[end:]).encode(), "es.xlf", catalogue)
    assert problems == []
    assert back.entries[0].text == "Uno. Dos."


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"<a>\n<b>&#x202e;</a>", "es.xlf:2:14: error: this is not well-formed XML. Export it again from the translation tool. [xliff-syntax]"),
        ("<?xml version='1.0' encoding='UTF-16'?><!DOCTYPE a><a/>".encode("utf-16"), "es.xlf:1:1: error: byte 0xff is not UTF-8 text. Save the file as UTF-8. [not-utf-8]"),
        (b"<a>\x07</a>", "es.xlf:1:4: error: the character U+0007 cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"),
        (b"<!DOCTYPE a><a/>", "es.xlf:1:1: error: the file declares a document type. Use the XLIFF file as it was exported. [xliff-refused]"),
    ],
)  # fmt: skip
def test_hostile_files(data: bytes, message: str) -> None:
    """The whole message; nothing is taken."""
    catalogue = Catalogue("es", "es.po", (Entry("a/title", "One", ("",)),))
    back, problems = read_xliff(data, "es.xlf", catalogue)
    assert back == catalogue
    assert [show_problem(problem) for problem in problems] == [message]


def test_characters_that_an_entity_makes() -> None:
    """Refused though the file itself is clean; once, however often."""
    catalogue = Catalogue("es", "es.po", (Entry("a/title", "One", ("Uno",)),))
    data = write_xliff(catalogue, "en").replace(b"Uno", b"&#x202e;U&#x202e;no")
    back, problems = read_xliff(data, "es.xlf", catalogue)
    assert back == catalogue
    assert [show_problem(problem) for problem in problems] == [
        "es.xlf:1:1: error: the character U+202E cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"
    ]


def test_files_that_are_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Catalogue and XLIFF: the limit is said."""
    monkeypatch.setattr(xliff, "MAX_BYTES", 1024 * 1024)
    monkeypatch.setattr(catalogue_room, "MAX_BYTES", 1024 * 1024)
    long = b" " * (1024 * 1024 + 1)
    empty = Catalogue("es", "es.po")
    assert [show_problem(problem) for problem in read_xliff(long, "es.xlf", empty)[1]] == ["es.xlf:1:1: error: this file is larger than 1 MiB. Send a language in parts. [too-long]"]
    assert [show_problem(problem) for problem in catalogue_room.read_catalogue(long, "es.po", "es")[1]] == ["es.po:1:1: error: this catalogue is larger than 1 MiB. Split the library. [too-long]"]
