"""A document: an HTML text that holds everything its PDF is made of.

A PDF is a pure function of its document, the print styles and the fonts, so it can be made in any process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts.paper.articles import LOPSIDED, SPARE_MM, Article, Document
from handouts.paper.back import APART, BACKS, back_rules, end_of_front, keeps_to_pages
from handouts.paper.cage import Layout, draw, grow, lay_out
from handouts.paper.geometry import (
    FIGURE,
    LARGE,
    PX_IN_MM,
    balance,
    bottom_px,
    column_rules,
    inner_width,
    left_width,
)
from handouts.paper.kit import faces_for
from handouts.paper.laid import Laid
from handouts.problems import Grade, Problem

TIGHTEST = {"standard": 4, LARGE: 3}
"""The last fit that differs from the one before, by type size."""
_CONTENTS = 'class="contents"'
"""Where an article lists the pages of others."""
ROUNDS = 8
"""How often the numbers of pages are looked at; twice are enough unless a longer number takes another page."""


@dataclass(frozen=True, slots=True)
class Settled:
    """An article as it was measured: set as calmly as its pages allow, its figure as high as they leave room for."""

    article: Article
    figure: float
    """Height of its figure in millimetres; 0 where it has none that grows."""
    long: bool
    """Whether even the tightest fit takes more pages than it should, so that it is set on one page more."""
    back: str = ""
    """What a standard sheet that is long has on its second page, one of ``BACKS``, or ``APART``."""
    over: bool = False
    """Whether even that is not enough."""


@dataclass(frozen=True, slots=True)
class Folio:
    """What an article's pages say about the others of their document."""

    before: int = 0
    """Pages before its first."""
    total: int = 0
    """Pages of the document; 0 where the article is all of it."""
    targets: tuple[tuple[str, int], ...] = ()
    """The page of each other article, where it lists them."""


