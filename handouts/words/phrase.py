"""One phrase of the interface, its English source and what a translator must know; placeholders.

A placeholder is ``{name}``; nothing else in braces is allowed, and no format codes, so a translation
can never reach an attribute or change a number's format.  Level: below every catalogue; knows no language.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_PLACEHOLDER = re.compile(r"\{([a-z][a-z_]*)\}")
_BRACE = re.compile(r"[{}]")


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase without a count."""

    english: str
    note: str
    """For the translator: where it stands, what fills each placeholder, how long it may be."""


@dataclass(frozen=True, slots=True)
class Plural:
    """A phrase that depends on the count ``{n}``."""

    one: str
    other: str
    note: str


AnyPhrase = Phrase | Plural


def find_placeholders(text: str) -> frozenset[str]:
    """The names of the placeholders in a text."""
    return frozenset(_PLACEHOLDER.findall(text))


def has_stray_brace(text: str) -> bool:
    """Whether a brace stands in a text that does not belong to a placeholder."""
    return _BRACE.search(_PLACEHOLDER.sub("", text)) is not None


def fill(text: str, values: Mapping[str, str]) -> str:
    """A text with its placeholders replaced; KeyError where a value is missing."""
    return _PLACEHOLDER.sub(lambda match: values[match[1]], text)


def needed_placeholders(phrase: AnyPhrase) -> frozenset[str]:
    """The values that a caller must give besides ``n``."""
    if isinstance(phrase, Phrase):
        return find_placeholders(phrase.english)
    return find_placeholders(phrase.other) - {"n"}
