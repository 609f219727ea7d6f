"""One article laid out: the widest spacing that its pages allow, its figure as high as they leave room for.

An exercise is laid out once, on one tall page; sums over the heights of its blocks say where each goes (``stacking.py``).  What has no
figure that grows is laid out in the calmest fit that keeps to its pages.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from handouts.paper.articles import FRONT, ROW, TIGHTEST, Article
from handouts.paper.back import APART, back_rules, keeps_to_pages
from handouts.paper.contained_writer import Layout, lay_out, stack_again
from handouts.paper.document import ArticleSource, source_rules
from handouts.paper.figure_side import move_below
from handouts.paper.geometry import FIGURE_TIGHT, LARGE, LITTLE, PX_IN_MM, column_rules, figure_share, lines_of
from handouts.paper.objects import draw_pages
from handouts.paper.pdf.drawn import DrawnPages
from handouts.paper.rows import place_front, place_row
from handouts.paper.stacking import PageRoom, share_that_fits, stack_pages
from handouts.paper.tall import TallArticle
from handouts.paper.writer.stack import FAULTS, Stacking


@dataclass(frozen=True, slots=True)
class Settled:
    """An article as it was measured."""

    article: Article
    stacking: Stacking | None = None
    """Where its blocks are, where they were set again."""
    long: bool = False
    """Whether it takes more pages than it should."""
    back: str = ""
    """What stands on a page of its own in two languages: ``APART``."""
    over: bool = False
    """Whether even that is not enough."""
    below: bool = False
    """Whether what stood beside the figure below the steps was moved to the columns."""
    listed: bool = False
    """Whether each stop rule begins a line, in standard type."""


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
    return replace(drawn, over=part.settled.over, layouts=part.layouts, below=source.above > 0)


def settle(source: ArticleSource) -> LaidArticle:
    """An article on its pages."""
    if source.article.kind in (ROW, FRONT):
        return _settle_by_sums(source)
    if source.article.shape:
        return _settle_exercise(source)
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
    layouts, (stacking, heights, pages) = 1, place_front(tall, source.rows)
    if source.size != LARGE:
        listed = TallArticle(replace(source, html=list_stops(source.html)), source.article)
        layouts, placed = 2, place_front(listed, source.rows) if not listed.layout.problems else (stacking, heights, pages + 1)
        if placed[2] <= pages and len(placed[1]) <= len(heights):
            tall, (stacking, heights, _) = listed, placed
    return LaidArticle(Settled(source.article, stacking), stack_again(tall.layout, tall.stack, stacking, heights), layouts)


_RUN_ON, _LISTED = '<div class="cautions stop">', '<div class="cautions stop listed">'


def list_stops(html: str) -> str:
    """The HTML of an article with each stop rule on a line of its own."""
    return html.replace(_RUN_ON, _LISTED)


_FAULT_PICTURE = re.compile(r'<div class="fault-figure">.*?</div>\n?', re.DOTALL)
"""The picture of a mistake in the HTML of an article."""


def _settle_exercise(source: ArticleSource) -> LaidArticle:
    """An exercise, each stop rule on a line of its own where that costs no page and no word, and the figure little."""
    found = _settle_with_picture(source)
    stacking, listed = found.settled.stacking, list_stops(source.html)
    if source.size == LARGE or found.layouts > 1 or not stacking or stacking.left_out or listed == source.html:
        return found
    if stacking.spacings[0].line <= lines_of(source.size, source.language)[0]:
        return found
    other = _settle_with_all(replace(source, html=listed))
    placed = other.settled.stacking
    same = placed and not placed.left_out and replace(other.settled, stacking=None) == replace(found.settled, stacking=None)
    kept = other if same and placed.spacings[0].figure >= LITTLE * stacking.spacings[0].figure else found
    return replace(kept, settled=replace(kept.settled, listed=kept is other), layouts=found.layouts + other.layouts)


def _settle_with_picture(source: ArticleSource) -> LaidArticle:
    """An exercise with the picture of its mistake where that costs no page and no word; without it else."""
    found = _settle_with_all(source)
    plain = _FAULT_PICTURE.sub("", source.html)
    if plain == source.html or _given_up(found.settled) == (False, False, False, 0):
        return found
    without = _settle_with_all(replace(source, html=plain))
    kept = found if _given_up(found.settled) <= _given_up(without.settled) else without
    return replace(kept, layouts=found.layouts + without.layouts)


def _given_up(settled: Settled) -> tuple[bool, bool, bool, int]:
    """What an exercise gives up for want of room: that its words end on a page, that they are set by sums, a page, and mistakes."""
    left_out = settled.stacking.left_out if settled.stacking else ()
    return settled.over, settled.stacking is None, settled.long, sum(name.startswith(FAULTS) for name in left_out)


def _settle_with_all(source: ArticleSource) -> LaidArticle:
    """An exercise laid out once; again with a narrower figure and the steps alone beside it where that spares a page, and where its steps alone need
    more than two."""
    first, size = source.article, source.size
    sources, talls = [source], list[TallArticle]()
    for pages in (first.pages, first.pages + 1):
        for number, each in enumerate(sources):
            if number == len(talls):
                talls.append(TallArticle(each, each.article))
            tall = talls[number]
            if tall.layout.problems:
                return LaidArticle(Settled(first), tall.layout, len(talls))
            if stacking := stack_pages(tall.stack, tall.room, pages=pages):
                settled = Settled(tall.article, stacking, long=pages > first.pages, below=number > 0)
                return LaidArticle(settled, stack_again(tall.layout, tall.stack, stacking, [tall.room.height] * pages, tall.room.above), len(talls))
            if size != LARGE and len(sources) == 1:
                sources += _narrower(source, tall)
        if source.above or (size != LARGE and source.said is None):
            return LaidArticle(Settled(first, long=True, over=True), talls[0].layout, len(talls))
    last = sources[-1]
    flowing = lay_out(set_article(last, Settled(last.article, long=True)), {}, first.place, own_fonts=source.own_fonts)
    return LaidArticle(Settled(first, long=True, over=size != LARGE and flowing.pages > first.pages + 1), flowing, len(talls) + 1)


def _narrower(source: ArticleSource, tall: TallArticle) -> list[ArticleSource]:
    """The exercise with the steps alone beside a narrower figure: as narrow as they need, if that is not too narrow, and the narrowest."""
    first, html = source.article, move_below(source.html)
    least = figure_share(first.shape, source.width, FIGURE_TIGHT)
    share = round(share_that_fits(tall.stack, tall.room, source.width, first.share), 3)
    shares = [each for each in dict.fromkeys((min(share, first.share), least)) if least <= each <= first.share]
    return [replace(source, html=html, article=replace(first, share=each)) for each in shares if html != source.html or each < first.share]


def _settle_without_figure(source: ArticleSource, lay: Callable[[Settled], LaidArticle]) -> LaidArticle:
    """A cover, an opening, or two languages: as it is, else in the calmest fit that keeps to the pages, if the tightest does.

    Without a name it may take more pages, and is set calmly where it needs them.
    """
    first, tightest = source.article, TIGHTEST[source.size]
    for back in ("", APART) if first.apart else ("",):
        calm = lay(Settled(first, long=bool(back), back=back))
        if _keeps(calm):
            return calm
        tight = lay(Settled(replace(first, fit=tightest), long=bool(back), back=back))
        for fit in range(first.fit + 1, tightest) if _keeps(tight) else ():
            part = lay(Settled(replace(first, fit=fit), long=bool(back), back=back))
            if _keeps(part):
                return part
        if _keeps(tight):
            return replace(tight, layouts=tight.layouts + tightest - first.fit - 1)
    if first.name:
        return replace(tight, settled=replace(tight.settled, over=True))
    return replace(calm, settled=replace(calm.settled, long=True), layouts=tight.layouts)


def _keeps(part: LaidArticle) -> bool:
    article = part.settled.article
    return bool(part.layout.problems) or keeps_to_pages(article.pages, part.layout, part.settled.back)


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
    elif settled.back:
        rules.append(back_rules(settled.back, name))
    return html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)
