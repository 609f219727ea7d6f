"""One session of several exercises: its minutes, its changes of position, its equipment.

Minutes count the work, the rests within and between exercises, and
the changes of position, with the clinic's own seconds for each; in a week these pauses count as often as
there are sessions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handouts.dose.arithmetic import add_up
from handouts.model import Dose, Exercise, SessionPolicy


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


def add_up_session(picks: Sequence[tuple[Exercise, Dose]], policy: SessionPolicy) -> SessionTotals:
    """The totals of exercises with their doses, in the order given; what is done by occasion is in none of the minutes."""
    equipment = dict.fromkeys(ref.slug for exercise, _ in picks for ref in exercise.equipment)
    by_occasion = tuple(exercise.slug for exercise, dose in picks if dose.is_by_occasion)
    picks = [pick for pick in picks if not pick[1].is_by_occasion]
    changes = count_changes([exercise.position.slug for exercise, _ in picks])
    seconds, weekly, unknown = 0, 0, []
    for exercise, dose in picks:
        totals = add_up(dose)
        if totals.seconds is None:
            unknown.append(exercise.slug)
        else:
            seconds += totals.seconds
            weekly += totals.seconds_a_week or 0
    weekly += _weekly_pauses(picks, policy)
    is_known = len(unknown) < len(picks)
    return SessionTotals(seconds + _pauses(picks, policy), tuple(unknown), changes, weekly, tuple(equipment), is_known, by_occasion)


def _pauses(picks: Sequence[tuple[Exercise, Dose]], policy: SessionPolicy) -> int:
    """Seconds between exercises and to change position in one session."""
    changes = count_changes([exercise.position.slug for exercise, _ in picks])
    return changes * policy.change_seconds + max(0, len(picks) - 1) * policy.between_seconds


def _weekly_pauses(picks: Sequence[tuple[Exercise, Dose]], policy: SessionPolicy) -> int:
    """Seconds of the pauses of all sessions of a week.

    What is done on fewer days is done on some of the days of the others, and what is done less often a day in
    some of the sessions of that day: each session has only the pauses between what is done in it.
    """
    days = max((dose.days or 0 for _, dose in picks), default=0)
    times = max((dose.times for _, dose in picks), default=0)
    return sum(
        _pauses([pick for pick in picks if (pick[1].days or 0) >= day and pick[1].times >= time], policy)
        for day in range(1, days + 1)
        for time in range(1, times + 1)
    )
