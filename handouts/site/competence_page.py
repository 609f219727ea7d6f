"""The view of the page on which assistants are signed off: what they show of each exercise that is taught the same way."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from handouts.publication.competence import STAGES, CompetencePoints, list_points
from handouts.publication.rich_text import rich
from handouts.site.context import LanguageSite
from handouts.site.page_frame import PageFrame, make_frame
from handouts.site.parts import Prints, make_prints
from handouts.site.paths import COMPETENCE, item_page, list_page, relative


@dataclass(frozen=True, slots=True)
class CompetenceView:
    """What is shown of one exercise."""

    title: Markup
    href: str
    """Of the lesson."""
    groups: tuple[CompetencePoints, ...]


@dataclass(frozen=True, slots=True)
class CompetencePage:
    """Everything on the page."""

    frame: PageFrame
    title: str
    lead: str
    stages: tuple[str, ...]
    exercises: tuple[CompetenceView, ...]
    prints: tuple[Prints, ...]


def make_competence_page(setting: LanguageSite) -> CompetencePage:
    """The view of the page."""
    library, say, page = setting.library, setting.wording.say, list_page(setting.language, COMPETENCE)
    return CompetencePage(
        frame=make_frame(setting, page, say("course.competence"), say("course.competence_lead"), dated=True),
        title=say("course.competence"),
        lead=say("course.competence_lead"),
        stages=tuple(say(f"course.{stage}") for stage in STAGES),
        exercises=tuple(
            CompetenceView(
                rich(library.exercise[each.exercise.slug].title),
                relative(page, item_page(setting.language, "lessons", each.slug)),
                list_points(say, each, library.exercise[each.exercise.slug]),
            )
            for each in library.lessons
        ),
        prints=make_prints(setting, page, COMPETENCE, say("course.print_competence")),
    )
