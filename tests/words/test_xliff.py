"""A round trip through a translation office loses nothing and takes nothing that does not fit."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.sax.saxutils import escape

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.problems import show_problem
from handouts.words import catalogue as catalogue_room
from handouts.words import xliff
from handouts.words.catalogue import Catalogue, CatalogueMessage
from handouts.words.xliff import ImportCounts, read_xliff, unit_id, write_xliff
from tests.small_library import small_library
from tests.words.sample import change, translated, untranslated
from tests.words.test_catalogue import ENTRIES


def fill(text: str, entry: CatalogueMessage) -> str:
    """An exported file with the translation of a text filled in, finished or not."""
    if entry.obsolete or not entry.text:
        return text
    start = text.index(f'<unit id="{unit_id(entry, 0)}"')
    end = text.index("</unit>", start)
    unit = text[start:end].replace('state="initial"', 'state="translated"' if not entry.fuzzy else 'state="initial"')
    target = f'<target xml:space="preserve">{escape(entry.text)}</target></segment>'
    return text[:start] + unit.replace("</segment>", target) + text[end:]


@settings(deadline=None)
@given(st.lists(ENTRIES, unique_by=lambda entry: entry.key, max_size=6))
def test_round_trip(entries: list[CatalogueMessage]) -> None:
    """Texts that go out translated come back into an empty catalogue as they were, finished or not."""
    catalogue = Catalogue("es", "es.po", tuple(entries))
    empty = change(catalogue, lambda entry: replace(entry, forms=("",), fuzzy=False))
    sent = write_xliff(empty, "en").decode()
    for entry in entries:  # as an office would: the file that was exported, filled in
        sent = fill(sent, entry)
    back, problems, counts = read_xliff(sent.encode(), "es.xlf", empty)
    assert problems == []
    assert counts == ImportCounts(taken=sum(bool(entry.text.strip()) for entry in entries), empty=sum(not entry.text.strip() for entry in entries))
    for entry, old in zip(back.entries, entries, strict=True):
        assert (entry.key, entry.forms) == (old.key, old.forms if old.text.strip() else ("",))
        assert entry.usable == (old.usable and bool(old.text.strip()))


def test_unchanged_file_changes_nothing() -> None:
    """Exported and taken back as it is: the same catalogue, fuzzy marks and former sources included."""
    catalogue = change(translated(small_library()), lambda entry: replace(entry, fuzzy=len(entry.source) % 2 == 0, previous="x" if len(entry.source) % 2 == 0 else ""))
    assert read_xliff(write_xliff(catalogue, "en"), "es.xlf", catalogue) == (catalogue, [], ImportCounts(same=len(catalogue.entries)))


def test_plural_forms() -> None:
    """Each form of a count is a unit of its own."""
    entry = CatalogueMessage("dose.sets", "{n} set", ("una", "{n} de", "{n}"), source_plural="{n} sets")
    catalogue = Catalogue("es", "es.po", (entry,))
    empty = Catalogue("es", "es.po", (replace(entry, forms=("", "", "")),))
    sent = write_xliff(empty, "en").decode()
    for text in entry.forms:
        sent = sent.replace('state="initial">', 'state="translated">', 1).replace("</source>\n      </segment>", f"</source><target>{text}</target>\n      </segment>", 1)
    assert read_xliff(sent.encode(), "es.xlf", empty) == (catalogue, [], ImportCounts(taken=1))


def rules_of(data: bytes) -> list[str]:
    """The problems with a file that comes back, and that nothing was taken."""
    catalogue = untranslated(small_library())
    back, problems, _ = read_xliff(data, "es.xlf", catalogue)
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
    back, problems, _ = read_xliff(write_xliff(catalogue, "en"), "es.xlf", fewer)
    assert back == fewer
    assert [problem.what for problem in problems] == [
        f"the text '{catalogue.entries[0].source}' is not in the catalogue (any more)"
    ]


def test_obsolete_messages_do_not_travel() -> None:
    """What no text needs any more is not sent, and stays as it is."""
    gone = CatalogueMessage("a/title", "Old", ("Viejo",), obsolete=True)
    catalogue = Catalogue("es", "es.po", (gone,))
    data = write_xliff(catalogue, "en")
    assert b"Old" not in data
    assert read_xliff(data, "es.xlf", catalogue) == (catalogue, [], ImportCounts())


def test_space_between_segments_stays() -> None:
    """A tool that splits a text keeps the space between its parts in an 'ignorable' without a target."""
    catalogue = Catalogue("es", "es.po", (CatalogueMessage("a/title", "One. Two.", ("",)),))
    text = write_xliff(catalogue, "en").decode()
    begin, end = text.index("<segment"), text.index("</segment>") + len("</segment>")
    split = "<segment state='final'><source>One.</source><target>Uno.</target></segment><ignorable><source> </source></ignorable><segment state='final'><source>Two.</source><target>Dos.</target></segment>"
    back, problems, _ = read_xliff((text[:begin] + split + text[end:]).encode(), "es.xlf", catalogue)
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
    catalogue = Catalogue("es", "es.po", (CatalogueMessage("a/title", "One", ("",)),))
    back, problems, _ = read_xliff(data, "es.xlf", catalogue)
    assert back == catalogue
    assert [show_problem(problem) for problem in problems] == [message]


def test_characters_that_an_entity_makes() -> None:
    """Refused though the file itself is clean; once, however often."""
    catalogue = Catalogue("es", "es.po", (CatalogueMessage("a/title", "One", ("Uno",)),))
    data = write_xliff(catalogue, "en").replace(b"Uno", b"&#x202e;U&#x202e;no")
    back, problems, _ = read_xliff(data, "es.xlf", catalogue)
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


HOME = Catalogue("es", "es.po", (CatalogueMessage("a/title", "One", ("Uno",)), CatalogueMessage("a/why", "Two", ("",)), CatalogueMessage("b/title", "Three", ("",))))


def answer(sent: str, context: str, text: str) -> str:
    """The exported file with another translation of a text."""
    entry = next(each for each in HOME.entries if each.context == context)
    start = sent.index(f'<unit id="{unit_id(entry, 0)}"')
    end = sent.index("</unit>", start)
    source = f"</source><target>{text}</target></segment>"
    unit = re.sub(r"</source>.*</segment>", source, sent[start:end], flags=re.S).replace("initial", "translated")
    return sent[:start] + unit + sent[end:]


def test_an_empty_target_replaces_nothing() -> None:
    """A file with empty targets leaves every translation as it is, and the counts say so."""
    sent = write_xliff(HOME, "en").decode().replace(">Uno</target>", "></target>")
    assert read_xliff(sent.encode(), "es.xlf", HOME) == (HOME, [], ImportCounts(empty=3))
    sent = answer(write_xliff(HOME, "en").decode(), "a/title", "  ")
    assert read_xliff(sent.encode(), "es.xlf", HOME) == (HOME, [], ImportCounts(empty=3))


def test_what_still_fits_is_taken() -> None:
    """A text has changed since the export: it is named, and the others are taken."""
    sent = answer(answer(write_xliff(HOME, "en").decode(), "a/why", "Dos"), "b/title", "Tres")
    now = replace(HOME, entries=(*HOME.entries[:2], CatalogueMessage("b/title", "Three times", ("",))))
    back, problems, counts = read_xliff(sent.encode(), "es.xlf", now)
    assert [entry.text for entry in back.entries] == ["Uno", "Dos", ""]
    assert counts == ImportCounts(taken=1, same=1, changed=1)
    assert [show_problem(problem) for problem in problems] == [
        "es.xlf:1:1: notice: the text 'Three' is not in the catalogue (any more). Its source has changed since the export: translate the new text. [xliff-unknown]"
    ]


def test_a_second_answer_does_not_replace_the_first() -> None:
    """Two people had the same export: the second file is told of the first's words, and the rest of it is taken."""
    sent = write_xliff(HOME, "en").decode()
    first, _, _ = read_xliff(answer(sent, "a/title", "Primero").encode(), "first.xlf", HOME)
    assert first.entries[0].text == "Primero"
    second = answer(answer(sent, "a/title", "Segundo"), "a/why", "Dos")
    back, problems, counts = read_xliff(second.encode(), "second.xlf", first)
    assert [entry.text for entry in back.entries] == ["Primero", "Dos", ""]
    assert counts == ImportCounts(taken=1, empty=1, refused=1)
    assert [show_problem(problem) for problem in problems] == [
        "second.xlf:1:1: error: 'a/title' was translated in the catalogue since the file was exported: 'Primero'. Decide between the two by hand; the file has 'Segundo'. [xliff-two-answers]"
    ]


