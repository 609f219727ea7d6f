"""What every rule is asked with, and the small words that rules share."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from handouts.model import Library
from handouts.problems import Problem
from handouts.progression import Progression, build_progression
from handouts.sound import Sound


@dataclass(frozen=True, slots=True)
class Question:
    """The whole library and the day on which it is asked about."""

    library: Library
    today: date
    progression: Progression
    sound: Sound
    """What was found without fault before."""


def ask_about(library: Library, today: date, sound: Sound | None = None) -> Question:
    """The question to put to every rule."""
    return Question(library, today, build_progression(library), sound or Sound())


Rule = Callable[[Question], Iterable[Problem]]
"""A rule answers one question with the problems it finds; the first line of its docstring is the question."""
