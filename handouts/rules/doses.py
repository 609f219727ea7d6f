"""Doses: that they say one thing, say it whole, and lie inside their range."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from handouts.dose.arithmetic import COUNTED, RANGED, is_offered, outside_range
from handouts.dose.weight import shown_weight, write_weight
from handouts.model import Dose, DoseChange, DoseKind, Exercise, Library, Side
from handouts.problems import Grade, Place, Problem
from handouts.rules.question import Question

FIELD_NAMES = {
    "hold_seconds": "hold",
    "time_seconds": "time",
    "distance_metres": "distance",
    "rest_seconds": "rest",
    "weight_kg": "weight",
    "pain_next_day": "pain next day",
}
"""Attribute of a dose to the key that its author types, where they differ."""
UNITS = {"hold_seconds": " s", "time_seconds": " s", "distance_metres": " m", "rest_seconds": " s"}


def show_value(name: str, value: float) -> str:
    """A number of a dose with its unit, as an author types it."""
    return write_weight(value) if name == "weight_kg" else f"{value:g}{UNITS.get(name, '')}"


def check_dose_kind(question: Question) -> Iterator[Problem]:
    """Does every dose count exactly one thing: repetitions, a hold, a time or a distance?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.is_open:
            yield from _open_range(exercise)
            continue
        counted = [key for key, value in _counted(dose) if value is not None]
        if not counted and dose.hold_seconds is None:
            yield Problem(
                dose.place, "dose-kind", "the dose does not say what to count", "Add reps, hold, time or distance."
            )
        elif len(counted) > 1:
            yield Problem(
                dose.at(counted[1]),
                "dose-kind",
                f"the dose counts both {_key(counted[0])} and {_key(counted[1])}",
                "Keep one of the two.",
            )
        elif counted and counted[0] != "reps" and dose.hold_seconds is not None:
            yield Problem(
                dose.at("hold_seconds"),
                "dose-kind",
                f"a hold stands beside {_key(counted[0])}",
                "Keep one of the two; a hold goes with reps or alone.",
            )


def _open_range(exercise: Exercise) -> Iterator[Problem]:
    """What is wrong with the range of a dose that the clinician sets: it must offer one thing to count."""
    allowed = exercise.dose_range
    offered = [name for name in COUNTED if allowed is not None and getattr(allowed, name) is not None]
    if allowed is None or not offered:
        what = "the dose is the clinician's to set, and nothing says what is counted: repetitions will be asked for"
        mend = "Add reps, hold, time or distance to 'dose range', as reps: 5-15; and side where the movement has one, as side: [both, one]."
        yield Problem((allowed or exercise.dose).place, "dose-open", what, mend, Grade.NOTICE)
    elif len(offered) > 1 and offered != ["reps", "hold_seconds"]:
        yield Problem(
            allowed.at(offered[1]),
            "dose-kind",
            f"the dose range offers both {_key(offered[0])} and {_key(offered[1])}, and the dose says neither",
            "Keep one of the two; a hold goes with reps or alone.",
        )


def _key(name: str) -> str:
    return FIELD_NAMES.get(name, name)


def _counted(dose: Dose) -> tuple[tuple[str, int | None], ...]:
    return (("reps", dose.reps), ("time_seconds", dose.time_seconds), ("distance_metres", dose.distance_metres))


