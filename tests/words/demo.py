"""The demo library in every language that has a catalogue, read once for all tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from handouts.library.read import read_library
from handouts.model import Library
from handouts.source.files import read_folder
from handouts.words.folder import WordsFolder, read_words
from handouts.words.translate import translate_library

ROOT = Path(__file__).parents[2]
LANGUAGES = ("es", "ar", "fr", "vi", "zh-Hans")
"""The languages that the demo is translated into."""


@cache
def demo() -> tuple[Library, WordsFolder]:
    """The demo as its files say, in all its languages, and its catalogues."""
    files, problems = read_folder(ROOT / "content", "content")
    library, found = read_library(files, "content")
    assert library is not None
    assert (problems, found) == ([], [])
    clinic = library.clinic
    library = replace(library, clinic=replace(clinic, languages=replace(clinic.languages, also=LANGUAGES)))
    words, found = read_words(files, library.clinic.languages)
    assert found == []
    return library, words


@cache
def libraries() -> Mapping[str, Library]:
    """The library in each language, the source first."""
    library, words = demo()
    made = {library.language: library}
    for language in LANGUAGES:
        translation = translate_library(library, words.catalogues[language], words.reviews.get(language), words.glossary)
        assert translation.library is not None, translation.gaps
        made[language] = translation.library
    return made