def test_a_file_without_marks_replaces_no_whole_translation() -> None:
    """A tool that drops notes: nobody can tell whether its answer is the newer one."""
    sent = re.sub(r"<notes>.*?</notes>", "", answer(answer(write_xliff(HOME, "en").decode(), "a/title", "Otro"), "a/why", "Dos"), flags=re.S)
    back, problems, counts = read_xliff(sent.encode(), "es.xlf", HOME)
    assert [entry.text for entry in back.entries] == ["Uno", "Dos", ""]
    assert (counts, [problem.rule for problem in problems]) == (ImportCounts(taken=1, empty=1, refused=1), ["xliff-two-answers"])


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("</file>", "UNIT</file>", "es.xlf:1:1: error: the text 'a/title' is in the file twice. Delete one of the two units. [xliff-repeated]"),
        ("</segment>", "<target>Otro</target></segment>", "es.xlf:1:1: error: the text 'a/title' has two translations in the file. Delete one of the two <target>. [xliff-repeated]"),
    ],
)
def test_a_doubled_unit_or_target(old: str, new: str, message: str) -> None:
    """Nobody can tell which of the two is meant: nothing is taken."""
    sent = write_xliff(HOME, "en").decode()
    unit = sent[sent.index("<unit") : sent.index("</unit>") + len("</unit>")]
    sent = sent.replace(old, new.replace("UNIT", unit), 1)
    back, problems, counts = read_xliff(sent.encode(), "es.xlf", HOME)
    assert (back, counts) == (HOME, None)
    assert [show_problem(problem) for problem in problems] == [message]
