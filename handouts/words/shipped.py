"""The interface in each language: the catalogues that ship with the project, read strictly.

A phrase that is missing, fuzzy, stale or has a broken placeholder is a problem and has no text; it
never falls back to English.  Reads the package's own files, no file of a library.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib import resources

from handouts.problems import Place, Problem
from handouts.tasks.calling import Caller, call_now
from handouts.words import locales, pseudo
from handouts.words.catalogue import Catalogue, CatalogueMessage, read_catalogue, write_catalogue
from handouts.words.merge import merge_catalogue, new_catalogue
from handouts.words.phrase import AnyPhrase, Phrase, find_placeholders, has_stray_brace
from handouts.words.phrases import PHRASES

Forms = Mapping[str, str]
"""The text for each plural category; a phrase without a count has only ``other``."""


@dataclass(frozen=True, slots=True)
class Interface:
    """The phrases of one language by id, and what is wrong with its catalogue."""

    language: str
    forms: Mapping[str, Forms]
    problems: tuple[Problem, ...]
    places: Mapping[str, Place] = field(default_factory=dict, compare=False, repr=False)
    """Where each phrase stands in the catalogue."""


def english_forms(phrase: AnyPhrase) -> Forms:
    """The forms of a phrase in English."""
    return {"other": phrase.english} if isinstance(phrase, Phrase) else {"one": phrase.one, "other": phrase.other}


def interface_entries(phrases: Mapping[str, AnyPhrase]) -> tuple[CatalogueMessage, ...]:
    """The phrases as entries without a translation, for collecting into a catalogue of the interface."""
    return tuple(
        CatalogueMessage(
            context=name,
            source=phrase.english if isinstance(phrase, Phrase) else phrase.one,
            source_plural="" if isinstance(phrase, Phrase) else phrase.other,
            forms=("",),
            note=phrase.note,
        )
        for name, phrase in phrases.items()
    )


def update_interface(data: bytes | None, file: str, language: str) -> tuple[bytes, list[Problem]]:
    """The catalogue of the interface brought up to date with the phrases declared; None begins a new language.

    Gives the bytes unchanged, with problems, where they cannot be read.
    """
    catalogue, problems = (new_catalogue(language, file), []) if data is None else read_catalogue(data, file, language)
    if catalogue is None or problems:
        return data or b"", problems
    return write_catalogue(merge_catalogue(catalogue, interface_entries(PHRASES))), []


def catalogue_names(language: str) -> tuple[str, ...]:
    """Names of the catalogues that may serve a language, the best first: ``es-MX``, then ``es``."""
    locale = locales.parse(language)
    with_script = f"{locale.language}-{locale.script}" if locale.script else ""
    # A language of several scripts must never be served in the wrong one.
    base = "" if locale.language in ("zh", "sr", "uz", "pa") else locale.language
    return tuple(dict.fromkeys(name for name in (language, with_script, base) if name))


_LOADED: dict[str, Interface] = {}
"""By language; a process reads each once."""


def load_interface(language: str, call: Caller = call_now) -> Interface:
    """The interface in a language; English and the pseudo-languages come from the phrases themselves.

    ``call`` reads a catalogue where this process has not read it yet.
    """
    if language not in _LOADED:
        _LOADED[language] = _load(language, call)
    return _LOADED[language]


def _load(language: str, call: Caller) -> Interface:
    if language in locales.PSEUDO:
        return Interface(
            language,
            {name: pseudo.change_forms(english_forms(phrase), language) for name, phrase in PHRASES.items()},
            (),
        )
    if locales.parse(language).language == "en":
        return Interface(language, {name: english_forms(phrase) for name, phrase in PHRASES.items()}, ())
    folder = resources.files("handouts.words") / "interface"
    for name in catalogue_names(language):
        file = folder / f"{name}.po"
        if file.is_file():
            return call(read_shipped, file.read_bytes(), name)
    what = f"the interface has no catalogue for '{language}'"
    return Interface(
        language,
        {},
        (
            Problem(
                Place(f"words/interface/{language}.po"),
                "interface-language",
                what,
                f"Run 'handouts words interface {language}', and translate the file that it writes.",
            ),
        ),
    )


def read_shipped(data: bytes, name: str) -> Interface:
    """The interface in a catalogue that ships with the project."""
    return read_interface(data, f"handouts/words/interface/{name}.po", name, PHRASES)


def read_interface(data: bytes, file: str, language: str, phrases: Mapping[str, AnyPhrase]) -> Interface:
    """The interface in a catalogue's bytes, with a problem for each phrase that readers may not see."""
    catalogue, problems = read_catalogue(data, file, language)
    if catalogue is None or problems:
        return Interface(language, {}, tuple(problems))
    forms: dict[str, Forms] = {}
    for name, phrase in phrases.items():
        entry = catalogue.by_context.get(name)
        fault = _find_fault(name, phrase, entry, catalogue)
        if fault is not None:
            problems.append(fault)
        elif entry is not None:
            names = locales.categories(language) if entry.source_plural else ("other",)
            forms[name] = dict(zip(names, entry.forms, strict=True))
    places = {name: catalogue.by_context[name].place for name in forms}
    return Interface(language, forms, tuple(problems), places)


def _find_fault(name: str, phrase: AnyPhrase, entry: CatalogueMessage | None, catalogue: Catalogue) -> Problem | None:
    if entry is None:
        return Problem(
            Place(catalogue.file),
            "interface-missing",
            f"the phrase '{name}' is not in the catalogue",
            "Collect, then translate it.",
        )
    if not entry.translated:
        return Problem(
            entry.place, "interface-missing", f"the phrase '{name}' is not translated", "Translate every form of it."
        )
    source = (phrase.english, "") if isinstance(phrase, Phrase) else (phrase.one, phrase.other)
    if entry.fuzzy or (entry.source, entry.source_plural) != source:
        return Problem(
            entry.place,
            "interface-stale",
            f"the phrase '{name}' has changed since it was translated",
            "Look at the new English text, correct the translation, and take the mark 'fuzzy' away.",
        )
    names = locales.categories(catalogue.language) if entry.source_plural else ("other",)
    if len(entry.forms) != len(names):
        return Problem(
            entry.place,
            "interface-forms",
            f"the phrase '{name}' has {len(entry.forms)} forms, the language has {len(names)}",
            f"Give one form for each of: {', '.join(names)}.",
        )
    for category, text in zip(names, entry.forms, strict=True):
        what = _placeholder_fault(phrase, category, text, catalogue.language)
        if what:
            return Problem(
                entry.place,
                "interface-placeholder",
                f"the phrase '{name}' {what}",
                "Keep each {name} exactly as in English.",
            )
    return None


def _placeholder_fault(phrase: AnyPhrase, category: str, text: str, language: str) -> str:
    """What is wrong with the placeholders of one form; a form for one number only may leave the number out."""
    english = phrase.english if isinstance(phrase, Phrase) else phrase.other
    wanted, found = find_placeholders(english), find_placeholders(text)
    if has_stray_brace(text):
        return "has a brace that is not a placeholder"
    if extra := found - wanted:
        return f"has the placeholder {{{min(extra)}}}, which English has not"
    lost = wanted - found
    if not isinstance(phrase, Phrase) and category in locales.single_number_categories(language):
        lost -= {"n"}
    return f"has lost the placeholder {{{min(lost)}}}" if lost else ""
