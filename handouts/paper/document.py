"""A document: an HTML text that holds everything its PDF is made of, and the key of that PDF.

A PDF is a pure function of its document, so it can be kept by the digest and made in any process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handouts.cache import key_of
from handouts.paper.cage import Laid, render_pdf, writer_version
from handouts.paper.kit import load_kit
from handouts.problems import Grade, Place, Problem

FITS = ("fit-0", "fit-1", "fit-2", "fit-3")
"""How tightly an article may be set, the calmest first; the last class of the article."""


@dataclass(frozen=True, slots=True)
class Article:
    """A part of a document that begins on a new page and should not need more than its pages."""

    anchor: str
    """Its id; its classes end with its fit."""
    kind: str
    """Class of the article before its fit."""
    pages: int
    place: Place
    """Where in the library it comes from."""
    name: str
    """What a problem calls it; without a name it may take more pages where even the tightest fit needs them."""
    fit: int = 0
    """The fit that it starts with, as its text is long."""

    @property
    def opening(self) -> str:
        """The opening tag, as the template writes it."""
        return f'<article id="{self.anchor}" class="{self.kind} {FITS[self.fit]}">'

    def tightened(self) -> Article:
        """The same, one fit tighter."""
        return replace(self, fit=self.fit + 1)


@dataclass(frozen=True, slots=True)
class Document:
    """A text to be laid out: where its PDF goes, its HTML, and which parts must keep to their pages."""

    path: str
    """Path of the PDF in the site."""
    html: str
    articles: tuple[Article, ...]
    place: Place
    """Where in the library it comes from."""
    digest: str = field(init=False)
    """Key of the PDF: hash of the HTML, styles, fonts and versions of the writer."""

    def __post_init__(self) -> None:
        limits = [f"{article.anchor} {article.pages} {article.fit}" for article in self.articles]
        object.__setattr__(self, "digest", key_of(self.html, *limits, load_kit().digest, writer_version()))


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document."""
    html, articles = document.html, document.articles
    while True:
        laid = render_pdf(html, {}, document.place)
        long = find_long(articles, laid) if not laid.problems else ()
        tighter = [article for article in long if article.fit + 1 < len(FITS)]
        if not tighter:
            return replace(laid, problems=(*laid.problems, *(_too_long(article, document, laid) for article in long if article.name)))
        for article in tighter:
            html = html.replace(article.opening, article.tightened().opening, 1)
        articles = tuple(article.tightened() if article in tighter else article for article in articles)


def find_long(articles: Sequence[Article], laid: Laid) -> tuple[Article, ...]:
    """The articles that take more pages than they should."""
    starts = sorted({*laid.anchors.values(), laid.pages})
    return tuple(
        article
        for article in articles
        if article.pages and _pages_of(laid.anchors[article.anchor], starts) > article.pages
    )


def _pages_of(start: int, starts: Sequence[int]) -> int:
    """Pages from the start of an article to the start of the next; articles never share a page."""
    return next((other for other in starts if other > start), start + 1) - start


def _too_long(article: Article, document: Document, laid: Laid) -> Problem:
    name = document.path.rpartition("/")[2]
    return Problem(
        article.place, "paper-too-long", f"'{article.name}' takes more than {article.pages} page(s) in '{name}'",
        "Shorten its steps, its mistakes or its cautions.", Grade.NOTICE,
    )
