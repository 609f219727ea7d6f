"""The view of the page of a lesson: how an exercise is taught, for clinicians and assistants."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.publication.rich_text import rich, rich_all
from handouts.publication.views import SectionView, view_sections
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.parts import (
    Cautions,
    ExerciseRow,
    FaultView,
    Prints,
    make_cautions,
    make_prints,
    make_row,
    review_line,
    view_fault,
)
from handouts.site.paths import item_page


@dataclass(frozen=True, slots=True)
class WatchedView:
    """Where to look from, and what to look for."""

    where: Markup
    see: Markup


@dataclass(frozen=True, slots=True)
class LessonPage:
    """Everything on the page of a lesson."""

    frame: PageFrame
    title: Markup
    suits: Markup
    exercise: ExerciseRow
    set_up: tuple[Markup, ...]
    watch: tuple[WatchedView, ...]
    hands: tuple[Markup, ...]
    fault: FaultView
    regress: Markup
    questions: tuple[Markup, ...]
    sections: tuple[SectionView, ...]
    cautions: Cautions
    prints: tuple[Prints, ...]
    review: str
    code: str
    sources: tuple[str, ...]
    sources_language: str


def make_lesson_page(setting: LanguageSite, slug: str) -> LessonPage:
    """The view of a lesson."""
    library, wording = setting.library, setting.wording
    lesson, page = library.lesson[slug], item_page(setting.language, "lessons", slug)
    exercise = library.exercise[lesson.exercise.slug]
    refs = dict.fromkeys(ref.slug for ref in (*exercise.cautions, *lesson.cautions))
    return LessonPage(
        frame=make_frame(setting, page, lesson.title.text, lesson.suits.text, item=f"lessons/{slug}", stop="#stop"),
        title=rich(lesson.title),
        suits=rich(lesson.suits),
        exercise=make_row(setting, page, exercise),
        set_up=rich_all(lesson.set_up),
        watch=tuple(WatchedView(rich(each.where), rich(each.see)) for each in lesson.watch),
        hands=(rich(lesson.hands),) if lesson.hands else (),
        fault=view_fault(exercise.mistakes[0]),
        regress=rich(lesson.regress_when),
        questions=rich_all(lesson.questions),
        sections=view_sections(lesson.sections),
        cautions=make_cautions(setting, (library.caution[each] for each in refs)),
        prints=make_prints(setting, page, slug, wording.say("site.print_lesson")),
        review=review_line(setting, lesson.review, f"lessons/{slug}"),
        code=wording.say("site.code", code=lesson.code),
        sources=lesson.sources,
        sources_language=setting.source.language,
    )
