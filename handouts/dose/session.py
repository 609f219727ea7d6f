"""One session of several exercises: its order, its minutes, its equipment.

The order changes position least and respects the graph of what comes before what; ties keep the order
in which the exercises were given.  Minutes count the work, the rests within and between exercises, and
the changes of position, with the clinic's own seconds for each; in a week these pauses count as often as
there are sessions.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from handouts.dose.arithmetic import add_up
from handouts.dose.progression import Progression
from handouts.model import Dose, Exercise, SessionPolicy

EXACT_UP_TO = 12
"""Largest number of exercises ordered exactly (2^n states); a bundle holds at most 12."""


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


def count_changes(positions: Sequence[str]) -> int:
    """How often neighbours in a list differ."""
    return sum(1 for first, second in zip(positions, positions[1:], strict=False) if first != second)


def add_up_session(picks: Sequence[tuple[Exercise, Dose]], policy: SessionPolicy) -> SessionTotals:
    """The totals of exercises with their doses, in the order given."""
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
    equipment = dict.fromkeys(ref.slug for exercise, _ in picks for ref in exercise.equipment)
    return SessionTotals(seconds + _pauses(picks, policy), tuple(unknown), changes, weekly, tuple(equipment))


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


def order_session(exercises: Sequence[Exercise], progression: Progression) -> tuple[Exercise, ...]:
    """The exercises in the order that changes position least, what comes before kept before what builds on it.

    Exact by dynamic programming over sets up to ``EXACT_UP_TO`` exercises; above that greedy.  Where
    the graph has a ring the given order is kept.
    """
    slugs = [exercise.slug for exercise in exercises]
    earlier = {
        index: frozenset(slugs.index(name) for name in progression.before(slug) if name in slugs)
        for index, slug in enumerate(slugs)
    }
    if any(index in earlier[other] and other in earlier[index] for index in earlier for other in earlier):
        return tuple(exercises)
    positions = [exercise.position.slug for exercise in exercises]
    order = _exact(positions, earlier) if len(slugs) <= EXACT_UP_TO else _greedy(positions, earlier)
    return tuple(exercises[index] for index in order)


def _exact(positions: Sequence[str], earlier: Mapping[int, frozenset[int]]) -> tuple[int, ...]:
    """Least changes first, then the order closest to the one given (lexicographic)."""
    best: dict[tuple[frozenset[int], int], tuple[int, tuple[int, ...]]] = {}
    for index in range(len(positions)):
        if not earlier[index]:
            best[frozenset({index}), index] = (0, (index,))
    for _ in range(len(positions) - 1):
        longer: dict[tuple[frozenset[int], int], tuple[int, tuple[int, ...]]] = {}
        for (done, last), (cost, path) in best.items():
            for index in range(len(positions)):
                if index in done or not earlier[index] <= done:
                    continue
                key = (done | {index}, index)
                candidate = (cost + (positions[index] != positions[last]), (*path, index))
                if key not in longer or candidate < longer[key]:
                    longer[key] = candidate
        best = longer
    return min(best.values())[1] if best else ()


def _greedy(positions: Sequence[str], earlier: Mapping[int, frozenset[int]]) -> tuple[int, ...]:
    """Stay in the position as long as any exercise there is free, then move to the first free one."""
    path: list[int] = []
    while len(path) < len(positions):
        free = [index for index in range(len(positions)) if index not in path and earlier[index] <= set(path)]
        same = [index for index in free if path and positions[index] == positions[path[-1]]]
        path.append((same or free)[0])
    return tuple(path)
