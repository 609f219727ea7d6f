"""The interface in a catalogue that a library brings, ``words/interface/LANG.po``: checked like all words.

It stands before the one that ships with the program, phrase by phrase: what it lacks is taken from there, so that a new
version of the program takes no language off the site.  Bytes in, values and problems out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from handouts.problems import Problem
from handouts.tasks.calling import Caller, call_now
from handouts.words.checks import find_faults
from handouts.words.glossary import Glossary
from handouts.words.phrase import AnyPhrase, Phrase
from handouts.words.phrases import PHRASES
from handouts.words.shipped import Forms, Interface, load_interface, read_interface

CHECKED = ("translation-number", "translation-unit", "translation-script", "translation-length", "translation-same", "forbidden-character")
"""Rules of texts that hold for phrases too; a phrase is no Markdown, and its placeholders are compared where it is read."""
FOLDER = "words/interface/"


@dataclass(frozen=True, slots=True)
class OwnInterface:
    """The phrases of a language for one library."""

    forms: Mapping[str, Forms] = field(default_factory=dict)
    """Every phrase that may be shown, the library's own before the program's; empty where the library brings none."""
    problems: tuple[Problem, ...] = ()
    """What is wrong with the library's catalogue, or missing in both."""


def own_path(language: str) -> str:
    """Where the catalogue of a language stands in a library."""
    return f"{FOLDER}{language}.po"


def read_own_interface(data: bytes | None, file: str, language: str, call: Caller = call_now) -> OwnInterface:
    """The phrases of a language; ``data`` is the library's catalogue, None where it has none."""
    shipped = load_interface(language, call)
    if data is None:
        return OwnInterface({}, shipped.problems)
    own: Interface = call(read_checked, data, file, language)
    forms = {**shipped.forms, **own.forms}
    whole = not [name for name in PHRASES if name not in forms]
    # a phrase that the program has in this language may be missing here
    problems = tuple(each for each in own.problems if not (whole and each.rule == "interface-missing"))
    return OwnInterface(forms, problems)


def read_checked(data: bytes, file: str, language: str) -> Interface:
    """The phrases of a catalogue of a library without those that a check finds wrong; each with its problem."""
    found = read_interface(data, file, language, PHRASES)
    problems, forms = list(found.problems), dict(found.forms)
    for name, texts in found.forms.items():
        faults = _find_faults(PHRASES[name], texts, found, name, language)
        if faults:
            problems += faults
            del forms[name]
    return Interface(language, forms, tuple(problems), found.places)


def find_words(english: str) -> list[str]:
    """The words of a phrase beside its placeholders: one without any is the same in every language."""
    return re.findall(r"[^\W\d_]{2,}", re.sub(r"\{[a-z_]+\}", " ", english))


def _find_faults(phrase: AnyPhrase, texts: Forms, found: Interface, name: str, language: str) -> list[Problem]:
    """What is wrong with a phrase; numbers are compared where it has one form only."""
    place, faults = found.places[name], list[Problem]()
    for category, text in texts.items():
        english = phrase.english if isinstance(phrase, Phrase) else phrase.one if category == "one" else phrase.other
        says_nothing = not find_words(english)
        all_faults = () if says_nothing else find_faults(english, text, language, Glossary(), place)
        faults += [each for each in all_faults if each.rule in CHECKED and (isinstance(phrase, Phrase) or each.rule != "translation-number")]
    return list(dict.fromkeys(faults))
