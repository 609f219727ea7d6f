"""An advice sheet on paper: what to keep in mind, then what to do, on one page."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Leaflet
from handouts.paper.articles import FITS, Article, ArticleStanding, Document
from handouts.paper.booklet import picks_of, view_entries
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.paper.geometry import LARGE
from handouts.paper.sheet import join_questions, review_line, view_code, view_safety
from handouts.paper.views import CodeView, EntryView, SafetyView
from handouts.publication.rich_text import rich, rich_all
from handouts.publication.views import SectionView, view_sections
from handouts.site.paths import pdf_path
from handouts.text.markup import plain_text


@dataclass(frozen=True, slots=True)
class KeepView:
    """Exercises to keep up, each with its dose."""

    list_heading: str
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class LeafletView:
    """Everything on an advice sheet."""

    anchor: str
    fit: str
    title: Markup
    why: Markup
    suits: str
    points_heading: str
    points: tuple[Markup, ...]
    keep: KeepView
    sections: tuple[SectionView, ...]
    come_back_heading: str
    come_back: tuple[Markup, ...]
    safety: SafetyView
    code: CodeView
    review: str


def view_leaflet(setting: PaperSetting, leaflet: Leaflet) -> LeafletView:
    """The view of an advice sheet."""
    say = setting.wording.say
    return LeafletView(
        anchor=leaflet.slug,
        fit=FITS[0],
        title=rich(leaflet.title),
        why=rich(leaflet.why),
        suits=say("paper.suits", who=leaflet.suits.text),
        points_heading=say("course.keep_in_mind"),
        points=rich_all(leaflet.points),
        keep=KeepView(say("course.keep_up"), view_entries(setting, picks_of(setting, leaflet.keep))),
        sections=view_sections(leaflet.sections),
        come_back_heading=say("course.come_back"),
        come_back=rich_all(leaflet.come_back),
        safety=join_questions(view_safety(setting, leaflet.cautions)),
        code=view_code(setting, (setting.address(setting.page("leaflets", leaflet.slug)),), "paper.code"),
        review=review_line(setting, leaflet.review),
    )


def leaflet_document(setting: PaperSetting, leaflet: Leaflet) -> Document:
    """An advice sheet: one page, more where its text needs them."""
    page = view_page(setting, title=plain_text(leaflet.title.text), code=leaflet.code, item=f"leaflets/{leaflet.slug}")
    place = leaflet.title.place
    article = Article(leaflet.slug, "cover", 0 if setting.size == LARGE else 1, place, translated=place.file != leaflet.place.file)
    path = pdf_path(setting.page("leaflets", leaflet.slug), leaflet.slug, setting.paper, setting.size)
    html = render_document("leaflet.html", page=page, leaflet=view_leaflet(setting, leaflet))
    return Document(path, html, setting.paper, setting.size, page.area, (article,), place, (ArticleStanding(pen=True),))
