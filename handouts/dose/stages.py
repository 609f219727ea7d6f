"""The doses of a plan over weeks: what each stage gives, which one a week is in, and how fast the work grows.

``templates/scripts/src/bundle/stages.js`` is the twin.
"""

from __future__ import annotations

from collections.abc import Sequence

from handouts.dose.arithmetic import COUNTED, change_dose
from handouts.model import Dose, DoseStage

EASY_WEEKS = 1
"""Weeks that pass at least before a stage is called easy: the clinic's rule asks for several sessions."""
STAGED = ("sets", *COUNTED, "weight_kg", "days", "rest_seconds")
"""What a stage may change of some dose."""


def staged_fields(dose: Dose) -> tuple[str, ...]:
    """What a stage may change of a dose: the sets, what is counted, the weight, days and rest; never the hold of each repetition."""
    counted = next((name for name in COUNTED if getattr(dose, name) is not None), COUNTED[0])
    return "sets", counted, "weight_kg", "days", "rest_seconds"


def stage_doses(first: Dose, stages: Sequence[DoseStage]) -> tuple[Dose, ...]:
    """The dose of each stage, the first one before them."""
    doses = [first]
    for stage in stages:
        doses.append(change_dose(doses[-1], stage.change))
    return tuple(doses)


def dose_in_week(first: Dose, stages: Sequence[DoseStage], week: int) -> Dose:
    """The dose of a week of the plan, counted from 1; what waits for a stage to be easy is not reached."""
    return stage_doses(first, [stage for stage in stages if stage.week and stage.week <= week])[-1]


def work_of(dose: Dose) -> float:
    """Sets times what is counted, times days a week; an amount of one exercise, to be compared with no other."""
    counted = next((value for name in COUNTED if (value := getattr(dose, name)) is not None), 1)
    return float(dose.sets * counted * (dose.days or 1))


def growth_of(before: Dose, after: Dose, weeks: int) -> float:
    """By how many percent a week the work grows from one stage to the next, which begins so many weeks later."""
    ratio = work_of(after) / work_of(before)
    if before.weight_kg and after.weight_kg:
        ratio *= after.weight_kg / before.weight_kg
    return (ratio - 1) * 100 / max(1, weeks)


def growths(first: Dose, stages: Sequence[DoseStage]) -> tuple[float, ...]:
    """The growth a week of each stage over the one before."""
    doses, week, found = stage_doses(first, stages), 1, []
    for at, stage in enumerate(stages):
        start = stage.week or week + EASY_WEEKS
        found.append(growth_of(doses[at], doses[at + 1], start - week))
        week = start
    return tuple(found)
