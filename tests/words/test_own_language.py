"""A language that the program does not ship, from nothing to published, by its commands alone."""

from __future__ import annotations

import json
import re
from pathlib import Path

import polib
import pytest

from handouts.cli import main
from handouts.words.own_interface import read_own_interface
from handouts.words.phrase import Phrase
from handouts.words.phrases import PHRASES
from handouts.words.shipped import load_interface, update_interface
from tests.words.pseudo_german import fill, in_pseudo_german

DAY = "--today=2026-11-25"


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A new library in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    assert main(["start", "lib"]) == 0
    return tmp_path / "lib"


def add_german(library: Path) -> None:
    """German in the clinic's languages."""
    clinic = library / "clinic.yaml"
    clinic.write_text(clinic.read_text().replace("languages: {source: en}", "languages: {source: en, also: [de]}").replace("translations: hold back", "translations: show"))


def test_german_from_nothing_to_published(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both catalogues are written by commands, filled, checked and published; numbers and dates are German, no phrase is English."""
    add_german(library)
    assert main(["check", "lib", DAY]) == 0
    assert f"the pages' own words are not whole in 'de' ({len(load_interface('de').problems)} are missing), so nothing is published in it. " in (said := capsys.readouterr().err)
    assert "Run 'handouts words interface de', translate words/interface/de.po, or take the language out. [interface-language]" in said
    assert main(["words", "interface", "de", "--library", "lib"]) == 0
    assert f"lib/words/interface/de.po: {len(PHRASES):,} phrases of " in (said := capsys.readouterr().out)
    assert f"{len(PHRASES)} to translate." in said
    own = library / "words/interface/de.po"
    entries = polib.pofile(str(own))
    assert all(entry.comment for entry in entries)
    assert entries.metadata["Plural-Forms"].startswith("nplurals=2;")
    assert main(["words", "collect", "--library", "lib"]) == 0
    assert fill(own) == len(PHRASES)
    assert fill(library / "words/de.po") > 70
    capsys.readouterr()
    assert main(["words", "state", "--library", "lib"]) == 0
    assert "the pages' own words, words/interface/de.po: all translated" in capsys.readouterr().out
    assert main(["check", "lib", DAY]) == 0
    assert "no problems" in capsys.readouterr().out
    assert main(["build", "lib", "--no-paper", DAY]) == 0
    site = library.parent / "build/site"
    page = (site / "de/exercises/sit-to-stand/index.html").read_text()
    text = re.sub(r"<[^>]+>", " ", re.sub(r"<(script|style)\b.*?</\1>", " ", page, flags=re.S))
    assert '<html lang="de" dir="ltr"' in page
    plain = [each.english for each in PHRASES.values() if isinstance(each, Phrase) and "{" not in each.english and each.english.count(" ") > 1]
    assert len(plain) > 200
    assert [english for english in plain if english in text] == []
    assert len([english for english in plain if in_pseudo_german(english) in text]) > 5
    # the words that scripts say are the library's too
    for name in ("book.de.*.js", "phone-words.de.*.js"):
        (script,) = (site / "assets").glob(name)
        assert "ßen" in script.read_text()
    assert "ßen" in (site / "de/my/index.html").read_text()
    report = json.loads((site.parent / "report.json").read_text())
    assert report["languages"] == ["en", "de"]


def test_a_new_version_of_the_program_takes_no_language_off(library: Path) -> None:
    """What a library's own Spanish lacks is taken from the program's; what it has comes first."""
    data, _ = update_interface(None, "es.po", "es")
    own = library / "es.po"
    own.write_bytes(data)
    name = next(name for name in PHRASES if name == "figure.none")
    catalogue = polib.pofile(str(own), wrapwidth=0)
    next(entry for entry in catalogue if entry.msgctxt == name).msgstr = "Todavía sin dibujo."
    found = read_own_interface(str(catalogue).encode(), "es.po", "es")
    assert found.problems == ()
    assert found.forms[name] == {"other": "Todavía sin dibujo."}
    assert {**found.forms, name: None} == {**load_interface("es").forms, name: None}


@pytest.mark.parametrize(
    ("change", "rule", "what"),
    [
        (lambda text: text, "translation-same", "the translation is the source text"),
        (lambda text: f"{in_pseudo_german(text)} 12", "translation-number", "has 12 in addition"),
        (lambda _: "Здесь ещё нет рисунка", "translation-script", "Cyrillic"),
        (lambda text: f"{in_pseudo_german(text)}\u200b", "forbidden-character", "U+200B"),
    ],
)
def test_phrases_are_checked_like_all_words(change: object, rule: str, what: str) -> None:
    """The source text itself, another number, another script, a sign without a shape: a phrase with it is not shown, and its line is named."""
    data, _ = update_interface(None, "de.po", "de")
    catalogue = polib.pofile(data.decode(), wrapwidth=0)
    for entry in catalogue:
        if entry.msgid_plural:
            entry.msgstr_plural = {at: in_pseudo_german(entry.msgid_plural) for at in entry.msgstr_plural}
        else:
            entry.msgstr = in_pseudo_german(entry.msgid)
    assert read_own_interface(str(catalogue).encode(), "de.po", "de").problems == ()
    entry = next(entry for entry in catalogue if entry.msgctxt == "figure.none")
    entry.msgstr = change(entry.msgid)  # type: ignore[operator]
    text = str(catalogue)
    found = read_own_interface(text.encode(), "de.po", "de")
    assert "figure.none" not in found.forms
    assert any(each.rule == rule and what in each.what for each in found.problems), found.problems
    (line,) = {each.place.line for each in found.problems}
    assert abs(line - text[: text.index('msgctxt "figure.none"')].count("\n") - 1) <= 1


def test_an_unknown_language_is_refused(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No file is written for what CLDR does not know."""
    assert main(["words", "interface", "qqq", "--library", "lib"]) == 2
    assert "'qqq' is not a language" in capsys.readouterr().err
    assert not (library / "words").exists()


def test_a_language_that_no_font_can_write(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Said once, with the script, in place of a problem at each letter; languages of the fonts pass, one in other letters does not."""
    clinic = library / "clinic.yaml"
    clinic.write_text(clinic.read_text().replace("languages: {source: en}", "languages: {source: en, also: [he, ja, ru, es, ar, zh-Hans]}"))
    assert main(["check", "lib", DAY]) == 0
    said = capsys.readouterr().err
    assert re.findall(r"'(\w+)' is written in (\w+) letters, which no font of handouts has, so nothing is published in it\.", said) == [("he", "Hebrew"), ("ja", "Japanese")]
    assert said.count("[language-font]") == 2
