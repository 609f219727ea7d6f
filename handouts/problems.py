"""What is wrong in a library, where, and how to mend it.

A problem is a value, never a log line and never an exception: each stage returns its problems beside
its result, and only the command line turns them into text.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from enum import Enum


class Grade(Enum):
    """How grave a problem is."""

    ERROR = "error"
    """The library is not built while it stands."""
    NOTICE = "notice"
    """Someone should look at it; the library is built all the same."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A point in a file of the library; line and column count from 1, in characters."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    def __reduce__(self) -> tuple[type[Place], tuple[str, int, int]]:
        return Place, (self.file, self.line, self.column)


del Place.__dataclass_fields__  # what writes values by their fields asks whoever calls it what a place is worth


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong: where, which rule, what, and how to mend it."""

    place: Place
    rule: str
    """A short name in kebab-case that never changes its meaning."""
    what: str
    """What is wrong, in words that a clinician understands, without a closing full stop."""
    mend: str
    """How to mend it: a sentence that starts with a verb."""
    grade: Grade = Grade.ERROR

    def __post_init__(self) -> None:
        if not self.mend:
            raise ValueError(f"problem {self.rule!r} has no mend")

    @property
    def sort_key(self) -> tuple[str, int, int, str, str]:
        """By place, then by rule and text: the order in which problems are printed."""
        return (self.place.file, self.place.line, self.place.column, self.rule, self.what)


class PaperUnavailableError(RuntimeError):
    """The system libraries that the PDF writer needs are missing."""


MOST_SHOWN = 400
"""Longest part of a problem that is shown, in characters: an author's text may stand in it."""
_ESCAPED = {"\n": "\\n", "\r": "\\r", "\t": "\\t"}


def show_text(text: str) -> str:
    """A text on one line: what cannot be seen, and what could turn a terminal or a line about, as its code."""
    if not text.isprintable():
        text = "".join(sign if sign.isprintable() else _ESCAPED.get(sign, f"<U+{ord(sign):04X}>") for sign in text)
    return text if len(text) <= MOST_SHOWN else f"{text[:MOST_SHOWN // 2]} … {text[-MOST_SHOWN // 2 :]}"


def show_problem(problem: Problem) -> str:
    """The one line that is printed: ``file:line:column: error: what. Mend. [rule]``."""
    place, what, mend = str(problem.place), problem.what, problem.mend
    return f"{show_text(place)}: {problem.grade.value}: {show_text(what)}. {show_text(mend)} [{problem.rule}]"


def sort_problems(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """All problems once, sorted by place; the same problem said twice is said once."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda problem: problem.sort_key))


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether any problem keeps the library from being built."""
    return any(problem.grade is Grade.ERROR for problem in problems)


def names_like(word: str, known: Iterable[str], least: float, most: int = 1) -> list[str]:
    """The known names that are spelt most like a word; ``least`` is the likeness that they must have, of 1 (difflib's ratio)."""
    return get_close_matches(word, list(known), n=most, cutoff=least)


def suggest(word: str, known: Iterable[str], least: float = 0.6, meant: Iterable[str] = (), where: str = "") -> str:
    """The mend for a misspelt name: ``Did you mean 'x'?`` or the list of what is known.

    ``meant`` are names that come before those that are spelt alike; ``where`` says where a list stands that is too long for one line.
    """
    names = sorted(known)
    close = [name for name in meant if name in names] or names_like(word, names, least)
    if close:
        return "Did you mean " + " or ".join(f"'{name}'" for name in close) + "?"
    if len(names) > 12 and where:
        return f"The nearest are {', '.join(names_like(word, names, 0.0, 3))}; {where}"
    if len(names) > 12:
        return f"Use one of the {len(names)} names declared for it, for example '{names[0]}'."
    return f"Use one of: {', '.join(names)}." if names else "Declare it first."
