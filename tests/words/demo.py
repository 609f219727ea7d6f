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
from tests.kept import kept

ROOT = Path(__file__).parents[2]
LANGUAGES = ("es", "ar", "fr", "vi", "zh-Hans")
"""The languages that the demo is translated into."""


def read_demo(files: Mapping[str, bytes]) -> tuple[Library, WordsFolder, Mapping[str, Library]]:
    """The library as its files say, its catalogues, and the library in each language, the source first."""
    library, found = read_library(files, "content")
    assert library is not None
    assert found == []
    clinic = library.clinic
    library = replace(library, clinic=replace(clinic, languages=replace(clinic.languages, also=LANGUAGES)))
    words, found = read_words(files, library.clinic.languages)
    assert found == []
    made = {library.language: library}
    for language in LANGUAGES:
        translation = translate_library(library, words.catalogues[language], words.reviews.get(language), words.glossary)
        assert translation.library is not None, translation.gaps
        made[language] = translation.library
    return library, words, made


@cache
def _whole() -> tuple[Library, WordsFolder, Mapping[str, Library]]:
    files, problems = read_folder(ROOT / "content", "content")
    assert problems == []
    return kept(read_demo, files, room="handouts.words.translate")


def demo() -> tuple[Library, WordsFolder]:
    """The demo as its files say, in all its languages, and its catalogues."""
    return _whole()[:2]


def libraries() -> Mapping[str, Library]:
    """The library in each language, the source first."""
    return _whole()[2]