def check_pace(question: Question) -> Iterator[Problem]:
    """Does a pace stand only beside a distance?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.pace_metres_per_second is not None and dose.kind is not DoseKind.DISTANCE:
            yield Problem(
                dose.at("pace_metres_per_second"),
                "dose-pace",
                "a pace stands beside a dose that counts no distance",
                "Delete the pace, or count a distance, such as distance: 3 m.",
            )


def check_weight_unit(question: Question) -> Iterator[Problem]:
    """Is every weight written in the unit that readers see, so that none is rounded?"""
    library = question.library
    in_pounds, unit = library.clinic.in_pounds, "lb" if library.clinic.in_pounds else "kg"
    for place, kilograms in _weights(library):
        written, shown = write_weight(kilograms), shown_weight(kilograms, in_pounds)
        if not written.endswith(unit):
            what = f"the weight of {written} is shown to readers as {shown:g} {unit}"
            other = "lb" if unit == "kg" else "kg"
            mend = f"Write it in {unit}; or write 'units: {{weight: {other}}}' in clinic.yaml, where the clinic's weights are in {other}."
            yield Problem(place, "weight-unit", what, mend, Grade.NOTICE)


def _weights(library: Library) -> Iterator[tuple[Place, float]]:
    """The weights of doses and of changed doses."""
    changes = [pick.change for bundle in library.bundles for pick in bundle.picks if pick.change]
    items: list[Dose | DoseChange] = [*(exercise.dose for exercise in library.exercises), *changes]
    for item in items:
        if item.weight_kg is not None:
            yield item.at("weight_kg"), item.weight_kg


def check_limb(question: Question) -> Iterator[Problem]:
    """Does a limb stand only in a dose that goes from one side to the other?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.limb is not None and dose.side in (Side.TOGETHER, Side.ONE):
            yield Problem(
                dose.at("limb"),
                "dose-limb",
                "a limb stands in a dose that never changes sides",
                "Delete the limb, or write side: both.",
            )


def check_dose_whole(question: Question) -> Iterator[Problem]:
    """Does every dose say days a week, and how long a repetition takes, so that its minutes can be told?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.is_open:
            continue
        if dose.days is None and dose.occasion is None:
            yield Problem(
                dose.place, "dose-days", "the dose does not say on how many days a week", "Add days, such as days: 3."
            )
        if dose.kind is DoseKind.REPS and dose.tempo is None and dose.hold_seconds is None and dose.rate is None:
            yield Problem(
                dose.place,
                "dose-tempo",
                "the dose does not say how long one repetition takes",
                "Add tempo: seconds to go, hold and return, such as 2-1-3.",
            )
        if dose.tempo and dose.kind is not DoseKind.REPS:
            yield Problem(
                dose.at("tempo"),
                "dose-tempo",
                "a tempo stands beside a dose that counts no repetitions",
                "Delete the tempo.",
            )
        if dose.tempo and dose.tempo.hold and dose.hold_seconds:
            yield Problem(
                dose.at("hold_seconds"),
                "dose-hold-twice",
                "the hold is given twice, as 'hold' and in the tempo",
                f"Keep one: write the tempo as {dose.tempo.go}-0-{dose.tempo.back}.",
            )


def check_dose_sides(question: Question) -> Iterator[Problem]:
    """Do alternating repetitions share evenly between left and right?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.side is Side.ALTERNATING and (dose.reps is None or dose.reps % 2):
            yield Problem(
                dose.at("side"),
                "dose-alternating",
                "an alternating dose needs an even number of repetitions"
                + ("" if dose.reps else ", and this one counts no repetitions"),
                "Write an even number of reps; 10 are 5 on each side."
                if dose.reps
                else "Write reps, or another side: both, one-side-first, or one.",
            )


def check_rest(question: Question) -> Iterator[Problem]:
    """Does a dose of several sets say how long to rest?"""
    for exercise in question.library.exercises:
        if exercise.dose.sets > 1 and "rest_seconds" not in exercise.dose.places:
            yield Problem(
                exercise.dose.place,
                "dose-rest",
                f"{exercise.dose.sets} sets are asked for and no rest between them",
                "Add rest, such as rest: 60 s; write rest: 0 s where none is wanted.",
            )


def check_dose_range(question: Question) -> Iterator[Problem]:
    """Does the library's own dose lie inside its dose range, and does the range move only what the dose counts?"""
    for exercise in question.library.exercises:
        yield from _offers(exercise)
        if exercise.dose.is_open:
            continue
        for name, value, span in outside_range(exercise.dose, exercise.dose_range):
            key = _key(name)
            low, high = show_value(name, span.low), show_value(name, span.high)
            yield Problem(
                exercise.dose.at(name),
                "dose-outside-range",
                f"the dose's {key} of {show_value(name, value)} lies outside its range of {low} to {high}",
                f"Change '{key}' in 'dose' or in 'dose range'.",
            )
        yield from _idle_ranges(exercise)
        yield from _tempos(exercise)
        yield from _sides(exercise)
        yield from _effort(exercise)


