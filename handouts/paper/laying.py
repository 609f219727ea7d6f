"""Documents laid out: each article once, whichever documents hold it, then the frames, then each document from its parts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from handouts.paper.articles import Document
from handouts.paper.assembly import MM_TO_PT
from handouts.paper.binding import BoundDocument, bind, put_together
from handouts.paper.document import (
    ArticleSource,
    below,
    lists_pages,
    sources_of,
    waits_for_one_above,
    waits_for_rows,
    with_rows,
    with_targets,
)
from handouts.paper.geometry import BELOW_ANOTHER_MM
from handouts.paper.laid import Laid, LaidDocument, PartCall
from handouts.paper.pdf.drawn import DrawnPages
from handouts.paper.places import count_pages, place_articles, row_heights
from handouts.paper.settle import draw_article
from handouts.paper.strips import StripTexts, draw_strips, strips_of
from handouts.tasks.calling import CallEach, File

ROUNDS = 8
"""How often the numbers of pages are looked at; once is enough unless a list of pages takes another page."""
Value = TypeVar("Value")
Result = TypeVar("Result")


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document."""
    (made,) = lay_out_documents([document], _each_now, _each_now)
    if made.lost:
        raise ValueError(made.lost)
    return made.laid


def _each_now(
    task: Callable[[Value], Result], values: Iterable[Value], lost: Callable[[Value, str], Result] | None = None, what: str = ""
) -> Iterator[tuple[Value, Result, bool]]:
    del lost, what
    for value in values:
        yield value, task(value), True


def lay_out_documents(documents: Sequence[Document], each: CallEach, each_whole: CallEach) -> Iterator[LaidDocument]:
    """Each document with its PDF; ``each`` calls the tasks that make parts, ``each_whole`` the one that puts a document together."""
    articles = _DrawnParts(each, draw_article, "laying out sheets")
    wanted, asked = _draw_articles(documents, articles)
    strips = _DrawnParts(each, draw_strips, "laying out heads and feet")
    frames = [_strips_of(document, sources, articles) for document, sources in zip(documents, wanted, strict=True)]
    strips.draw(strip for frame in frames for strip in frame)
    ready: dict[int, tuple[LaidDocument, BoundDocument]] = {}
    for document, sources, every, frame in zip(documents, wanted, asked, frames, strict=True):
        why = next(iter([*articles.why(sources), *strips.why(frame)]), "")
        drawn = [*(articles.made[source] for source in sources), *(strips.made[strip] for strip in frame)]
        problems = tuple(dict.fromkeys(problem for part in drawn for problem in part.problems))
        parts = tuple[PartCall, ...]([*((draw_article, source) for source in every), *((draw_strips, strip) for strip in frame)])
        made = LaidDocument(document, Laid(File(), 0, problems), why, parts)
        if why or problems:
            yield made
        else:
            bound = bind(document, drawn[: len(sources)], strips.made)
            ready[id(bound)] = made, bound
    lost: dict[int, str] = {}

    def give_up(bound: BoundDocument, why: str) -> Laid:
        lost[id(bound)] = why
        return Laid(File(), 0, ())

    for bound, laid, _ in each_whole(put_together, [bound for _, bound in ready.values()], give_up, "putting sheets together"):
        yield replace(ready[id(bound)][0], laid=laid, lost=lost.get(id(bound), ""))


def _strips_of(document: Document, sources: Sequence[ArticleSource], articles: _DrawnParts) -> tuple[StripTexts, ...]:
    """The strips of a document; none where an article could not be made."""
    drawn = [articles.made[source] for source in sources]
    if not all(each.pages for each in drawn):
        return ()
    placed = place_articles(document, drawn)
    return strips_of(document, placed.pages, placed.rules(drawn))


class _DrawnParts:
    """Parts of documents by what they are made from, each made once."""

    def __init__(self, each: CallEach, task: Callable[[Any], DrawnPages], what: str) -> None:
        self._each, self._task, self._what = each, task, what
        self.made: dict[Any, DrawnPages] = {}
        self._lost: dict[Any, str] = {}

    def draw(self, sources: Iterable[Any]) -> None:
        """Makes what is not made yet."""
        missing = [source for source in dict.fromkeys(sources) if source not in self.made]

        def give_up(source: Any, why: str) -> DrawnPages:
            self._lost[source] = why
            return DrawnPages(())

        if missing:
            for source, drawn, _ in self._each(self._task, missing, give_up, self._what):
                self.made[source] = drawn

    def why(self, sources: Iterable[Any]) -> Iterator[str]:
        """Why some of them could not be made."""
        return (self._lost[source] for source in sources if source in self._lost)


def _draw_articles(documents: Sequence[Document], articles: _DrawnParts) -> tuple[list[list[ArticleSource]], list[dict[ArticleSource, None]]]:
    """What the articles of each document are made from, and all that were drawn until that was known."""
    wanted = [list(sources_of(document)) for document in documents]
    asked = [dict.fromkeys(source for source in sources if not _waits(source)) for sources in wanted]
    articles.draw(source for sources in asked for source in sources)
    for document, sources, every in zip(documents, wanted, asked, strict=True):
        _set_below(document, sources, articles)
        every.update(dict.fromkeys(source for source in sources if source.above))
    articles.draw(source for sources in wanted for source in sources if source.above)
    for sources in wanted:
        for place, source in enumerate(sources):
            if source.above and not articles.made[source].pages:
                sources[place - 1 : place + 1] = [replace(sources[place - 1], brief=False), below(source, 0.0)]
    articles.draw(source for sources in wanted for source in sources if not _waits(source))
    listing = [number for number, sources in enumerate(wanted) if any(map(_waits, sources))]
    for _ in range(ROUNDS):
        before = [list(wanted[number]) for number in listing]
        for number in listing:
            _fill_in(documents[number], wanted[number], articles)
        if before == [wanted[number] for number in listing]:
            break
        articles.draw(source for number in listing for source in wanted[number])
        for number in listing:
            asked[number] |= dict.fromkeys(wanted[number])
    for number, sources in enumerate(wanted):
        asked[number] |= dict.fromkeys(sources)
    return wanted, asked


def _waits(source: ArticleSource) -> bool:
    """Whether an article must know the pages or the heights of others."""
    return lists_pages(source) or waits_for_rows(source) or (waits_for_one_above(source) and not source.above)


def _set_below(document: Document, sources: list[ArticleSource], articles: _DrawnParts) -> None:
    """Articles that may stand below the one before them on its last page: where that ends."""
    for place, source in enumerate(sources):
        if waits_for_one_above(source):
            one_above = articles.made[sources[place - 1]]
            page = one_above.pages[-1] if one_above.pages else None
            end = page.anchors.get(f"{document.articles[place - 1].anchor}--end") if page else None
            sources[place] = below(source, round((page.height - end[1]) / MM_TO_PT + BELOW_ANOTHER_MM, 2) if page and end else 0.0)


def _fill_in(document: Document, sources: list[ArticleSource], articles: _DrawnParts) -> None:
    """The pages of other articles where one lists them."""
    known = [articles.made.get(source) for source in sources]
    counts = [(len(each.pages), each.below) if each else (max(1, source.article.pages), False) for source, each in zip(sources, known, strict=True)]
    targets = [(source.article.anchor, 1 + first) for source, first in zip(sources, count_pages(document, counts)[0], strict=True)]
    for place, source in enumerate(sources):
        if lists_pages(source):
            sources[place] = with_targets(source, targets)
        if waits_for_rows(source):
            sources[place] = with_rows(source, row_heights([articles.made[each] for each in sources[place + 1 :]]))
