"""Letters that no font of the sheets has: said where they are written, before anything is laid out."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from handouts.library.texts import walk_words
from handouts.model import Library, Words
from handouts.problems import Grade, Place, Problem
from handouts.tasks.calling import Caller, Later, call_now
from handouts.words.meaning import SCRIPTS, script_name, script_of

_PLAIN = frozenset(map(chr, range(0x20, 0x7F)))
"""Letters of ASCII, which every font of text has."""
_INVISIBLE = frozenset("\n\t\xa0\xad\u200b\u200c\u200d\u200e\u200f\u2060\u2066\u2067\u2068\u2069\ufe0e")
"""Marks of direction, joining and breaking: no font draws them."""


NEEDED = {"Jpan": "HIRAGANA", "Kore": "HANGUL"}
"""Letters by which a font for a script of several kinds is known, where they are not the first (ISO 15924 code: Unicode name)."""
_READ_LETTERS: Later[str] = Later("handouts.paper.font_letters", "read_letters", str)


def find_missing_letters(library: Library, call: Caller = call_now) -> tuple[Problem, ...]:
    """A problem at each text with a letter that cannot be printed; ``call`` asks which the fonts have."""
    parts = (library.clinic, library.tiers, library.vocabulary, library.cautions, library.exercises)
    words = (text for each in (*parts, library.programmes, library.bundles, *library.standalones.values()) for text in walk_words(each))
    known = _PLAIN | _INVISIBLE | frozenset(call(_READ_LETTERS)) | frozenset(library.face.letters if library.face else "")
    return tuple(problem for text in words if not known.issuperset(text.text) for problem in _missing(text, known))


def find_unwritable(library: Library, language: str, call: Caller = call_now) -> tuple[Problem, ...]:
    """The problem of a language in whose letters no font writes: said once, and nothing is published in it."""
    if any(language in font.languages for font in library.clinic.fonts):
        return ()
    script = script_of(language)
    needed = NEEDED.get(script) or SCRIPTS.get(script, ("NONE",))[0]
    if not script or needed == "LATIN" or any(unicodedata.name(letter, "").startswith(needed) for letter in call(_READ_LETTERS)):
        return ()
    place = library.clinic.languages.at("also")
    what = f"'{language}' is written in {script_name(language)} letters, which no font of handouts has, so nothing is published in it"
    mend = "Put a font for them, with its licence, into the folder 'fonts' and name both under 'fonts' in clinic.yaml; or take the language out."
    return (Problem(place, "language-font", what, mend, Grade.NOTICE),)


def _missing(text: Words, known: frozenset[str]) -> Iterator[Problem]:
    for letter in sorted(set(text.text) - known):
        place = Place(text.place.file, text.place.line, text.place.column + text.text.find(letter))
        what = f"no font of the sheets has the character {letter} (U+{ord(letter):04X})"
        yield Problem(place, "paper-glyph", what, "Use another character, or draw it in the figure.")
