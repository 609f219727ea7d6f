"""Syllables of a Russian word: as many as it has vowels.

Exact for the written word.  A preposition without a vowel ("в", "к", "с") has none and counts none.  Leaves out:
Latin words inside Russian text beyond their plain vowels, figures, and abbreviations.
"""

from __future__ import annotations

_VOWELS = frozenset("аеёиоуыэюяіїє")
_LATIN_VOWELS = frozenset("aeiouy")


def russian_syllables(word: str) -> int:
    """Vowels of one Russian word, 0 or more."""
    lowered = word.casefold()
    cyrillic = sum(letter in _VOWELS for letter in lowered)
    return cyrillic or sum(letter in _LATIN_VOWELS for letter in lowered)
