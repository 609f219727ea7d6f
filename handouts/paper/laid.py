"""A PDF as it came from the writer: its bytes, its number of pages, and what went wrong on the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from handouts.paper.articles import Document
from handouts.paper.pdf.drawn import DrawnPages
from handouts.problems import Problem
from handouts.tasks.calling import File


@dataclass(frozen=True, slots=True)
class Laid:
    """A PDF, its number of pages, and what went wrong on the way; ``pdf`` is empty where it could not be made."""

    pdf: File
    pages: int
    problems: tuple[Problem, ...]


PartCall = tuple[Callable[..., DrawnPages], Any]
"""A task that makes a part of documents, and its argument."""


@dataclass(frozen=True, slots=True)
class LaidDocument:
    """A document with its PDF, or why that could not be made."""

    document: Document
    laid: Laid
    lost: str = ""
    parts: tuple[PartCall, ...] = ()
    """What its parts came from, those too that another one took the place of."""
