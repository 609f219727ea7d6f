"""The words of the interface in one language: phrases, counts, numbers, dates, lists, direction.

Strict: an id that does not exist, a value that is missing or too many, or a phrase that is not
translated raises an error; nothing comes out in English by accident.  Check ``Wording(...).problems``
before a language is published.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache

from handouts.model import Library
from handouts.problems import Problem
from handouts.words import locales
from handouts.words.phrase import Phrase, fill, needed_placeholders
from handouts.words.phrases import PHRASES
from handouts.words.shipped import Forms, Interface, load_interface


@cache
def _needed(name: str) -> frozenset[str]:
    return needed_placeholders(PHRASES[name])


class MissingPhraseError(LookupError):
    """A phrase that does not exist, or that has no text readers may see in this language."""


class Wording:
    """One language's words.  ``language`` is a BCP 47 tag, or ``en-XA`` / ``ar-XB`` for layout tests."""

    def __init__(self, language: str, interface: Interface | None = None, *, in_pounds: bool = False) -> None:
        self.language = language
        self._is_own = interface is not None
        self.in_pounds = in_pounds
        """Whether weights are said in pounds."""
        self._interface = interface or load_interface(language)

    @classmethod
    def of(cls, library: Library) -> Wording:
        """The words for a library: its language, and its clinic's units."""
        own = Interface(library.language, library.phrases, ()) if library.phrases else None
        return cls(library.language, own, in_pounds=library.clinic.in_pounds)

    def known_by(self) -> tuple[str, bool, Mapping[str, Forms]]:
        """What tells it from another: phrases come with the program, where the library brings none; forms of numbers do."""
        return self.language, self.in_pounds, self._interface.forms if self._is_own else {}

    @property
    def forms(self) -> Mapping[str, Forms]:
        """Every phrase that can be said, by its id: for scripts that say it themselves."""
        return self._interface.forms

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every phrase that cannot be said in this language; a language with any is not published."""
        return self._interface.problems

    @property
    def direction(self) -> str:
        """``ltr`` or ``rtl``."""
        return locales.direction(self.language)

    @property
    def own_name(self) -> str:
        """The language's name in itself: for the language switch."""
        return locales.own_name(self.language)

    def name_of(self, language: str) -> str:
        """Another language's name in this language."""
        return locales.name_in(language, self.language)

    def say(self, name: str, /, **values: str) -> str:
        """A phrase, filled; MissingPhraseError where it cannot be said, TypeError for wrong values."""
        if not isinstance(PHRASES.get(name), Phrase):
            raise MissingPhraseError(f"no phrase without a count has the id {name!r}")
        self._check(name, values)
        text = self._forms(name)["other"]
        return fill(text, values) if values else text

    def count(self, name: str, n: float, /, **values: str) -> str:
        """A phrase in the form that the language uses for ``n``; ``{n}`` is the number as the language writes it."""
        phrase = PHRASES.get(name)
        if phrase is None or isinstance(phrase, Phrase):
            raise MissingPhraseError(f"no phrase with a count has the id {name!r}")
        self._check(name, values)
        form = self._forms(name)[locales.category(self.language, n)]
        return fill(form, {**values, "n": self.number(n)})

    def number(self, value: float) -> str:
        """A number with this language's decimal sign, at most two decimals."""
        return locales.number(self.language, value)

    def date(self, day: date) -> str:
        """A date in full: September 14, 2026."""
        return locales.long_date(self.language, day)

    def join(self, items: Sequence[str]) -> str:
        """A list in one sentence: a, b, and c."""
        return locales.join(self.language, tuple(items))

    def _forms(self, name: str) -> Forms:
        try:
            return self._interface.forms[name]
        except KeyError:
            raise MissingPhraseError(f"the phrase {name!r} cannot be said in {self.language!r}") from None

    def _check(self, name: str, values: Mapping[str, str]) -> None:
        wanted = _needed(name)
        if values.keys() != wanted:
            raise TypeError(f"phrase {name!r} needs the values {sorted(wanted)}, got {sorted(values)}")
