"""Syllable counters, one function a language; each says in its module what it leaves out.

Holds no formula and no rule about figures or abbreviations.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from handouts.readability.syllables.english import english_syllables
from handouts.readability.syllables.french import french_syllables
from handouts.readability.syllables.germanic import german_syllables
from handouts.readability.syllables.romance import italian_syllables, portuguese_syllables, spanish_syllables
from handouts.readability.syllables.russian import russian_syllables

SYLLABLES: Mapping[str, Callable[[str], int]] = {
    "en": english_syllables,
    "es": spanish_syllables,
    "fr": french_syllables,
    "de": german_syllables,
    "it": italian_syllables,
    "pt": portuguese_syllables,
    "ru": russian_syllables,
}
"""Language to its counter; Arabic is weighed instead (``arabic``), the Nordic languages need none (LIX)."""
