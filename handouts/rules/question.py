"""What every rule is asked with: the library, the day and the order of its exercises."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from handouts.dose.progression import Progression, build_progression
from handouts.model import Library
from handouts.problems import Problem
from handouts.tasks.calling import Caller, call_now


@dataclass(frozen=True, slots=True)
class Question:
    """The whole library and the day on which it is asked about."""

    library: Library
    today: date
    progression: Progression
    call: Caller = call_now
    """How what is asked of one text is called."""


def ask_about(library: Library, today: date, call: Caller = call_now) -> Question:
    """The question to put to every rule."""
    return Question(library, today, build_progression(library), call)


Rule = Callable[[Question], Iterable[Problem]]
"""A rule answers one question with the problems it finds; the first line of its docstring is the question."""
