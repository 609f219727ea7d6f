"""The generated library: valid, whole in every language, and the same each time."""

from __future__ import annotations

from handouts.library.read import read_library
from handouts.problems import Grade
from handouts.rules import check_library
from handouts.words.folder import read_words
from handouts.words.translate import translate_library
from tests.bench.library import TODAY, make_library


def test_valid_and_whole() -> None:
    """No rule refuses anything; each language has every exercise, programme and bundle."""
    files = make_library(24, 3, seed=3)
    library, problems = read_library(files, "library")
    assert library is not None
    problems += check_library(library, TODAY)
    words, found = read_words(files, library.clinic.languages)
    assert [each for each in (*problems, *found) if each.grade is Grade.ERROR] == []
    assert len(library.exercises) == 24
    for language in library.clinic.languages.also:
        made = translate_library(library, words.catalogues[language], None, words.glossary)
        # steps and translations are drawn apart, so their directions and the order of their numbers need not agree
        assert [each for each in made.problems if each.rule not in ("translation-direction", "translation-order")] == [] and made.library is not None
        assert len(made.library.exercises) == 24 and len(made.library.programmes) == len(library.programmes)


def test_same_seed_same_bytes() -> None:
    """A seed gives the same files, another seed others; one language needs no catalogue."""
    first = make_library(3, 1, seed=5)
    assert first == make_library(3, 1, seed=5) != make_library(3, 1, seed=6)
    assert not any(path.startswith("words/") for path in first)
