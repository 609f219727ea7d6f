"""One article laid out: the widest spacing that its pages allow, its figure as high as they leave room for.

An exercise is laid out once, on one tall page; sums over the heights of its blocks say where each goes (``stacking.py``).  What has no
figure that grows is laid out in the calmest fit that keeps to its pages.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from handouts.paper.articles import FRONT, ROW, TIGHTEST, Article
from handouts.paper.contained_writer import Layout, lay_out, stack_again
from handouts.paper.document import ArticleSource, source_rules
from handouts.paper.figure_side import move_below
from handouts.paper.geometry import FIGURE_TIGHT, LARGE, PX_IN_MM, column_rules, figure_share
from handouts.paper.large_pages import cut_blocks
from handouts.paper.objects import draw_pages
from handouts.paper.page_sums import PageRoom
from handouts.paper.pairs import stack_pairs
from handouts.paper.pdf.drawn import DrawnPages
from handouts.paper.rows import place_front, place_row
from handouts.paper.stacking import share_that_fits, stack_pages
from handouts.paper.tall import TallArticle
from handouts.paper.writer.blocks import NOTES, Stacking


@dataclass(frozen=True, slots=True)
class Settled:
    """An article as it was measured."""

    article: Article
    stacking: Stacking | None = None
    """Where its blocks are, where they were set again."""
    long: bool = False
    """Whether it takes more pages than it should."""
    over: bool = False
    """Whether even that is not enough."""
    below: bool = False
    """Whether what stood beside the figure below the steps was moved to the columns."""


@dataclass(frozen=True, slots=True)
class LaidArticle:
    """An article with its pages, ready to be drawn."""

    settled: Settled
    layout: Layout
    layouts: int
    """How often it was laid out."""


def draw_article(source: ArticleSource) -> DrawnPages:
    """The pages of an article, drawn; none where it has no room below the one above it.

    For any process: needs only the source.
    """
    part = settle(source)
    if part.layout.problems or (part.settled.over and source.above):
        return DrawnPages((), problems=part.layout.problems, over=part.settled.over, layouts=part.layouts)
    drawn, _ = draw_pages(part.layout, tagged=True)
    return replace(drawn, over=part.settled.over, layouts=part.layouts, below=source.above > 0)


def settle(source: ArticleSource) -> LaidArticle:
    """An article on its pages."""
    if source.article.kind in (ROW, FRONT):
        return _settle_by_sums(source)
    if source.article.shape:
        return _settle_exercise(source)
    if source.article.apart:
        return _settle_pairs(source)
    counted = 0

    def lay(settled: Settled) -> LaidArticle:
        nonlocal counted
        counted += 1
        return LaidArticle(settled, lay_out(set_article(source, settled), {}, source.article.place, own_fonts=source.own_fonts), counted)

    return _settle_without_figure(source, lay)


def _settle_by_sums(source: ArticleSource) -> LaidArticle:
    """A row, as high as its words and its figure are, or the front of a document of rows."""
    tall = TallArticle(source, source.article)
    if tall.layout.problems:
        return LaidArticle(Settled(source.article), tall.layout, 1)
    if source.article.kind == ROW:
        stacking, heights = place_row(tall)
        return LaidArticle(Settled(source.article, stacking), stack_again(tall.layout, tall.stack, stacking, heights), 1)
    stacking, heights = place_front(tall, source.rows)
    return LaidArticle(Settled(source.article, stacking), stack_again(tall.layout, tall.stack, stacking, heights), 1)


def _settle_exercise(source: ArticleSource) -> LaidArticle:
    """An exercise laid out once; again with a narrower figure and the steps alone beside it where that will spare a page, and where its steps alone
    need more than two.  Notes that the document says elsewhere are left out for a page.
    """
    first, size = source.article, source.size
    sources, talls = [source], list[TallArticle]()
    notes, least = ((), (NOTES,)) if first.said else ((),), figure_share(first.shape, source.width, FIGURE_TIGHT)
    tries = [*((first.pages, each) for each in notes), (first.pages + 1, notes[-1])]
    tries += [(first.pages + more, notes[-1]) for more in range(3)] if size == LARGE else []
    for number_of_try, (pages, without) in enumerate(tries):
        if number_of_try == len(notes) + 1:
            cut_blocks(talls[0].stack, talls[0].room)
        if source.above and pages > first.pages:
            return LaidArticle(Settled(first, long=True, over=True), talls[0].layout, len(talls))
        for number, each in enumerate(sources):
            if number == len(talls):
                talls.append(TallArticle(each, each.article))
            tall = talls[number]
            if tall.layout.problems:
                return LaidArticle(Settled(first), tall.layout, len(talls))
            if stacking := stack_pages(tall.stack, tall.room, pages=pages, without=without):
                settled = Settled(tall.article, stacking, long=pages > first.pages, below=number > 0)
                return LaidArticle(settled, stack_again(tall.layout, tall.stack, stacking, [tall.room.height] * pages, tall.room.above), len(talls))
            if size != LARGE and len(sources) == 1 and without == notes[-1]:
                share = least if pages > first.pages else share_that_fits(tall.stack, tall.room, source.width, first.share, least)
                sources += [each for each in (_narrower(source, share),) if share and each != source]
    last = _narrower(source, least) if size != LARGE else source
    flowing = lay_out(set_article(last, Settled(last.article, long=True)), {}, first.place, own_fonts=source.own_fonts)
    return LaidArticle(Settled(first, long=True, over=size != LARGE and flowing.pages > first.pages + 1), flowing, len(talls) + 1)


def _narrower(source: ArticleSource, share: float) -> ArticleSource:
    """The exercise with the steps alone beside a figure whose column has that of the width."""
    return replace(source, html=move_below(source.html), article=replace(source.article, share=round(share, 3)))


def _settle_pairs(source: ArticleSource) -> LaidArticle:
    """An exercise in two languages; as it comes where even one page more is not enough."""
    article, tall = source.article, TallArticle(source, source.article)
    if tall.layout.problems:
        return LaidArticle(Settled(article), tall.layout, 1)
    for apart in (False, True):
        if stacking := stack_pairs(tall.stack, tall.room, article.pages, apart=apart):
            heights = [tall.room.height] * len(stacking.spacings)
            return LaidArticle(Settled(article, stacking, long=apart), stack_again(tall.layout, tall.stack, stacking, heights), 1)
    settled = Settled(replace(article, fit=TIGHTEST[source.size]), long=True, over=True)
    return LaidArticle(settled, lay_out(set_article(source, settled), {}, article.place, own_fonts=source.own_fonts), 2)


def _settle_without_figure(source: ArticleSource, lay: Callable[[Settled], LaidArticle]) -> LaidArticle:
    """A cover, an opening, or two languages: as it is, else in the calmest fit that keeps to the pages, if the tightest does.

    Without a name it may take more pages, and is set calmly where it needs them.
    """
    first, tightest = source.article, TIGHTEST[source.size]
    calm = lay(Settled(first))
    if _keeps(calm):
        return calm
    chosen: LaidArticle | None = None
    for fit in range(tightest, first.fit, -1):
        part = lay(Settled(replace(first, fit=fit)))
        if not _keeps(part):
            break
        chosen = part
    if chosen:
        return replace(chosen, layouts=part.layouts)
    if first.name:
        return replace(part, settled=replace(part.settled, over=True))
    return replace(calm, settled=replace(calm.settled, long=True), layouts=part.layouts)


def _keeps(part: LaidArticle) -> bool:
    pages = part.settled.article.pages
    return bool(part.layout.problems) or not pages or part.layout.pages <= pages


def set_article(source: ArticleSource, settled: Settled) -> str:
    """The HTML of an article on its pages, with its fit; for an exercise that no sum places, its words run on from page to page."""
    first, article, html = source.article, settled.article, source.html
    name = f"article.{article.kind.partition(' ')[0]}"
    rules = [source_rules(source, first_is_last=article.pages < 2 and not settled.long)]
    if article.fit != first.fit:
        html = html.replace(first.opening, article.opening, 1)
    if article.shape:
        least = PageRoom(0.0, 0.0, 0.0, source.size, source.language).spacing(0.0, 0.0)
        rules += [column_rules(name, source.width, article.share), f"{name} .figure {{ height: 45mm; }} html {name} .back {{ break-before: auto; }}",
                  f"html {name}[id] {{ --line: {least.line}; --gap: {least.gap / PX_IN_MM:g}mm; }}"]
        rules += [f"{name} .small {{ display: none; }}"] if article.said else []
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)
