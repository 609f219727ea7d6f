"""A document: an HTML text that holds everything its PDF is made of, and the articles that it is put together from.

A PDF is a pure function of its document, the print styles and the fonts, so it can be made in any process.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from html import unescape

from handouts.paper.articles import FRONT, Article, Document
from handouts.paper.geometry import page_rules
from handouts.paper.objects import SLOT_WORDS
from handouts.paper.own_fonts import take_own_fonts
from handouts.paper.writer.forms import SLOT_MARK

CODE = "code"
"""The slot of the QR code: an article does not know its address, which changes with every version."""
_CONTENTS = 'class="contents"'
"""Where an article lists the pages of others."""
_FRAME = re.compile(r'<div class="running-(?:head|rules|foot)\b.*?</div>\n', re.DOTALL)
_CODE = re.compile(
    r'<svg xmlns="http://www.w3.org/2000/svg" class="qr" width="([^"]*)" height="[^"]*" viewBox="0 0 (\d+) \d+">'
    r'<title>([^<]*)</title><path d="([^"]*)"/></svg>'
)
_TITLE = re.compile(r"<title>.*?</title>\s*<meta name=\"author\"[^>]*>\n", re.DOTALL)


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
    rows: tuple[float, ...] = ()
    """Heights in millimetres of the exercises that follow a front, which leaves room for the first of them."""
    above: float = 0.0
    """What stands above it on its first page, in millimetres; 0 where that is its own."""
    brief: bool = False
    """Whether it leaves out its list, so that the article after it may stand below it."""
    own_fonts: str = ""
    """The rules of fonts that the library brings."""

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
    (before, own_fonts), after = take_own_fonts(plain_head(document)), f"\n{document.html[stop:].lstrip()}"
    del start
    leads = [article.shares for article in document.articles[1:]]
    return tuple(
        ArticleSource(
            f"{before}{_without_code(cut_out(article, document.html))}{after}",
            article,
            document.size,
            area.width,
            area.height,
            brief=brief,
            own_fonts=own_fonts,
        )
        for article, brief in zip(document.articles, (*leads, False), strict=True)
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


def waits_for_rows(source: ArticleSource) -> bool:
    """Whether an article leaves room for others, whose heights it must know."""
    return source.article.kind == FRONT


def waits_for_one_above(source: ArticleSource) -> bool:
    """Whether an article begins below another, of which it must know where that ends."""
    return source.article.shares


def with_rows(source: ArticleSource, heights: Sequence[float]) -> ArticleSource:
    """The front with the heights of the exercises that follow it, in millimetres."""
    return replace(source, rows=tuple(heights))


def below(source: ArticleSource, above: float) -> ArticleSource:
    """The article below another, which takes so many millimetres of its first page; 0 on a page of its own."""
    return replace(source, above=above, article=replace(source.article, shares=above > 0))


def with_targets(source: ArticleSource, targets: Sequence[tuple[str, int]]) -> ArticleSource:
    """The article with the page of each other that it lists."""
    return replace(source, targets=tuple(targets))


def source_rules(source: ArticleSource, *, first_is_last: bool) -> str:
    """The style rules of an article's pages and of the pages that it lists."""
    lines = "".join(f'.contents a[href="#{anchor}"]::after {{ content: leader(". ") "{page}"; }} ' for anchor, page in source.targets)
    free = source.article.free
    first = "" if first_is_last or not free else "@page :first { margin-bottom: 0; } "
    brief = ".entries { display: none; } " if source.brief else ""
    return f"{page_rules(source.width, source.height, free)} {first}{brief}{lines}"
