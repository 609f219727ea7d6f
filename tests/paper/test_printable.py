"""Head, foot and marks of every kind of document, in every language, on every paper, in every size: a printer that trims 6 mm loses nothing.

Only the frame is laid out; in place of articles stand empty pages.  The places of letters are measured in the PDF.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import pypdfium2
import pytest

from handouts.paper.articles import Document
from handouts.paper.binding import bind, put_together
from handouts.paper.card import card_document
from handouts.paper.class_sheets import STATIONS, class_document
from handouts.paper.competence import competence_document
from handouts.paper.context import PaperSetting
from handouts.paper.leaflet import leaflet_document
from handouts.paper.lesson import lesson_document
from handouts.paper.pdf.drawn import DrawnPage, DrawnPages
from handouts.paper.pdf.file import deflate
from handouts.paper.places import FRONT_END, ROWS, ROWS_END, RULES, place_articles
from handouts.paper.plan import compact_document, programme_document
from handouts.paper.poster import POSTER
from handouts.paper.strips import StripTexts, draw_strips, strips_of
from handouts.paper.wall import wall_document
from handouts.site.context import EVERYTHING, Edition
from handouts.site.paths import LARGER
from tests.paper.copies import TRIM_MM
from tests.paper.test_head_and_foot import KINDS, a_setting
from tests.words.demo import LANGUAGES, libraries

pytestmark = pytest.mark.paper

MORE: dict[str, Callable[[PaperSetting, PaperSetting], Document]] = {
    "rows": lambda own, _: compact_document(own, own.library.bundles[0]),
    "card of a test": lambda own, _: card_document(own, own.library.tests[0]),
    "advice": lambda own, _: leaflet_document(own, own.library.leaflets[0]),
    "lesson": lambda own, _: lesson_document(own, own.library.lessons[0]),
    "sign-off": lambda own, _: competence_document(own, own.paper, own.size),
    "class": lambda own, _: class_document(own, own.library.classes[0]),
    "station cards": lambda own, _: wall_document(own, own.library.classes[0].slug, STATIONS, LARGER[own.paper]),
    "poster": lambda own, _: wall_document(own, own.library.programmes[0].slug, POSTER, LARGER[own.paper]),
    "folded": lambda own, _: programme_document(own.folded(), own.library.programmes[0]),
}
EVERY = {**KINDS, **MORE}
EDGE = TRIM_MM * 72 / 25.4
drawn_once = cache(draw_strips)


def with_empty_pages(document: Document) -> bytes:
    """The PDF of a document whose articles are empty pages, with what stands around them."""
    height = document.area.height * 72 / 25.4
    anchors = {ROWS: (0.0, height), ROWS_END: (0.0, height), FRONT_END: (0.0, height), RULES: (0.0, height)}
    articles = [DrawnPages((DrawnPage(deflate(b""), height, anchors=anchors if not number else {}),)) for number, _ in enumerate(document.articles)]
    placed = place_articles(document, articles)
    strips: dict[StripTexts, DrawnPages] = {each: drawn_once(each) for each in strips_of(document, placed.pages, placed.rules(articles))}
    return put_together(bind(document, articles, strips)).pdf


@cache
def call_once(task: Callable[..., Any], *arguments: Any) -> Any:
    """A caller that makes a code once for all documents that show it."""
    return task(*arguments)


def read_letters(pdf: bytes) -> tuple[str, int, list[tuple[str, float, float, float, float]]]:
    """The text of a document, how many letters it has, and those that would be trimmed, with how far their edges are from
    those of the paper: left, below, right, above."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        said, count, found = "", 0, []
        for number in range(len(document)):
            width, height = document[number].get_size()
            text = document[number].get_textpage()
            said += text.get_text_range()
            for at in range(text.count_chars()):
                left, below, right, above = text.get_charbox(at)
                edges = (left, below, width - right, height - above)
                count += right > left
                if right > left and min(edges) < EDGE:
                    found.append((text.get_text_range(at, 1), *edges))
        return said, count, found
    finally:
        document.close()


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_nothing_is_trimmed(language: str) -> None:
    """Every letter of head and foot stands 6 mm from every edge; the mark that nobody reviewed the translation is there, whole.

    Margins are those of a paper in every language; a translation is looked at on the narrower paper, where lines are longest.
    """
    edition = Edition(version="K7QX2M", unreviewed={} if language == "en" else {language: frozenset({EVERYTHING})}, call=call_once)
    own, source = a_setting(language, edition), a_setting("en", edition)
    lost, checked = [], 0
    papers = ("letter", "a4") if language == "en" else ("a4",)
    for paper in papers:
        for size in ("standard", "large"):
            for kind, make in EVERY.items():
                if (language == "en" and "beside" in kind) or not _has(kind, language):
                    continue
                document = make(own.on(paper, size), source.on(paper, size))
                said, count, trimmed = read_letters(with_empty_pages(document))
                lost += [(paper, size, kind, *each) for each in trimmed]
                checked += count > 20
                if language != "en" and language != "ar":  # Arabic letters come as they are drawn
                    assert "".join(own.wording.say("paper.unreviewed").split()) in "".join(said.split())
    assert lost == [] and checked >= 15 * len(papers)


def _has(kind: str, language: str) -> bool:
    """Whether anything of a kind is published in a language of the demo."""
    library = libraries()[language]
    return bool({"card of a test": library.tests, "advice": library.leaflets, "lesson": library.lessons, "sign-off": library.lessons, "class": library.classes, "station cards": library.classes}.get(kind, True))
