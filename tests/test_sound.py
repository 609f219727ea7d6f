"""What was found without fault is not looked at again, and nothing with a fault is ever taken for sound."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path

import pytest

from handouts import program
from handouts.cache import Cache
from handouts.loading import Loaded, load
from handouts.problems import Place, Problem, show_problem
from handouts.settings import Settings
from handouts.sound import Sound

CONTENT = Path(__file__).parents[1] / "content"
FAULT = Problem(Place("a.md", 3), "rule", "what", "mend")


class Asked:
    """Counts how often it is asked, and finds what it is told to."""

    def __init__(self, *found: Problem) -> None:
        self.found, self.count = found, 0

    def __call__(self) -> tuple[Problem, ...]:
        self.count += 1
        return self.found


def test_sound_texts_are_asked_about_once(tmp_path: Path) -> None:
    """In one build and in the next; a question that is not asked any more is forgotten."""
    clean, cache = Asked(), Cache(tmp_path)
    first = Sound(cache)
    assert first.find(("rule", "text"), clean) == first.find(("rule", "text"), clean) == ()
    first.find(("rule", "other"), clean)
    first.write()
    second = Sound(cache)
    second.find(("rule", "text"), clean)
    assert clean.count == 2
    second.write()
    third = Sound(cache)
    third.find(("rule", "other"), clean)
    assert clean.count == 3


def test_a_fault_is_looked_at_every_time(tmp_path: Path) -> None:
    """With the place and the words of now."""
    for line in (3, 9):
        kept = Sound(Cache(tmp_path))
        there = replace(FAULT, place=Place("a.md", line))
        assert kept.find(("rule", "text"), Asked(there)) == (there,)
        kept.write()
    assert Sound(Cache(tmp_path)).find(("rule", "text"), Asked(FAULT)) == (FAULT,)


@pytest.mark.parametrize("question", [("rule", "te", "xt"), ("rulet", "ext"), ("rule", "text", ""), ("rule", "te\nxt"), ("other", "text")])
def test_another_question_is_asked(tmp_path: Path, question: tuple[str, ...]) -> None:
    """However alike the parts are."""
    kept = Sound(Cache(tmp_path))
    kept.find(("rule", "text"), Asked())
    assert kept.find(question, Asked(FAULT)) == (FAULT,)


def test_another_program_asks_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one program found sound is unknown to the next; so is what is damaged."""
    kept = Sound(Cache(tmp_path))
    kept.find(("rule", "text"), Asked())
    kept.write()
    entry = next(path for path in tmp_path.rglob("*") if path.is_file())
    whole = entry.read_bytes()
    entry.write_bytes(whole[:-1] + bytes([whole[-1] ^ 1]))
    assert Sound(Cache(tmp_path)).find(("rule", "text"), Asked(FAULT)) == (FAULT,)
    entry.write_bytes(whole)
    assert Sound(Cache(tmp_path)).find(("rule", "text"), Asked(FAULT)) == ()
    monkeypatch.setattr(program, "program_digest", lambda: "another")
    assert Sound(Cache(tmp_path)).find(("rule", "text"), Asked(FAULT)) == (FAULT,)


def edits(library: Path) -> Iterator[None]:
    """Edits of the demo, one after the other: nothing, moved lines, a long sentence, faults of a translation, mended ones."""
    exercise, catalogue, glossary = (library / each for each in ("exercises/bridge.md", "words/es.po", "words/glossary.yaml"))
    texts = {path: path.read_text() for path in (exercise, catalogue, glossary)}
    yield
    yield
    exercise.write_text(texts[exercise].replace("---\n", "---\n# moved\n", 1))
    catalogue.write_text("\n\n" + texts[catalogue])
    yield
    exercise.write_text(texts[exercise] + "\n" + "1. Go " + "on and " * 30 + "on.\n")
    yield
    number = next(line for line in texts[catalogue].split("\n") if line.startswith("msgstr") and "2" in line)
    catalogue.write_text(texts[catalogue].replace(number, number.replace("2", "7"), 1))
    yield
    exercise.write_text(texts[exercise])
    yield
    catalogue.write_text(texts[catalogue])
    glossary.write_text(texts[glossary].replace("es: [tobillo]", "es: [canilla]"))
    yield
    glossary.write_text(texts[glossary])
    yield


def shown(loaded: Loaded) -> tuple[object, ...]:
    """All that a build goes on with, places too."""
    entries = [(entry, entry.place) for catalogue in loaded.words.catalogues.values() for entry in catalogue.entries]
    return [show_problem(each) for each in loaded.problems], entries, loaded.translations, loaded.gaps, loaded.history, loaded.library


def test_what_is_kept_gives_what_a_fresh_look_gives(tmp_path: Path) -> None:
    """The demo after every edit: problems with their places, catalogues, translations, history."""
    library = shutil.copytree(CONTENT, tmp_path / "content")
    number, problems = count(), set()
    for _ in edits(library):
        kept, fresh = (
            shown(load(Settings(library, tmp_path / out, date(2026, 11, 25), 1, paper=False)))
            for out in ("kept", f"fresh-{next(number)}")
        )
        assert kept == fresh
        problems |= {str(each).rpartition("[")[2] for each in fresh[0]}  # type: ignore[attr-defined]
    assert {"long-sentence]", "translation-number]", "glossary]"} <= problems
