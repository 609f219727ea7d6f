"""Classes: levels in the library's own order, exercises that fit the room and the people, figures, minutes."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.dose.class_time import class_seconds
from handouts.dose.progression import Progression
from handouts.model import Exercise, Ref
from handouts.problems import Grade, Problem
from handouts.rules.programmes import show_minutes
from handouts.rules.question import Question


def check_class_levels(question: Question) -> Iterator[Problem]:
    """Is each level of a station harder than the one before it, as the library's exercises say?"""
    for plan in question.library.classes:
        for station in plan.stations:
            for easy, hard in zip(station.levels, station.levels[1:], strict=False):
                if {easy.slug, hard.slug} <= question.library.exercise.keys():
                    yield from _order(easy, hard, question.progression)


def _order(easy: Ref, hard: Ref, progression: Progression) -> Iterator[Problem]:
    if easy.slug == hard.slug:
        yield Problem(hard.place, "class-levels", f"'{hard.slug}' is two levels of one station", "Name another exercise, or take it out.")
    elif hard.slug in _beyond(progression, easy.slug):
        return
    elif easy.slug in _beyond(progression, hard.slug):
        what = f"'{hard.slug}' is easier than '{easy.slug}', which stands before it"
        yield Problem(hard.place, "class-levels", what, "Write the easiest level first.")
    else:
        what = f"nothing says that '{hard.slug}' is harder than '{easy.slug}'"
        mend = f"Name '{hard.slug}' in 'harder' of '{easy.slug}', or '{easy.slug}' in 'after' of '{hard.slug}', or choose another level."
        yield Problem(hard.place, "class-levels", what, mend)


def _beyond(progression: Progression, start: str) -> set[str]:
    """All that is harder than an exercise or builds on it, near or far."""
    found, queue = set[str](), [start]
    while queue:
        slug = queue.pop()
        further = {option.slug for option in progression.harder.get(slug, ()) if option.slug} | set(progression.opens.get(slug, ()))
        queue += further - found
        found |= further
    return found


def check_class_fits(question: Question) -> Iterator[Problem]:
    """Has the room of a class all that its exercises need, and can its people get into their positions?"""
    for plan in question.library.classes:
        things, positions = {ref.slug for ref in plan.equipment}, {ref.slug for ref in plan.positions}
        for ref, exercise in _levels(question, [ref for station in plan.stations for ref in station.levels]):
            for thing in exercise.equipment:
                if thing.slug not in things:
                    what = f"'{ref.slug}' needs '{thing.slug}', and the room has none"
                    yield Problem(ref.place, "class-equipment", what, "Add it to 'equipment' of the class, or choose another exercise.")
            if positions and exercise.position.slug not in positions:
                what = f"'{ref.slug}' is done in the position '{exercise.position.slug}', which is none of the class"
                yield Problem(ref.place, "class-position", what, "Add it to 'positions' of the class, or choose another exercise.")


def check_class_figures(question: Question) -> Iterator[Problem]:
    """Has every station a picture to show for each of its levels?"""
    for plan in question.library.classes:
        for number, station in enumerate(plan.stations, 1):
            for ref, exercise in _levels(question, station.levels):
                if exercise.picture is None and not (exercise.figure and exercise.figure.entries):
                    what = f"station {number} has no figure for '{ref.slug}', and its card would have no picture"
                    yield Problem(ref.place, "class-no-figure", what, "Draw the exercise, or choose another one.")


def check_class_length(question: Question) -> Iterator[Problem]:
    """Does every class stay within the clinic's minutes?"""
    policy = question.library.clinic.session
    for plan in question.library.classes:
        most, seconds = policy.class_minutes or policy.minutes, class_seconds(plan)
        if seconds > most * 60:
            key = "class minutes" if policy.class_minutes else "minutes"
            yield Problem(
                plan.at("rounds" if "rounds" in plan.places else "stations"),
                "class-long",
                f"the class takes {show_minutes(seconds, most)} minutes, the clinic advises at most {most}",
                f"Take out a round or a station; or change '{key}' of 'session' in clinic.yaml.",
                Grade.NOTICE,
            )


def _levels(question: Question, refs: list[Ref] | tuple[Ref, ...]) -> Iterator[tuple[Ref, Exercise]]:
    known = question.library.exercise
    return ((ref, known[ref.slug]) for ref in refs if ref.slug in known)
