"""What an assistant shows before they teach an exercise alone: the points of its lesson, for page and sheet.

Nothing about an assistant is kept: who signs off writes name and day by hand.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Exercise, Lesson
from handouts.publication.rich_text import rich

STAGES = ("seen", "supervised", "alone")
"""How far an assistant is, the first first: a column each."""


@dataclass(frozen=True, slots=True)
class CompetencePoints:
    """Points of one kind, under their heading."""

    heading: str
    points: tuple[Markup, ...]


def list_points(say: Callable[..., str], lesson: Lesson, exercise: Exercise) -> tuple[CompetencePoints, ...]:
    """The points of a lesson in the order in which it is taught; the fault is the exercise's first mistake."""
    fault = exercise.mistakes[0]
    rows = (
        ("course.set_up", tuple(rich(each) for each in lesson.set_up)),
        ("course.watch", tuple(Markup("{}: {}").format(rich(each.where), rich(each.see)) for each in lesson.watch)),
        ("course.hands", (rich(lesson.hands),) if lesson.hands else ()),
        ("course.fault", (Markup("{} {}").format(rich(fault.see), rich(fault.do)),)),
        ("course.regress", (rich(lesson.regress_when),)),
        ("course.ask_back", tuple(rich(each) for each in lesson.questions)),
        ("course.stop_rules", (Markup("{}").format(say("course.says_stop_rules")),)),
    )
    return tuple(CompetencePoints(say(heading), points) for heading, points in rows if points)
