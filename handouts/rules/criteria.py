"""What is measured of ``ready when``: that it can be measured, be given, and is what the sentence says."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handouts.dose.arithmetic import allowed_range
from handouts.model import Dose, DoseKind, Exercise, ReadyMeasures
from handouts.problems import Problem, suggest
from handouts.rules.doses import FIELD_NAMES, show_value
from handouts.rules.question import Question

_COUNTED = {
    DoseKind.REPS: "reps",
    DoseKind.HOLD: "hold_seconds",
    DoseKind.TIME: "time_seconds",
    DoseKind.DISTANCE: "distance_metres",
}


def _measured(question: Question) -> Iterator[tuple[Exercise, ReadyMeasures]]:
    for exercise in question.library.exercises:
        if exercise.ready_measures is not None:
            yield exercise, exercise.ready_measures


def check_measures_known(question: Question) -> Iterator[Problem]:
    """Does what is measured name something to measure, and a test that exists with its result?"""
    tests = question.library.test
    for _, found in _measured(question):
        if not found.amounts and found.pain is None and found.pain_next_day is None and found.effort is None and found.test is None:
            what = "'ready measured' names nothing that is measured"
            yield Problem(found.place, "ready-nothing", what, "Write what is to be reached, such as {sets: 3, reps: 15, days in a row: 2, pain: 2}.")
        if not found.amounts and (found.sets != 1 or found.days != 1):
            what = "'ready measured' does not say what is counted in a set"
            yield Problem(found.at("sets"), "ready-nothing", what, "Add reps, hold, time or distance.")
        if (found.test is None) != (found.result is None):
            what, mend = (
                ("the test has no result that is to be reached", "Add 'result', in the unit of the test.")
                if found.result is None
                else ("the result belongs to no test", "Add 'test' with the name of a file in tests/.")
            )
            yield Problem(found.at("result" if found.test is None else "test"), "ready-test", what, mend)
        if found.test is None or f"tests/{found.test.slug}" in question.library.unread:
            continue
        test = tests.get(found.test.slug)
        if test is None:
            what = f"'{found.test.slug}' is not declared in tests/"
            yield Problem(found.test.place, "unknown-name", what, suggest(found.test.slug, tests))
        elif test.most is not None and found.result is not None and found.result > test.most:
            what = f"the test '{test.slug}' ends at {test.most:g}, and {found.result:g} is asked for"
            yield Problem(found.at("result"), "ready-test", what, "Write a result that the test can have.")


def check_measures_fit(question: Question) -> Iterator[Problem]:
    """Can what is to be reached be given to a patient: counted as the dose is, within the dose range?"""
    for exercise, found in _measured(question):
        dose, counted = exercise.dose, found.amounts
        if dose.is_open or not counted:
            continue
        wanted = {_COUNTED[dose.kind]} | ({"hold_seconds"} if dose.kind is DoseKind.REPS and dose.hold_seconds else set())
        stray = next((name for name in counted if name not in wanted), None)
        if stray is not None or _COUNTED[dose.kind] not in counted:
            keys = [FIELD_NAMES.get(name, name) for name in (stray or next(iter(counted)), _COUNTED[dose.kind])]
            what = f"{keys[0]} is measured, and the dose counts {keys[1]}"
            yield Problem(found.at(stray or next(iter(counted))), "ready-other-kind", what, f"Write {keys[1]} in its place.")
            continue
        for name, value in {"sets": found.sets, **counted}.items():
            most = _most(exercise, dose, name)
            if value > most:
                key = FIELD_NAMES.get(name, name)
                what = f"{key} of {show_value(name, value)} is to be reached, and no patient can be given more than {show_value(name, most)}"
                yield Problem(found.at(name), "ready-beyond-range", what, f"Widen the 'dose range' for {key}, or ask for less.")


def _most(exercise: Exercise, dose: Dose, name: str) -> float:
    """The most that a clinician may give of a number."""
    given = float(getattr(dose, name))
    span = getattr(allowed_range(exercise), name, None)
    return max(given, float(span.high)) if span else given


def check_measures_said(question: Question) -> Iterator[Problem]:
    """Where the author wrote the sentence too: does it hold the numbers that are measured?"""
    for exercise, found in _measured(question):
        if exercise.ready_when is None:
            continue
        said = set(re.findall(r"\d+(?:\.\d+)?", exercise.ready_when.text))
        for name, value in {**found.amounts, "pain": found.pain, "pain_next_day": found.pain_next_day, "effort": found.effort}.items():
            if value is None or f"{value}" in said or (name in ("time_seconds",) and f"{value // 60}" in said and value % 60 == 0):
                continue
            key = FIELD_NAMES.get(name, name)
            what = f"{key} of {show_value(name, value)} is measured, and the sentence of 'ready when' does not say {value:g}"
            yield Problem(found.at(name), "ready-other-number", what, "Make both say the same, or leave 'ready when' out: its sentence is then made.")
