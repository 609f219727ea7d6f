"""The card of a test of function: how it is done, an empty column for each visit, and on the back what a result means."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import FunctionTest
from handouts.paper.articles import FITS, Article, ArticleStanding, Document
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.paper.geometry import LARGE
from handouts.paper.sheet import join_questions, review_line, view_code, view_safety
from handouts.paper.views import CodeView, SafetyView
from handouts.publication.function_tests import Meaning, NormsView, say_facts, view_meaning, view_norms
from handouts.publication.rich_text import rich
from handouts.publication.views import SectionView, view_sections
from handouts.site.paths import pdf_path
from handouts.text.markup import plain_text

VISITS = {"standard": 6, LARGE: 4}
"""Empty columns, by type size: as many as are wide enough for a date by hand."""


@dataclass(frozen=True, slots=True)
class ResultsView:
    """The table for results by hand: the names of its rows, and one entry for each empty column."""

    heading: str
    rows: tuple[str, ...]
    visits: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CardView:
    """Everything on the card of a test."""

    anchor: str
    fit: str
    title: Markup
    purpose: Markup
    suits: str
    notes: tuple[str, ...]
    sections: tuple[SectionView, ...]
    results: ResultsView
    norms_heading: str
    age: str
    norms: tuple[NormsView, ...]
    meaning_heading: str
    meaning: Meaning
    sources_language: str
    safety: SafetyView
    code: CodeView
    review: str


def view_card(setting: PaperSetting, test: FunctionTest) -> CardView:
    """The view of the card of a test."""
    wording, say = setting.wording, setting.wording.say
    things = [setting.term("equipment", ref.slug) for ref in test.equipment]
    sides = ("left", "right") if test.each_side else ("result",)
    unit = say(f"course.unit_{test.unit}")
    rows = (say("course.date"), *(say("paper.beside", first=say(f"course.{side}"), second=unit) for side in sides))
    return CardView(
        anchor=test.slug,
        fit=FITS[0],
        title=rich(test.title),
        purpose=rich(test.measures),
        suits=say("paper.suits", who=test.suits.text),
        notes=(*((say("paper.fetch", things=wording.join(things)),) if things else ()), *say_facts(wording, test)),
        sections=view_sections(test.sections),
        results=ResultsView(say("course.results"), rows, tuple(range(VISITS[setting.size]))),
        norms_heading=say("course.norms"),
        age=say("course.age"),
        norms=(view_norms(wording, test.norms),) if test.norms else (),
        meaning_heading=say("course.change_means"),
        meaning=view_meaning(wording, test),
        sources_language=setting.library.clinic.languages.source,
        safety=join_questions(view_safety(setting, test.cautions)),
        code=view_code(setting, (setting.address(setting.page("tests", test.slug)),), "paper.code"),
        review=review_line(setting, test.review),
    )


def card_document(setting: PaperSetting, test: FunctionTest) -> Document:
    """The card of a test: on the front what is done, results and cautions, on the back what a result means; large type takes more pages."""
    item = f"tests/{test.slug}"
    page = view_page(setting, title=plain_text(test.title.text), code=test.code, item=item)
    place = test.title.place
    translated, one = place.file != test.place.file, 0 if setting.size == LARGE else 1
    articles = (
        Article(test.slug, "cover", one, place, translated=translated),
        Article(f"{test.slug}--numbers", "opening", one, place, translated=translated),
    )
    path = pdf_path(setting.page("tests", test.slug), test.slug, setting.paper, setting.size)
    html = render_document("card.html", page=page, card=view_card(setting, test))
    standing = (ArticleStanding(pen=True), ArticleStanding())
    return Document(path, html, setting.paper, setting.size, page.area, articles, place, standing)
