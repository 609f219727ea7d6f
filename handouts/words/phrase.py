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
_FROM_RIGHT = re.compile("[\u0590-\u08ff\u200f]")
"""A letter of a script that is read from the right, or the mark that stands for one (U+200F)."""
_PLAIN_NUMBER = re.compile(r"\d*(?:[.,]\d+)?|\D+")
_ISOLATE, _END = "\u2066", "\u2069"
"""LEFT-TO-RIGHT ISOLATE and POP DIRECTIONAL ISOLATE (UAX 9)."""


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
    """A text with its placeholders replaced; KeyError where a value is missing.

    In a text read from the right a value such as 555-0141 is isolated; without that it would be shown as 0141-555.
    """
    isolated = _FROM_RIGHT.search(" ".join((text, *values.values()))) is not None
    return _PLACEHOLDER.sub(lambda match: isolate(values[match[1]]) if isolated else values[match[1]], text)


def isolate(value: str) -> str:
    """A value with a number in parts, ready to stand in a text read from the right; others as they are."""
    if _PLAIN_NUMBER.fullmatch(value) or _FROM_RIGHT.search(value):
        return value
    return f"{_ISOLATE}{value}{_END}"


def needed_placeholders(phrase: AnyPhrase) -> frozenset[str]:
    """The values that a caller must give besides ``n``."""
    if isinstance(phrase, Phrase):
        return find_placeholders(phrase.english)
    return find_placeholders(phrase.other) - {"n"}
