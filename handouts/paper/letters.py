"""Letters that no font of the sheets has: said where they are written, before anything is laid out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO

from fontTools.ttLib import TTFont

from handouts.library.texts import walk_words
from handouts.model import Library, Words
from handouts.paper.kit import load_kit
from handouts.problems import Place, Problem

_PLAIN = frozenset(map(chr, range(0x20, 0x7F)))
"""Letters of ASCII, which every font of text has."""
_INVISIBLE = frozenset("\n\t\xa0\xad\u200b\u200c\u200d\u200e\u200f\u2060\u2066\u2067\u2068\u2069\ufe0e")
"""Marks of direction, joining and breaking: no font draws them."""


@cache
def known_letters() -> frozenset[str]:
    """Every letter that some font of the sheets has."""
    found: set[int] = set()
    for data in load_kit().fonts.values():
        with TTFont(BytesIO(data), lazy=True) as font:
            found |= font.getBestCmap().keys()
    return frozenset(map(chr, found))


def find_missing_letters(library: Library) -> tuple[Problem, ...]:
    """A problem at each text with a letter that cannot be printed."""
    parts = (library.clinic, library.tiers, library.vocabulary, library.cautions, library.exercises)
    words = (text for each in (*parts, library.programmes, library.bundles) for text in walk_words(each))
    return tuple(problem for text in words for problem in _missing(text))


def _missing(text: Words) -> Iterator[Problem]:
    unusual = set(text.text) - _PLAIN - _INVISIBLE
    for letter in sorted(unusual - known_letters()) if unusual else ():
        place = Place(text.place.file, text.place.line, text.place.column + text.text.find(letter))
        what = f"no font of the sheets has the character {letter} (U+{ord(letter):04X})"
        yield Problem(place, "paper-glyph", what, "Use another character, or draw it in the figure.")
