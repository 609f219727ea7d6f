"""The dose that a pick of a bundle gives, and its parts in words."""

from __future__ import annotations

from handouts.dose.arithmetic import given_dose
from handouts.dose.parts import say_part_at
from handouts.dose.phrase import (
    dose_line,
    dose_names,
    effort_line,
    frequency_line,
    rest_line,
    stage_lines,
    tempo_line,
)
from handouts.dose.substitutes import given_pick, say_substitutes
from handouts.model import Dose, Exercise, Library, Pick
from handouts.words.wording import Wording


def whole_dose(pick: Pick, library: Library) -> Dose:
    """The dose of a pick."""
    return given_dose(library.exercise[pick.exercise.slug], pick)


def whole_pick(pick: Pick, library: Library) -> tuple[Exercise, Dose]:
    """The exercise of a pick, with what is taken in place of things, and its dose."""
    return given_pick(library.exercise[pick.exercise.slug], pick, library)


def say_beside(pick: Pick, library: Library, voice: Wording) -> tuple[str, ...]:
    """What belongs to a pick beside its dose: its part of the session, what is taken in place of things, then how the dose goes on."""
    dose = whole_dose(pick, library)
    return (*say_part_at(pick, voice), *say_substitutes(pick, dose, library, voice), *say_stages(dose, pick, library, voice))


def say_stages(dose: Dose, pick: Pick, library: Library, voice: Wording) -> tuple[str, ...]:
    """How a dose goes on over the weeks, a line for each stage; none where it stays."""
    return stage_lines(dose, pick.stages, library.clinic.sessions_easy, voice, dose_names(dose, library))


def dose_parts(dose: Dose, library: Library, voice: Wording) -> tuple[str, ...]:
    """A dose in parts: the line, how often, rest, effort, tempo; a part may be empty."""
    names = dose_names(dose, library)
    lines = (dose_line(dose, voice, names), frequency_line(dose, voice, names), rest_line(dose, voice))
    return (*lines, effort_line(dose.effort, voice), tempo_line(dose.tempo, voice))
