"""A finished PDF."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.problems import Problem
from handouts.tasks.calling import File


@dataclass(frozen=True, slots=True)
class Laid:
    """A PDF, its number of pages, and what went wrong on the way; ``pdf`` is empty where it could not be made."""

    pdf: File
    pages: int
    problems: tuple[Problem, ...]