def _offers(exercise: Exercise) -> Iterator[Problem]:
    """What is wrong with the choices of a range by themselves, whatever the dose is."""
    dose, allowed = exercise.dose, exercise.dose_range
    if allowed is None:
        return
    tempos, sides = allowed.tempo or (), allowed.side or ()
    if len(set(tempos)) < len(tempos):
        yield Problem(allowed.at("tempo"), "dose-tempo", "a tempo is offered twice", "Take one out.")
    if len(set(sides)) < len(sides):
        yield Problem(allowed.at("side"), "dose-side", "a side is offered twice", "Take one out.")
    held = next((tempo for tempo in tempos if tempo.hold), None)
    if held and (allowed if dose.is_open else dose).hold_seconds is not None:
        what = f"the tempo {held} holds, and the dose has a hold of its own"
        yield Problem(allowed.at("tempo"), "dose-hold-twice", what, f"Write it as {replace(held, hold=0)}.")


def _tempos(exercise: Exercise) -> Iterator[Problem]:
    """What is wrong between the tempos that a range offers and the dose's own."""
    dose, allowed = exercise.dose, exercise.dose_range
    if allowed is None or allowed.tempo is None:
        return
    if dose.tempo is None:
        what, mend = "the dose range moves 'tempo', which the dose does not have", "Delete 'tempo' from 'dose range', or add it to 'dose'."
        yield Problem(allowed.at("tempo"), "dose-range-idle", what, mend)
    elif not is_offered(dose.tempo, allowed):
        listed = ", ".join(str(tempo) for tempo in allowed.tempo)
        what = f"the dose's tempo of {dose.tempo} is not among those of its range: {listed}"
        yield Problem(dose.at("tempo"), "dose-outside-range", what, "Add it to 'tempo' in 'dose range', or change it in 'dose'.")


def _sides(exercise: Exercise) -> Iterator[Problem]:
    """What is wrong between the sides that a range offers and the dose's own."""
    dose, allowed = exercise.dose, exercise.dose_range
    if allowed is None or allowed.side is None:
        return
    if dose.side is Side.TOGETHER:
        what, mend = "the dose range moves 'side', which the dose does not have", "Delete 'side' from 'dose range', or add it to 'dose'."
        yield Problem(allowed.at("side"), "dose-range-idle", what, mend)
    elif dose.side not in allowed.side:
        listed = ", ".join(side.value for side in allowed.side)
        what = f"the dose's side of {dose.side.value} is not among those of its range: {listed}"
        yield Problem(dose.at("side"), "dose-outside-range", what, "Add it to 'side' in 'dose range', or change it in 'dose'.")


def _effort(exercise: Exercise) -> Iterator[Problem]:
    """What is wrong with the effort that a range offers."""
    dose, allowed = exercise.dose, exercise.dose_range
    span = allowed.effort if allowed is not None else None
    if allowed is None or span is None:
        return
    if dose.effort is None:
        what, mend = "the dose range moves 'effort', which the dose does not have", "Delete 'effort' from 'dose range', or add it to 'dose'."
        yield Problem(allowed.at("effort"), "dose-range-idle", what, mend)
    elif not span.low <= dose.effort.low <= dose.effort.high <= span.high:
        what = f"the dose's effort of {dose.effort.low:g}-{dose.effort.high:g} lies outside its range of {span.low:g} to {span.high:g}"
        yield Problem(dose.at("effort"), "dose-outside-range", what, "Change 'effort' in 'dose' or in 'dose range'.")


def _idle_ranges(exercise: Exercise) -> Iterator[Problem]:
    if exercise.dose_range is None:
        return
    for name in RANGED:
        if getattr(exercise.dose_range, name) is not None and getattr(exercise.dose, name) is None:
            key = _key(name)
            yield Problem(
                exercise.dose_range.at(name),
                "dose-range-idle",
                f"the dose range moves '{key}', which the dose does not have",
                f"Delete '{key}' from 'dose range', or add it to 'dose'.",
            )
