"""What pages and sheets say of a class: its times, its stations with their levels, what to watch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from handouts.dose.arithmetic import sides_of
from handouts.dose.class_time import CHANGE, COOL_DOWN, WARM_UP, TimedPart, class_parts, class_seconds, round_seconds
from handouts.dose.phrase import time_phrase
from handouts.model import ClassPlan, ClassStation, Exercise, Library, Mistake
from handouts.words.wording import Wording

MINUTE = 60


def say_class_facts(wording: Wording, plan: ClassPlan) -> tuple[str, ...]:
    """Work, change, rounds, minutes of a round and of all, and how many people, each in a line."""
    say = wording.say

    def time(seconds: int) -> str:
        return time_phrase(seconds, wording)

    lines = [say("classes.work", time=time(plan.work_seconds)), say("classes.change", time=time(plan.rest_seconds))]
    lines += [wording.count("classes.rounds", plan.rounds), say("classes.round", time=time(round_seconds(plan)))]
    if plan.between_seconds is not None and plan.rounds > 1:
        lines.append(say("classes.between", time=time(plan.between_seconds)))
    lines.append(say("classes.whole", time=time(class_seconds(plan))))
    if plan.people:
        low, rest = divmod(plan.people, len(plan.stations))
        each = say("dose.range", low=wording.number(low), high=wording.number(low + 1)) if rest and low else wording.number(max(1, low))
        lines.append(say("classes.people", people=wording.number(plan.people), each=each))
    return tuple(lines)


def name_station(wording: Wording, number: int) -> str:
    """The name of a station, counted from 0."""
    return wording.say("classes.station", n=wording.number(number + 1))


@dataclass(frozen=True, slots=True)
class StationLevel:
    """An exercise of a station, with what it is called there."""

    label: str
    exercise: Exercise
    halfway: str
    """That sides are changed halfway; empty where there are none."""


def find_levels(library: Library, wording: Wording, station: ClassStation) -> tuple[StationLevel, ...]:
    """The levels of a station, the easiest first."""
    return tuple(
        StationLevel(wording.say("classes.level", n=wording.number(number)), exercise, wording.say("classes.halfway") if has_sides(exercise) else "")
        for number, exercise in enumerate((library.exercise[ref.slug] for ref in station.levels), 1)
    )


def has_sides(exercise: Exercise) -> bool:
    """Whether an exercise is done on one side and then on the other."""
    return sides_of(exercise.dose) == 2


def first_mistakes(library: Library, station: ClassStation) -> tuple[Mistake, ...]:
    """The first mistake of each level, equal ones once."""
    found = (library.exercise[ref.slug].mistakes[0] for ref in station.levels)
    return tuple({mistake.see.text: mistake for mistake in found}.values())


def say_part(wording: Wording, part: TimedPart) -> str:
    """What a part of a class is called, as large words."""
    if part.kind == WARM_UP:
        return wording.say("classes.warm_up")
    if part.kind == COOL_DOWN:
        return wording.say("classes.cool_down")
    if part.kind == CHANGE:
        return wording.say("classes.change_to", n=wording.number(part.station + 1))
    return name_station(wording, part.station)


def say_clock(seconds: int) -> str:
    """Minutes and seconds, as a clock shows them: 5:20."""
    return f"{seconds // MINUTE}:{seconds % MINUTE:02d}"


def begin_times(plan: ClassPlan) -> Iterator[tuple[int, TimedPart]]:
    """Each part with the second in which it begins."""
    at = 0
    for part in class_parts(plan):
        yield at, part
        at += part.seconds
