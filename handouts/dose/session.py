"""One session of several exercises: its minutes, its changes of position, its equipment.

Minutes count the work, the rests within and between exercises, and
the changes of position, with the clinic's own seconds for each; in a week these pauses count as often as
there are sessions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handouts.dose.arithmetic import add_up
from handouts.dose.parts import STRAIGHT, Picked, SessionOrder, Visit, visits_of
from handouts.model import SessionPolicy


@dataclass(frozen=True, slots=True)
class SessionTotals:
    """What a session adds up to."""

    seconds: int
    """Work, rests and changes, over the exercises whose length is known."""
    unknown: tuple[str, ...]
    """Exercises whose dose does not say how long they take."""
    changes: int
    """How often the patient changes position."""
    seconds_a_week: int
    equipment: tuple[str, ...]
    """Slugs of what to fetch first, in order of first use."""
    is_known: bool
    """Whether the length of any exercise is known."""
    by_occasion: tuple[str, ...] = ()
    """Exercises that no session holds: how often a day they are done nobody knows, so no sum has their minutes."""


def count_changes(positions: Sequence[str]) -> int:
    """How often neighbours in a list differ."""
    return sum(1 for first, second in zip(positions, positions[1:], strict=False) if first != second)


def add_up_session(picks: Sequence[Picked], policy: SessionPolicy, order: SessionOrder = STRAIGHT) -> SessionTotals:
    """The totals of exercises with their doses, in the order given; what is done by occasion is in none of the minutes.

    What is done on fewer days is done on some of the days of the others, and what is done less often a day in
    some of the sessions of that day: each session of a week has only what is done in it.
    """
    equipment = dict.fromkeys(ref.slug for exercise, _ in picks for ref in exercise.equipment)
    by_occasion = tuple(exercise.slug for exercise, dose in picks if dose.is_by_occasion)
    inside = [pick for pick in picks if not pick[1].is_by_occasion]
    unknown = tuple(exercise.slug for exercise, dose in inside if add_up(dose).seconds is None)
    visits = tuple(visits_of(inside, order))
    days = max((dose.days or 0 for _, dose in inside), default=0)
    times = max((dose.times for _, dose in inside), default=0)
    weekly = sum(
        _seconds(tuple(visits_of([pick for pick in inside if (pick[1].days or 0) >= day and pick[1].times >= time], order)), policy)
        for day in range(1, days + 1)
        for time in range(1, times + 1)
    )
    changes = count_changes([visit.exercise.position.slug for visit in visits])
    return SessionTotals(_seconds(visits, policy), unknown, changes, weekly, tuple(equipment), len(unknown) < len(inside), by_occasion)


def _seconds(visits: Sequence[Visit], policy: SessionPolicy) -> int:
    """Seconds of one session: work and rests, what lies between exercises and rounds, and changes of position."""
    changes = count_changes([visit.exercise.position.slug for visit in visits])
    work = sum((add_up(visit.dose).seconds or 0) + visit.rest for visit in visits)
    return work + changes * policy.change_seconds + max(0, len(visits) - 1) * policy.between_seconds
