"""The ``words/`` folder of a library: one catalogue and one file of reviews for each language, one glossary.

Bytes in, values and problems out; bytes out again for collecting.  Never touches the disk.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from handouts.model import Languages
from handouts.problems import Grade, Place, Problem, suggest
from handouts.source.bases import LibraryFiles
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
    own: Mapping[str, Catalogue] = field(default_factory=dict)
    """The library's own catalogues, where it stands on a base; the others hold both then."""
    under: Mapping[str, Catalogue] = field(default_factory=dict)
    """Those of the base."""
    own_reviews: Mapping[str, Reviews] | None = None
    """The records in the library's own files, where it stands on a base."""

    @property
    def written(self) -> WordsFolder:
        """What the library's own files have: what may be written into them."""
        return self if self.own_reviews is None else replace(self, catalogues=self.own, reviews=self.own_reviews)

    def with_catalogue(self, catalogue: Catalogue) -> WordsFolder:
        """With another catalogue of its language in the library's own files."""
        changed = {catalogue.language: catalogue}
        own = {**self.own, **changed} if self.own else self.own
        return replace(self, catalogues={**self.catalogues, **changed}, own=own)


def read_words(
    files: Mapping[str, bytes], languages: Languages, name: str = "content", call: Caller = call_now
) -> tuple[WordsFolder, list[Problem]]:
    """The words folder among a library's files, for the languages that the clinic names, over that of its base.

    A language without a readable catalogue gets an empty one, so that it is reported and not published.  ``call`` reads
    each catalogue.
    """
    own, problems = _read_own(files, languages, name, call)
    if not isinstance(files, LibraryFiles) or files.base is None:
        return own, problems
    spoken = [each for each in languages.also if locales.is_known(each)]
    under, found = read_words(files.base, replace(languages, also=tuple(spoken)), files.base.name, call)
    # a base may have more languages than one of its clinics publishes
    problems += [problem for problem in found if problem.rule not in ("language-not-named", "unknown-language")]
    return _join(own, under), problems


def _join(own: WordsFolder, under: WordsFolder) -> WordsFolder:
    """What a clinic says in a language before what its base says: text by text, record by record, term by term."""
    catalogues = {language: _over(each, under.catalogues[language]) for language, each in own.catalogues.items() if language in under.catalogues}
    reviews = {language: {**under.reviews.get(language, {}), **records} for language, records in {**under.reviews, **own.reviews}.items()}
    mine = {item.term for item in own.glossary.terms}
    terms = (*own.glossary.terms, *(item for item in under.glossary.terms if item.term not in mine))
    keep = tuple(dict.fromkeys((*own.glossary.keep, *under.glossary.keep)))
    interfaces = {**under.interfaces, **own.interfaces}
    return WordsFolder({**own.catalogues, **catalogues}, reviews, Glossary(terms, keep), interfaces, own.catalogues, under.catalogues, own.reviews)


def _over(own: Catalogue, under: Catalogue) -> Catalogue:
    """A catalogue's entries over another's.  An own entry without a translation covers none; nothing of the base is a draft here."""
    said = {entry.key for entry in own.entries if not entry.obsolete and any(entry.forms)}
    taken = tuple(entry for entry in under.entries if not entry.obsolete and entry.key not in said)
    covered = {entry.key for entry in taken}
    return replace(own, entries=(*(entry for entry in own.entries if entry.key in said or entry.key not in covered), *taken))


def _read_own(files: Mapping[str, bytes], languages: Languages, name: str, call: Caller) -> tuple[WordsFolder, list[Problem]]:
    """The words folder of one library alone."""
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
    """The catalogues of all languages, brought up to date with a library's messages: path to bytes.

    Where the library stands on a base they hold what the base's catalogue has no entry for, and what the clinic says in another way.
    """
    listed = unique_messages(messages)
    made = {}
    for language in languages:
        catalogue = folder.written.catalogues.get(language) or new_catalogue(language, f"{name}/words/{language}.po")
        template = template_entries(own_messages(folder, language, listed))
        made[f"words/{language}.po"] = write_catalogue(merge_catalogue(catalogue, template))
    return made


def own_messages(folder: WordsFolder, language: str, messages: Sequence[Message]) -> Sequence[Message]:
    """The texts that belong into the library's own catalogue of a language: all where it stands on no base."""
    if language not in folder.under:
        return messages
    said = {entry.key for entry in folder.own[language].entries if not entry.obsolete and any(entry.forms)} if language in folder.own else set()
    return [message for message in messages if message.key in said or message.key not in folder.under[language].by_key]
