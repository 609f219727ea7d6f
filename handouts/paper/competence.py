"""The sheet on which an assistant is signed off: a page for each exercise that has a lesson, with boxes, and lines for names and days."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.paper.articles import FITS, Article, Document
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.publication.competence import STAGES, CompetencePoints, list_points
from handouts.publication.rich_text import rich
from handouts.site.paths import COMPETENCE, list_page, pdf_path


@dataclass(frozen=True, slots=True)
class SignedView:
    """The page of one exercise."""

    anchor: str
    title: Markup
    groups: tuple[CompetencePoints, ...]


@dataclass(frozen=True, slots=True)
class CompetenceSheet:
    """Everything on the sheet."""

    fit: str
    title: str
    note: str
    point: str
    stages: tuple[str, ...]
    lines: tuple[str, ...]
    """Labels of the rows that are written by hand, a cell for each stage."""
    assistant: str
    exercises: tuple[SignedView, ...]


def competence_path(setting: PaperSetting) -> str:
    """The path of the sheet on the setting's paper, in its type size."""
    return pdf_path(list_page(setting.language, COMPETENCE), COMPETENCE, setting.paper, setting.size)


def competence_document(setting: PaperSetting, paper: str, size: str) -> Document:
    """The sheet of all lessons on a paper in a type size: each exercise begins a page, so that one can be filed by itself."""
    setting = setting.on(paper, size)
    say, library, lessons = setting.wording.say, setting.library, setting.library.lessons
    exercises = tuple(
        SignedView(each.slug, rich(library.exercise[each.exercise.slug].title), list_points(say, each, library.exercise[each.exercise.slug]))
        for each in lessons
    )
    view = CompetenceSheet(
        fit=FITS[0],
        title=say("course.competence"),
        note=say("course.for_clinicians"),
        point=say("course.shows"),
        stages=tuple(say(f"course.{stage}") for stage in STAGES),
        lines=(say("course.date"), say("course.signed_by")),
        assistant=say("course.assistant"),
        exercises=exercises,
    )
    page = view_page(setting, title=view.title, code="", item="")
    articles = tuple(Article(each.slug, "cover", 0, each.title.place, translated=each.title.place.file != each.place.file) for each in lessons)
    html = render_document("competence.html", page=page, sheet=view)
    return Document(competence_path(setting), html, setting.paper, setting.size, page.area, articles, lessons[0].place)
