"""Catalogues are read strictly and written without loss."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.problems import show_problem
from handouts.source.nodes import find_forbidden
from handouts.words.catalogue import Catalogue, CatalogueMessage, read_catalogue, write_catalogue

HEAD = 'msgid ""\nmsgstr ""\n"Language: es\\n"\n"Plural-Forms: nplurals=3; plural=0;\\n"\n\n'
ONE = 'msgctxt "caution/dizziness/do"\nmsgid "Stop."\nmsgstr "Pare."\n'


def problems_of(text: str | bytes, language: str = "es") -> list[str]:
    """Every problem of a catalogue, as it is printed."""
    data = text if isinstance(text, bytes) else text.encode()
    return [show_problem(problem) for problem in read_catalogue(data, "es.po", language)[1]]


def test_entry_and_place() -> None:
    """An entry knows its line, its former source and its state."""
    text = HEAD + '#. note\n#: a.md:3\n#, fuzzy\n#| msgid "Halt."\n' + ONE
    catalogue, problems = read_catalogue(text.encode(), "es.po", "es")
    assert problems == []
    assert catalogue is not None
    entry = catalogue.entries[0]
    assert (entry.context, entry.source, entry.text, entry.fuzzy, entry.previous) == (
        "caution/dizziness/do", "Stop.", "Pare.", True, "Halt.",
    )
    assert (entry.place.line, entry.source_file, entry.usable) == (6, "a.md", False)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (HEAD + 'msgid "a\nmsgstr "b"\n',
         "es.po:6:1: error: this is not a valid gettext catalogue. Check the quotes and the keywords of this line and the one above. [catalogue-syntax]"),
        (HEAD + ONE.replace('"Pare."', '"Pare'),
         "es.po:8:1: error: this is not a valid gettext catalogue. Check the quotes and the keywords of this line and the one above. [catalogue-syntax]"),
        (HEAD + 'msgtxt "a"\n',
         "es.po:6:1: error: this is not a valid gettext catalogue. Check the quotes and the keywords of this line and the one above. [catalogue-syntax]"),
        (HEAD + 'msgstr "a"\n',
         "es.po:6:1: error: this is not a valid gettext catalogue. Check the quotes and the keywords of this line and the one above. [catalogue-syntax]"),
        (HEAD + ONE + "\n" + ONE,
         "es.po:10:1: error: this message is in the catalogue twice (first on line 6). Delete one of the two. [repeated-message]"),
        (HEAD + ONE + "\n" + HEAD,
         "es.po:10:1: error: this catalogue has a second header. Delete it with its lines; where two files were joined, keep the first header only. [repeated-message]"),
        (HEAD.replace("Language: es", "Language: en") + ONE,
         "es.po:1:1: error: the header names the language 'en', the file 'es'. Write 'Language: es' in the header. [catalogue-language]"),
        (HEAD + "\x07" + ONE,
         "es.po:6:1: error: the character U+0007 cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"),
        (HEAD + "\u202e" + ONE,
         "es.po:6:1: error: the character U+202E cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"),
        (HEAD + ONE.replace("Pare.", "Pa\\vre."),
         "es.po:6:1: error: the character U+000B cannot be used in a text. Delete the escape that makes it. [forbidden-character]"),
        (b"\xff\xfe", "es.po:1:1: error: byte 0xff is not UTF-8 text. Save the file as UTF-8. [not-utf-8]"),
    ],
)
def test_broken_catalogues(text: str | bytes, message: str) -> None:
    """The whole message for each broken catalogue."""
    assert problems_of(text) == [message]


def test_plural_header_is_checked_where_it_matters() -> None:
    """Forms for the wrong numbers are worse than none: the header must have the language's count."""
    plural = 'msgid "{n} set"\nmsgid_plural "{n} sets"\nmsgstr[0] "a"\nmsgstr[1] "b"\n'
    wrong = HEAD.replace("nplurals=3", "nplurals=2")
    assert problems_of(wrong + ONE) == []
    assert [line.split("[")[-1] for line in problems_of(wrong + plural)] == ["catalogue-plurals]"]


WORDS = (
    st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=40)
    .map(lambda text: unicodedata.normalize("NFC", text))
    .filter(lambda text: not find_forbidden(text, ""))
)
LINES = st.lists(st.text(st.sampled_from("abc éñ\"\\#|~,.:(){}ع中"), min_size=1, max_size=12).map(str.strip).filter(bool), min_size=1, max_size=3).map("\n".join)
ENTRIES = st.builds(
    CatalogueMessage,
    context=st.text(st.sampled_from("abc/-"), min_size=1, max_size=8),
    source=WORDS,
    forms=st.tuples(st.one_of(st.just(""), WORDS)),
    fuzzy=st.booleans(),
    previous=st.one_of(st.just(""), WORDS),
    note=st.one_of(st.just(""), LINES),
    comment=st.one_of(st.just(""), LINES),
    source_file=st.sampled_from(["", "a.md", "exercises/heel-raise.md"]),
)


@settings(deadline=None)
@given(st.lists(ENTRIES, unique_by=lambda entry: entry.key, max_size=8))
def test_round_trip(entries: list[CatalogueMessage]) -> None:
    """What is written is read back, entry by entry, and written again to the same bytes."""
    catalogue = Catalogue("es", "es.po", tuple(entries))
    data = write_catalogue(catalogue)
    back, problems = read_catalogue(data, "es.po", "es")
    assert problems == []
    assert back is not None
    assert list(back.entries) == entries
    assert write_catalogue(back) == data


@pytest.mark.parametrize("name", ["X-2", "2-X", "\u0661", "\u00b2", "\u0661\u0661Plural", "x"])
def test_any_name_of_a_header_field(name: str) -> None:
    """What others write into a header stays there, whatever it is called, digits of other scripts among it."""
    text = HEAD.replace("Language", f"{name}: a\\n\"\n\"X-Generator: b\\n\"\n\"Language", 1) + ONE
    read, problems = read_catalogue(text.encode(), "es.po", "es")
    assert read is not None and problems == []
    again, problems = read_catalogue(write_catalogue(read), "es.po", "es")
    assert again is not None and problems == []
    assert (dict(again.header)[name], dict(again.header)["X-Generator"]) == ("a", "b")
    assert again.entries == read.entries


def test_obsolete_entries_stay() -> None:
    """A translation that no text needs any more is kept, out of use, at the end."""
    gone = CatalogueMessage("a/title", "Old", ("Viejo",), obsolete=True, fuzzy=False)
    used = CatalogueMessage("a/title", "New", ("Nuevo",))
    back, problems = read_catalogue(write_catalogue(Catalogue("es", "es.po", (gone, used))), "es.po", "es")
    assert problems == []
    assert back is not None
    assert back.entries == (used, gone)
    assert back.by_context == {"a/title": used}


def test_plural_round_trip() -> None:
    """Forms of a count keep their order."""
    entry = CatalogueMessage("dose.sets", "{n} set", ("{n} serie", "{n} series", "{n} de series"), source_plural="{n} sets")
    back, _ = read_catalogue(write_catalogue(Catalogue("es", "es.po", (entry,))), "es.po", "es")
    assert back is not None
    assert back.entries == (entry,)
    assert replace(entry, forms=("a", "", "c")).translated is False
