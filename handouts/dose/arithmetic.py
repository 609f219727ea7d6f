"""What a dose adds up to: seconds of one session and of a week; what of a dose may be moved, and how far.

The sum of one session is

    sets x sides x (work of one set) + rest x (sets x sides - 1) + warm-up + cool-down

where the work of one set is reps x (seconds of one repetition + hold), the hold, or the time; in rounds of work
and rest the last rest counts too.  Where repetitions or sides have a choice, the longer way counts.  Where
no tempo is given a repetition's length is unknown, and so is the time; a number is never invented.
Checked against worked examples in ``tests/dose/test_arithmetic.py``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from handouts.model import Dose, DoseChange, DoseKind, DoseRange, Exercise, Pick, Side, Span, Tempo
from handouts.model.dose import MAX_DAYS, MAX_REPS, MAX_SETS

WALKING_METRES_PER_SECOND = 0.8
"""Usual walking speed assumed for a dose in metres that names no pace of its own: the slower edge of community walking
(0.8 m/s; Perry et al., Stroke 1995;26:982, from memory)."""


@dataclass(frozen=True, slots=True)
class Totals:
    """What one session of one exercise adds up to; None where the dose does not say enough."""

    seconds: int | None
    """Length of the exercise in one session, or on one occasion, with rests between sets."""
    seconds_a_week: int | None
    """None where it is done by occasion: nobody knows how often."""


def sides_of(dose: Dose) -> int:
    """How many times each set is done: 2 where each side takes its turn, or may (the longer way); else 1."""
    return 2 if takes_turns(dose) or dose.side is Side.EACH_OR_BOTH else 1


def takes_turns(dose: Dose) -> bool:
    """Whether each side does every set, and the patient is told when to change."""
    return dose.side in (Side.BOTH, Side.ONE_SIDE_FIRST)


def add_up(dose: Dose) -> Totals:
    """The totals of a dose for one session (one of ``times`` a day) and for a week."""
    bouts, work = dose.sets * sides_of(dose), _set_seconds(dose)
    if work is None:
        return Totals(None, None)
    rests = bouts if dose.is_interval else bouts - 1
    seconds = bouts * work + dose.rest_seconds * rests + (dose.warm_up_seconds or 0) + (dose.cool_down_seconds or 0)
    is_counted = dose.days is not None and not dose.is_by_occasion
    return Totals(seconds, seconds * (dose.days or 0) * dose.times if is_counted else None)


def _set_seconds(dose: Dose) -> int | None:
    """Seconds of one set on one side."""
    if dose.kind is DoseKind.TIME:
        return dose.time_seconds
    if dose.kind is DoseKind.DISTANCE:
        if dose.work is not None and dose.pace_metres_per_second is None:
            return None
        return round((dose.distance_metres or 0) / (dose.pace_metres_per_second or WALKING_METRES_PER_SECOND))
    if dose.kind is DoseKind.HOLD:
        return dose.hold_seconds
    if dose.rate is not None:
        return math.ceil(dose.most_reps * 60 / dose.rate)
    if dose.tempo is None and dose.hold_seconds is None:
        return None
    return dose.most_reps * ((dose.tempo.seconds if dose.tempo else 0) + (dose.hold_seconds or 0))


def change_dose(dose: Dose, change: DoseChange | None) -> Dose:
    """The library's dose with the numbers that a clinician moved; a choice of repetitions keeps its width."""
    if change is None:
        return dose
    names = (
        "sets",
        "reps",
        "hold_seconds",
        "time_seconds",
        "distance_metres",
        "tempo",
        "side",
        "rest_seconds",
        "days",
        "times",
        "effort",
        "weight_kg",
        "band",
    )
    moved = {name: value for name in names if (value := getattr(change, name)) is not None}
    if dose.reps_to is not None and dose.reps is not None and "reps" in moved:
        moved["reps_to"] = dose.reps_to + moved["reps"] - dose.reps
    return replace(dose, **moved)


def given_dose(exercise: Exercise, pick: Pick) -> Dose:
    """What a pick gives of its exercise: the library's dose, or the former one that it names, with the change."""
    return change_dose(pick.base or exercise.dose, pick.change)


COUNTED = ("reps", "hold_seconds", "time_seconds", "distance_metres")
"""Fields of which a dose counts one; a hold may stand beside repetitions."""


def allowed_range(exercise: Exercise) -> DoseRange | None:
    """How far the dose may be moved; where it is open also sets, days and what is counted, if the author bounds none of them."""
    allowed = exercise.dose_range
    if not exercise.dose.is_open:
        return allowed
    allowed = allowed or DoseRange(place=exercise.dose.place)
    counts = any(getattr(allowed, name) is not None for name in COUNTED)
    return replace(
        allowed,
        sets=allowed.sets or Span(1, MAX_SETS),
        days=allowed.days or Span(1, MAX_DAYS),
        reps=allowed.reps if counts else Span(1, MAX_REPS),
    )


def unset_fields(dose: Dose, allowed: DoseRange | None) -> tuple[str, ...]:
    """The fields of an open dose that the clinician has still to fill in: of those that the range offers."""
    names = ("sets", *COUNTED, "tempo", "side", "days", "times", "rest_seconds", "effort", "weight_kg")
    return tuple(name for name in names if (offered := getattr(allowed, name, None)) is not None and _is_unset(dose, name, offered))


def _is_unset(dose: Dose, name: str, offered: Span | tuple[Side, ...] | tuple[Tempo, ...]) -> bool:
    """Once a day and no rest stand until the clinician says otherwise, where the range allows them."""
    if name in ("times", "rest_seconds"):
        return isinstance(offered, Span) and not offered.holds(getattr(dose, name))
    return dose.is_open if name == "sets" else dose.side is Side.TOGETHER if name == "side" else getattr(dose, name) is None


RANGED = ("sets", "reps", "hold_seconds", "time_seconds", "distance_metres", "days", "times", "rest_seconds", "weight_kg")
"""Fields of a dose that a dose range may bound."""


def is_offered(tempo: Tempo | None, allowed: DoseRange | None) -> bool:
    """Whether a tempo is among those that a range lists; a range that lists none says nothing about it."""
    return tempo is None or allowed is None or allowed.tempo is None or tempo in allowed.tempo


def outside_range(dose: Dose, allowed: DoseRange | None) -> tuple[tuple[str, float, Span], ...]:
    """Each field whose value lies outside its range: field, value, range."""
    if allowed is None:
        return ()
    found = []
    for name in RANGED:
        value, span = getattr(dose, name), getattr(allowed, name)
        if value is not None and span is not None and not span.holds(value):
            found.append((name, value, span))
    return tuple(found)


def forbidden_changes(
    dose: Dose, change: DoseChange | None, allowed: DoseRange | None
) -> tuple[tuple[str, float, Span | None], ...]:
    """Each moved number that the range does not allow; the range is None where that field may not be moved at all."""
    if change is None:
        return ()
    found: list[tuple[str, float, Span | None]] = []
    for name in RANGED:
        value = getattr(change, name)
        if value is None or value == getattr(dose, name):
            continue
        span = getattr(allowed, name) if allowed else None
        if span is None or not span.holds(value):
            found.append((name, value, span))
    return tuple(found)
