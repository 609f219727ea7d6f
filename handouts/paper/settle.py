"""An article set as calmly as its pages allow, its figure as high as they leave room for: fits are chosen by laying out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from handouts.paper.back import APART, BACKS, back_rules, end_of_front, keeps_to_pages
from handouts.paper.cage import Layout, grow, lay_out
from handouts.paper.document import TIGHTEST, Article, ArticleSource, source_rules
from handouts.paper.geometry import FIGURE, LARGE, PX_IN_MM, balance, column_rules, left_width
from handouts.paper.objects import draw_pages
from handouts.paper.pdf.drawn import DrawnPages

LOPSIDED = 0.02
"""Least change of a column's share that is worth a draft."""
LINE = (1.33, 1.26, 1.2, 1.15, 1.11)
"""Height of a line by that of its letters in each fit of standard type, as ``print.css`` sets it."""
SPARE_MM = 1.0
"""Room that a grown figure leaves at the foot of its page."""


@dataclass(frozen=True, slots=True)
class Settled:
    """An article as it was measured."""

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
class LaidArticle:
    """An article with its pages, ready to be drawn."""

    settled: Settled
    layout: Layout
    layouts: int
    """How often it was laid out."""


def draw_article(source: ArticleSource) -> DrawnPages:
    """The pages of an article, drawn; none where it does not keep to its pages and was not asked what to do then.

    For any process: needs only the source.
    """
    part = settle(source)
    if part.layout.problems or (part.settled.over and source.article.shape and source.said is None):
        return DrawnPages((), problems=part.layout.problems, over=part.settled.over, layouts=part.layouts)
    drawn, _ = draw_pages(part.layout, tagged=True)
    return replace(drawn, over=part.settled.over, layouts=part.layouts)


def settle(source: ArticleSource) -> LaidArticle:
    """An article made tighter until it keeps to its pages."""
    first, size = source.article, source.size
    counted = 0

    def lay(settled: Settled) -> LaidArticle:
        nonlocal counted
        counted += 1
        return LaidArticle(settled, lay_out(set_article(source, settled), {}, first.place), counted)

    if first.long:
        return lay(_set_long(first, size))

    if not first.shape:
        return _settle_without_figure(source, lay)
    if source.said is not None:
        return _settle_on_two(source, lay)
    part, done = _tighten_until(first, source, lay)
    if done and size != LARGE:
        part = _calm(part, source, lay)
    if not done and size == LARGE:
        return lay(_set_long(part.settled.article, size))
    if not done:
        return replace(part, settled=replace(part.settled, over=True))
    return _grow(part, source) if part.settled.article.shape and not part.layout.problems else part


def _settle_without_figure(source: ArticleSource, lay: Callable[[Settled], LaidArticle]) -> LaidArticle:
    """A cover, an opening, or two languages: as it is, else in the calmest fit that keeps to the pages, if the tightest does.

    Without a name it may take more pages, and is set calmly where it needs them.
    """
    first, tightest = source.article, TIGHTEST[source.size]
    for back in ("", APART) if first.apart else ("",):
        calm = lay(Settled(first, 0.0, bool(back), back))
        if _keeps(calm):
            return calm
        tight = lay(Settled(replace(first, fit=tightest), 0.0, bool(back), back))
        for fit in range(first.fit + 1, tightest) if _keeps(tight) else ():
            part = lay(Settled(replace(first, fit=fit), 0.0, bool(back), back))
            if _keeps(part):
                return part
        if _keeps(tight):
            return replace(tight, layouts=tight.layouts + tightest - first.fit - 1)
    if first.name:
        return replace(tight, settled=replace(tight.settled, over=True))
    return replace(calm, settled=replace(calm.settled, long=True), layouts=tight.layouts)


def _keeps(part: LaidArticle) -> bool:
    article = part.settled.article
    return bool(part.layout.problems) or keeps_to_pages(article.anchor, article.pages, part.layout, part.settled.back)


def _calm(part: LaidArticle, source: ArticleSource, lay: Callable[[Settled], LaidArticle]) -> LaidArticle:
    """The part one fit calmer, and once more, where its page seems to have room: an estimate may have begun too tight."""
    article = part.settled.article
    while article.fit and not part.layout.problems and _used_calmer(part, source) <= source.height - article.free:
        calmer = replace(article, fit=article.fit - 1)
        tried = lay(Settled(calmer, FIGURE[source.size][calmer.fit], False))
        if not _keeps(tried):
            return replace(part, layouts=tried.layouts)
        part, article = tried, calmer
    return part


def _used_calmer(part: LaidArticle, source: ArticleSource) -> float:
    """Millimetres that the page would use one fit calmer, about: lines and gaps in the proportion of both fits' lines."""
    article = part.settled.article
    used = end_of_front(article.anchor, part.layout)[1] / PX_IN_MM
    figure = FIGURE[source.size][article.fit]
    return (used - figure) * LINE[article.fit - 1] / LINE[article.fit] + FIGURE[source.size][article.fit - 1]


