"""A document: an HTML text that holds everything its PDF is made of, and the articles that it is put together from.

A PDF is a pure function of its document, the print styles and the fonts, so it can be made in any process.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from html import unescape

from handouts.paper.geometry import LARGE, WIDEST, Area, page_rules
from handouts.paper.objects import SLOT_WORDS
from handouts.paper.writer.forms import SLOT_MARK
from handouts.problems import Place

FITS = ("fit-0", "fit-1", "fit-2", "fit-3", "fit-4")
"""How tightly an article may be set, the calmest first; the last class of the article."""
STACKED = FITS[2]
"""The fit of an exercise in a PDF: its spacing and its figure are chosen by sums, so only sizes of type and headings hang on it."""
TIGHTEST = {"standard": 4, LARGE: 3}
"""The last fit that differs from the one before, by type size."""
CODE = "code"
"""The slot of the QR code: an article does not know its address, which changes with every version."""
_CONTENTS = 'class="contents"'
"""Where an article lists the pages of others."""
_FRAME = re.compile(r'<div class="running-(?:head|foot)\b.*?</div>\n', re.DOTALL)
_CODE = re.compile(
    r'<svg xmlns="http://www.w3.org/2000/svg" class="qr" width="([^"]*)" height="[^"]*" viewBox="0 0 (\d+) \d+">'
    r'<title>([^<]*)</title><path d="([^"]*)"/></svg>'
)
_TITLE = re.compile(r"<title>.*?</title>\s*<meta name=\"author\"[^>]*>\n", re.DOTALL)


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
    said: bool = False
    """Whether the document says its notes elsewhere."""


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

    def stands(self, number: int) -> ArticleStanding:
        """How an article stands in the document."""
        return self.standing[number] if self.standing else ArticleStanding()


@dataclass(frozen=True, slots=True)
class ArticleSource:
    """An article by itself: all that its pages are made from, and nothing of the document or paper it will stand in."""

    html: str
    article: Article
    size: str
    width: float
    height: float
    """Of the room for articles, in millimetres."""
    targets: tuple[tuple[str, int], ...] = ()
    """The page of each other article, where it lists them."""
    said: bool | None = None
    """For one that has not kept to its pages: whether its notes are said elsewhere.  None: it must keep to them."""

    @property
    def language(self) -> str:
        """BCP 47 tag of its language."""
        return self.html.partition('<html lang="')[2].partition('"')[0]


@dataclass(frozen=True, slots=True)
class QrOutline:
    """A QR code as a document fills it in: modules of a side, quiet zone included, the outline of the dark ones, its words."""

    side: int
    outline: str
    words: str


def sources_of(document: Document) -> tuple[ArticleSource, ...]:
    """Each article of a document by itself, in their order; pages that it lists are not filled in."""
    area = document.area
    start, stop = document.html.index("<article"), document.html.rindex("</article>") + len("</article>")
    before, after = plain_head(document), document.html[stop:]
    del start
    return tuple(
        ArticleSource(f"{before}{_without_code(cut_out(article, document.html))}{after}", article, document.size, area.width, area.height)
        for article in document.articles
    )


def plain_head(document: Document) -> str:
    """What stands before the first article, without frame, title and author."""
    head = _FRAME.sub("", document.html[: document.html.index("<article")])
    return _TITLE.sub("<title>article</title>\n", head, count=1)


def cut_out(article: Article, html: str) -> str:
    """An article's own text."""
    start = html.index(article.opening)
    return html[start : html.index("</article>", start) + len("</article>")]


def lists_pages(source: ArticleSource) -> bool:
    """Whether an article lists the pages of others."""
    return _CONTENTS in source.html


def code_of(article: Article, document: Document) -> QrOutline | None:
    """The QR code of an article in a document; None where it has none."""
    found = _CODE.search(cut_out(article, document.html))
    return QrOutline(int(found[2]), found[4], unescape(found[3])) if found else None


def _without_code(text: str) -> str:
    """The text with a slot of the same size in place of its QR code."""
    slot = (
        rf'<svg xmlns="http://www.w3.org/2000/svg" class="qr" width="\1" height="\1" viewBox="0 0 1 1" {SLOT_MARK}="{CODE}">'
        f"<title>{SLOT_WORDS}{CODE}</title></svg>"
    )
    return _CODE.sub(slot, text)


def with_targets(source: ArticleSource, targets: Sequence[tuple[str, int]]) -> ArticleSource:
    """The article with the page of each other that it lists."""
    return replace(source, targets=tuple(targets))


def source_rules(source: ArticleSource, *, first_is_last: bool) -> str:
    """The style rules of an article's pages and of the pages that it lists."""
    lines = "".join(f'.contents a[href="#{anchor}"]::after {{ content: leader(". ") "{page}"; }} ' for anchor, page in source.targets)
    free = source.article.free
    first = "" if first_is_last or not free else "@page :first { margin-bottom: 0; } "
    return f"{page_rules(source.width, source.height, free)} {first}{lines}"
