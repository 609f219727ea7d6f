"""A document as it is to be laid out, and its articles: values that need no PDF writer."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.paper.geometry import LARGE, WIDEST, Area
from handouts.problems import Place

FITS = ("fit-0", "fit-1", "fit-2", "fit-3", "fit-4")
"""How tightly an article may be set, the calmest first; the last class of the article."""
STACKED = FITS[2]
"""The fit of an exercise in a PDF: its spacing and its figure are chosen by sums, so only sizes of type and headings hang on it."""
ROW, FRONT = "row", "front"
"""Kinds of articles of a document with several exercises on a page: an exercise, and what goes for all."""
BACK = "opening back-page"
"""Kind of the article that stands on the last page of a booklet, when it is folded too."""
TIGHTEST = {"standard": 4, LARGE: 4}
"""The last fit that differs from the one before, by type size."""


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
    share: float = WIDEST
    """What the column of its figure has of the width of both."""
    shape: float = 0.0
    """Width of its figure by its height; 0 where it has no figure that grows."""
    apart: bool = False
    """Whether its cautions may have one page more to themselves, where its pages are not enough even in the tightest fit."""
    free: float = 0.0
    """What it leaves free at the foot of its last page, in millimetres."""
    said: bool = False
    """Whether the document says its notes elsewhere, so that they may be left out where that spares a page."""
    halves: bool = False
    """Whether its pages are halves of a sheet, scaled to standard type, so that it may be set as tightly as that."""
    shares: bool = False
    """Whether it begins below the article before it, on its last page, if it has room there."""

    @property
    def opening(self) -> str:
        """The opening tag, as the template writes it."""
        return f'<article id="{self.anchor}" class="{self.kind} {FITS[self.fit]}">'


@dataclass(frozen=True, slots=True)
class ArticleStanding:
    """How a document holds an article."""

    down: int = 0
    """How many levels its headings stand below those of a document of its own."""
    pen: bool = False
    """Whether its first page has a line for the pen: the first page of what is handed out."""
    strip: str = ""
    """HTML of what stands at the foot of its last page: boxes to tick."""


@dataclass(frozen=True, slots=True)
class Document:
    """A text to be laid out: where its PDF goes, its HTML, and which parts must keep to their pages."""

    path: str
    """Path of the PDF in the site."""
    html: str
    paper: str
    size: str
    area: Area
    """Where its articles stand on each page."""
    articles: tuple[Article, ...]
    """In their order in the text; all of it but the frame is in them."""
    place: Place
    """Where in the library it comes from."""
    standing: tuple[ArticleStanding, ...] = ()
    """How each article stands in it; none where all stand plainly."""
    empty: str = ""
    """HTML of what stands on a page that no article takes: lines for notes."""
    bound: str = ""
    """Where its pages are two to a sheet, to be folded: the side at which it is bound, ``left`` or ``right``; else empty."""

    def stands(self, number: int) -> ArticleStanding:
        """How an article stands in the document."""
        return self.standing[number] if self.standing else ArticleStanding()