def _settle_on_two(source: ArticleSource, lay: Callable[[Settled], LaidArticle]) -> LaidArticle:
    """A standard sheet that takes a page more, with the least that must stand on its back."""
    for back in BACKS:
        part, done = _tighten_until(replace(source.article, fit=0), source, lay, back)
        if done:
            return _grow(part, source) if part.settled.article.shape and not part.layout.problems else part
    return replace(part, settled=replace(part.settled, over=True))


def _tighten_until(first: Article, source: ArticleSource, lay: Callable[[Settled], LaidArticle], back: str = "") -> tuple[LaidArticle, bool]:
    """The calmest fit that will do, or the tightest; and whether it does."""
    article = first
    while True:
        part = lay(Settled(article, FIGURE[source.size][article.fit] if article.shape else 0.0, bool(back), back))
        if part.layout.problems or keeps_to_pages(article.anchor, article.pages, part.layout, back):
            return part, True
        tighter = _tighten(article, source, part.layout)
        if tighter == article:
            return part, False
        article = tighter


def _set_long(article: Article, size: str) -> Settled:
    """An article that needs more than its pages: as tight as can be, its figure as low."""
    tightest = TIGHTEST[size]
    return Settled(replace(article, fit=max(article.fit, tightest)), FIGURE[size][tightest] if article.shape else 0.0, True)


def _grow(part: LaidArticle, source: ArticleSource) -> LaidArticle:
    """The part with its figure as high as its page and its column leave room for."""
    least, article = part.settled.figure, part.settled.article
    figure = round(_grown(part, source), 2)
    if figure <= least:
        return part
    layout = grow(part.layout, article.anchor, (figure - least) * PX_IN_MM)
    return replace(part, settled=replace(part.settled, figure=figure), layout=layout)


def _tighten(article: Article, source: ArticleSource, draft: Layout) -> Article:
    """The article one fit tighter and with balanced columns; as it is where neither can help."""
    share, size = article.share, source.size
    marks = [draft.anchors.get(f"{article.anchor}--{mark}") for mark in ("top", "left", "right")]
    if None not in marks:
        top, left, right = (mark[0] * source.height + mark[1] / PX_IN_MM for mark in marks if mark)
        balanced = balance(share, FIGURE[size][article.fit], left - top, right - top)
        share = balanced if abs(balanced - share) > LOPSIDED else share
    if article.fit < TIGHTEST[size]:
        # what stands behind the page of the figure gains nothing from a lower one
        behind = size == LARGE and article.fit + 1 == TIGHTEST[LARGE] and _ends_on_first(article, draft)
        return article if behind else replace(article, share=share, fit=article.fit + 1)
    # in the tightest fit the columns are balanced once more
    return article if article.settled or share == article.share else replace(article, share=share, settled=True)


def _ends_on_first(article: Article, draft: Layout) -> bool:
    """Whether what stands with the figure ends on its page."""
    return end_of_front(article.anchor, draft)[0] == 0


def _grown(part: LaidArticle, source: ArticleSource) -> float:
    """The height of an article's figure in millimetres: what its page has left, and its column."""
    article, draft = part.settled.article, part.layout
    least = FIGURE[source.size][article.fit]
    if not _ends_on_first(article, draft):
        return least
    end = end_of_front(article.anchor, draft)
    free = (source.height - (article.free if _first_is_last(source, part.settled) else 0.0)) * PX_IN_MM - end[1]
    left, right = (draft.anchors.get(f"{article.anchor}--{side}", end) for side in ("left", "right"))
    room = least + (free + max(0.0, right[1] - left[1])) / PX_IN_MM - SPARE_MM
    two_columns = f"{article.anchor}--left" in draft.anchors
    width = left_width(source.width, article.share) if two_columns else source.width
    return max(least, min(width / article.shape, room))


def _first_is_last(source: ArticleSource, settled: Settled) -> bool:
    """Whether the article's first page is its last, as far as is known before it is laid out."""
    return source.article.pages < 2 and not settled.long


def set_article(source: ArticleSource, settled: Settled) -> str:
    """An HTML with the fit of the article, its columns and the height of its figure: a layout of it gives its pages."""
    first, article, html = source.article, settled.article, source.html
    name = f"article.{article.kind.partition(' ')[0]}"
    rules = [source_rules(source, first_is_last=_first_is_last(source, settled))]
    if article.fit != first.fit:
        html = html.replace(first.opening, article.opening, 1)
    if article.shape:
        rules.append(column_rules(name, source.width, article.share))
        rules.append(f"{name} .figure {{ height: {settled.figure:.2f}mm; }}")
    if settled.long and source.size == LARGE:
        # what needs more than its two pages fills the first before it begins the next
        rules.append(f"{name} .back {{ break-before: auto; }}")
    elif settled.back:
        rules.append(back_rules(settled.back, name, said=bool(source.said)))
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)
