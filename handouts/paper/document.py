"""A document: an HTML text that holds everything its PDF is made of, and the key of that PDF.

A PDF is a pure function of its document, so it can be kept by the digest and made in any process.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handouts.cache import key_of
from handouts.paper.cage import Laid, render_pdf, writer_version
from handouts.paper.geometry import (
    EVEN,
    FIGURE,
    LARGE,
    PX_IN_MM,
    balance,
    bottom_px,
    column_rules,
    inner_width,
    left_width,
)
from handouts.paper.kit import load_kit
from handouts.problems import Grade, Place, Problem

FITS = ("fit-0", "fit-1", "fit-2", "fit-3", "fit-4")
"""How tightly an article may be set, the calmest first; the last class of the article."""
LOPSIDED = 0.02
"""Least change of a column's share that is worth a draft."""
_INNER_LINK = re.compile(r'href="#[^"]*"')
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
    fit: int = 0
    """The fit that it starts with, as its text is long."""
    share: float = EVEN
    """What its left column has of the width of both."""
    settled: bool = False
    """Whether its columns were balanced in the tightest fit."""
    shape: float = 0.0
    """Width of its figure by its height; 0 where it has no figure that grows."""

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
    place: Place
    """Where in the library it comes from."""
    digest: str = field(init=False)
    """Key of the PDF: hash of the HTML, styles, fonts and versions of the writer."""

    def __post_init__(self) -> None:
        parts = [f"{article.anchor} {article.pages} {article.fit} {article.shape:.3f}" for article in self.articles]
        key = key_of(self.html, self.paper, self.size, f"{self.bottom}", *parts, load_kit().digest, writer_version())
        object.__setattr__(self, "digest", key)


@dataclass(frozen=True, slots=True)
class Settled:
    """An article as it was measured: set as calmly as its pages allow, its figure as high as they leave room for."""

    article: Article
    figure: float
    """Height of its figure in millimetres; 0 where it has none that grows."""
    long: bool
    """Whether even the tightest fit takes more pages than it should."""


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document.

    Each article is measured in drafts of its own, since articles never share a page; then all are
    laid out once.
    """
    settled = []
    for article in document.articles:
        found = _settle(article, document)
        if isinstance(found, Laid):
            return found
        settled.append(found)
    laid = render_pdf(_set_articles(document.html, document, settled), {}, document.place)
    # Large print takes the pages it needs: only a standard sheet is held to its page.
    held = () if document.size == LARGE else settled
    notices = tuple(_too_long(each.article, document) for each in held if each.long and each.article.name)
    return replace(laid, problems=(*laid.problems, *notices))


def _settle(first: Article, document: Document) -> Settled | Laid:
    """An article made tighter until it keeps to its pages; a draft that failed is given back as it is."""
    part, article = _cut_out(first, document.html), first
    while True:
        least = FIGURE[document.size][article.fit] if article.shape else 0.0
        set_so = Settled(article, least, False)
        draft = render_pdf(_set_articles(part, document, [set_so], [first]), {}, document.place, draft=True)
        if draft.problems:
            return draft
        if not article.pages or draft.pages <= article.pages:
            return replace(set_so, figure=_grown(article, document, draft) if article.shape else 0.0)
        tighter = _tighten(article, document, draft)
        if tighter == article:
            # what may take more pages, and needs them, is set calmly
            return replace(set_so, long=True) if article.name else Settled(first, 0.0, True)
        article = tighter


def _cut_out(article: Article, html: str) -> str:
    """The document with this article alone; links into other articles lead to this one."""
    start = html.index(article.opening)
    end = html.index("</article>", start) + len("</article>")
    before, after = html.index("<article"), html.rindex("</article>") + len("</article>")
    alone = _INNER_LINK.sub(f'href="#{article.anchor}"', html[start:end])
    return f"{html[:before]}{alone}{html[after:]}"


def _tighten(article: Article, document: Document, draft: Laid) -> Article:
    """The article one fit tighter and with balanced columns; as it is where neither can help."""
    share = article.share
    marks = [draft.anchors.get(f"{article.anchor}--{mark}") for mark in ("top", "left", "right")]
    if None not in marks:
        top, left, right = (mark[0] * bottom_px(document.paper, document.bottom) + mark[1] for mark in marks if mark)
        figure = FIGURE[document.size][article.fit]
        balanced = balance(share, figure, (left - top) / PX_IN_MM, (right - top) / PX_IN_MM)
        share = balanced if abs(balanced - share) > LOPSIDED else share
    tightest = article.fit + 1 == len(FITS)
    if tightest and article.settled:
        return article
    return replace(article, share=share, fit=min(article.fit + 1, len(FITS) - 1), settled=tightest)


def _grown(article: Article, document: Document, draft: Laid) -> float:
    """The height of an article's figure in millimetres: what its page has left, and its column."""
    least = FIGURE[document.size][article.fit]
    end = draft.anchors[f"{article.anchor}--end"]
    if end[0] != 0:
        return least
    free = bottom_px(document.paper, document.bottom) - end[1]
    left, right = (draft.anchors.get(f"{article.anchor}--{side}", end) for side in ("left", "right"))
    room = least + (free + max(0.0, right[1] - left[1])) / PX_IN_MM - SPARE_MM
    two_columns = f"{article.anchor}--left" in draft.anchors
    width = left_width(document.paper, article.share) if two_columns else inner_width(document.paper)
    return max(least, min(width / article.shape, room))


def _set_articles(
    html: str, document: Document, settled: Sequence[Settled], firsts: Sequence[Article] | None = None
) -> str:
    """An HTML with the fit of each article, its columns and the height of its figure."""
    rules = []
    for first, each in zip(firsts or document.articles, settled, strict=True):
        article = each.article
        if article.fit != first.fit:
            html = html.replace(first.opening, article.opening, 1)
        if article.shape:
            rules.append(column_rules(article.anchor, document.paper, article.share))
            rules.append(f"#{article.anchor} .figure {{ height: {each.figure:.2f}mm; }}")
        if each.long and document.size == LARGE:
            # what needs more than its two pages fills the first before it begins the next
            rules.append(f"#{article.anchor} .back {{ break-before: auto; }}")
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)


def _too_long(article: Article, document: Document) -> Problem:
    name = document.path.rpartition("/")[2]
    return Problem(
        article.place, "paper-too-long", f"'{article.name}' takes more than one page in '{name}'",
        "Shorten its steps, its mistakes or its cautions.", Grade.NOTICE,
    )
