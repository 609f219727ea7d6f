"""Documents laid out: each article once, whichever documents hold it, then the frames, then each document from its parts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from handouts.paper.articles import Document
from handouts.paper.binding import BoundDocument, bind, put_together
from handouts.paper.document import ArticleSource, lists_pages, sources_of, waits_for_rows, with_rows, with_targets
from handouts.paper.laid import Laid
from handouts.paper.pdf.drawn import DrawnPages
from handouts.paper.places import place_articles, row_heights
from handouts.paper.settle import draw_article
from handouts.paper.strips import StripTexts, draw_strips, strips_of
from handouts.tasks.calling import CallEach, File

ROUNDS = 8
"""How often the numbers of pages are looked at; once is enough unless a list of pages takes another page."""
Value = TypeVar("Value")
Result = TypeVar("Result")


def lay_out_document(document: Document) -> Laid:
    """The PDF of a document, each article set as calmly as its pages allow.  For any process: needs only the document."""
    ((_, laid),) = lay_out_documents([document], _each_now)
    if isinstance(laid, str):
        raise ValueError(laid)
    return laid


def _each_now(
    task: Callable[[Value], Result], values: Iterable[Value], lost: Callable[[Value, str], Result] | None = None, what: str = ""
) -> Iterator[tuple[Value, Result, bool]]:
    del lost, what
    for value in values:
        yield value, task(value), True


def lay_out_documents(documents: Sequence[Document], each: CallEach) -> Iterator[tuple[Document, Laid | str]]:
    """Each document with its PDF, or why it could not be made; ``each`` calls the tasks that make its parts."""
    articles = _DrawnParts(each, draw_article, "laying out sheets")
    wanted = _draw_articles(documents, articles)
    strips = _DrawnParts(each, draw_strips, "laying out heads and feet")
    frames = [_strips_of(document, sources, articles) for document, sources in zip(documents, wanted, strict=True)]
    strips.draw(strip for frame in frames for strip in frame)
    ready: dict[int, tuple[Document, BoundDocument]] = {}
    for document, sources, frame in zip(documents, wanted, frames, strict=True):
        why = next(iter([*articles.why(sources), *strips.why(frame)]), "")
        parts = [*(articles.made[source] for source in sources), *(strips.made[strip] for strip in frame)]
        problems = tuple(dict.fromkeys(problem for part in parts for problem in part.problems))
        if why:
            yield document, why
        elif problems:
            yield document, Laid(File(), 0, problems)
        else:
            bound = bind(document, parts[: len(sources)], strips.made)
            ready[id(bound)] = document, bound
    lost: dict[int, str] = {}

    def give_up(bound: BoundDocument, why: str) -> Laid:
        lost[id(bound)] = why
        return Laid(File(), 0, ())

    for bound, laid, _ in each(put_together, [bound for _, bound in ready.values()], give_up, "putting sheets together"):
        yield ready[id(bound)][0], lost.get(id(bound)) or laid


def _strips_of(document: Document, sources: Sequence[ArticleSource], articles: _DrawnParts) -> tuple[StripTexts, ...]:
    """The strips of a document; none where an article could not be made."""
    drawn = [articles.made[source] for source in sources]
    return strips_of(document, place_articles(document, drawn).pages) if all(each.pages for each in drawn) else ()


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


def _draw_articles(documents: Sequence[Document], articles: _DrawnParts) -> list[list[ArticleSource]]:
    """What the articles of each document are made from; they are drawn."""
    wanted = [list(sources_of(document)) for document in documents]
    articles.draw(source for sources in wanted for source in sources if not _waits(source))
    for document, sources in zip(documents, wanted, strict=True):
        for number, source in enumerate(sources):
            if source in articles.made and articles.made[source].over and not articles.made[source].pages:
                sources[number] = replace(source, said=document.stands(number).said)
    articles.draw(source for sources in wanted for source in sources if source.said is not None)
    listing = [sources for sources in wanted if any(map(_waits, sources))]
    for _ in range(ROUNDS):
        before = [list(sources) for sources in listing]
        for sources in listing:
            _fill_in(sources, articles)
        if before == listing:
            break
        articles.draw(source for sources in listing for source in sources)
    return wanted


def _waits(source: ArticleSource) -> bool:
    """Whether an article must know the pages or the heights of others."""
    return lists_pages(source) or waits_for_rows(source)


def _fill_in(sources: list[ArticleSource], articles: _DrawnParts) -> None:
    """The pages of other articles where one lists them."""
    counts = [len(articles.made[source].pages) if source in articles.made else max(1, source.article.pages) for source in sources]
    targets = [(source.article.anchor, 1 + sum(counts[:place])) for place, source in enumerate(sources)]
    for place, source in enumerate(sources):
        if lists_pages(source):
            sources[place] = with_targets(source, targets)
        if waits_for_rows(source):
            sources[place] = with_rows(source, row_heights([articles.made[each] for each in sources[place + 1 :]]))
