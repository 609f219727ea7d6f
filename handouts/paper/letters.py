"""Letters that no font of the sheets has: said where they are written, before anything is laid out."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.library.texts import walk_words
from handouts.model import Library, Words
from handouts.problems import Place, Problem
from handouts.tasks.calling import Caller, Later, call_now

_PLAIN = frozenset(map(chr, range(0x20, 0x7F)))
"""Letters of ASCII, which every font of text has."""
_INVISIBLE = frozenset("\n\t\xa0\xad\u200b\u200c\u200d\u200e\u200f\u2060\u2066\u2067\u2068\u2069\ufe0e")
"""Marks of direction, joining and breaking: no font draws them."""


_READ_LETTERS: Later[str] = Later("handouts.paper.font_letters", "read_letters", str)


def find_missing_letters(library: Library, call: Caller = call_now) -> tuple[Problem, ...]:
    """A problem at each text with a letter that cannot be printed; ``call`` asks which the fonts have."""
    parts = (library.clinic, library.tiers, library.vocabulary, library.cautions, library.exercises)
    words = (text for each in (*parts, library.programmes, library.bundles, *library.standalones.values()) for text in walk_words(each))
    known = _PLAIN | _INVISIBLE | frozenset(call(_READ_LETTERS))
    return tuple(problem for text in words if not known.issuperset(text.text) for problem in _missing(text, known))


def _missing(text: Words, known: frozenset[str]) -> Iterator[Problem]:
    for letter in sorted(set(text.text) - known):
        place = Place(text.place.file, text.place.line, text.place.column + text.text.find(letter))
        what = f"no font of the sheets has the character {letter} (U+{ord(letter):04X})"
        yield Problem(place, "paper-glyph", what, "Use another character, or draw it in the figure.")
