"""The ``words/`` folder of a library: one catalogue and one file of reviews for each language, one glossary.

Bytes in, values and problems out; bytes out again for collecting.  Never touches the disk.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from handouts.model import Languages
from handouts.problems import Grade, Place, Problem, suggest
from handouts.tasks.calling import Caller, call_now
from handouts.words import locales
from handouts.words.catalogue import Catalogue, read_catalogue, write_catalogue
from handouts.words.glossary import Glossary, read_glossary
from handouts.words.merge import merge_catalogue, new_catalogue, template_entries
from handouts.words.messages import Message, unique_messages
from handouts.words.own_interface import OwnInterface, read_own_interface
from handouts.words.reviews import Reviews, read_reviews

GLOSSARY = "words/glossary.yaml"
_CATALOGUE = re.compile(r"words/([A-Za-z0-9-]+)\.po")
_INTERFACE = re.compile(r"words/interface/([A-Za-z0-9-]+)\.po")
_REVIEWS = re.compile(r"words/([A-Za-z0-9-]+)\.reviews\.yaml")


@dataclass(frozen=True)
class WordsFolder:
    """What a library's folder ``words/`` holds."""

    catalogues: Mapping[str, Catalogue] = field(default_factory=dict)
    reviews: Mapping[str, Reviews] = field(default_factory=dict)
    glossary: Glossary = field(default_factory=Glossary)
    interfaces: Mapping[str, OwnInterface] = field(default_factory=dict)
    """The phrases of languages whose interface stands in the library."""


def read_words(
    files: Mapping[str, bytes], languages: Languages, name: str = "content", call: Caller = call_now
) -> tuple[WordsFolder, list[Problem]]:
    """The words folder among a library's files, for the languages that the clinic names.

    A language without a readable catalogue gets an empty one, so that it is reported and not published.  ``call`` reads
    each catalogue.
    """
    problems: list[Problem] = []
    catalogues: dict[str, Catalogue] = {}
    reviews: dict[str, Reviews] = {}
    glossary = Glossary()
    interfaces: dict[str, OwnInterface] = {}
    for path in sorted(path for path in files if path.startswith("words/")):
        if path == GLOSSARY:
            glossary, found = read_glossary(files[path], f"{name}/{path}")
            problems += found
        elif match := _INTERFACE.fullmatch(path):
            if locales.is_known(match[1]):
                interfaces[match[1]] = read_own_interface(files[path], f"{name}/{path}", match[1], call)
            else:
                problems.append(_unknown_file(path, name))
        elif match := _REVIEWS.fullmatch(path):
            reviews[match[1]], found = read_reviews(files[path], f"{name}/{path}")
            problems += found
        elif match := _CATALOGUE.fullmatch(path):
            catalogue, found = call(read_catalogue, files[path], f"{name}/{path}", match[1])
            problems += found
            if catalogue is not None and not found:
                catalogues[match[1]] = catalogue
        else:
            problems.append(_unknown_file(path, name))
    problems += _language_problems(languages, catalogues)
    for language in languages.also:
        if locales.is_known(language):
            catalogues.setdefault(language, new_catalogue(language, f"{name}/words/{language}.po"))
    return WordsFolder(catalogues, reviews, glossary, interfaces), problems


def _unknown_file(path: str, name: str) -> Problem:
    mend = suggest(path.removeprefix("words/"), ("glossary.yaml", "es.po", "es.reviews.yaml"))
    return Problem(Place(f"{name}/{path}"), "unknown-file", f"'{path}' is not a file of translations", mend)


def _language_problems(languages: Languages, catalogues: Mapping[str, Catalogue]) -> list[Problem]:
    named = [(languages.source, "source"), *((language, "also") for language in languages.also)]
    found = [
        Problem(
            languages.at(key),
            "unknown-language",
            f"'{language}' is not a language",
            "Write a tag such as 'es' or 'zh-Hans'.",
        )
        for language, key in named
        if not locales.is_known(language)
    ]
    found += [
        Problem(
            Place(catalogue.file),
            "language-not-named",
            f"there is a catalogue for '{language}', but clinic.yaml does not name this language",
            f"Add '{language}' to 'languages: also:' once it is ready.",
            Grade.NOTICE,
        )
        for language, catalogue in catalogues.items()
        if language not in languages.also
    ]
    return found


def collect(
    folder: WordsFolder, messages: Iterable[Message], languages: Sequence[str], name: str = "content"
) -> dict[str, bytes]:
    """The catalogues of all languages, brought up to date with a library's messages: path to bytes."""
    template = template_entries(unique_messages(messages))
    made = {}
    for language in languages:
        catalogue = folder.catalogues.get(language) or new_catalogue(language, f"{name}/words/{language}.po")
        made[f"words/{language}.po"] = write_catalogue(merge_catalogue(catalogue, template))
    return made
