"""A document: an HTML text that holds everything its PDF is made of, and the key of that PDF.

A PDF is a pure function of its document, so it can be kept by the digest and made in any process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from handouts.cache import key_of
from handouts.paper.cage import Laid, render_pdf, writer_version
from handouts.paper.geometry import EVEN, FIGURE, PX_IN_MM, balance, bottom_px, column_rules, inner_width, left_width
from handouts.paper.kit import load_kit
from handouts.problems import Grade, Place, Problem

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


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document.

    A draft is measured first: articles that are too long are set tighter, with their columns balanced;
    at last figures grow into the room that is left.
    """
    articles = document.articles
    while True:
        draft = render_pdf(_set_articles(document, articles, {}), {}, document.place, draft=True)
        if draft.problems:
            return draft
        long = find_long(articles, draft)
        changed = tuple(_tighten(each, document, draft) if each in long else each for each in articles)
        if changed == articles:
            break
        articles = changed
    # what needs two pages anyway, and may take them, is set calmly
    articles = tuple(replace(each, fit=0) if each in long and not each.name else each for each in articles)
    heights = {each.anchor: _grown(each, document, draft) for each in articles if each.shape and each not in long}
    laid = render_pdf(_set_articles(document, articles, heights), {}, document.place)
    notices = tuple(_too_long(article, document) for article in long if article.name)
    return replace(laid, problems=(*laid.problems, *notices))


def _tighten(article: Article, document: Document, draft: Laid) -> Article:
    """The article one fit tighter and with balanced columns; as it is where neither can help."""
    marks = [draft.anchors.get(f"{article.anchor}--{mark}") for mark in ("top", "left", "right")]
    share = article.share
    if None not in marks:
        top, left, right = (mark[0] * bottom_px(document.paper, document.bottom) + mark[1] for mark in marks if mark)
        figure = FIGURE[document.size][article.fit]
        balanced = balance(share, figure, (left - top) / PX_IN_MM, (right - top) / PX_IN_MM)
        share = balanced if abs(balanced - share) > LOPSIDED else share
    tightest = article.fit + 1 == len(FITS)
    if tightest and article.settled:
        return article
    return replace(article, share=share, fit=min(article.fit + 1, len(FITS) - 1), settled=tightest)


def find_long(articles: Sequence[Article], laid: Laid) -> tuple[Article, ...]:
    """The articles that take more pages than they should."""
    starts = sorted({laid.anchors[article.anchor][0] for article in articles} | {laid.pages})
    return tuple(
        article
        for article in articles
        if article.pages and _pages_from(laid.anchors[article.anchor][0], starts) > article.pages
    )


def _pages_from(start: int, starts: Sequence[int]) -> int:
    """Pages from the start of an article to the start of the next; articles never share a page."""
    return next((other for other in starts if other > start), start + 1) - start


def _grown(article: Article, document: Document, draft: Laid) -> float:
    """The height of an article's figure in millimetres: what its page has left, and its column."""
    least = FIGURE[document.size][article.fit]
    end = draft.anchors[f"{article.anchor}--end"]
    if end[0] != draft.anchors[article.anchor][0]:
        return least
    free = bottom_px(document.paper, document.bottom) - end[1]
    left, right = (draft.anchors.get(f"{article.anchor}--{side}", end) for side in ("left", "right"))
    room = least + (free + max(0.0, right[1] - left[1])) / PX_IN_MM - SPARE_MM
    two_columns = f"{article.anchor}--left" in draft.anchors
    width = left_width(document.paper, article.share) if two_columns else inner_width(document.paper)
    return max(least, min(width / article.shape, room))


def _set_articles(document: Document, articles: Sequence[Article], heights: dict[str, float]) -> str:
    """The HTML with the fit of each article and the height of its figure."""
    html, rules = document.html, []
    for first, article in zip(document.articles, articles, strict=True):
        if article.fit != first.fit:
            html = html.replace(first.opening, article.opening, 1)
        if article.shape:
            rules.append(column_rules(article.anchor, document.paper, article.share))
            height = heights.get(article.anchor, FIGURE[document.size][article.fit])
            rules.append(f"#{article.anchor} .figure {{ height: {height:.2f}mm; }}")
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)


def _too_long(article: Article, document: Document) -> Problem:
    name = document.path.rpartition("/")[2]
    pages = "one page" if article.pages == 1 else "two pages"
    return Problem(
        article.place, "paper-too-long", f"'{article.name}' takes more than {pages} in '{name}'",
        "Shorten its steps, its mistakes or its cautions.", Grade.NOTICE,
    )
