"""A class by the clock: its parts in order with their seconds, what a round takes, and what all takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from handouts.model import ClassPlan

WARM_UP, CHANGE, WORK, COOL_DOWN = "warm-up", "change", "work", "cool-down"
"""Kinds of parts; a change comes before each time of work."""


@dataclass(frozen=True, slots=True)
class TimedPart:
    """A part of a class."""

    kind: str
    seconds: int
    station: int = -1
    """From 0: where the work is, or where one changes to; -1 where all are together."""
    round: int = 0
    """From 1; 0 where all are together."""


def class_parts(plan: ClassPlan) -> tuple[TimedPart, ...]:
    """All parts of a class, in order."""
    return tuple(_parts(plan))


def _parts(plan: ClassPlan) -> Iterator[TimedPart]:
    if plan.warm_up:
        yield TimedPart(WARM_UP, plan.warm_up.seconds)
    for number in range(1, plan.rounds + 1):
        for station in range(len(plan.stations)):
            again = number > 1 and station == 0 and plan.between_seconds is not None
            yield TimedPart(CHANGE, plan.between_seconds or 0 if again else plan.rest_seconds, station, number)
            yield TimedPart(WORK, plan.work_seconds, station, number)
    if plan.cool_down:
        yield TimedPart(COOL_DOWN, plan.cool_down.seconds)


def round_seconds(plan: ClassPlan) -> int:
    """What the first round takes, with the change before each station."""
    return sum(part.seconds for part in class_parts(plan) if part.round == 1)


def class_seconds(plan: ClassPlan) -> int:
    """What all of a class takes."""
    return sum(part.seconds for part in class_parts(plan))
