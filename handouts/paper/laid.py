"""A finished PDF."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.problems import Problem


@dataclass(frozen=True, slots=True)
class Laid:
    """A PDF, its number of pages, and what went wrong on the way; ``pdf`` is empty where it could not be made."""

    pdf: bytes
    pages: int
    problems: tuple[Problem, ...]
