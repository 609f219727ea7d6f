"""Where each article of a document stands: on pages of its own, or, a row, on a page beside others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handouts.paper.articles import BACK, FRONT, Document
from handouts.paper.assembly import MM_TO_PT
from handouts.paper.geometry import SPARE_MM
from handouts.paper.packing import fill_pages, spread
from handouts.paper.pdf.drawn import DrawnPages

ROWS, ROWS_END, FRONT_END = "rows", "rows--end", "cover--end"
"""Ids where the rows of a front begin and end, and where the front itself ends."""
RULES = "stop-rules"
"""Id of the stop rules where they stand once for all exercises of a document."""
RULES_OF_ONE = "--stop"
"""End of their id where each exercise has its own."""
FOLD = 4
"""Pages of a sheet that is folded."""


@dataclass(frozen=True, slots=True)
class ArticlePlaces:
    """The first page of each article, counted from 0, how far its own page stands below the upper edge of the area in points; all pages."""

    places: tuple[tuple[int, float], ...]
    pages: int
    ruled: frozenset[int] = frozenset()
    """The articles above which a rule stands: rows, but for the first of a page of rows."""
    empty: tuple[int, ...] = ()
    """Pages of a folded booklet on which no article stands."""

    def rules(self, drawn: Sequence[DrawnPages]) -> tuple[int, ...]:
        """The pages, counted from 0, on which stop rules begin."""
        return tuple(sorted({
            on
            for each, (first, _) in zip(drawn, self.places, strict=True)
            for on, page in enumerate(each.pages, first)
            if any(anchor == RULES or anchor.endswith(RULES_OF_ONE) for anchor in page.anchors)
        }))


def row_heights(rows: Iterable[DrawnPages]) -> tuple[float, ...]:
    """The heights of rows in millimetres; 0 where one could not be drawn."""
    return tuple(row.pages[0].height / MM_TO_PT if row.pages else 0.0 for row in rows)


def place_articles(document: Document, drawn: Sequence[DrawnPages]) -> ArticlePlaces:
    """Where the articles of a document stand, all of them drawn."""
    if document.articles[0].kind == FRONT:
        return _place_rows(drawn[0], drawn[1:], document.area.height - SPARE_MM)
    firsts, pages, empty = count_pages(document, [(len(each.pages), each.below) for each in drawn])
    return ArticlePlaces(tuple((first, 0.0) for first in firsts), pages, empty=empty)


def count_pages(document: Document, articles: Sequence[tuple[int, bool]]) -> tuple[tuple[int, ...], int, tuple[int, ...]]:
    """The first page of each article, all pages, and the empty ones among them; of each article how many it has, and whether it shares the first.

    Folded, an exercise of two pages stands on pages that face each other, sheets have four, and what stands at the back stays there.
    """
    firsts, end, empty = list[int](), 0, list[int]()
    for article, (pages, shares) in zip(document.articles, articles, strict=True):
        if document.bound:
            apart = 1 if article.kind == "exercise" and pages == 2 and not shares and end % 2 == 0 else 0
            apart = -(end + pages) % FOLD if article.kind == BACK else apart
            empty += range(end, end + apart)
            end += apart
        firsts.append(end - shares)
        end += pages - shares
    if document.bound:
        empty += range(end, end + -end % FOLD)
    return tuple(firsts), max(end, *(page + 1 for page in empty), 0), tuple(empty)


def _place_rows(front: DrawnPages, rows: Sequence[DrawnPages], page: float) -> ArticlePlaces:
    heights, last = row_heights(rows), len(front.pages) - 1
    hole = next(number for number, each in enumerate(front.pages) if ROWS in each.anchors)
    start, end = (_below(front, hole, anchor) for anchor in (ROWS, ROWS_END))
    rooms = [(hole, start, end - start)]
    if hole < last:
        end = _below(front, last, FRONT_END)
        rooms.append((last, end, page - end))
    first, further = fill_pages(heights, [room for _, _, room in rooms], page)
    rooms += [(last + number, 0.0, page) for number in range(1, len(further) + 1)]
    places, at, ruled = [(0, 0.0)], 0, set[int]()
    for (on, top, room), count in zip(rooms, (*first, *further), strict=True):
        ruled |= set(range(len(places) + (on > last), len(places) + count))
        for down in spread(heights[at : at + count], room, above=on <= last):
            places.append((on, (top + down) * MM_TO_PT))
        at += count
    return ArticlePlaces(tuple(places), last + 1 + len(further), frozenset(ruled))


def _below(drawn: DrawnPages, page: int, anchor: str) -> float:
    """How far an anchor stands below the upper edge of its page, in millimetres."""
    made = drawn.pages[page]
    return (made.height - made.anchors[anchor][1]) / MM_TO_PT
