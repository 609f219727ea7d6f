"""Landings and minutes of running: what a session and a week of several exercises add up to, and how fast that grows.

A number is never invented: steps of a run are not counted, and what is done by occasion has no week.
``templates/scripts/src/bundle/impact.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handouts.dose.arithmetic import sides_of
from handouts.dose.stages import dose_in_week
from handouts.model import Counted, Dose, DoseStage
from handouts.model.dose import RUNNING


@dataclass(frozen=True, slots=True)
class Impact:
    """Sums over exercises."""

    contacts: int
    """Landings in one session; with both feet at once, one."""
    running_seconds: int
    """In one session, without what is walked between."""
    contacts_a_week: int | None
    """None where an exercise with landings or running does not say how often it is done."""
    running_a_week: int | None


def contacts_of(dose: Dose) -> int:
    """Landings in one session, by the upper end of what may be chosen; 0 where none are counted."""
    return dose.sets * sides_of(dose) * dose.most_reps if dose.counted is Counted.CONTACTS else 0


def running_of(dose: Dose) -> int:
    """Seconds of running in one session; 0 where none is timed."""
    return dose.sets * sides_of(dose) * (dose.time_seconds or 0) if dose.work in RUNNING else 0


def add_up_impact(doses: Iterable[Dose]) -> Impact:
    """What doses add up to."""
    given = [dose for dose in doses if contacts_of(dose) or running_of(dose)]
    in_session = [dose for dose in given if not dose.is_by_occasion]
    contacts, running = sum(map(contacts_of, in_session)), sum(map(running_of, in_session))
    if any(dose.days is None or dose.is_by_occasion for dose in given):
        return Impact(contacts, running, None, None)
    often = [(dose.days or 0) * dose.times for dose in given]
    return Impact(
        contacts,
        running,
        sum(contacts_of(dose) * count for dose, count in zip(given, often, strict=True)),
        sum(running_of(dose) * count for dose, count in zip(given, often, strict=True)),
    )


@dataclass(frozen=True, slots=True)
class ImpactGrowth:
    """How a week's landings, or its running, grow over those of the stage before."""

    week: int
    is_running: bool
    percent: float
    """A week."""


def impact_growths(plans: Sequence[tuple[Dose, Sequence[DoseStage]]]) -> tuple[ImpactGrowth, ...]:
    """By each week in which a stage begins how a week's sums over all exercises grow; none where they are unknown, or begin with nothing."""
    found, last = [], 1
    before = add_up_impact(dose for dose, _ in plans)
    for week in sorted({stage.week for _, stages in plans for stage in stages if stage.week > 1}):
        after = add_up_impact(dose_in_week(dose, stages, week) for dose, stages in plans)
        for is_running, old, new in (
            (False, before.contacts_a_week, after.contacts_a_week),
            (True, before.running_a_week, after.running_a_week),
        ):
            if old and new and new > old:
                found.append(ImpactGrowth(week, is_running, (new / old - 1) * 100 / (week - last)))
        before, last = after, week
    return tuple(found)