@dataclass(frozen=True, slots=True)
class Part:
    """An article with its pages, ready to be drawn."""

    settled: Settled
    folio: Folio
    layout: Layout


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document."""
    parts = settle_document(document)
    laid = draw([part.layout for part in parts])
    held = [part.settled for part in parts if part.settled.over]
    notices = tuple(_too_long(each.article, document) for each in held if each.article.name)
    return replace(laid, problems=(*laid.problems, *(notices if laid.pdf else ())))


def settle_document(document: Document) -> tuple[Part, ...]:
    """Each article laid out by itself, since articles never share a page; a part that failed is given back alone.

    What takes as many pages as it takes goes first: the others say how many there are.
    """
    counts = [max(1, article.pages) for article in document.articles]
    order = sorted(range(len(counts)), key=lambda number: document.articles[number].pages)
    parts: dict[int, Part] = {}
    faces = faces_for(document.html)
    for _ in range(ROUNDS):
        was = dict(parts)
        for number in order:
            folio = _folio(document, counts, number)
            if number in parts and parts[number].folio == folio:
                continue
            settled = parts[number].settled if number in parts else None
            parts[number] = part = _settle(document, number, folio, faces, settled)
            if part.layout.problems:
                return (part,)
            counts[number] = part.layout.pages
        if parts == was:
            break
    return tuple(parts[number] for number in range(len(counts)))


def _folio(document: Document, counts: Sequence[int], number: int) -> Folio:
    if len(counts) == 1:
        return Folio()
    article = document.articles[number]
    targets = []
    if _CONTENTS in document.html[slice(*_extent(article, document.html))]:
        targets = [(other.anchor, 1 + sum(counts[:place])) for place, other in enumerate(document.articles)]
    return Folio(sum(counts[:number]), sum(counts), tuple(targets))


def _settle(document: Document, number: int, folio: Folio, faces: tuple[str, ...], known: Settled | None) -> Part:
    """An article made tighter until it keeps to its pages; as it is ``known`` to be set, where only its folio is new."""
    first = document.articles[number]
    html = _cut_out(first, document.html).replace("</head>", f"{_folio_rules(folio)}</head>", 1)

    def lay(settled: Settled) -> Part:
        layout = lay_out(set_articles(html, document, [settled], first), {}, document.place, faces=faces)
        return Part(settled, folio, layout)

    if known or first.long:
        return lay(known or _set_long(first, document))

    def tighten(article: Article, back: str = "") -> tuple[Part, bool]:
        """The calmest fit that will do, or the tightest; and whether it does."""
        while True:
            part = lay(Settled(article, FIGURE[document.size][article.fit] if article.shape else 0.0, bool(back), back))
            if part.layout.problems or keeps_to_pages(article.anchor, article.pages, part.layout, back):
                return part, True
            tighter = _tighten(article, document, part.layout)
            if tighter == article:
                return part, False
            article = tighter

    part, done = tighten(first)
    if not done and not first.name:
        # what may take more pages, and needs them, is set calmly
        return lay(Settled(first, 0.0, True))
    if not done and document.size == LARGE:
        return lay(_set_long(part.settled.article, document))
    for back in (APART,) if first.apart else BACKS:
        if not done:
            part, done = tighten(replace(first, fit=0), back)
    if not done:
        return replace(part, settled=replace(part.settled, over=True))
    return _grow(part, document) if part.settled.article.shape and not part.layout.problems else part


def _set_long(article: Article, document: Document) -> Settled:
    """An article that needs more than its pages: as tight as can be, its figure as low."""
    tightest = TIGHTEST[document.size]
    return Settled(replace(article, fit=max(article.fit, tightest)), FIGURE[document.size][tightest] if article.shape else 0.0, True)


def _grow(part: Part, document: Document) -> Part:
    """The part with its figure as high as its page and its column leave room for."""
    least, article = part.settled.figure, part.settled.article
    figure = round(_grown(article, document, part.layout), 2)
    if figure <= least:
        return part
    layout = grow(part.layout, article.anchor, (figure - least) * PX_IN_MM)
    return replace(part, settled=replace(part.settled, figure=figure), layout=layout)


def _extent(article: Article, html: str) -> tuple[int, int]:
    start = html.index(article.opening)
    return start, html.index("</article>", start) + len("</article>")


def _cut_out(article: Article, html: str) -> str:
    """The document with this article alone."""
    start, end = _extent(article, html)
    before, after = html.index("<article"), html.rindex("</article>") + len("</article>")
    return f"{html[:before]}{html[start:end]}{html[after:]}"


def _folio_rules(folio: Folio) -> str:
    """The style rules by which an article alone has the numbers that it has in its document."""
    if not folio.total:
        return ""
    lines = "".join(f'.contents a[href="#{anchor}"]::after {{ content: leader(". ") "{page}"; }} ' for anchor, page in folio.targets)
    return (
        f"<style>@page :first {{ counter-reset: page {folio.before + 1}; }} "
        f'.running-foot .m::before {{ content: "{folio.total}"; }} {lines}</style>\n'
    )


def _tighten(article: Article, document: Document, draft: Layout) -> Article:
    """The article one fit tighter and with balanced columns; as it is where neither can help."""
    share = article.share
    marks = [draft.anchors.get(f"{article.anchor}--{mark}") for mark in ("top", "left", "right")]
    if None not in marks:
        top, left, right = (mark[0] * bottom_px(document.paper, document.bottom) + mark[1] for mark in marks if mark)
        figure = FIGURE[document.size][article.fit]
        balanced = balance(share, figure, (left - top) / PX_IN_MM, (right - top) / PX_IN_MM)
        share = balanced if abs(balanced - share) > LOPSIDED else share
    if article.fit < TIGHTEST[document.size]:
        # what stands behind the page of the figure gains nothing from a lower one
        behind = document.size == LARGE and article.fit + 1 == TIGHTEST[LARGE] and _ends_on_first(article, draft)
        return article if behind else replace(article, share=share, fit=article.fit + 1)
    # in the tightest fit the columns are balanced once more
    return article if article.settled or share == article.share else replace(article, share=share, settled=True)


def _ends_on_first(article: Article, draft: Layout) -> bool:
    """Whether what stands with the figure ends on its page."""
    return end_of_front(article.anchor, draft)[0] == 0


def _grown(article: Article, document: Document, draft: Layout) -> float:
    """The height of an article's figure in millimetres: what its page has left, and its column."""
    least = FIGURE[document.size][article.fit]
    if not _ends_on_first(article, draft):
        return least
    end = end_of_front(article.anchor, draft)
    free = bottom_px(document.paper, document.bottom) - end[1]
    left, right = (draft.anchors.get(f"{article.anchor}--{side}", end) for side in ("left", "right"))
    room = least + (free + max(0.0, right[1] - left[1])) / PX_IN_MM - SPARE_MM
    two_columns = f"{article.anchor}--left" in draft.anchors
    width = left_width(document.paper, article.share) if two_columns else inner_width(document.paper)
    return max(least, min(width / article.shape, room))


def set_articles(
    html: str, document: Document, settled: Sequence[Settled], alone: Article | None = None
) -> str:
    """An HTML with the fit of each article, its columns and the height of its figure: a layout of it gives their pages."""
    rules = []
    for first, each in zip((alone,) if alone else document.articles, settled, strict=True):
        article = each.article
        # alone it is named as in any other document, so that both have the same styles
        name = f"article.{article.kind.partition(' ')[0]}" if alone else f"#{article.anchor}"
        if article.fit != first.fit:
            html = html.replace(first.opening, article.opening, 1)
        if article.shape:
            rules.append(column_rules(name, document.paper, article.share))
            rules.append(f"{name} .figure {{ height: {each.figure:.2f}mm; }}")
        if each.long and document.size == LARGE:
            # what needs more than its two pages fills the first before it begins the next
            rules.append(f"{name} .back {{ break-before: auto; }}")
        elif each.back:
            rules.append(back_rules(each.back, name))
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)


def _too_long(article: Article, document: Document) -> Problem:
    language, _, path = document.path.partition("/")
    texts = "the translation of its steps" if article.translated else "its steps"
    return Problem(
        article.place, "paper-too-long",
        f"'{article.name}' takes more than {'three' if article.apart else 'two'} pages in '{path.rpartition('/')[2]}' "
        f"(language {language}, paper {document.paper}, type size {document.size})",
        f"Shorten {texts}, its mistakes or its cautions.", Grade.NOTICE,
    )
