"""A document as it is to be laid out, and its articles: values that need no PDF writer."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.paper.geometry import EVEN
from handouts.problems import Place

FITS = ("fit-0", "fit-1", "fit-2", "fit-3", "fit-4")
"""How tightly an article may be set, the calmest first; the last class of the article."""
LOPSIDED = 0.02
"""Least change of a column's share that is worth a draft."""
SPARE_MM = 1.0
"""Room that a grown figure leaves at the foot of its page."""


@dataclass(frozen=True, slots=True)
class Article:
    """A part of a document that begins on a new page and should not need more than its pages."""

    anchor: str
    """Its id; its classes end with its fit."""
    kind: str
    """Its classes before the fit."""
    pages: int
    """Pages that it should keep to; 0 as many as it takes."""
    place: Place
    """Where in the library it comes from."""
    name: str = ""
    """What a problem calls it; without a name it may take more pages where even the tightest fit needs them."""
    translated: bool = False
    """Whether it is a translation, and ``place`` in its catalogue."""
    fit: int = 0
    """The fit that it starts with, as its text is long."""
    share: float = EVEN
    """What its left column has of the width of both."""
    settled: bool = False
    """Whether its columns were balanced in the tightest fit."""
    shape: float = 0.0
    """Width of its figure by its height; 0 where it has no figure that grows."""
    apart: bool = False
    """Whether its cautions may have one page more to themselves, where its pages are not enough even in the tightest fit."""
    long: bool = False
    """Whether it is taken to need more than its pages even in the tightest fit, and so is set at once."""

    @property
    def opening(self) -> str:
        """The opening tag, as the template writes it."""
        return f'<article id="{self.anchor}" class="{self.kind} {FITS[self.fit]}">'


@dataclass(frozen=True, slots=True)
class Document:
    """A text to be laid out: where its PDF goes, its HTML, and which parts must keep to their pages."""

    path: str
    """Path of the PDF in the site."""
    html: str
    paper: str
    size: str
    bottom: float
    """Bottom margin in millimetres."""
    articles: tuple[Article, ...]
    """In their order in the text; all of it but the frame is in them."""
    place: Place
    """Where in the library it comes from."""
