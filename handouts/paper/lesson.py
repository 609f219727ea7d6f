"""The card of a lesson: how an exercise is taught, with boxes to tick for what the patient says in return."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Lesson
from handouts.paper.articles import FITS, Article, ArticleStanding, Document
from handouts.paper.booklet import view_entries
from handouts.paper.context import PaperSetting
from handouts.paper.frame import render_document, view_page
from handouts.paper.geometry import LARGE
from handouts.paper.sheet import join_questions, review_line, view_code, view_safety, view_ways
from handouts.paper.views import CodeView, EntryView, PairView, SafetyView, WayView
from handouts.publication.rich_text import rich, rich_all
from handouts.publication.views import SectionView, view_sections
from handouts.site.paths import pdf_path
from handouts.text.markup import plain_text


@dataclass(frozen=True, slots=True)
class LessonHeads:
    """The headings of a card, in its language."""

    exercise: str
    set_up: str
    watch: str
    hands: str
    fault: str
    regress: str
    ask_back: str


@dataclass(frozen=True, slots=True)
class TaughtView:
    """The exercise that is taught, with its figure and its dose."""

    list_heading: str
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class LessonView:
    """Everything on the card of a lesson."""

    anchor: str
    fit: str
    title: Markup
    notes: tuple[str, ...]
    exercise: TaughtView
    heads: LessonHeads
    set_up: tuple[Markup, ...]
    watch: tuple[PairView, ...]
    hands: tuple[Markup, ...]
    fault: PairView
    regress: Markup
    easier: tuple[WayView, ...]
    questions: tuple[Markup, ...]
    sections: tuple[SectionView, ...]
    safety: SafetyView
    code: CodeView
    review: str


def view_lesson(setting: PaperSetting, lesson: Lesson) -> LessonView:
    """The view of the card of a lesson."""
    say = setting.wording.say
    exercise = setting.library.exercise[lesson.exercise.slug]
    heads = LessonHeads(
        exercise=say("course.teaches"), set_up=say("course.set_up"), watch=say("course.watch"), hands=say("course.hands"),
        fault=say("course.fault"), regress=say("course.regress"), ask_back=say("course.ask_back"),
    )  # fmt: skip
    refs = dict.fromkeys((*exercise.cautions, *lesson.cautions))
    return LessonView(
        anchor=lesson.slug,
        fit=FITS[0],
        title=rich(lesson.title),
        notes=(say("course.for_clinicians"), lesson.suits.text),
        exercise=TaughtView(heads.exercise, view_entries(setting, ((exercise, exercise.dose),))),
        heads=heads,
        set_up=rich_all(lesson.set_up),
        watch=tuple(PairView(rich(each.where), rich(each.see)) for each in lesson.watch),
        hands=(rich(lesson.hands),) if lesson.hands else (),
        fault=PairView(rich(exercise.mistakes[0].see), rich(exercise.mistakes[0].do)),
        regress=rich(lesson.regress_when),
        easier=tuple(way for way in view_ways(setting, exercise) if way.way == "easier"),
        questions=rich_all(lesson.questions),
        sections=view_sections(lesson.sections),
        safety=join_questions(view_safety(setting, refs)),
        code=view_code(setting, (setting.address(setting.page("lessons", lesson.slug)),), "paper.code"),
        review=review_line(setting, lesson.review),
    )


def lesson_document(setting: PaperSetting, lesson: Lesson) -> Document:
    """The card of a lesson: one page, more where its text needs them."""
    page = view_page(setting, title=plain_text(lesson.title.text), code=lesson.code, item=f"lessons/{lesson.slug}")
    place = lesson.title.place
    article = Article(lesson.slug, "cover", 0 if setting.size == LARGE else 1, place, translated=place.file != lesson.place.file)
    path = pdf_path(setting.page("lessons", lesson.slug), lesson.slug, setting.paper, setting.size)
    html = render_document("lesson.html", page=page, lesson=view_lesson(setting, lesson))
    return Document(path, html, setting.paper, setting.size, page.area, (article,), place, (ArticleStanding(pen=True),))
