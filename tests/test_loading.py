"""What is kept of reading, checking and translating gives what a fresh look gives, after every edit."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from handouts.build.loading import Loaded, load
from handouts.build.settings import Settings
from handouts.problems import show_problem
from handouts.store.memo import Memo

CONTENT = Path(__file__).parents[1] / "content"


def edits(library: Path) -> Iterator[None]:
    """Edits of the demo, one after the other: nothing, moved lines, a long sentence, faults of a translation, all of it undone."""
    exercise, catalogue, glossary = (library / each for each in ("exercises/bridge.md", "words/es.po", "words/glossary.yaml"))
    texts = {path: path.read_text() for path in (exercise, catalogue, glossary)}
    yield
    yield
    exercise.write_text(texts[exercise].replace("---\n", "---\n# moved\n", 1))
    catalogue.write_text("\n\n" + texts[catalogue])
    yield
    first = next(line for line in texts[exercise].split("\n") if line.startswith("1. "))
    exercise.write_text(texts[exercise].replace(first, "1. Go " + "on and " * 30 + "on."))
    yield
    exercise.write_text(texts[exercise])
    number = next(line for line in texts[catalogue].split("\n") if line.startswith("msgstr") and "2" in line)
    catalogue.write_text(texts[catalogue].replace(number, number.replace("2", "7"), 1))
    glossary.write_text(texts[glossary].replace("es: [tobillo]", "es: [canilla]"))
    yield
    for path, text in texts.items():
        path.write_text(text)
    yield


def shown(loaded: Loaded) -> tuple[object, ...]:
    """All that a build goes on with, places too."""
    entries = [(entry, entry.place) for catalogue in loaded.words.catalogues.values() for entry in catalogue.entries]
    return [show_problem(each) for each in loaded.problems], entries, loaded.translations, loaded.gaps, loaded.history, loaded.library


def test_what_is_kept_gives_what_a_fresh_look_gives(tmp_path: Path) -> None:
    """The demo in two languages after every edit: problems with their places, catalogues, translations, history."""
    library = shutil.copytree(CONTENT, tmp_path / "content", ignore=shutil.ignore_patterns("ar.*", "fr.*", "vi.*", "zh-Hans.*"))
    clinic = library / "clinic.yaml"
    gone = ", ".join(f"{{address: {language}, why: not looked at here}}" for language in ("ar", "fr", "vi", "zh-Hans"))
    clinic.write_text(re.sub(r"also: \[es,[^]]*]", "also: [es]", clinic.read_text()) + f"taken off: [{gone}]\n")
    problems, fresh = set(), dict[tuple[bytes, ...], tuple[object, ...]]()
    for _ in edits(library):
        kept = shown(load(Settings(library, tmp_path / "kept", date(2026, 11, 25), 1, paper=False)))
        state = tuple(path.read_bytes() for path in sorted(library.rglob("*")) if path.is_file())
        if state not in fresh:  # what was undone is a state of before
            fresh[state] = shown(load(Settings(library, tmp_path / f"fresh-{len(fresh)}", date(2026, 11, 25), 1, paper=False)))
        assert kept == fresh[state]
        problems |= {str(each).rpartition("[")[2] for each in kept[0]}  # type: ignore[attr-defined]
    assert {"long-sentence]", "translation-number]", "glossary]"} <= problems


def test_sound_texts_are_asked_about_once(tmp_path: Path) -> None:
    """A library that was looked at is not looked at again; what has a fault is told at its place of now."""
    settings = Settings(CONTENT, tmp_path, date(2026, 11, 25), 1, paper=False)
    first = Memo(settings.results)
    load(settings, first)
    assert sum(first.made.values()) > 500
    second = Memo(settings.results)
    load(settings, second)
    assert second.made == {}
