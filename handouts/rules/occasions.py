"""Doses by occasion, rounds of work and rest, landings, days of rest: that what stands together fits, and how fast impact grows."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.dose.arithmetic import given_dose
from handouts.dose.impact import impact_growths
from handouts.dose.phrase import WEEK
from handouts.model import Dose, DoseKind, DoseRange, Side
from handouts.problems import Grade, Problem
from handouts.rules.question import Question

_WITH_REPS = {"counted": "count", "reps_to": "reps up to", "rate": "a minute"}
"""Fields that say something of repetitions, and their keys."""


def check_counted(question: Question) -> Iterator[Problem]:
    """Do the words for repetitions, their upper end and their rate stand beside repetitions, and fit them?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.kind is not DoseKind.REPS:
            stray = next((name for name in _WITH_REPS if getattr(dose, name) is not None), None)
            if stray is not None:
                what = f"'{_WITH_REPS[stray]}' stands beside a dose that counts no repetitions"
                yield Problem(dose.at(stray), "dose-reps", what, f"Delete '{_WITH_REPS[stray]}', or count reps.")
            continue
        if dose.reps_to is not None and dose.reps_to <= (dose.reps or 0):
            what = f"'reps up to' is {dose.reps_to}, and reps are {dose.reps} already"
            yield Problem(dose.at("reps_to"), "dose-reps", what, "Write more than reps, or leave it out.")
        elif dose.reps_to is not None and dose.side is Side.ALTERNATING and dose.reps_to % 2:
            what = f"'reps up to' is {dose.reps_to}, and an alternating dose needs an even number of repetitions"
            yield Problem(dose.at("reps_to"), "dose-alternating", what, "Write an even number; 10 are 5 on each side.")
        if dose.rate is not None and dose.tempo is not None:
            what = f"the dose says {dose.rate} a minute and the tempo {dose.tempo}: two lengths of one repetition"
            yield Problem(dose.at("rate"), "dose-tempo", what, "Keep one of the two.")


def check_rounds(question: Question) -> Iterator[Problem]:
    """Do rounds of work and rest have a work that is timed or measured, and a rest?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if dose.work is None:
            continue
        if dose.kind not in (DoseKind.TIME, DoseKind.DISTANCE):
            what = f"'work: {dose.work.value}' stands beside a dose that counts neither a time nor a distance"
            yield Problem(dose.at("work"), "dose-work", what, "Count a time or a distance, such as time: 1 min, or delete 'work'.")
        elif dose.is_interval and not dose.rest_seconds:
            what = f"'work: {dose.work.value}' asks for rounds, and the dose says no rest"
            yield Problem(dose.at("work"), "dose-work", what, "Add rest, the other part of each round, such as rest: 2 min.")


def check_by_occasion(question: Question) -> Iterator[Problem]:
    """Does a dose by occasion say one occasion, and no times a day or days of rest beside it?"""
    for exercise in question.library.exercises:
        dose = exercise.dose
        if not dose.is_by_occasion:
            continue
        if dose.every_minutes is not None and dose.occasion is not None:
            what = "the dose says both 'every' and 'when'"
            yield Problem(dose.at("occasion"), "dose-occasion", what, "Keep one of the two.")
        if dose.times > 1:
            what = f"the dose is done by occasion, and {dose.times} times a day too"
            yield Problem(dose.at("times"), "dose-occasion", what, "Delete 'times', or what says the occasion.")
        if dose.rest_days is not None:
            what = "the dose is done by occasion, and has days of rest"
            yield Problem(dose.at("rest_days"), "dose-occasion", what, "Delete 'rest days', or what says the occasion.")


def check_rest_days(question: Question) -> Iterator[Problem]:
    """Do the days of a dose, and the most that its range allows, leave room for its days of rest?"""
    for exercise in question.library.exercises:
        dose, allowed = exercise.dose, exercise.dose_range
        given: list[tuple[Dose | DoseRange, int | None]] = [(dose, dose.days)]
        if allowed is not None and allowed.days is not None:
            given.append((allowed, int(allowed.days.high)))
        for record, days in given:
            if dose.rest_days is not None and days is not None and days * (1 + dose.rest_days) > WEEK:
                rest = "1 day" if dose.rest_days == 1 else f"{dose.rest_days} days"
                what = f"{days} days a week leave no room for {rest} of rest between two of them"
                mend = f"Write at most {WEEK // (1 + dose.rest_days)} for days, or fewer 'rest days'."
                yield Problem(record.at("days"), "dose-rest-days", what, mend)
                break


def check_impact_growth(question: Question) -> Iterator[Problem]:
    """Do a bundle's landings and minutes of running grow no faster, all its exercises together, than the clinic's bound?"""
    growth, known = question.library.clinic.growth, question.library.exercise
    for bundle in question.library.bundles if growth else ():
        assert growth is not None
        picks = [pick for pick in bundle.picks if pick.exercise.slug in known]
        for found in impact_growths([(given_dose(known[pick.exercise.slug], pick), pick.stages) for pick in picks]):
            if found.percent > growth.percent:
                counted = "minutes of running" if found.is_running else "landings"
                what = f"from week {found.week} the week's {counted} grow by {found.percent:.0f} % a week, the clinic's bound is {growth.percent} %"
                yield Problem(bundle.at("picks"), "bundle-impact", what, "Ask for less, or begin the stage later.", Grade.NOTICE)
